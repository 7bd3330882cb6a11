"""Which figures stand on which pages, and the gallery that shows one of each."""
from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from html import escape as html
from typing import Any

from build_tools.figures import count_wheel, escapement, pin_barrel, rack, strike_cycle, train_plan
from build_tools.figures.answer import picture
from build_tools.figures.names import Name
from build_tools.figures.wheelwork import sentence, wheelwork
from build_tools.library import Library
from build_tools.model import Count
from build_tools.model_parts import Row
from build_tools.render.curves import curve_of, moon_error, readings, rods
from build_tools.render.figure import elevation_of, figure, plan_of, told_in_steps, word_addresses
from build_tools.render.plate import answer_sheet, blank_sheet, in_columns, named_figure
from build_tools.render.kinds import page_path
from build_tools.render.prose import escape
from build_tools.render.view import View


@dataclass(frozen=True)
class Picture:
    """One figure: the HTML as seen from a page; where it has names, the same with numbers to fill in, and the names."""

    draw: Callable[[View], str]
    blank: Callable[[str], str] | None = None
    names: Sequence[Name] = ()


HOUR = 4  # of the example


def _rack(view: View) -> str:
    drawn = rack.rack_and_snail("rack-and-snail", HOUR, word_addresses(view))
    return figure(drawn, "To scale: the steps of the snail follow from the teeth of the rack. Four blows are to come.", rack.words_of(HOUR))


def _rack_cycle(view: View) -> str:
    return told_in_steps(strike_cycle.rack_cycle("rack-cycle", word_addresses(view)), _moments(strike_cycle.RACK_STATES))


def _count_cycle(view: View) -> str:
    return told_in_steps(strike_cycle.count_wheel_cycle("count-cycle", word_addresses(view)), _moments(strike_cycle.COUNT_STATES))


def _moments(states: Sequence[strike_cycle.State]) -> list[tuple[str, str]]:
    return [(state.title, state.says) for state in states]


def _count_wheel(view: View) -> str:
    drawn = count_wheel.count_wheel("count-wheel", count_wheel.HOURS, "A count wheel for the hours", word_addresses(view))
    return figure(drawn, "Hours only: 78 parts, one for each blow of a turn in twelve hours.", count_wheel.words_of(count_wheel.HOURS))


def _count_wheel_halves(view: View) -> str:
    strikes = count_wheel.with_half_hours()
    drawn = count_wheel.count_wheel("count-wheel-halves", strikes, "A count wheel for hours and half hours", word_addresses(view))
    return figure(drawn, "Hours and half hours: 90 parts, and a wider notch at each half hour.", count_wheel.words_of(strikes))


IN_THE_TABLE = "westminster"  # the melody whose pins stand for all
NUMBERED = "The parts are numbered, to be named."
DEADBEAT, RECOIL = escapement.Layout(), escapement.Layout(recoil=True, lock=0.2)


def _deadbeat(view: View) -> str:
    says = (
        "The dead faces are arcs about the pallet arbor: while a tooth leans on one of them the wheel stands still, however far the pendulum swings. "
        "Only on the slanted impulse face does the wheel push the pendulum. Then the tooth drops off, and another is caught by the other pallet."
    )
    drawn = escapement.escapement(DEADBEAT, "deadbeat", "Deadbeat escapement", says, word_addresses(view))
    return figure(drawn, _angles(DEADBEAT), says, "beating")


def _recoil(view: View) -> str:
    says = (
        "The faces of the anchor go straight on beyond the point where a tooth lands. While the pendulum swings on, the slanted face pushes the wheel back: that is the recoil, "
        "to be seen on any seconds hand. On the way back the wheel pushes the pendulum, drops off, and is caught by the other pallet."
    )
    drawn = escapement.escapement(RECOIL, "recoil", "Recoil anchor escapement", says, word_addresses(view))
    return figure(drawn, _angles(RECOIL), says, "beating")


def _angles(layout: escapement.Layout) -> str:
    return (
        f"Laid out for {layout.teeth} teeth, the pallets over {layout.span:g} of them; lift {2 * layout.lift:g}° and swing {layout.swing:g}° to each side are drawn larger than in most clocks. "
        "The broken tangents meet in the pallet arbor."
    )


def _barrel(view: View) -> str:
    return barrel_of(view.library[f"melody:{IN_THE_TABLE}"])


def barrel_of(melody: Any) -> str:
    """The pins of a melody."""
    caption = "A line for each hammer, a dot for each pin; all quarters to one scale of time."
    return figure(pin_barrel.unrolled(melody, f"pins-{melody.id}"), caption, pin_barrel.words_of(melody), "pins")


PICTURES: dict[str, Picture] = {
    "rack-and-snail": Picture(_rack, lambda name: rack.rack_blank(name, HOUR), rack.names_at(HOUR)),
    "rack-cycle": Picture(_rack_cycle, strike_cycle.rack_blank, strike_cycle.RACK_NAMES),
    "count-wheel": Picture(_count_wheel),
    "count-wheel-halves": Picture(_count_wheel_halves),
    "count-cycle": Picture(_count_cycle, strike_cycle.count_blank, strike_cycle.COUNT_NAMES),
    "deadbeat": Picture(_deadbeat, lambda name: escapement.blank(DEADBEAT, name, "Deadbeat escapement", NUMBERED), escapement.names_of(DEADBEAT)),
    "recoil": Picture(_recoil, lambda name: escapement.blank(RECOIL, name, "Recoil anchor escapement", NUMBERED), escapement.names_of(RECOIL)),
    "moon-error": Picture(moon_error),
    "rods": Picture(rods),
    "readings": Picture(readings),
    "pin-barrel": Picture(_barrel),
}


