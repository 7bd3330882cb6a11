"""The page of a count: its arbors, and what they give next to what a source prints."""

from __future__ import annotations

from build_tools.calculate import units_of
from build_tools.counts import CountResult, results_for
from build_tools.model import Arbor, Count, Given
from build_tools.published import judge_count
from build_tools.render.figure import elevation_of, plan_of
from build_tools.render.prose import escape
from build_tools.render.tables import table
from build_tools.render.view import View

OF = {
    "going": ("The going train", "Going trains"),
    "motion": ("The motion work", "Motion works"),
    "strike": ("The striking train", "Striking trains"),
    "chime": ("The chiming train", "Chiming trains"),
    "moon": ("The moon train", "Moon trains"),
    "calendar": ("The calendar train", "Calendar trains"),
    "tide": ("The tide train", "Tide trains"),
    "sidereal": ("The train for sidereal time", "Trains for sidereal time"),
    "planet": ("The train of a planet", "Trains for planets"),
    "alarm": ("The alarm train", "Alarm trains"),
    "other": ("A train", "Other trains"),
}


def count(entry: Count, view: View) -> list[str]:
    """The arbors in order from the power, then the figures, each with its source."""
    return [
        f"{OF[entry.of][0]}, arbor by arbor from the power on.\n",
        view.note(entry.basis),
        view.cautions(entry.cautions),
        plan_of(entry, view),
        elevation_of(entry, view),
        arbors(entry),
        _figures(entry, view),
        _used_in(entry, view),
        view.prose(entry.note) + "\n" if entry.note else "",
    ]


def arbors(entry: Count) -> str:
    """The table of arbors; a column that nothing fills is left out."""
    columns = {
        "Pinion": [_driven(arbor) for arbor in entry.arbors],
        "Wheel": [_wheel(arbor) for arbor in entry.arbors],
        "Remarks": [_remarks(arbor) for arbor in entry.arbors],
    }
    shown = {head: cells for head, cells in columns.items() if any(cells)}
    rows = [[escape(arbor.name), *(cells[number] for cells in shown.values())] for number, arbor in enumerate(entry.arbors)]
    return table(["Arbor", *shown], rows, label=f"Arbors: {escape(entry.name)}")


def _driven(arbor: Arbor) -> str:
    if arbor.pinion:
        return str(arbor.pinion)
    return f"{arbor.driven} (a wheel)" if arbor.driven else ""


def _wheel(arbor: Arbor) -> str:
    parts = [str(arbor.wheel)] if arbor.wheel else []
    parts += [f"{arbor.escape} (escape)"] if arbor.escape else []
    parts += [f"{arbor.pins} pins"] if arbor.pins else []
    return ", ".join(parts)


def _remarks(arbor: Arbor) -> str:
    parts = [f"one turn in {escape(arbor.turns_once_in)} h"] if arbor.turns_once_in else []
    parts += [f"{escape(arbor.turns)} turns when wound"] if arbor.turns else []
    parts += [f"{arbor.moons} moons painted on it"] if arbor.moons else []
    parts += [f"driven by the {escape(arbor.driven_by)} arbor"] if arbor.driven_by else []
    parts += [f"drives the {escape(arbor.drives)} arbor"] if arbor.drives else []
    return "; ".join(parts)


def _figures(entry: Count, view: View) -> str:
    """What the calculations make of the counts, and beside it what has been printed of them."""
    found = results_for(entry, view.library)
    rows = [[view.link(each.calculation.ref, each.label), _computed(each, view), _printed(each, entry, view)] for each in found]
    worked = {(each.calculation.ref, each.result) for each in found}
    rows += [
        [view.link(given.calculation), "needs more than the counts", f"{escape(given.printed)} ({view.cited(given.source, given.place)})"]
        for given in entry.gives
        if (given.calculation, given.result) not in worked
    ]
    return "## What it gives\n\n" + table(["Figure", "From the counts", "In print"], rows, label="What the counts give") if rows else ""


def _computed(each: CountResult, view: View) -> str:
    units = units_of(view.library)
    shown = [(each.shown, each.unit), *((text, unit) for unit, text in each.also)]
    return escape(" = ".join(f"{text} {units.symbol(unit)}".strip() for text, unit in shown))


def _printed(each: CountResult, entry: Count, view: View) -> str:
    """Every printed figure for this result, with its source and whether it agrees."""
    same = [given for given in entry.gives if (given.calculation, given.result) == (each.calculation.ref, each.result)]
    return "; ".join(_agreement(given, entry, view) for given in same)


def _agreement(given: Given, entry: Count, view: View) -> str:
    """The printed figure, with what the source reckoned from besides the counts, and whether it agrees."""
    judgement = judge_count(entry, given, view.library)
    from_ = ", ".join(f"{name} {escape(text)}" for name, text in given.with_.items())
    verdict = "agrees" if judgement.agrees else given.verdict or "differs"
    because = f": {view.prose(given.because)}" if given.because else ""
    return f"{escape(given.printed)} ({view.cited(given.source, given.place)}){f' with {from_}' if from_ else ''}: {verdict}{because}"


def _used_in(entry: Count, view: View) -> str:
    return "## Found in\n\n" + "\n".join(f"- {view.link(ref)}" for ref in entry.used_in) + "\n" if entry.used_in else ""
