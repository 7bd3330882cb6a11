"""Recoil anchor and deadbeat laid out to angles, and every moment of one swing to and fro.

The wheel turns clockwise; angles are in degrees clockwise from twelve o'clock, those of the pallets counted from their middle.
The tangents to the wheel at the middles of both pallets meet in the pallet arbor.
"""
from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from build_tools.figures.names import Name, named, numbered
from build_tools.figures.svg import WIDTH, Point, circle, drawing, group, line, number, path, polar, turned

FRAMES = 96  # moments in one swing to and fro
TALL = 312
FALLING = 8  # moments that a drop is drawn out to
MOMENTS = (
    "Lock: the entry pallet holds a tooth", "Impulse: a tooth pushes the entry pallet", "Drop: the wheel is free until a tooth meets the exit pallet",
    "Lock: the exit pallet holds a tooth", "Impulse: a tooth pushes the exit pallet", "Drop: the wheel is free until a tooth meets the entry pallet",
)
RECOILING = {0: "Recoil: the entry pallet, swinging on, pushes its tooth back", 3: "Recoil: the exit pallet, swinging on, pushes its tooth back"}


@dataclass(frozen=True)
class Layout:
    """An escapement by its angles: half the lift `lift` on each pallet, `lock`, the `swing` to each side, and the `drop` of the wheel."""

    teeth: int = 30
    span: float = 7.5
    lift: float = 3.0
    lock: float = 1.0
    swing: float = 5.5
    drop: float = 1.0
    recoil: bool = False
    radius: float = 92.0
    wheel: Point = (WIDTH / 2, 206.0)

    @property
    def half(self) -> float:
        """Half the angle of the wheel between the middles of the pallets."""
        return self.span * 180 / self.teeth

    @property
    def arbor(self) -> Point:
        return self.wheel[0], self.wheel[1] - self.radius / math.cos(math.radians(self.half))

    @property
    def face(self) -> float:
        """The angle of the wheel that one pallet takes up: half a tooth less the drop."""
        return 180 / self.teeth - self.drop

    def tip(self, degrees: float) -> Point:
        """The tip of a tooth that stands at an angle."""
        return polar(self.wheel, self.radius, degrees)

    def corners(self, entry: bool) -> tuple[Point, Point]:
        """Where the face of a pallet begins and ends for the tooth, with the pallets in the middle."""
        side = -self.half if entry else self.half
        way = 1 if entry else -1
        first, last = self.tip(side - self.face / 2), self.tip(side + self.face / 2)
        return turned(first, self.arbor, way * (self.lift - self.lock)), turned(last, self.arbor, -way * self.lift)


def on_face(layout: Layout, entry: bool, pallets: float) -> float:
    """The angle at which a tooth's tip lies on the line of a pallet's face, for an angle of the pallets."""
    a, b = (turned(corner, layout.arbor, pallets) for corner in layout.corners(entry))
    side = -layout.half if entry else layout.half
    low, high = side - 2.5 * layout.face, side + 2.5 * layout.face

    def beside(degrees: float) -> float:
        x, y = layout.tip(degrees)
        return (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])

    rising = beside(low) < beside(high)
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if (beside(middle) < 0) == rising else (low, middle)
    return (low + high) / 2


@dataclass(frozen=True)
class Frame:
    """One moment: the angle of the pallets, how far the wheel has turned, and which of the six moments it is."""

    pallets: float
    wheel: float
    moment: int


def frames(layout: Layout) -> list[Frame]:
    """One swing to and fro from the end of a swing to the left; the wheel gains one tooth."""
    found: list[Frame] = []
    for step in range(FRAMES):
        angle = -layout.swing * math.cos(2 * math.pi * step / FRAMES)
        frame = _frame(layout, angle, step < FRAMES / 2)
        if found and (found[-1].moment, frame.moment) in ((1, 3), (4, 0)):
            found += _drop(layout, found[-1].moment == 1)
        found.append(frame)
    return found


def _drop(layout: Layout, from_entry: bool) -> list[Frame]:
    """The wheel's fall from the end of one pallet's face to the other pallet, drawn out while the pallets hardly move."""
    way, tooth = 1 if from_entry else -1, 360 / layout.teeth
    start = layout.face + (0.0 if from_entry else tooth / 2)
    end = _frame(layout, way * layout.lift, from_entry).wheel
    return [Frame(way * layout.lift, start + (end - start) * (step / FALLING) ** 2, 2 if from_entry else 5) for step in range(1, FALLING)]


def says_of(layout: Layout) -> list[str]:
    """What happens at each of the six moments."""
    return [RECOILING.get(place, words) if layout.recoil else words for place, words in enumerate(MOMENTS)]


