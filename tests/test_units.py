"""Units: their worth beside a units library, and what is read with a number."""
from __future__ import annotations

import math
from fractions import Fraction

import pint
import pytest

from build_tools.calculate import units_of
from build_tools.given import GivenError, read_given
from build_tools.library import Library
from build_tools.number import NumberError
from build_tools.spelling import RATES, is_rate
from build_tools.units import read_quantity
from tests.javascript import Page

PINT = pint.UnitRegistry()
SAME = {
    "m": "meter", "mm": "millimeter", "cm": "centimeter", "in": "inch", "ft": "foot", "s": "second", "min": "minute", "h": "hour", "d": "day", "wk": "week",
    "kg": "kilogram", "g": "gram", "lb": "pound", "oz": "ounce", "gr": "grain", "N": "newton", "J": "joule", "1/s": "1/second", "1/min": "1/minute", "1/h": "1/hour", "1/day": "1/day",
    "m/s2": "meter/second**2", "ft/s2": "foot/second**2", "cm/s2": "centimeter/second**2", "tpi": "1/inch", "1/mm": "1/millimeter", "s/day": "second/day", "s/week": "second/week", "min/day": "minute/day", "min/week": "minute/week",
    "ppm": "ppm", "%": "percent", "deg": "degree", "arcmin": "arcminute", "arcsec": "arcsecond",
    "W": "watt", "uW": "microwatt", "Nm": "newton*meter", "mNm": "millinewton*meter", "mN": "millinewton",
    "kg/m3": "kilogram/meter**3", "g/cm3": "gram/centimeter**3", "lb/in3": "pound/inch**3", "lb/ft3": "pound/foot**3", "mm2": "millimeter**2", "yd": "yard", "thou": "thou", "st": "stone", "cwt": "long_hundredweight", "ton": "long_ton", "ms": "millisecond", "s/h": "second/hour", "DP": "1/inch",
    "K": "delta_degC", "degF": "delta_degF", "ppm/K": "ppm/delta_degC", "ppm/F": "ppm/delta_degF", "1/K": "1/delta_degC", "1/F": "1/delta_degF", "hPa": "hectopascal", "mmHg": "mmHg", "inHg": "inHg",
}
BASES = {"1": "dimensionless", "1/m": "1/meter", "1/K": "1/delta_degC", "Pa": "pascal"}


@pytest.mark.parametrize(("name", "theirs"), SAME.items())
def test_worth_is_that_of_a_units_library(name: str, theirs: str, library: Library) -> None:
    unit = units_of(library)[name]
    base = BASES.get(unit.base) or SAME[unit.base]
    assert float(unit.worth) == pytest.approx(PINT.Quantity(1, theirs).to(base).magnitude, rel=1e-14)


def test_every_unit_is_checked_here(library: Library) -> None:
    others = {"ligne", "pouce", "pied", "yr", "s/month", "min/month", "s/year", "in_sp", "mm_sp", "pt", "qr"}
    assert {unit.name for unit in units_of(library)} == set(SAME) | others


def test_the_rates_that_keep_their_unit_are_those_of_the_table(library: Library) -> None:
    assert set(RATES) == {row.name for row in library.table("units") if is_rate(row.name)}


def test_units_that_no_library_has(library: Library) -> None:
    units = units_of(library)
    assert units["ligne"].worth == Fraction(1000) / Fraction("443296") and units["pouce"].worth == 12 * units["ligne"].worth and units["pied"].worth == 12 * units["pouce"].worth
    assert units["yr"].worth == Fraction("365.2425") * 86400
    assert 1 / units["s/month"].worth == Fraction("30.4369") * 86400 == 60 / units["min/month"].worth and 1 / units["s/year"].worth == Fraction("365.2425") * 86400
    assert 4 * units["qr"].worth == units["cwt"].worth == 112 * units["lb"].worth
    assert units["pt"].worth == Fraction(12 * 3600, 16)
    assert float(units["in_sp"].worth) == pytest.approx(math.pi**2 * 0.0254, rel=1e-15) and float(units["mm_sp"].worth) == pytest.approx(math.pi**2 / 1000, rel=1e-15)


