"""How people and books write a quantity, turned into a number and its unit before it is read.

Powers of ten, blanks within "° F", rates in two parts, "1 second in 3 days", "loses 5 s a day", "3 pm".
`docs/js/sums-spellings.js` is the twin of this module and of `compass`.
"""
from __future__ import annotations

import re
from fractions import Fraction

from build_tools.number import NumberError, in_working, read_number

_PLAIN_POWERS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺\u2212", "0123456789-+-")
_POWER = re.compile(r"([0-9.,]+)\s*[x×X·*]\s*10\s*(?:(?:\^|\*\*)\s*\(?([+\-\u2212]?[0-9]+)\)?|([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)|([+\-\u2212][0-9]+))")
_RESPELT = (
    (re.compile(r"^\s*(?:about|approx\.?|circa|ca?\.|≈|~)\s*(?=[0-9])"), ""),
    (re.compile(r"([0-9])\s*\+\s*([0-9]+\s*/\s*[0-9]+)"), r"\1 \2"),
    (re.compile(r"([0-9]+)\s*([°′″'\"])\.([0-9]+)"), r"\1.\3\2"),
    (re.compile(r"°\s+([CcFfKk])\b"), r"°\1"),
    (re.compile(r"\bdeg(?:rees?|s)?\.?\s+([CFcf])\b\.?"), r"°\1"),
    (re.compile(r"\bper\s+°"), "/°"),
    (re.compile(r"(?<=[A-Za-z°′″'\".]),\s+(?=[0-9])"), " "),
    (re.compile(r"(?<=[A-Za-z°′″'\".])\s+and\s+(?=[0-9])"), " "),
)
_PROPORTION = re.compile(r"\s*([+\-\u2212]?)([0-9]+) ?(in|:) ?([0-9]+)\s*")
_PART = r"(?:([0-9.,·]+)\s*(?:{}))?\s*"
_RATE = re.compile(
    r"\s*([+\-\u2212]?)\s*" + _PART.format("h|hrs?|hours?") + _PART.format("m|mins?|minutes?|′|'") + _PART.format("s|secs?|seconds?|″|\"|''")
    + r"(?:(?:/|(?:in )?an? |per |in |every |each )\s*(?:([1-9][0-9]*)\s*)?(h|hour|d|day|week|month|year)s?)?\s*",
)
_PERIODS = {"hour": "h", "d": "day"}
RATES = ("s/h", "s/day", "s/week", "s/month", "s/year", "min/day", "min/week", "min/month")
"""Those that are units of their own in the table of units; anything else becomes seconds in its time."""
_GAINS = re.compile(r"\b(?:gain(?:s|ing|ed)?|fast|ahead)\b")
_LOSES = re.compile(r"\b(?:los(?:es?|ing|t)|slow|behind)\b")
_FILLERS = re.compile(r"\b(?:it|is|too|by|of)\b")
_HALF_DAY = re.compile(r"([0-9]{1,2})(.*?)\s*([ap])\.?m\.?", re.IGNORECASE)
_NAMED_HOURS = {"noon": "12 h", "midday": "12 h", "midnight": "0 h", "12 noon": "12 h", "12 midnight": "0 h"}


def plainly(text: str, unit: str) -> str:
    """A typed quantity as a number and its unit: "1/400" for "1:400", "148 s/day" for "2 min 28 s" in a field of rates."""
    text = _POWER.sub(lambda match: f"{match[1]}e{(match[2] or match[3] or match[4]).translate(_PLAIN_POWERS)}", text)
    for pattern, plain in _RESPELT:
        text = pattern.sub(plain, text)
    proportion = _PROPORTION.fullmatch(text)
    if proportion and is_rate(unit) and proportion[3] == "in":
        return f"{proportion[1]}{int(proportion[2]) * 10**6}/{proportion[4]} ppm"
    if proportion and not unit and (proportion[3] == "in" or "1" in proportion.group(2, 4)):
        return f"{proportion[1]}{proportion[2]}/{proportion[4]}"
    return _rate(text, unit) if is_rate(unit) else text


def is_rate(unit: str) -> bool:
    """Whether a unit counts how much a clock gains in a time."""
    return unit.partition("/")[0] in ("s", "min") and "/" in unit


def _rate(text: str, unit: str) -> str:
    """ "2 min 28 s" in the time of the field's unit, or in a time of its own, in seconds; one part alone keeps its unit."""
    match = _RATE.fullmatch(text)
    parts = [(number, name) for number, name in zip(match.group(2, 3, 4), ("h", "min", "s")) if number] if match else []
    if not match or not parts:
        return text
    period = match[6] or unit.partition("/")[2]
    period = _PERIODS.get(period, period)
    if len(parts) == 1 and not match[5] and f"{parts[0][1]}/{period}" in RATES:
        return f"{match[1]}{parts[0][0]} {parts[0][1]}/{period}"
    total = sum(read_number(number) * {"h": 3600, "min": 60, "s": 1}[name] for number, name in parts)
    shared = f"{Fraction(total) / int(match[5])}" if match[5] else in_working(total)
    return f"{match[1]}{shared} s/{period}"


def signed(text: str, signed_by_words: bool) -> tuple[str, int]:
    """A rate without "gains", "loses", "fast" or "slow", and the sign that the word gives it.

    Raises NumberError where a field does not say which way counts as plus, and for a word beside a sign.
    """
    words = [*_GAINS.findall(text), *_LOSES.findall(text)]
    if not words:
        return text, 1
    plain = " ".join(_FILLERS.sub(" ", _LOSES.sub(" ", _GAINS.sub(" ", text))).split())
    if len(words) > 1 or not signed_by_words or plain.startswith(("+", "-", "\u2212")):
        raise NumberError(f"'{text.strip()[:40]}' says which way in words: write a number, with a minus where the field asks for one")
    return plain, -1 if _LOSES.search(text) else 1


def hour_of_day(text: str) -> str:
    """ "3 pm", "9:16 p.m." and "noon" in hours and minutes from midnight; anything else as it is."""
    match = _HALF_DAY.fullmatch(text.strip())
    if not match or int(match[1]) > 12:
        return _NAMED_HOURS.get(text.strip().lower(), text)
    rest = re.sub(r"^[:.]([0-9][0-9])$", r" h \1 min", match[2].strip()) or "h"
    return f"{12 if match[3].lower() == 'p' else 0} h {int(match[1]) % 12} {rest.strip()}"
