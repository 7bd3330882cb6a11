"""All entries by reference, with their names, their back-links and their places. Built once, then only read."""

from __future__ import annotations

import re
from collections import defaultdict
from functools import cached_property
from pathlib import Path
from typing import Iterable, Iterator, Mapping

from build_tools.evidence import Table, read_tables
from build_tools.load import load_file
from build_tools.loaded import DataPath, Loaded
from build_tools.model import Constant, Entry, Outcome, Term
from build_tools.model_build import entry_from
from build_tools.model_parts import EMPTY, Row
from build_tools.problem import Place, Problem, did_you_mean
from build_tools.schema import FOLDERS, KIND_OF_FOLDER, Mark, marked_texts
from build_tools.wording import shape_problems, shown

PROJECT = Path(__file__).resolve().parent.parent
LINK = re.compile(r"\[\[([^\[\]|]*)(?:\|([^\[\]]*))?\]\]")
_SCHEMA_LINE = "# yaml-language-server: $schema=../schema/{kind}.json"


class Library:
    """The whole knowledge base below `root`. `files` are the entries as loaded; `broken` the files left out for their own problems, by reference."""

    def __init__(self, files: Iterable[Loaded] = (), broken: Mapping[str, Loaded] = EMPTY, root: Path = PROJECT) -> None:
        self.files = tuple(files)
        self.broken = broken
        self.root = root
        self._files: dict[str, Loaded] = {}
        self._entries: dict[str, Entry] = {}
        for file in self.files:
            entry = entry_from(file.data)
            self._files.setdefault(entry.ref, file)
            self._entries.setdefault(entry.ref, entry)
        self._by_kind: dict[str, list[Entry]] = defaultdict(list)
        for ref in sorted(self._entries):
            self._by_kind[self._entries[ref].kind].append(self._entries[ref])
        self._marked = {ref: tuple(marked_texts(entry.kind, self._files[ref].data)) for ref, entry in self._entries.items()}
        self.names = self._all_names()
        self._users = self._all_users()

    def __getitem__(self, ref: str) -> Entry:
        return self._entries[ref]

    def __contains__(self, ref: object) -> bool:
        return ref in self._entries

    def __iter__(self) -> Iterator[Entry]:
        return iter(self._entries.values())

    def __len__(self) -> int:
        return len(self._entries)

    def get(self, ref: str) -> Entry | None:
        """The entry, or None."""
        return self._entries.get(ref)

    def of_kind(self, kind: str) -> tuple[Entry, ...]:
        """All entries of a kind, by id."""
        return tuple(self._by_kind[kind]) if kind in self._by_kind else ()

    def outcomes(self, facet: str) -> tuple[Outcome, ...]:
        """What the key of this facet can arrive at, by kind and id; retired entries are left out."""
        found = [entry for kind in ("train", "addon", "feature", "symptom") for entry in self.of_kind(kind)]
        return tuple(entry for entry in found if isinstance(entry, Outcome) and entry.facet == facet and entry.status != "retired")

    def table(self, id: str) -> tuple[Row, ...]:
        """The rows of a constant table; none when there is no such table."""
        constant = self.get(f"constant:{id}")
        return constant.rows if isinstance(constant, Constant) else ()

    @cached_property
    def printed_tables(self) -> tuple[Table, ...]:
        """The whole tables from books that stand beside the entries as evidence; read when first asked for."""
        return read_tables(self.root)

    def used_by(self, ref: str) -> tuple[str, ...]:
        """The references of all entries that mention this one, sorted."""
        return self._users.get(ref, ())

    def place(self, ref: str, *path: str | int) -> Place:
        """Where the value at `path` stands in the entry's file, or the nearest thing around it."""
        return self._files[ref].place(*path)

    def key_place(self, ref: str, *path: str | int) -> Place:
        """Where the name of the field at `path` stands."""
        return self._files[ref].key_place(*path)

    def file(self, ref: str) -> Loaded:
        """The entry as it was loaded."""
        return self._files[ref]

    def marked(self, ref: str) -> tuple[tuple[DataPath, str, Mark], ...]:
        """Every prose text, reference and table row of the entry: (path, text, what the schema says of it)."""
        return self._marked[ref]

    def mentions(self, ref: str) -> Iterator[tuple[DataPath, str, Mark, str]]:
        """Every reference in the entry: path, the reference, its mark, and the link as written in prose ("" outside prose)."""
        for path, text, mark in self._marked[ref]:
            if mark.ref is not None:
                yield path, text, mark, ""
            elif mark.prose and "[[" in text:
                for link in LINK.finditer(text):
                    yield path, link[1].strip(), mark, link[0]

    def _all_names(self) -> dict[str, list[str]]:
        names: dict[str, list[str]] = defaultdict(list)
        for term in self._by_kind["term"]:
            assert isinstance(term, Term)
            for name in term_names(term):
                if term.status != "retired" and term.ref not in names[name]:
                    names[name].append(term.ref)
        return dict(names)

    def _all_users(self) -> dict[str, tuple[str, ...]]:
        users: dict[str, set[str]] = defaultdict(set)
        for ref in self._entries:
            for _, target, _, _ in self.mentions(ref):
                if target != ref:
                    users[target].add(ref)
        return {target: tuple(sorted(refs)) for target, refs in users.items()}