def _frame(layout: Layout, angle: float, rightwards: bool) -> Frame:
    """Swinging rightwards a tooth leaves the entry pallet and another lands on the exit pallet; leftwards the other way."""
    tooth, way = 360 / layout.teeth, 1 if rightwards else -1
    first, held = -layout.half - layout.face / 2, layout.half - layout.face / 2
    here, there = (first, held) if rightwards else (held, first)
    gone = 0.0 if rightwards else tooth / 2
    if way * angle >= layout.lift:
        at = on_face(layout, not rightwards, angle) if layout.recoil else there
        return Frame(angle, at - there + gone + tooth / 2, 3 if rightwards else 0)
    pushed = layout.recoil or way * angle > -(layout.lift - layout.lock)
    at = on_face(layout, rightwards, angle) if pushed else here
    return Frame(angle, at - here + gone, (1 if rightwards else 4) if pushed else (0 if rightwards else 3))


def wheel_shape(layout: Layout, turn: float) -> str:
    """The escape wheel with one tip at the beginning of the entry pallet's face when `turn` is 0."""
    first, step, points = -layout.half - layout.face / 2 + turn, 360 / layout.teeth, []
    lean = 0.06 if layout.recoil else 0.2  # a dead face must be touched by the tips alone
    for tooth in range(layout.teeth):
        at = first + tooth * step
        points += [polar(layout.wheel, layout.radius * 0.84, at - step * 0.62), layout.tip(at), polar(layout.wheel, layout.radius * 0.84, at - step * lean)]
    inner = layout.radius * 0.72
    spokes = [line(polar(layout.wheel, 12, angle), polar(layout.wheel, inner, angle), "thin") for angle in range(0, 360, 60)]
    return group([path(points, "line", closed=True), circle(layout.wheel, inner, "thin"), circle(layout.wheel, 12), *spokes], "wheel")


def pallets_shape(layout: Layout) -> str:
    """Both pallets with their arms, in the middle of the swing."""
    parts = [_pallet(layout, entry) for entry in (True, False)]
    return group([*parts, circle(layout.arbor, 6, "paper"), circle(layout.arbor, 2, "solid")], "pallets")


def _pallet(layout: Layout, entry: bool) -> str:
    """One pallet: the face below; a deadbeat's holding face is an arc about the arbor, that of a recoil anchor goes straight on."""
    first, last = layout.corners(entry)
    way = 1 if entry else -1
    if layout.recoil:
        first = first[0] + (first[0] - last[0]) * 0.9, first[1] + (first[1] - last[1]) * 0.9
        side = [first]
    else:
        side = [turned(first, layout.arbor, way * 2 * step) for step in range(8)]
    back = [turned(last, layout.arbor, way * 2 * step) for step in range(9)]
    near, far = (polar(layout.arbor, 10, 180 + way * angle) for angle in (10, 110))
    if entry:
        return path([*side, turned(first, layout.arbor, 17), far, near, *reversed(back)], "deep", closed=True)
    return path([*side, near, far, turned(last, layout.arbor, -24), *reversed(back)], "deep", closed=True)


def escapement(layout: Layout, name: str, title: str, says: str, addresses: Mapping[str, str]) -> str:
    """SVG of the layout at the moment of impulse on the entry pallet, with its construction lines, names, and all moments for the motion."""
    moving = ";".join(f"{number(frame.pallets)},{number(frame.wheel)},{frame.moment}" for frame in frames(layout))
    (ax, ay), (cx, cy) = layout.arbor, layout.wheel
    spots = (f'data-says="{"|".join(says_of(layout))}" data-tooth="{number(360 / layout.teeth)}" data-frames="{moving}" '
             f'data-arbor="{number(ax)} {number(ay)}" data-wheel="{number(cx)} {number(cy)}"')
    return drawing(name, title, says, (WIDTH, TALL), [group(_body(layout), "beat", spots), *named(names_of(layout), addresses)], "escapement")


def blank(layout: Layout, name: str, title: str, says: str) -> str:
    """The same with numbers in place of names, standing still."""
    return drawing(name, title, says, (WIDTH, TALL), [*_body(layout), *numbered(names_of(layout))], "escapement")


def _body(layout: Layout) -> list[str]:
    """The construction lines, the wheel and the pallets."""
    rays = [line(layout.wheel, polar(layout.wheel, layout.radius * 1.02, side * layout.half), "broken") for side in (-1, 1)]
    tangents = [line(layout.arbor, layout.tip(side * layout.half), "broken") for side in (-1, 1)]
    return [*rays, *tangents, wheel_shape(layout, 0.0), pallets_shape(layout)]


def names_of(layout: Layout) -> list[Name]:
    """The names around the drawing with what they point to."""
    (ax, ay) = layout.arbor
    entry, leave = layout.corners(True), layout.corners(False)
    middle_entry, middle_exit = (((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in (entry, leave))
    own = Name("anchor", (324, 24), (ax + 24, ay + 16), "end") if layout.recoil else Name("locking face", (4, 112), turned(entry[0], layout.arbor, 3))
    return [
        Name("pallet arbor", (4, 24), (ax - 5, ay - 3)), Name("entry pallet", (4, 82), turned(middle_entry, layout.arbor, 9)), own,
        Name("exit pallet", (324, 82), turned(middle_exit, layout.arbor, -9), "end"), Name("impulse face", (4, 148), middle_entry),
        Name("escape wheel", (324, 300), polar(layout.wheel, layout.radius * 0.78, 130), "end"),
    ]
