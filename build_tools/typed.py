"""The text of a number as it is read, with what only its field can decide: directions, hours of the day, which comma is meant.

`docs/js/sums-units.js` holds the twin.
"""
from __future__ import annotations

import re
from typing import TYPE_CHECKING

from build_tools.compass import turned
from build_tools.number import NumberError, in_working, read_number
from build_tools.spelling import hour_of_day, is_rate, signed
from build_tools.units import Units, read_quantity

if TYPE_CHECKING:
    from build_tools.model_parts import Input

UNKNOWN = "?"
_TWO_WAYS = re.compile(r"(?<![0-9,.])[1-9][0-9]{0,2},[0-9]{3}(?![0-9,.])")
_LIST_OF_COMMAS = re.compile(r"[^,;\s]+(?:,[^,;\s]+){2,}")
_THOUSANDS = re.compile(r"[+-]?[0-9]{1,3}(?:,[0-9]{3})+")
_WITH_UNITS = re.compile(r"[A-Za-z°′″'\":]")


def figure_text(field: Input, text: str, units: Units) -> tuple[str, int]:
    """A number without its direction or word for a gain, and the sign that these give it. Raises NumberError."""
    sign = 1
    if field.unit == "deg":
        text, sign = turned(text, field.compass)
    elif is_rate(field.unit):
        text, sign = signed(text, field.gains)
    elif field.of_day:
        text = hour_of_day(text)
    return _decided(field, text, units), sign


def _decided(field: Input, text: str, units: Units) -> str:
    """ "18,000" in the one way that lies within the limits of the input; anything else as it is."""
    match = _TWO_WAYS.search(text)
    if not match or not field.minimum or not field.maximum:
        return text
    ways = [text.replace(match[0], match[0].replace(",", point)) for point in ("", ".")]
    fitting = [way for way in ways if _fits(field, way, units)]
    return fitting[0] if len(fitting) == 1 else text


def _fits(field: Input, text: str, units: Units) -> bool:
    try:
        return read_number(field.minimum) <= read_quantity(text, field.unit, units)[0] <= read_number(field.maximum)
    except NumberError:
        return False


def list_pieces(field: Input, text: str, units: Units) -> list[str]:
    """The numbers of a list as they were typed; those with units, such as "1 min 47 s, 1:52", in the unit of the input. Raises NumberError."""
    if field.unit and _WITH_UNITS.search(text):
        pieces = [piece.strip() for piece in text.split(";" if ";" in text else ",") if piece.strip()]
        return [piece if piece == UNKNOWN else in_working(read_quantity(piece, field.unit, units)[0]) for piece in pieces]
    only_commas = _LIST_OF_COMMAS.fullmatch(text) and not _THOUSANDS.fullmatch(text)
    return [piece for piece in re.split("," if only_commas else r"(?:[;\s]|,\s)+", text.strip()) if piece]
