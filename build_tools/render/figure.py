"""Figures on pages: each with its caption and the same in words, its labels leading to the pages of the words."""
from __future__ import annotations

import posixpath
from collections.abc import Sequence
from html import escape

from build_tools.figures.train_elevation import elevation
from build_tools.figures.train_plan import plan
from build_tools.figures.wheelwork import Address, Wheelwork, in_words, term_of, wheelwork
from build_tools.model import Count
from build_tools.render.kinds import page_path
from build_tools.render.view import View


def addresses(view: View) -> Address:
    """From a reference to the address of its page, as a browser needs it on this page; empty for what the library does not know."""
    here = _folder(view.path)
    return lambda ref: posixpath.relpath(_folder(page_path(ref)), here or ".") + "/" if ref in view.library else ""


def word_addresses(view: View) -> dict[str, str]:
    """The address of the page of each word, by the word itself."""
    address = addresses(view)
    return {entry.word: address(entry.ref) for entry in view.library.of_kind("term")}


def _folder(path: str) -> str:
    """The folder that the site builder makes of a page."""
    folder, _, name = path.removesuffix(".md").rpartition("/")
    return folder if name == "index" else posixpath.join(folder, name)


def figure(drawing: str, caption: str = "", words: str = "", style: str = "") -> str:
    """One block of HTML around a drawing; `words` say the same for whoever cannot see it."""
    said = f"<figcaption>{escape(caption, quote=False)}</figcaption>" if caption else ""
    told = f'<details class="told"><summary>The same in words</summary><p>{escape(words, quote=False)}</p></details>' if words else ""
    style = f"figure {style}".strip()
    return f'<figure class="{style}">{drawing}{said}{told}</figure>\n'


def told_in_steps(drawings: Sequence[str], moments: Sequence[tuple[str, str]]) -> str:
    """Several drawings in order, each with its title and text below it."""
    steps = "".join(f"<li>{drawn}<p><b>{escape(title, quote=False)}.</b> {escape(says, quote=False)}</p></li>" for drawn, (title, says) in zip(drawings, moments))
    return f'<figure class="figure told-in-steps"><ol>{steps}</ol></figure>\n'


def plan_of(entry: Count, view: View) -> str:
    """The plan of a count's wheels; the visitor can set it in motion."""
    work = wheelwork(entry)
    title = f"{entry.name}: the wheels seen along their arbors"
    caption = "Pitch circles in true proportion. " + (
        "A clock maker may plant the arbors otherwise." if len(work.axles) > 2 else "") + " Numbers: teeth driven · teeth that drive."
    named = caption if view.path == page_path(entry.ref) else f"{entry.name}. {caption}"
    return figure(plan(work, f"plan-{entry.id}", title, in_words(work), _terms(work, view)), " ".join(named.split()), in_words(work), "turning")


def elevation_of(entry: Count, view: View) -> str:
    """The same wheels from the side, each mesh laid out in a line."""
    work = wheelwork(entry)
    title = f"{entry.name}: the wheels from the side"
    caption = "Laid out in a line, so that each pinion stands clear above the wheel that drives it. Planes and plates are drawn for clearness."
    return figure(elevation(work, entry.of, f"side-{entry.id}", title, in_words(work), _terms(work, view)), caption)


def _terms(work: Wheelwork, view: View) -> dict[str, str]:
    """The address of the word for each arbor."""
    address = addresses(view)
    return {axle.name: address(ref) if (ref := term_of(axle.name, view.library)) else "" for axle in work.axles}
