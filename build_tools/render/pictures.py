"""Which figures stand on which pages, and the gallery that shows one of each."""
from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from html import escape as html
from typing import Any

from build_tools.figures import count_wheel, escapement, pin_barrel, rack, strike_cycle
from build_tools.figures.answer import picture
from build_tools.library import Library
from build_tools.render.curves import moon_error, rods
from build_tools.render.figure import elevation_of, figure, plan_of, told_in_steps, word_addresses
from build_tools.render.plate import named_figure
from build_tools.render.prose import escape
from build_tools.render.view import View


@dataclass(frozen=True)
class Picture:
    """One figure: its heading in the gallery, the HTML as seen from a page, and the entries on whose pages it stands."""

    id: str
    title: str
    draw: Callable[[View], str]
    on: tuple[str, ...]


def _rack(view: View) -> str:
    drawn = rack.rack_and_snail("rack-and-snail", 4, word_addresses(view))
    return figure(drawn, "To scale: the steps of the snail follow from the teeth of the rack. It is about to strike four.", rack.words_of(4))


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
    return barrel_of(view.library["melody:westminster"])


def barrel_of(melody: Any) -> str:
    """The pins of a melody."""
    caption = "A line for each hammer, a dot for each pin; all quarters to one scale of time."
    return figure(pin_barrel.unrolled(melody, f"pins-{melody.id}"), caption, pin_barrel.words_of(melody), "pins")


PICTURES: tuple[Picture, ...] = (
    Picture("rack-and-snail", "Rack and snail", _rack, ("term:rack", "term:snail", "term:rack-tail", "term:rack-hook", "feature:rack-front")),
    Picture("rack-cycle", "Rack striking in four pictures", _rack_cycle, (
        "term:rack", "term:gathering-pallet", "term:warning", "term:striking-train", "term:rack-hook", "feature:rack-front", "feature:rack-inside")),
    Picture("count-wheel", "Count wheel", _count_wheel, ("term:count-wheel", "feature:count-wheel-outside", "feature:count-wheel-inside")),
    Picture("count-wheel-halves", "Count wheel with half hours", _count_wheel_halves, ("term:count-wheel", "term:half-hour-strike")),
    Picture("count-cycle", "Count-wheel striking in four pictures", _count_cycle, (
        "term:count-wheel", "term:count-hook", "term:locking-piece", "term:striking-train", "feature:count-wheel-outside", "feature:count-wheel-inside")),
    Picture("deadbeat", "Deadbeat escapement", _deadbeat, ("term:deadbeat-escapement", "term:dead-face", "term:lock", "term:drop", "term:impulse-face", "feature:deadbeat")),
    Picture("recoil", "Recoil anchor escapement", _recoil, (
        "term:recoil-escapement", "term:anchor", "term:recoil", "term:entry-pallet", "term:exit-pallet", "term:impulse", "feature:recoil-anchor")),
    Picture("moon-error", "Error of moon dials", moon_error, ("calculation:moon-error", "term:moon-work", "term:moon-dial")),
    Picture("rods", "Warmth and the pendulum rod", rods, ("calculation:temperature-rate", "term:temperature-error", "term:pendulum-rod")),
    Picture("pin-barrel", "Pin barrel", _barrel, ("term:pin-barrel", "term:westminster-quarters")),
)


def pictures_of(ref: str, view: View) -> str:
    """All figures that belong on the page of an entry."""
    return "\n".join(picture.draw(view) for picture in PICTURES if ref in picture.on)


def generated_scripts(library: Library) -> dict[str, str]:
    """The drawings of the key's answers for the page that asks: question id → answer id → SVG."""
    drawn = {
        entry.id: {answer.id: picture(answer.picture) for answer in entry.answers if answer.picture}
        for entry in library.of_kind("question") if any(answer.picture for answer in entry.answers)
    }
    text = json.dumps(drawn, ensure_ascii=False, separators=(",", ":"))
    return {"js/key-pictures.js": f"var ClockRef=this.ClockRef||{{}};this.ClockRef=ClockRef;ClockRef.keyPictures={text};\n"}


def gallery(library: Library) -> dict[str, str]:
    """The page that shows one figure of each kind."""
    view = View(library, "figures.md")
    parts = [f"## {escape(picture.title)}\n\n{picture.draw(view)}" for picture in PICTURES]
    trains = [_train(ref, view) for ref in GALLERY_COUNTS if ref in library]
    lead = "One of each kind of drawing in this reference. All are made from its entries.\n{: .lead }\n"
    plates = [f"## {escape(entry.name)}\n\n{named_figure(entry, view)}" for entry in sorted(library.of_kind("plate"), key=lambda one: one.order)]
    return {"figures.md": "\n".join(["# Figures\n", lead, *trains, *parts, *plates, "## What the key asks you to look for\n", *_answers(view)])}


def _answers(view: View) -> Iterator[str]:
    """Every small drawing of the key, question by question."""
    for entry in view.library.of_kind("question"):
        drawn = [f"<li>{picture(answer.picture)} {html(answer.says, quote=False)}</li>" for answer in entry.answers if answer.picture]
        if drawn:
            yield f"{view.link(entry.ref)}\n\n<ul class=\"looks\">{''.join(drawn)}</ul>\n"


GALLERY_COUNTS: tuple[str, ...] = ("count:eight-day-96-60-56", "count:strike-84-8-8-64-56-49", "count:motion-12-36-10-40", "count:verge-30h-78-60-42")


def _train(ref: str, view: View) -> str:
    entry = view.library[ref]
    return f"## {escape(entry.name)}\n\n{plan_of(entry, view)}\n{elevation_of(entry, view)}"
