"""Rules about what entries are called."""

from __future__ import annotations

from collections import defaultdict
from typing import Iterator

from build_tools.library import Library
from build_tools.loaded import DataPath
from build_tools.model import Term
from build_tools.problem import Problem
from build_tools.schema import FOLDERS

LIST_PAGES = ("index", "by-topic")  # the addresses of the lists in each folder of the site


def check(library: Library) -> Iterator[Problem]:
    """File names, folders, and words that two terms lay claim to."""
    yield from file_names(library)
    yield from taken_ids(library)
    yield from shared_words(library)


def file_names(library: Library) -> Iterator[Problem]:
    """An entry stands in the folder of its kind, in a file called after its id."""
    for file in library.files:
        folder, name = file.path.split("/")[1:]
        kind, id = file.data["kind"], file.data["id"]
        if name != f"{id}.yaml":
            yield Problem(
                "KB034",
                file.place("id"),
                "id",
                f"the entry is called {id}, its file {name}",
                f"rename the file to {id}.yaml, or correct the id",
            )
        if folder != FOLDERS[kind]:
            yield Problem(
                "KB035", file.place("kind"), "kind", f"a {kind} stands in the folder {folder}", f"move the file to kb/{FOLDERS[kind]}"
            )


def taken_ids(library: Library) -> Iterator[Problem]:
    """An entry's page does not take the address of a list."""
    for file in library.files:
        if file.data["id"] in LIST_PAGES:
            yield Problem(
                "KB029",
                file.place("id"),
                "id",
                f"{file.data['id']} is the address of a list of entries",
                "choose a fuller id, and rename the file with it",
            )


def shared_words(library: Library) -> Iterator[Problem]:
    """No two terms share their word; they share another name only when one of them says how not to confuse them."""
    claims: dict[str, list[tuple[Term, DataPath]]] = defaultdict(list)
    for term in library.of_kind("term"):
        assert isinstance(term, Term)
        if term.status != "retired":
            for name, path in _claims(term).items():
                claims[name].append((term, path))
    for name, claimants in claims.items():
        for index, (term, path) in enumerate(claimants):
            for other, other_path in claimants[:index]:
                both_words = path == other_path == ("word",)
                if both_words or not _told_apart(term, other):
                    yield _clash(library, name, term, path, other, both_words)


def _claims(term: Term) -> dict[str, DataPath]:
    claims: dict[str, DataPath] = {term.word.lower(): ("word",)}
    for part in ("also", "american"):
        for index, name in enumerate(getattr(term, part)):
            claims.setdefault(name.lower(), (part, index))
    return claims


def _told_apart(one: Term, other: Term) -> bool:
    return any(contrast.with_ == other.ref for contrast in one.not_to_confuse) or any(
        contrast.with_ == one.ref for contrast in other.not_to_confuse
    )


def _clash(library: Library, name: str, term: Term, path: DataPath, other: Term, both_words: bool) -> Problem:
    hint = (
        "keep one of the two entries, or give one of them a fuller word"
        if both_words
        else f"add {other.ref} under `not_to_confuse:`, or drop the name in one of them"
    )
    return Problem("KB036", library.place(term.ref, *path), str(path[0]), f'"{name}" is a name of {other.ref}, too', hint)
