"""Rules about one entry alone that a schema cannot express."""

from __future__ import annotations

import re
from typing import Iterator

from build_tools.library import Library
from build_tools.loaded import field_name
from build_tools.model import Constant, Count, Term
from build_tools.model_parts import ROW_COLUMNS, Arbor
from build_tools.problem import Problem, did_you_mean

# Lists whose items go by a name, by kind; lists that stand together share their names.
_NAMED = {
    "question": (("answers",),),
    "count": (("arbors",),),
    "calculation": (("inputs", "steps"),),
    "constant": (("rows",), ("columns",)),
    "melody": (("bells",), ("phrases",)),
}
_SECOND_SENTENCE = re.compile(r"[.!?][)’”']* +[A-Z]")


def check(library: Library) -> Iterator[Problem]:
    """Every entry by itself."""
    for entry in library:
        yield from repeated_names(library, entry.ref)
        yield from unfilled(library, entry.ref)
        if isinstance(entry, Count):
            yield from arbors(library, entry)
        elif isinstance(entry, Constant):
            yield from undescribed_columns(library, entry)
        elif isinstance(entry, Term):
            yield from one_sentence(library, entry)


def repeated_names(library: Library, ref: str) -> Iterator[Problem]:
    """Two items of a list with the same id or name can't be told apart."""
    data = library.file(ref).data
    for lists in _NAMED.get(data["kind"], ()):
        seen: set[str] = set()
        for path, name in [
            ((each, index), item.get("id", item.get("name"))) for each in lists for index, item in enumerate(data.get(each, ()))
        ]:
            if name in seen:
                yield Problem("KB025", library.place(ref, *path), path[0], f"{name} is there twice", "give each its own name")
            seen.add(name)


def unfilled(library: Library, ref: str) -> Iterator[Problem]:
    """The dots that a new entry begins with are gone."""
    file = library.file(ref)
    if "..." not in file.text:
        return
    for path in file.spots:
        value = file.data
        for step in path:
            value = value[step]
        if value == "...":
            yield Problem(
                "KB028",
                file.place(*path),
                field_name(path, file.data),
                "the dots of a new entry are still here",
                "write what belongs here, or take the field away",
            )


def undescribed_columns(library: Library, table: Constant) -> Iterator[Problem]:
    """A further column of a table says what it holds."""
    described = {column.name for column in table.columns} | set(ROW_COLUMNS)
    for index, row in enumerate(table.rows):
        for name in row.cells:
            if name not in described:
                path = ("rows", index, name)
                described.add(name)
                yield Problem(
                    "KB026",
                    library.key_place(table.ref, *path),
                    f"rows.{row.name}.{name}",
                    "nobody has said what this column holds",
                    f"add {{name: {name}, says: ...}} under `columns:`, or correct the name",
                )


def one_sentence(library: Library, term: Term) -> Iterator[Problem]:
    """A definition is one sentence, so that it can stand alone in a preview."""
    if _SECOND_SENTENCE.search(term.definition):
        yield Problem(
            "KB027",
            library.place(term.ref, "definition"),
            "definition",
            "it is more than one sentence",
            "move what follows the first sentence to `where:` or `note:`",
        )
    elif not term.definition.endswith((".", "!", "?", ")", "]]")):
        yield Problem("KB027", library.place(term.ref, "definition"), "definition", "the sentence has no end", "end it with a full stop")


def arbors(library: Library, count: Count) -> Iterator[Problem]:
    """The wheels hang together: each arbor is driven by one that has a wheel, and there is one escapement at most."""

    def wrong(index: int, part: str, what: str, hint: str) -> Problem:
        path = ("arbors", index, part) if part else ("arbors", index)
        return Problem("KB039", library.place(count.ref, *path), field_name(path, library.file(count.ref).data), what, hint)

    named = {arbor.name: arbor for arbor in count.arbors}
    for index, arbor in enumerate(count.arbors):
        for part in ("driven_by", "drives"):
            other = getattr(arbor, part)
            if other and (other not in named or other == arbor.name):
                yield wrong(
                    index,
                    part,
                    f"there is no other arbor called {other}",
                    did_you_mean(other, named, f"the arbors are: {', '.join(named)}"),
                )
        if arbor.pinion and arbor.driven:
            yield wrong(
                index, "driven", "the arbor has a pinion, too; one of the two is driven", "keep the one that gears with the arbor before"
            )
        driver = named.get(arbor.driven_by) if arbor.driven_by else _before(count.arbors, index)
        if driver is None:
            continue
        if not arbor.pinion and not arbor.driven:
            yield wrong(
                index,
                "",
                f"{arbor.name} has no pinion, but {driver.name} should drive it",
                "add `pinion:` (or `driven:` for a driven wheel)",
            )
        elif not driver.wheel:
            yield wrong(
                index,
                "pinion" if arbor.pinion else "driven",
                f"{driver.name} should drive this, but has no wheel",
                f"add `wheel:` to {driver.name}, or say `driven_by:` here",
            )
    yield from _single(library, count)


def _before(arbors: tuple[Arbor, ...], index: int) -> Arbor | None:
    """The arbor that drives this one when it does not say so itself: the one that names it, else the one before."""
    name = arbors[index].name
    naming = [arbor for arbor in arbors if arbor.drives == name]
    return naming[0] if naming else arbors[index - 1] if index else None


def _single(library: Library, count: Count) -> Iterator[Problem]:
    escapes = [index for index, arbor in enumerate(count.arbors) if arbor.escape]
    bases = [index for index, arbor in enumerate(count.arbors) if arbor.turns_once_in]
    if count.of == "going" and not escapes and not count.partial:
        hint = "add `escape:` with its teeth to the last arbor, or `partial: true` when the source gives only part of the train"
        yield Problem("KB039", library.place(count.ref, "arbors"), "arbors", "a going train needs an escape wheel", hint)
    if count.of == "going" and count.gives and not bases and not count.partial:
        hint = 'add `turns_once_in: "1"` to the arbor that turns with the minute hand, or the hours of another arbor that is known'
        yield Problem("KB039", library.place(count.ref, "arbors"), "arbors", "no arbor says in how many hours it turns once", hint)
    for part, indexes in (("escape", escapes), ("turns_once_in", bases)):
        for index in indexes[1:]:
            what = f"{count.arbors[indexes[0]].name} has `{part}`, too; one arbor has it"
            yield Problem(
                "KB039",
                library.place(count.ref, "arbors", index, part),
                f"arbors.{count.arbors[index].name}.{part}",
                what,
                "keep it on one arbor",
            )