READ = {
    ("39.14 in", "mm"): "994.156", ("39.14", "mm"): "39.14", ("1 h 30 min", "h"): "1.5", ("29 d 12 h 44 m 2.9 s", "s"): "2551442.9", ("7 1/2 in", "mm"): "190.5", ("7½in", "mm"): "190.5",
    ("39,14\"", "mm"): "994.156", ("18 tpi", "mm"): str(Fraction("25.4") / 18), ("0.5 s", "1/h"): "7200", ("120 /min", "1/h"): "7200", ("-3 s/day", "s/day"): "-3", ("1 min/week", "s/day"): "60/7",
    ("18 000", "1/h"): "18000", ("3600 1/h", "1/h"): "3600", ("2 ft 6 in", "mm"): "762", ("9.81 m/s2", "m/s2"): "9.81", ("-1 h 30 min", "min"): "-90", ("5 Inches", "mm"): "127",
    ("39-1/8 in", "mm"): "993.775", ("3' 3\"", "mm"): "990.6", ("3ft3in", "mm"): "990.6", ("39.14''", "mm"): "994.156", ("1 000,5", "mm"): "1000.5", ("40 threads per inch", "mm"): "0.635",
    ("51°30'", "deg"): "51.5", ("51° 30' 36\"", "deg"): "51.51", ("51 deg 30 min", "deg"): "51.5", ("12:30", "h"): "12.5", ("2:30", "min"): "2.5", ("1:30", "s"): "90", ("7:30:36", "h"): "7.51",
    ("1h30min", "h"): "1.5", ("51d30m", "deg"): "51.5", ("51°30’", "deg"): "51.5", ("0.0000064 /F", "ppm/K"): "11.52", ("11.5e-6/°C", "ppm/K"): "11.5", ("3 min a month", "s/month"): "180", ("7d 12h", "h"): "180", ("3840 beats an hour", "1/h"): "3840", ("10 s a day", "s/day"): "10",
    ("39·14 in", "mm"): "994.156", ("2 min 28 s", "s/day"): "148", ("-2′ 28·5″/day", "s/day"): "-148.5", ("1 h 5 min a week", "s/day"): str(Fraction(3900, 7)), ("2 min 28 s", "min/week"): str(Fraction(148, 60)), ("28 s", "s/day"): "28", ("1 min and 12 s in a month", "s/month"): "72",
    ("5 min", "min/week"): "5", ("5 s an hour", "s/day"): "120", ("1 in 400", "s/day"): "216", ("1 in 400", ""): str(Fraction(1, 400)), ("60:1", ""): "60", ("8-day", "d"): "8", ("30-hour", "h"): "30", ("18 threads to the inch", "mm"): str(Fraction("25.4") / 18),
    ("18 t.p.i.", "mm"): str(Fraction("25.4") / 18), ("48 DP", "mm"): str(Fraction("25.4") / 48), ("39.14 in", "in_sp"): "39.14", ("520 ms", "s"): "0.52", ("9.81 m/s^2", "m/s2"): "9.81", ("8.5 g/cm3", "g/cm3"): "8.5",
    ("1.2 x 10^-5 /K", "ppm/K"): "12", ("12×10⁻⁶ /°C", "ppm/K"): "12", ("12 x 10-6 per °C", "ppm/K"): "12", ("1.2·10⁻⁵ 1/K", "ppm/K"): "12", ("60° F", "K"): "100/3", ("20 deg. C", "K"): "20", ("32.2 feet", "ft/s2"): "32.2", ("980.1 cm per sec., per sec.", "m/s2"): "9.801", ("981 cm", "m/s2"): "9.81",
    ("1 cwt 2 qr", "kg"): str(Fraction("76.20351816")), ("65+5/11", "min"): str(Fraction(720, 11)), ("4 feet, 6 inches", "mm"): "1371.6", ("10 thou", "mm"): "0.254", ("about 3 mm", "mm"): "3", ("51° 31′ 8″.4", "deg"): "51.519",
    ("1 second in 3 days", "s/day"): "1/3", ("10 seconds in a week", "s/day"): "10/7", ("3 minutes in 24 hours", "s/day"): "180", ("5 minutes each day", "s/day"): "300", ("39 1/8 ins.", "mm"): "993.775", ("29.9 in hg", "inHg"): "29.9",
}
REFUSED = {("5 kg", "mm"): "can't be turned", ("5 inchs", "mm"): "no unit called inchs", ("5 Hz", "1/h"): "no unit called Hz", ("12:30", "mm"): "not a number", ("12:3", "h"): "not a number", ("12:30", ""): "not a number", ("2 min 28 s", "mm"): "can't be turned", ("2 in 3", "mm"): "open", ("5 5", "mm"): "open", ("6 in", ""): "plain number", ("0 tpi", "mm"): "can't be turned", ("in", "mm"): "not a number", ("nan mm", "mm"): "not a number"}


@pytest.mark.parametrize(("typed", "value"), READ.items(), ids=str)
def test_reads_a_number_with_its_unit(typed: tuple[str, str], value: str, library: Library, scripts: Page) -> None:
    assert read_quantity(*typed, units_of(library))[0] == Fraction(value)
    assert scripts.run("plainValue(ClockRef.given.readQuantity(data[0], data[1]))", typed) == str(Fraction(value))


