"""Where each kind of entry has its pages, and what its section is called."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass


@dataclass(frozen=True)
class Section:
    """One folder of pages: its address, its heading and the sentence below the heading."""

    folder: str
    title: str
    one: str
    about: str


SECTIONS: dict[str, Section] = {
    "term": Section("terms", "Words", "word", "The trade's words, each in one sentence."),
    "train": Section("trains", "Train types", "train type", "What a movement does, and how that is told."),
    "addon": Section("addons", "Add-ons", "add-on", "What a clock shows or does besides the time, and what drives it."),
    "feature": Section("features", "Features", "feature", "What else can be told apart: drive, striking control, escapement and more."),
    "symptom": Section("symptoms", "My clock does …", "likely cause", "What may lie behind a complaint, what an owner may do, and where to stop."),
    "count": Section("counts", "Counts", "count", "Teeth and leaves of published and usual trains, with what they give."),
    "question": Section("questions", "What to look for", "question", "What can be seen, heard or measured, and how to look."),
    "calculation": Section("calculations", "Sums", "sum", "Each with its formula, a worked example and a form for your own figures."),
    "constant": Section("constants", "Constants and tables", "constant", "The fixed figures that the sums and the key use."),
    "melody": Section("melodies", "Melodies", "melody", "The quarter chimes in the public domain, bell by bell."),
    "measure": Section("measures", "How to count and measure", "measure", "What all sums hang on: each with its usual error."),
    "saying": Section("sayings", "Is it true that …", "saying", "Rules that people repeat: where they hold, where they don't, and why."),
    "lesson": Section("lessons", "Lessons", "lesson", "The evening course: a handout, questions and an answer sheet for each evening."),
    "sheet": Section("sheets", "On paper", "sheet", "Set-up cards, logs and records to print, one sheet each."),
    "plate": Section("plates", "Named drawings", "drawing", "Movements and their works with every part named, and each again as a sheet to fill in."),
    "caution": Section("cautions", "Cautions", "caution", "Where the work can hurt, and where an owner stops."),
    "source": Section("sources", "Sources", "source", "The books and papers that the figures come from."),
}


def page_path(ref: str) -> str:
    """Path of the page of ``kind:id`` below the docs folder, such as ``terms/beat.md``."""
    kind, _, name = ref.partition(":")
    return f"{SECTIONS[kind].folder}/{name}.md"


def relative(target: str, page: str) -> str:
    """The link from one page to another, both given as paths below the docs folder."""
    return posixpath.relpath(target, posixpath.dirname(page) or ".")
