"""Rules about where facts come from. That every entry has a basis, and every cited source a place, stands in the schemas."""

from __future__ import annotations

from typing import Iterator

from build_tools.library import Library
from build_tools.model import Source
from build_tools.problem import Problem


def check(library: Library) -> Iterator[Problem]:
    """Sources that nobody cites, and facts that rest on a source nobody has seen."""
    yield from unused_sources(library)
    yield from unseen_sources(library)


def unused_sources(library: Library) -> Iterator[Problem]:
    """A source that no entry cites says nothing; a file that could not be read may still cite it."""
    for source in library.of_kind("source"):
        cited = library.used_by(source.ref) or any(source.ref in file.text for file in library.broken.values())
        if not cited and source.status != "retired":
            yield Problem(
                "KB040",
                library.place(source.ref, "id"),
                "id",
                "no entry cites this source",
                f"cite {source.ref} where its facts stand, or take the file away",
            )


def unseen_sources(library: Library) -> Iterator[Problem]:
    """A fact cannot rest on a source that nobody has seen."""
    for entry in library:
        for path, target, mark, _ in library.mentions(entry.ref):
            source = library.get(target)
            if mark.ref == ("source",) and isinstance(source, Source) and source.read == "not seen":
                yield Problem(
                    "KB041",
                    library.place(entry.ref, *path),
                    str(path[0]),
                    f"{target} was not seen by anyone here",
                    "cite the source in which you found the fact, or call the basis `memory`",
                )