FIELDS = {  # sum and field, what is typed, what is read
    ("moon-age", "hour"): {"3 pm": "15", "9:16 p.m.": "21.2666667", "9 h 16 min am": "9.26666667", "noon": "12", "12 am": "0", "12.30 pm": "12.5", "15": "15", "3pm": "15", "10.30pm": "22.5", "12 midnight": "0"},
    ("rate-conversions", "rate"): {"loses 5 s a day": "-5", "5 s slow": "-5", "too fast by 5 s": "5", "gains 1 min a week": "60/7", "+5": "5", "losing 2 min 28 s": "-148"},
    ("another-platform", "train"): {"18,000": "18000", "14,400 1/h": "14400"},
}


PLACES = {  # sum and field, what is typed, what is read
    ("local-gravity", "latitude"): {
        "51 N": "51", "51° 30' N": "51.5", "51°30′36″N": "51.51", "N 51.5": "51.5", "51d30m": "51.5", "51d30mN": "51.5", "51 30 N": "51.5", "51:30": "51.5", "51 30 36": "51.51", "33° 52' S": "-33.8666667",
        "33.5S": "-33.5", "south 33.5": "-33.5", "33.5 degrees south": "-33.5", "-33.5": "-33.5", "-33 30": "-33.5", "51,5 n": "51.5", "51 deg 30 min N.": "51.5", "3° 30 min": "3.5", "51·5 N": "51.5", "60 45 28 N": "60.7577778", "22° 55′ 22″ south": "-22.9227778", "70.26.17": "70.4380556",
    },
    ("sundial", "west"): {"3.2 E": "-3.2", "3.2 W": "3.2", "3° 12′ West": "3.2", "W3.2": "3.2", "-3.2": "-3.2", "3° 30' east": "-3.5", "e 1 30": "-1.5", "3e0": "3", "0 W": "0"},
}
NOT_THERE = {
    ("local-gravity", "latitude", "51 W"): "'51 W' says west, where only north or south makes sense", ("moved-clock", "latitude_2", "E 3.2"): "says east",
    ("sundial", "west", "51 N"): "says north, where only west or east", ("sundial", "west", "-3 W"): "both a sign and a letter", ("local-gravity", "latitude", "34 s"): "in two ways",
    ("pallets", "lift", "2 W"): "direction of the compass", ("local-gravity", "latitude", "51 75 N"): "leaves the unit of 51 open", ("local-gravity", "latitude", "N"): "not a number", ("local-gravity", "latitude", "91 N"): "too large",
    ("rate-conversions", "rate", "gains"): "a number is missing", ("rate-conversions", "rate", "1 second in 0 days"): "no unit called", ("notes-a-day", "hours", "3 pm"): "no unit called pm",
    ("rating-nut", "length", ",×"): "no unit called", ("planet-dial", "meshes", "３/７"): "is not a wheel over", ("length-for-rate", "rate", "loses 5 s a day"): "says which way in words", ("rate-conversions", "rate", "loses -5 s"): "says which way in words", ("pendulum-from-beats", "beats", "18,000"): "in two ways",
}


@pytest.mark.parametrize(("place", "typed", "value"), [(place, typed, value) for place, each in {**PLACES, **FIELDS}.items() for typed, value in each.items()])
def test_a_field_reads_letters_words_and_hours_of_its_own(place: tuple[str, str], typed: str, value: str, library: Library, scripts: Page) -> None:
    field = next(each for each in library[f"calculation:{place[0]}"].inputs if each.name == place[1])
    assert float(read_given(field, typed, units_of(library))) == pytest.approx(float(Fraction(value)))
    theirs = scripts.run("plainValue(ClockRef.given.readGiven(ClockRef.calculations[data[0]].inputs.find(each => each.name === data[1]), data[2]))", [*place, typed])
    assert Fraction(theirs) == read_given(field, typed, units_of(library))


@pytest.mark.parametrize(("wanted", "part"), NOT_THERE.items(), ids=str)
def test_a_letter_that_makes_no_sense_is_refused_in_a_sentence(wanted: tuple[str, str, str], part: str, library: Library, scripts: Page) -> None:
    sum_id, name, typed = wanted
    field = next(each for each in library[f"calculation:{sum_id}"].inputs if each.name == name)
    with pytest.raises(GivenError, match=part) as refusal:
        read_given(field, typed, units_of(library))
    theirs = scripts.run("attempt(() => ClockRef.given.readGiven(ClockRef.calculations[data[0]].inputs.find(each => each.name === data[1]), data[2]))", list(wanted))
    assert theirs["error"] == refusal.value.sentence


@pytest.mark.parametrize(("typed", "part"), REFUSED.items(), ids=str)
def test_refuses_what_measures_something_else(typed: tuple[str, str], part: str, library: Library, scripts: Page) -> None:
    with pytest.raises(NumberError, match=part):
        read_quantity(*typed, units_of(library))
    assert part in scripts.run("attempt(() => ClockRef.given.readQuantity(data[0], data[1]))", typed)["error"]