def pictures_of(ref: str, view: View) -> str:
    """All figures that belong on the page of an entry, as the table of figures says."""
    here = [row.name for row in _rows(view.library) if ref in row.cells["shown_on"]]
    return "\n".join(PICTURES[name].draw(view) + _sheet_links(name, view) for name in here)


def _rows(library: Library) -> list[Row]:
    """The table of figures; a row that no code draws is left out here, and reported by the tests."""
    return [row for row in library.table("figures") if row.name in PICTURES]


def _sheet_links(name: str, view: View) -> str:
    """Where the same figure stands to be filled in."""
    blank, answers = (view.to(path) for path in _sheet_paths(name))
    return f"[To fill in]({blank}), with [its answers]({answers})\n{{: .answers-link }}\n" if PICTURES[name].blank else ""


def _sheet_paths(name: str) -> tuple[str, str]:
    return f"figures/{name}/to-fill-in.md", f"figures/{name}/answers.md"


def picture_sheets(library: Library) -> dict[str, str]:
    """A sheet to fill in and an answer sheet for every figure with names that is no plate."""
    made, refs = {}, {term.word: term.ref for term in library.of_kind("term")}
    for row in _rows(library):
        picture, (blank, answers) = PICTURES[row.name], _sheet_paths(row.name)
        if picture.blank:
            names, drawn = [replace(name, word=refs[name.says]) for name in picture.names], picture.blank(f"{row.name}-blank")
            made[blank] = blank_sheet(row.says, drawn, names, View(library, blank), answers)
            made[answers] = answer_sheet(row.says, drawn, names, View(library, answers), "figures.md")
    return {**made, **{path: text for ref in GALLERY_COUNTS if ref in library for path, text in _train_sheets(library[ref], library).items()}}


def _train_sheets(entry: Count, library: Library) -> dict[str, str]:
    """A wheel train to name and count, and its answers."""
    (blank, answers), work = _sheet_paths(entry.id), wheelwork(entry)
    drawn = figure(train_plan.blank(work, f"blank-{entry.id}", f"{entry.name}: the wheels seen along their arbors"), style="large")
    lines = "".join(f"<li>{place} <span></span></li>" for place in range(1, len(work.axles) + 1))
    told = "\n".join(f"{place}. {sentence(work, axle)}" for place, axle in enumerate(work.axles, 1))
    here, there = View(library, blank), View(library, answers)
    return {
        blank: f'# A wheel train: name the arbors, count the teeth\n\n{drawn}\n<ul class="blanks">{lines}</ul>\n\n[Answers]({here.to(answers)})\n{{: .answers-link }}\n',
        answers: f"# Answers: {escape(entry.name)}\n\n{drawn}\n{in_columns(told)}\n[With the names]({there.to(page_path(entry.ref))})\n{{: .answers-link }}\n",
    }


def generated_scripts(library: Library) -> dict[str, str]:
    """The drawings of the key's answers for the page that asks: question id → answer id → SVG."""
    drawn = {
        entry.id: {answer.id: picture(answer.picture) for answer in entry.answers if answer.picture}
        for entry in library.of_kind("question") if any(answer.picture for answer in entry.answers)
    }
    text = json.dumps(drawn, ensure_ascii=False, separators=(",", ":"))
    return {"js/key-pictures.js": f"var ClockRef=this.ClockRef||{{}};this.ClockRef=ClockRef;ClockRef.keyPictures={text};\n"}


def gallery(library: Library) -> dict[str, str]:
    """The page that shows every figure; of the wheel trains a few, with links to all."""
    view = View(library, "figures.md")
    lead = "Every drawing in this reference, made from its entries.\n{: .lead }\n"
    trains = [_train(ref, view) for ref in GALLERY_COUNTS if ref in library]
    every = ", ".join(view.link(entry.ref) for entry in library.of_kind("count"))
    parts = [f"## {escape(row.says)}\n\n{PICTURES[row.name].draw(view)}{_sheet_links(row.name, view)}" for row in _rows(library)]
    curves = [f"## {escape(entry.question)}\n\n{curve_of(entry, view)}" for entry in library.of_kind("calculation") if entry.plot]
    melodies = [f"## {escape(entry.name)}\n\n{barrel_of(entry)}" for entry in library.of_kind("melody") if entry.id != IN_THE_TABLE]
    plates = [f"## {escape(entry.name)}\n\n{named_figure(entry, view)}" for entry in sorted(library.of_kind("plate"), key=lambda one: one.order)]
    rest = ["## What the key asks you to look for\n", *_answers(view), f"## Every wheel train\n\nIn plan and from the side: {every}.\n"]
    return {"figures.md": "\n".join(["# Figures\n", lead, *parts, *plates, *trains, *curves, *melodies, *rest])}


def _answers(view: View) -> Iterator[str]:
    """Every small drawing of the key, question by question."""
    for entry in view.library.of_kind("question"):
        drawn = [f"<li>{picture(answer.picture)} {html(answer.says, quote=False)}</li>" for answer in entry.answers if answer.picture]
        if drawn:
            yield f"{view.link(entry.ref)}\n\n<ul class=\"looks\">{''.join(drawn)}</ul>\n"


GALLERY_COUNTS: tuple[str, ...] = ("count:eight-day-96-60-56", "count:strike-84-8-8-64-56-49", "count:motion-12-36-10-40", "count:verge-30h-78-60-42")


def _train(ref: str, view: View) -> str:
    entry = view.library[ref]
    blank, answers = (view.to(path) for path in _sheet_paths(entry.id))
    links = f"[To fill in]({blank}), with [its answers]({answers})\n{{: .answers-link }}\n"
    return f"## {escape(entry.name)}\n\n{plan_of(entry, view)}\n{elevation_of(entry, view)}\n{links}"
