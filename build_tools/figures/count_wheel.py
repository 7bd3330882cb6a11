"""The count wheel, its notches as far apart as the blows between them ask."""
from __future__ import annotations

from collections.abc import Mapping, Sequence

from build_tools.figures.svg import WIDTH, Point, circle, drawing, group, line, link, number, polar, text

HOURS = tuple(range(1, 13))
DEEP = 0.13  # of the radius


def with_half_hours(hours: Sequence[int] = HOURS) -> tuple[int, ...]:
    """The strikes in order when every half hour is struck with one blow, from one o'clock on."""
    return tuple(blows for hour in hours for blows in (hour, 1))


def lands(strikes: Sequence[int]) -> list[tuple[float, float]]:
    """The raised pieces as degrees from and to: a strike of n blows takes n parts, the first of which is the notch where it began."""
    part, at, found = 360 / sum(strikes), 0.0, []
    for blows in strikes:
        if blows > 1:
            found.append(((at + 1) * part, (at + blows) * part))
        at += blows
    return found


def outline(centre: Point, radius: float, strikes: Sequence[int], turned: float = 0.0, style: str = "line paper") -> str:
    """The rim with its notches; the notch before the first strike lies at `turned` degrees."""
    inner = radius * (1 - DEEP)
    steps: list[str] = []
    for start, end in lands(strikes):
        a, b, c, d = (polar(centre, r, turned - angle) for r, angle in ((inner, start), (radius, start), (radius, end), (inner, end)))
        large = int(end - start > 180)
        steps.append(f"{_at(a)}L{_at(b)}A{number(radius)} {number(radius)} 0 {large} 0 {_at(c)}L{_at(d)}")
    round_inner = f"A{number(inner)} {number(inner)} 0 0 0 "
    return f'<path class="{style}" d="M{round_inner.join(steps)}{round_inner}{steps[0].split("L")[0]}Z"/>'


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def count_wheel(name: str, strikes: Sequence[int], title: str, addresses: Mapping[str, str]) -> str:
    """SVG of the wheel; each land carries the number of blows that it gives."""
    centre, radius = (WIDTH / 2, 142.0), 130.0
    part, at, marks = 360 / sum(strikes), 0.0, []
    for blows in strikes:
        if blows > 1:
            marks.append(text(_lower(polar(centre, radius * 0.76, -(at + (blows + 1) / 2) * part)), str(blows), "small"))
        at += blows
    named = link(addresses.get("count wheel", ""), [text((centre[0], centre[1] + 26), "count wheel", "name")], "part")
    hub = [circle(centre, radius * 0.66, "thin"), circle(centre, 9, "line"), circle(centre, 2, "solid")]
    return drawing(name, title, words_of(strikes), (WIDTH, 284), [outline(centre, radius, strikes), *marks, *hub, named], "count-wheel")


def _lower(point: Point) -> Point:
    return point[0], point[1] + 4


def words_of(strikes: Sequence[int]) -> str:
    """The same in words."""
    return (
        f"The rim of the count wheel is divided into {sum(strikes)} equal parts, one for each blow of its turn. "
        f"In order the strikes are {', '.join(str(blows) for blows in strikes)}. A strike of several blows has a raised piece one part shorter than its blows, "
        "on which the detent rides until it falls into the next notch; a single blow has none."
    )


def small(centre: Point, radius: float, strikes: Sequence[int], turned: float) -> str:
    """The wheel as one piece among others."""
    return group([outline(centre, radius, strikes, turned), circle(centre, 5, "line"), line(centre, polar(centre, radius * 0.7, turned), "thin")])
