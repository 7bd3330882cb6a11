"""The page "How we know": by source every figure taken from it, what we get, and whether the two agree."""
from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from build_tools.calculate import calculations
from build_tools.evidence import Table, judged
from build_tools.library import Library
from build_tools.model import Basis, Calculation, Constant, Count
from build_tools.number import for_page
from build_tools.published import Judgement, judge, judge_count
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View, short_name

PAGE = "how-we-know.md"
AGREES = "agrees"
GROUPS = {
    "agree": (AGREES,),
    "last digit": ("cut off", "rounded up"),
    "other rule": ("other constant", "rule of thumb", "rounded name"),
    "wrong": ("slip", "misprint"),
}
"""The columns of the totals, and which verdicts each holds."""

_INTRO = """\
# How we know

Each figure that was taken from a book or from another program stands here, by source, with what our own sums give for it.
{: .lead }

A figure **agrees** when ours, rounded to its last digit, is the same; a wider allowance says why. *Last digit*: the book cut further digits off, or rounded up where it should have rounded down.
*Other rule*: the book uses another constant, a rule of thumb, or a round figure as a name. *Wrong*: a slip of a few units, or a misprint. Every one of these is worked again whenever the site is built, and a figure that
is called wrong must really differ.
"""


@dataclass(frozen=True)
class Known:
    """One figure from outside: which source has it and where, what it is a figure of (Markdown), and how it was judged."""
    source: str
    place: str
    of: str
    judgement: Judgement

    @property
    def verdict(self) -> str:
        """The verdict of the entry or table, when it holds."""
        return (self.judgement.verdict or AGREES) if self.judgement.sound else "not explained"


@dataclass(frozen=True)
class KnownTable:
    """A whole printed table with its judged figures."""
    table: Table
    figures: tuple[Known, ...]


def how_we_know(library: Library) -> dict[str, str]:
    """The page by its path: totals, what is wrong in print, then everything source by source, and what comes from memory."""
    view = View(library, PAGE)
    single = [*_of_calculations(view), *_of_counts(view)]
    whole = [KnownTable(each, tuple(_of_table(each, view))) for each in library.printed_tables]
    everything = [*single, *(figure for each in whole for figure in each.figures)]
    order = sorted({known.source for known in everything} | set(_stated(view)), key=lambda ref: short_name(library[ref]))
    parts = [
        _INTRO, _totals(everything, view), _wrong(everything, view), "## Source by source\n",
        *(_source(ref, [known for known in single if known.source == ref], [each for each in whole if each.table.source == ref], view) for ref in order),
        _from_memory(view),
    ]
    return {PAGE: "\n".join(parts)}


def in_print(source: str, view: View) -> str:
    """Where a figure stands: in print, or, when a program worked it out, by that program."""
    return "by the program" if view.library[source].type == "library" else "in print"


def _of_calculations(view: View) -> Iterator[Known]:
    for entry in calculations(view.library):
        for check in entry.checks:
            for judgement in judge(entry, check.given, check.expect, view.library):
                yield Known(check.source, check.place, view.link(entry.ref, _label(entry, judgement.name)), judgement)


def _label(entry: Calculation, name: str) -> str:
    return next((part.label for part in (*entry.steps, *entry.inputs) if part.name == name), name.replace("_", " "))


def _of_counts(view: View) -> Iterator[Known]:
    for entry in view.library.of_kind("count"):
        assert isinstance(entry, Count)
        for given in entry.gives:
            yield Known(given.source, given.place, view.link(entry.ref), judge_count(entry, given, view.library))


def _of_table(printed: Table, view: View) -> Iterator[Known]:
    for row in printed.rows:
        for column, judgement in judged(printed, row, view.library):
            name = escape(row[printed.named_by])
            of = name if len(printed.columns) == 1 else f"{name}, {escape(column.name.replace('_', ' '))}"
            yield Known(printed.source, printed.place, of, judgement)


def _totals(everything: Iterable[Known], view: View) -> str:
    """How many figures of each source agree, and how many do not."""
    counted: dict[str, Counter[str]] = {}
    for known in everything:
        counted.setdefault(known.source, Counter())[known.verdict] += 1
    rows = [[f"[{escape(short_name(view.library[ref]))}](#{_anchor(ref)})", *_cells(counted[ref])] for ref in sorted(counted, key=lambda ref: -counted[ref].total())]
    rows.append(["**All**", *_cells(sum(counted.values(), Counter()))])
    return "## In numbers\n\n" + table(["Source", "figures", *GROUPS], rows, label="How many figures agree")


def _cells(counter: Counter[str]) -> list[str]:
    return [str(counter.total()), *(str(sum(counter[verdict] for verdict in verdicts) or "") for verdicts in GROUPS.values())]


def _anchor(ref: str) -> str:
    return ref.replace(":", "-")


