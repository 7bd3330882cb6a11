"""The questions of a lesson with their answers, made from the entries that the lesson names."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from build_tools.answer import answer
from build_tools.calculate import resolved, units_of
from build_tools.counts import results_for
from build_tools.model import Lesson, Outcome
from build_tools.model_parts import Ask, Input
from build_tools.plain_text import plain
from build_tools.render.count import arbors
from build_tools.render.outcome import DRIVEN_BY, FREQUENCY
from build_tools.render.prose import escape
from build_tools.render.saying import VERDICTS
from build_tools.render.view import View

FIGURES = 3  # how many results of a count make an answer


@dataclass(frozen=True)
class Item:
    """One question with its answer, both Markdown; ``short`` repeats on the answer sheet what was asked."""

    asks: str
    answer: str
    short: str = ""


@dataclass(frozen=True)
class Group:
    """Questions of one kind: what to do with them, the words to choose from, and the questions."""

    says: str
    bank: tuple[str, ...]
    items: tuple[Item, ...]


def groups(entry: Lesson, view: View) -> Iterator[Group]:
    """The groups of questions in the order of the lesson."""
    for ask in entry.asks:
        says, make = _KINDS[ask.kind]
        items = tuple(item for ref in ask.of for item in make(view.library[ref], ask, view))
        yield Group(says, _bank(ask, view), items)


def _bank(ask: Ask, view: View) -> tuple[str, ...]:
    """The words to choose from, in the order of the alphabet, which gives nothing away."""
    return tuple(sorted((view.library[ref].name for ref in ask.of), key=str.lower)) if ask.kind in ("word", "train") else ()


def _word(term: Any, ask: Ask, view: View) -> Iterator[Item]:
    """The definition asks for the word; where it names the word itself there is a gap."""
    text = " ".join(plain(term.definition).split())
    names = "|".join(re.escape(name) for name in (term.plural or f"{term.word}s", term.word))
    gap = re.sub(rf"\b({names})\b", "……", text, flags=re.IGNORECASE)
    yield Item(escape(gap), view.link(term.ref))


def _plain(term: Any, ask: Ask, view: View) -> Iterator[Item]:
    yield Item(f"{escape(', '.join(term.plain[:3]))}", f"{view.link(term.ref)}. {view.plain_line(term.definition)}", escape(term.plain[0]))


def _difference(entry: Any, ask: Ask, view: View) -> Iterator[Item]:
    """What the entry is, and how the first thing that it is mistaken for differs from it."""
    row = (getattr(entry, "not_to_confuse", ()) or getattr(entry, "look_alikes", ()))[0]
    other = view.library[row.with_]
    what = view.plain_line(getattr(entry, "definition", "") or entry.what)
    yield Item(f"{escape(entry.name)} – {escape(other.name)}", f"{view.link(entry.ref)}: {what}<br>{view.link(other.ref)}: {view.plain_line(row.why)}")


def _tells(entry: Outcome, ask: Ask, view: View) -> Iterator[Item]:
    """For each sign: what is seen of this kind, from the usual to the rare."""
    for ref in ask.by:
        says = {one.id: one.says for one in view.library[ref].answers}
        seen = [f"*{word}* {escape(says[found])}" for word in FREQUENCY[:-1] for found, given in entry.told_by[ref].items() if given == word]
        asked = f"{escape(entry.name)}: {escape(view.library[ref].asks)}"
        yield Item(asked, f"{'; '.join(seen)} ({view.link(entry.ref, 'all signs')})", asked)


def _train(entry: Outcome, ask: Ask, view: View) -> Iterator[Item]:
    """The most usual answers ask for the kind."""
    signs = [f"{escape(view.library[ref].asks)} – {_most_usual(entry, ref, view)}" for ref in ask.by]
    yield Item("<br>".join(signs), f"{view.link(entry.ref)}. {view.plain_line(entry.telling)}")


def _most_usual(entry: Outcome, question: str, view: View) -> str:
    says = {one.id: one.says for one in view.library[question].answers}
    best = min(entry.told_by[question].items(), key=lambda pair: FREQUENCY.index(pair[1]))[0]
    return f"*{escape(says[best])}*"


def _drive(addon: Any, ask: Ask, view: View) -> Iterator[Item]:
    yield Item(escape(addon.name), f"{DRIVEN_BY[addon.driven_by]} {view.plain_line(addon.driven)}".strip(), view.link(addon.ref))


def _count(entry: Any, ask: Ask, view: View) -> Iterator[Item]:
    units = units_of(view.library)
    found = results_for(entry, view.library)[:FIGURES]
    figures = "; ".join(escape(f"{each.label}: {each.shown} {units.symbol(each.unit)}".strip()) for each in found)
    labels = "; ".join(escape(each.label) for each in found)
    yield Item(f"{escape(entry.name)}\n\n{arbors(entry)}\n{labels}?", figures, view.link(entry.ref))


def _sum(calculation: Any, ask: Ask, view: View) -> Iterator[Item]:
    """The worked example of the calculation as a question."""
    calculation = resolved(calculation, view.library)
    worked = answer(calculation, {field.name: field.example for field in calculation.inputs}, view.library)
    units = units_of(view.library)
    labels = {step.name: step.label for step in calculation.steps}
    given = "; ".join(escape(f"{field.label}: {_example(field, units.symbol(field.unit))}") for field in calculation.inputs)
    shown = "; ".join(escape(f"{labels.get(result.name, result.label)}: {worked.outcome.results[result.name].written(units)}") for result in calculation.results)
    yield Item(f"{escape(calculation.question)}<br>{given}", shown, view.link(calculation.ref))


def _example(field: Input, unit: str) -> str:
    """The example with its unit, unless it brings one along; of a choice the words that the page offers."""
    chosen = next((choice.label for choice in field.choices if choice.value == field.example), field.example)
    return f"{chosen} {unit}".strip() if re.fullmatch(r"[-\d./ ]+", chosen) else chosen


def _saying(entry: Any, ask: Ask, view: View) -> Iterator[Item]:
    yield Item(f"“{escape(entry.saying)}”", f"**{VERDICTS[entry.verdict]}** {view.plain_line(entry.why)}", view.link(entry.ref))


def _quarters(melody: Any, ask: Ask, view: View) -> Iterator[Item]:
    notes = {phrase.id: len(phrase.bells) for phrase in melody.phrases}
    counted = [f"{quarter} {sum(notes[name] for name in played)}" for quarter, played in melody.quarters.items()]
    total = sum(notes[name] for played in melody.quarters.values() for name in played)
    yield Item(escape(melody.name), escape(f"{', '.join(counted)}; {total} in an hour, without the count of the hour"), view.link(melody.ref))


_KINDS: dict[str, tuple[str, Callable[[Any, Ask, View], Iterator[Item]]]] = {
    "word": ("Which word is meant?", _word),
    "plain": ("What does a clock person call it?", _plain),
    "difference": ("What is the difference?", _difference),
    "tells": ("What would you expect to find?", _tells),
    "train": ("Which is it?", _train),
    "drive": ("What drives it?", _drive),
    "count": ("What do these wheels give?", _count),
    "sum": ("Work it out", _sum),
    "saying": ("Right, wrong, or does it depend?", _saying),
    "quarters": ("How many notes sound at each quarter?", _quarters),
}
