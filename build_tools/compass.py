"""Angles that say where on the earth a place is: "51° 30' N", "W 3.2", "51d30m", "51 30 N".

Which way counts as plus is said by the field (`compass` in the entry); a letter for the other way turns the sign.
`docs/js/sums-spellings.js` holds the twin.
"""
from __future__ import annotations

import re

from build_tools.number import NumberError

WAYS = {"N": "north", "S": "south", "E": "east", "W": "west"}
_OTHER = {"N": "S", "S": "N", "E": "W", "W": "E"}
_WORD = "[Nn]orth|[Ss]outh|[Ee]ast|[Ww]est"
_LETTERED = (
    re.compile(rf"(?P<way>{_WORD}|[NSEWnew])\.?\s*(?P<angle>[+\-\u2212]?\s*[0-9.,·].*)"),
    re.compile(r"(?P<angle>.*[0-9](?:.*[^A-Z])?)(?P<way>[NSEW])\.?"),
    re.compile(rf"(?P<angle>.*[0-9](?:.*[\s°′″'\"])?)(?P<way>{_WORD}|[new])\.?"),
)
_SIXTIETHS = re.compile(r"([+\-\u2212]?)\s*([0-9]{1,3})(?:\s+|\s*:\s*)([0-5]?[0-9](?:[.,][0-9]+)?)(?:(?:\s+|\s*:\s*)([0-5]?[0-9](?:[.,][0-9]+)?))?")
_POINTED = re.compile(r"([+\-\u2212]?)\s*([0-9]{1,3})\.([0-5]?[0-9])\.([0-5]?[0-9])")
_SOUTH_OR_SECONDS = re.compile(r"[+\-\u2212]?[0-9.,\s]+s")


def split_direction(text: str) -> tuple[str, str]:
    """An angle without its direction of the compass, and that as a capital letter ("" for none)."""
    text = text.strip()
    match = next((match for pattern in _LETTERED if (match := pattern.fullmatch(text))), None)
    return (match["angle"].strip(), match["way"][0].upper()) if match else (text, "")


def turned(text: str, compass: str) -> tuple[str, int]:
    """An angle without its letter, in degrees, minutes and seconds, and the sign that the letter gives it.

    `compass` is the way that counts as plus, "north" or "west"; "" where no letter belongs. Raises NumberError.
    """
    angle, way = split_direction(text)
    plus = compass[:1].upper()
    if way and not compass:
        raise NumberError(f"'{text.strip()[:40]}' gives a direction of the compass, and a plain angle is wanted")
    if way and way not in (plus, _OTHER[plus]):
        raise NumberError(f"'{text.strip()[:40]}' says {WAYS[way]}, where only {compass} or {WAYS[_OTHER[plus]]} makes sense")
    if way and angle[:1] in "+-\u2212":
        raise NumberError(f"'{text.strip()[:40]}' has both a sign and a letter: write one of them")
    if compass and _SOUTH_OR_SECONDS.fullmatch(angle):
        raise NumberError(f"'{text.strip()[:40]}' can be read in two ways: write S for south, or ″ for seconds")
    return (_in_parts(angle) if compass or ":" in angle else angle), 1 if way in ("", plus) else -1


def _in_parts(angle: str) -> str:
    """ "51 30 15", "51:30:15" and "51.30.15" with their units; anything else as it is."""
    match = _SIXTIETHS.fullmatch(angle) or _POINTED.fullmatch(angle)
    if not match:
        return angle
    parts = [f"{number} {unit}" for number, unit in zip(match.groups()[1:], ("deg", "arcmin", "arcsec")) if number]
    return match[1] + " ".join(parts)


def letters(compass: str) -> str:
    """The letters that a field takes, in words: "N or S"."""
    plus = compass[:1].upper()
    return f"{plus} or {_OTHER[plus]}"
