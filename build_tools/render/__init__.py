"""Pages from entries: pure functions from a library to text by path, which know nothing of the site builder."""

from __future__ import annotations

from build_tools import key_export
from build_tools.library import Library
from build_tools.render import calculation_script, ear, key, pictures
from build_tools.render.entry import entry_page
from build_tools.render.evidence import how_we_know
from build_tools.render.export import exports
from build_tools.render.indexes import index_pages
from build_tools.render.kinds import SECTIONS, page_path
from build_tools.render.lesson import answer_pages
from build_tools.render.math_font import FONT, math_font
from build_tools.render.pictures import gallery
from build_tools.render.plate import sheet_pages
from build_tools.render.search import search_files


def pages(library: Library) -> dict[str, str]:
    """The Markdown of every generated page by its path below the docs folder."""
    made = {page_path(entry.ref): entry_page(entry, library) for kind in SECTIONS for entry in library.of_kind(kind)}
    return {**made, **index_pages(library), **answer_pages(library), **key.pages(library), **gallery(library), **sheet_pages(library), **pictures.picture_sheets(library), **how_we_know(library), **ear.pages(library)}


def assets(library: Library) -> dict[str, str | bytes]:
    """Generated files that are no pages: downloads, the scripts made from the entries, and the font of the formulas."""
    return {FONT: math_font(), **exports(library), **search_files(library), **calculation_script.generated_scripts(library), **key_export.generated_scripts(library), **pictures.generated_scripts(library), **ear.generated_scripts(library)}


def source_file(path: str) -> str | None:
    """The entry behind a generated page, to be corrected there; lists and the like have none."""
    folder, _, name = path.rpartition("/")
    known = {section.folder for section in SECTIONS.values()}
    return f"kb/{path.removesuffix('.md')}.yaml" if folder in known and name not in ("index.md", "by-topic.md") else None