def term_names(term: Term) -> Iterator[str]:
    """Every name of a term in small letters: word, trade synonyms, American usage, and their plurals. Not the plain words of newcomers."""
    yield term.word.lower()
    yield (term.plural or term.word + "s").lower()
    for name in (*term.also, *term.american):
        yield name.lower()
        yield name.lower() + "s"


def read_library(root: Path = PROJECT) -> tuple[Library, list[Problem]]:
    """Load kb below `root`: the library of the entries that have the shape of their kind, and the problems of the others."""
    problems: list[Problem] = []
    sound: list[Loaded] = []
    broken: dict[str, Loaded] = {}
    for path in sorted((root / "kb").rglob("*")):
        if path.is_dir() or "schema" in path.relative_to(root / "kb").parts[:1] or path.name.startswith(".") or path.name.endswith("~"):
            continue  # an editor's own files are hidden, or end in ~
        stray = _stray(path, root)
        if stray:
            problems.append(stray)
            continue
        loaded = load_file(path, root)
        found, whole = judged(loaded)
        problems.extend(found)
        if whole:
            sound.append(loaded)
        else:
            broken[f"{KIND_OF_FOLDER[path.parent.name]}:{path.stem}"] = loaded
    return Library(sound, broken, root), problems


# Problems that leave an entry whole: it is still linked to and checked further.
HARMLESS = frozenset({"KB009", "KB010", "KB012", "KB022", "KB023"})


def judged(loaded: Loaded) -> tuple[list[Problem], bool]:
    """The problems of one file by itself, one at a place, and whether it is whole in spite of them."""
    shape = list(_entry_problems(loaded))
    refused = {problem.place for problem in loaded.problems}
    problems = loaded.problems + [problem for problem in shape if problem.place not in refused]
    return problems, bool(loaded.data) and all(problem.code in HARMLESS for problem in loaded.problems + shape)


def _stray(path: Path, root: Path) -> Problem | None:
    inside = path.relative_to(root / "kb")
    if len(inside.parts) == 2 and inside.parts[0] in KIND_OF_FOLDER and path.suffix == ".yaml":
        return None
    place = Place(path.relative_to(root).as_posix())
    if path.suffix in (".yml", ".yaml", ".txt") and inside.parts[0] in KIND_OF_FOLDER:
        return Problem(
            "KB024",
            place,
            "this file",
            "entries end in .yaml and stand directly in the folder of their kind",
            f"move it to kb/{inside.parts[0]}/{path.stem}.yaml",
        )
    folders = ", ".join(sorted(FOLDERS.values()))
    return Problem(
        "KB024",
        place,
        "this file",
        "only entries stand in kb, each in the folder of its kind",
        f"move it into one of {folders}, or out of kb",
    )


def _entry_problems(loaded: Loaded) -> Iterator[Problem]:
    if not loaded.data:
        return
    kind = loaded.data.get("kind")
    if not isinstance(kind, str) or kind not in FOLDERS:
        yield _kind_problem(loaded, kind)
        return
    yield from shape_problems(loaded, kind)
    yield from _opening_problems(loaded, kind)


def _kind_problem(loaded: Loaded, kind: object) -> Problem:
    expected = KIND_OF_FOLDER[loaded.path.split("/")[1]]
    if "kind" not in loaded.data:
        return Problem("KB013", Place(loaded.path), "kind", "the entry does not say what kind it is", f"begin with `kind: {expected}`")
    hint = did_you_mean(str(kind), FOLDERS, f"in this folder it is `kind: {expected}`")
    return Problem("KB013", loaded.place("kind"), "kind", f"there is no kind {shown(kind)}; wanted one of {', '.join(FOLDERS)}", hint)


def _opening_problems(loaded: Loaded, kind: str) -> Iterator[Problem]:
    wanted = _SCHEMA_LINE.format(kind=kind)
    if loaded.text.split("\n", 1)[0].rstrip() != wanted:
        yield Problem(
            "KB022",
            Place(loaded.path),
            "this file",
            "the first line does not tell editors which schema to use",
            f"make the first line `{wanted}`",
        )
    if list(loaded.data)[:2] != ["kind", "id"]:
        yield Problem(
            "KB023",
            loaded.place(),
            "this file",
            "an entry begins with its kind and its id",
            "move `kind:` to the first place and `id:` to the second",
        )
