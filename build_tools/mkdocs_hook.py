"""The only file that knows the site builder: its hooks, and how it is started.

MkDocs calls the functions named ``on_…``. Everything they put into the site is computed elsewhere,
as plain text by path, so that another builder needs no more than another file like this one.
"""

from __future__ import annotations

import logging
import os
from pathlib import Path
from typing import Any

from mkdocs.commands.build import build as mkdocs_build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, MkDocsException, PluginError
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from build_tools.checks import run_checks
from build_tools.library import read_library
from build_tools.offline import add_installable, add_offline
from build_tools.render import assets, pages, source_file
from build_tools.render.handwritten import UnknownReference, filled
from build_tools.render.words import Words
from build_tools.report import for_people

_OF_THE_THEME = "assets/"  # style sheets and scripts that no page of ours asks for


def on_pre_build(config: MkDocsConfig) -> None:
    """Read and check the knowledge base before the builder touches anything."""
    library, problems = read_library(Path(config.config_file_path).parent)
    problems = run_checks(library, problems)
    if problems:
        raise PluginError(for_people(problems, len(library) + len(library.broken)))
    config.extra["library"] = library
    config.extra["words"] = Words(library)


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the generated pages and scripts, leave out the theme's own, and say for each page which file is behind it."""
    library = config.extra["library"]
    for file in [file for file in files if file.src_uri.startswith(_OF_THE_THEME)]:
        files.remove(file)
    for path, text in {**pages(library), **assets(library)}.items():
        files.append(File.generated(config, path, content=text, inclusion=InclusionLevel.NOT_IN_NAV))
    for file in files.documentation_pages():
        file.edit_uri = source_file(file.src_uri) if file.generated_by else f"docs/{file.src_uri}"
    return files


def on_page_markdown(markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the references of pages written by hand in; those of entries stand already."""
    if page.file.generated_by:
        return markdown
    try:
        return filled(markdown, page.file.src_uri, config.extra["library"])
    except UnknownReference as error:
        raise PluginError(str(error)) from None


def on_page_content(html: str, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Link the trade words of the page to their entries."""
    return config.extra["words"].linked(html, page.url)


def on_post_build(config: MkDocsConfig) -> None:
    """Make the site one that can be kept on a device."""
    site = Path(config.site_dir)
    add_installable(site, config.site_name, config.site_description or "")
    if config.extra["offline"]:
        add_offline(site)


class _Lines(logging.Handler):
    """Keeps what the builder warns of, as one line each."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


def build(root: Path, destination: Path, site_url: str, offline: bool = True) -> list[str]:
    """Build the site of ``root`` into ``destination``; returns the lines that say why it must not be used.

    Without ``offline`` no browser is asked to keep it: right while pages are being written.
    """
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    logger, kept = logging.getLogger("mkdocs"), _Lines()
    propagate, logger.propagate = logger.propagate, False
    logger.addHandler(kept)
    try:
        config = load_config(**_settings(root, destination, site_url))
        config.extra["offline"] = offline
        mkdocs_build(config)
    except Abort as stop:
        return kept.lines or [str(stop)]
    except MkDocsException as error:
        return [*kept.lines, str(error)]
    except Exception as error:  # whatever breaks below must reach a contributor as a sentence
        return [*kept.lines, f"the page could not be made ({type(error).__name__}: {error}); please report this with the entry you changed"]
    finally:
        logger.removeHandler(kept)
        logger.propagate = propagate
    return kept.lines


def _settings(root: Path, destination: Path, site_url: str) -> dict[str, Any]:
    settings: dict[str, Any] = {"config_file": str(root / "mkdocs.yml"), "site_dir": str(destination), "strict": True}
    if site_url:
        settings["site_url"] = site_url
    return settings