def _wrong(everything: Iterable[Known], view: View) -> str:
    rows = [[view.cited(known.source, known.place), *_row(known, view)] for known in everything if known.verdict == "misprint"]
    return "## Misprints found\n\n" + table(["Source", "Figure of", "In print", "Here", "Judged"], rows, label="Misprints")


def _row(known: Known, view: View) -> list[str]:
    found = known.judgement
    number = found.ours.lstrip("-").replace(".", "", 1).isdigit()
    ours = f"{for_page(found.ours) if number else found.ours} {found.unit}".strip()
    because = f": {view.plain_line(found.because)}" if found.because else ""
    return [known.of, escape(found.printed), escape(ours), f"{known.verdict}{because}"]


def _source(ref: str, single: Sequence[Known], tables: Sequence[KnownTable], view: View) -> str:
    """Everything of one source; what is long is folded up."""
    name, title = short_name(view.library[ref]), escape(view.library[ref].title)
    parts = [f"### {view.link(ref, name)} {{#{_anchor(ref)}}}\n"]
    if single:
        rows = [[escape(known.place), *_row(known, view)] for known in single]
        parts.append(_folded(_summary("figure", single), table(["Place", "Figure of", in_print(ref, view).capitalize(), "Here", "Judged"], rows, label=f"Figures of {title}")))
    parts += [_printed_table(each, view) for each in tables]
    stated = _stated(view).get(ref, [])
    if stated:
        parts.append(_folded(f"{len(stated)} taken as they stand", table(["Place", "Figure of", "Value"], stated, label=f"Taken from {title}")))
    return "\n".join(parts)


def _printed_table(each: KnownTable, view: View) -> str:
    printed = each.table
    says = "; ".join(f"{escape(column.name.replace('_', ' '))} by {view.link(column.calculation)}" for column in printed.columns)
    notes = f"{escape(printed.note)} Worked out: {says}.\n\n"
    rows = [_row(known, view) for known in each.figures]
    body = table([escape(printed.says[printed.named_by]), in_print(printed.source, view).capitalize(), "Here", "Judged"], rows, label=escape(printed.title))
    return _folded(f"{escape(printed.title)}, {escape(printed.place)}; {_summary('figure', each.figures)}", notes + body)


def _summary(thing: str, figures: Sequence[Known]) -> str:
    counted = Counter(known.verdict for known in figures)
    groups = {name: sum(counted[verdict] for verdict in verdicts) for name, verdicts in GROUPS.items()}
    told = ", ".join(f"{number} {name}" for name, number in groups.items() if number)
    return f"{len(figures)} {thing}{'s' if len(figures) > 1 else ''}" + (f": {told}" if groups["agree"] < len(figures) else f", {'all agree' if len(figures) > 1 else 'agrees'}")


def _folded(summary: str, body: str) -> str:
    """A list under its summary; on paper the summary stands alone, or the page would fill a book."""
    return f'<details class="whole" markdown="1"><summary>{summary}</summary>\n\n{body}\n</details>\n'


def _constants(view: View) -> Iterator[tuple[Constant, str, str, tuple[Basis, ...]]]:
    """Every constant and row of a table that has a value: the entry, its name, value and basis."""
    for entry in view.library.of_kind("constant"):
        assert isinstance(entry, Constant)
        if entry.value:
            yield entry, entry.name, f"{entry.value} {entry.unit}".strip(), entry.basis
        for row in entry.rows:
            if row.value:
                yield entry, row.says or row.name, f"{row.value} {row.unit}".strip(), row.basis or entry.basis


def _stated(view: View) -> dict[str, list[list[str]]]:
    """By source the constants that were taken from it: nothing of ours is worked out for them."""
    found: dict[str, list[list[str]]] = {}
    for entry, name, value, basis in _constants(view):
        for item in basis:
            if item.source:
                found.setdefault(item.source, []).append([escape(item.place), view.link(entry.ref, name), escape(value)])
    return found


def _from_memory(view: View) -> str:
    """What waits for a source: constants, and sums whose formula somebody remembered."""
    constants = [[view.link(entry.ref, name), escape(value)] for entry, name, value, basis in _constants(view) if any(item.word == "memory" for item in basis)]
    sums = [f"- {view.link(entry.ref)}" for entry in calculations(view.library) if any(item.word == "memory" for item in entry.basis)]
    parts = ["## From memory\n\nThese wait for a source. Take them with care, and send the source if you know one.\n"]
    if constants:
        parts.append(_folded(f"{len(constants)} constants", table(["Figure", "Value"], constants, label="Constants from memory")))
    if sums:
        parts.append(_folded(f"{len(sums)} sums whose formula comes from memory; the figures they give are checked above", "\n".join(sums) + "\n"))
    return "\n".join(parts)
