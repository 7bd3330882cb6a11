"""The pin barrel of a chime unrolled: each hammer a line, each note a pin, cut open between the quarters."""
from __future__ import annotations

from collections.abc import Sequence

from build_tools.figures.svg import WIDTH, circle, drawing, group, line, text
from build_tools.model import Melody

LEFT, RIGHT = 62.0, 318.0  # px: where the first and the last note can stand
ROW = 15.0
HEAD = 26.0
NAMES = {"first": "First quarter", "second": "Half hour", "third": "Third quarter", "hour": "Hour"}


def unrolled(melody: Melody, name: str) -> str:
    """SVG with one strip a quarter, all to one scale of time; a phrase is followed by a rest of one note."""
    strips = {quarter: _notes(melody, ids) for quarter, ids in melody.quarters.items()}
    step = (RIGHT - LEFT) / max(max(times[-1] for times, _ in strips.values()), 1)
    tall, parts, top = HEAD + ROW * len(melody.bells) + 12, [], 0.0
    for quarter, (times, bells) in strips.items():
        parts.append(_strip(melody, quarter, times, bells, top, step))
        top += tall
    return drawing(name, f"The pins for {melody.name}, unrolled", words_of(melody), (WIDTH, top), parts, "pin-barrel")


def _notes(melody: Melody, ids: Sequence[str]) -> tuple[list[int], list[int]]:
    """When each note of a quarter sounds, counted in notes, and its bell."""
    phrases = {phrase.id: phrase.bells for phrase in melody.phrases}
    times, bells, time = [], [], 0
    for phrase in ids:
        for bell in phrases[phrase]:
            times.append(time)
            bells.append(bell)
            time += 1
        time += 1
    return times, bells


def _strip(melody: Melody, quarter: str, times: Sequence[int], bells: Sequence[int], top: float, step: float) -> str:
    rows = {bell.id: top + HEAD + ROW * place + 6 for place, bell in enumerate(melody.bells)}
    end = LEFT + times[-1] * step + 6
    lines = [line((LEFT - 6, y), (end, y), "thin") for y in rows.values()]
    names = [text((4, rows[bell.id] + 4), f"{bell.id}  {_sign(bell.note)}", "small soft", "start") for bell in melody.bells]
    pins = [
        circle((LEFT + time * step, rows[bell]), 3.2, "pin")[:-2] + f' data-quarter="{quarter}" data-note="{place}"/>'
        for place, (time, bell) in enumerate(zip(times, bells))
    ]
    edge = [line((LEFT - 6, min(rows.values()) - 7), (LEFT - 6, max(rows.values()) + 7), "thick")]
    return group([text((4, top + 16), NAMES[quarter], "", "start"), *lines, *edge, *names, *pins])


def _sign(note: str) -> str:
    """A note's letter with the sign for sharp or flat as it is printed."""
    return note.replace("#", "♯").replace("b", "♭")


def words_of(melody: Melody) -> str:
    """The same in words."""
    said = []
    for quarter, ids in melody.quarters.items():
        phrases = {phrase.id: " ".join(str(bell) for bell in phrase.bells) for phrase in melody.phrases}
        said.append(f"{NAMES[quarter]}: {'; '.join(phrases[name] for name in ids)}.")
    return "Each line is one hammer, each dot a pin; the barrel passes from left to right. " + " ".join(said)
