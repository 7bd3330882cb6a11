"""calc on the command line: answers in words and as JSON, and one clear line for whatever cannot be used."""
from __future__ import annotations

import json
import shlex

import pytest

from build_tools import calc_command
from build_tools.calculate import calculations, units_of
from build_tools.commandline import main
from build_tools.given import read_given
from build_tools.library import Library
from tests.javascript import Page
from tests.knowledge import read_once


@pytest.fixture(autouse=True)
def one_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    """The command reads the knowledge base once for all tests, or that would be nearly all of their time."""
    monkeypatch.setattr(calc_command, "read_library", read_once)


def calc(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    """Exit status, output and errors of calc."""
    status = main(["calc", *arguments])
    out, err = capsys.readouterr()
    return status, out, err


def test_answers_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = calc(capsys, "beats-per-hour", "meshes=84/7 78/7", "escape_teeth=33")
    assert (status, err) == (0, "")
    assert "Beats an hour = 2 × 33 × (84 × 78)/(7 × 7) / 1 = 8825.143 per hour" in out and "Beats an hour: 8825.14 per hour" in out and "Beats a minute: 147.09 per minute" in out


def test_answers_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = calc(capsys, "beats-per-hour", "meshes=84/7 78/7", "escape_teeth=33", "--json")
    answer = json.loads(out)
    assert status == 0
    assert answer["results"]["beats"] == {"value": 8825.14285714, "exact": "61776/7", "value_unit": "1/h", "shown": "8825.14", "unit": "1/h", "also": {}, "unrounded": "", "spread": ""}
    assert answer["inputs"]["hours_per_turn"] == {"value": 1, "shown": "1", "unit": "h", "solved": False}


def test_a_blank_is_solved_for(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = calc(capsys, "beats-per-hour", "meshes=84/7 78/7", "escape_teeth=", "beats=8825.14", "--json")
    answer = json.loads(out)
    assert status == 0 and answer["inputs"]["escape_teeth"] == {"value": 33, "shown": "33", "unit": "", "solved": True}
    assert answer["solved"]["fits"][0]["value"] == 33 and [each["value"] for each in answer["solved"]["nearest"][:2]] == [32, 34]


def test_inches_and_threads_are_read(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = calc(capsys, "rating-nut", "pitch=18 tpi", "length=39.14 in", "--json")
    assert status == 0 and json.loads(out)["results"]["per_turn"]["shown"] == "61.3"


def test_says_whether_a_given_result_agrees(capsys: pytest.CaptureFixture[str]) -> None:
    assert json.loads(calc(capsys, "blows", "scheme=halves", "blows_12h=90", "--json")[1])["agrees"] == {"blows_12h": True}
    assert json.loads(calc(capsys, "blows", "scheme=halves", "blows_12h=78", "--json")[1])["agrees"] == {"blows_12h": False}


def test_nothing_fits_is_status_1_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = calc(capsys, "beats-per-hour", "meshes=84/7 78/7", "escape_teeth=", "beats=8900")
    assert status == 1 and "Nothing fits exactly; these come nearest: 33 (gives 8825.14, off by -74.9); 34 (gives 9092.57, off by 193)" in out


USAGE = {
    "": "which calculation",
    "beat-per-hour": "did you mean beats-per-hour?",
    "xyzzy": "calc --list says what there is",

    "beats-per-hour 'meshes=84/7' escap_teeth=3": "did you mean escape_teeth?",
    "beats-per-hour meshes=84/7 escape_teeth=30 escape_teeth=31": "given twice",
    "beats-per-hour meshes=84/7 escape_teeth=-30": "escape_teeth: -30 is too small; accepted: a whole number from 2 to 400",
    "beats-per-hour meshes=84/7 escape_teeth=nan": "escape_teeth: 'nan' is not a number",
    "beats-per-hour meshes=84/7 escape_teeth=inf": "not a number",
    "beats-per-hour meshes=84/7 escape_teeth=7.5": "not a whole number",
    "beats-per-hour meshes=84/7 escape_teeth=9**9**9": "plain number",
    "beats-per-hour meshes=84/7 escape_teeth=99999999999999999999999999999999999999999999999999": "too long",
    "beats-per-hour meshes=84/7 'escape_teeth=30 mm'": "plain number",
    "beats-per-hour meshes=84/0 escape_teeth=30": "a pinion of 0 leaves can't be driven",
    "beats-per-hour meshes=84/1 escape_teeth=30": "a pinion of one leaf",
    "beats-per-hour meshes=0/7 escape_teeth=30": "drives nothing",
    "beats-per-hour meshes=84 escape_teeth=30": "'84' is not a wheel over the pinion that it drives; accepted: driver/driven for each mesh, such as 84/7 78/7",
    "planet-dial meshes=4/32 planet=m": "'m' may be mercury or mars",
    "best-train period=27.32 driver_hours=24 meshes=5": "too large",
    "beats-per-hour meshes=84/x escape_teeth=30": "'84/x' is not a wheel over",
    "beats-per-hour meshes=84/7 escape_teeth= hours_per_turn= ": "escape_teeth: ",
    "beats-per-hour meshes=?/? escape_teeth=30 beats=7200": "write ? once",
    "beats-per-hour escape_teeth=30 beats=7200": "a whole train can't be solved for",
    "beats-per-hour meshes=84/7": "to solve for it give a result too",
    "beats-per-hour beats=7200": "both open",
    "beats-per-hour 84/7": "is not name=value",
    "pendulum-from-beats 'beats=5 kg'": "can't be turned into",
    "pendulum-from-beats beats=18,000": "write 18000 or 18.000",
    "fall-of-weight turns=16 drum=50 hang=sideways": "accepted: direct or pulley",
    "hours-of-run barrel_turns=0 meshes=96/8": "too small",
    "pendulum-from-beats 'beats=5\n6 kg'": "leaves the unit of 5 open",
    "moon-age date=05/12/2026": "a date such as 2026-11-25 or 25 November 2026",
    "pendulum-from-beats 'beats=60 kg'": "kg can't be turned into 1/h; accepted: a number from 1 to 40000 per hour; units: 1/h (per hour), 1/min (per minute)",
    "beats-per-hour --jsn": "did you mean --json?",
}


CHOICES = {  # sum and field, what is typed for each of its choices
    ("planet-dial", "planet"): {"Venus": "venus", "SATURN": "saturn", "nep": "neptune", "Node of the moon": "node", "the-earth": "earth"},
    ("count-wheel-layout", "halves"): {"but two": "but-two", "Hours only": "none", "butTwo": "but-two", "hours and halves": "but-two"},
    ("best-train", "coprime"): {"No.": "no", "y": "yes"}, ("calendar-setting", "month"): {"February": "2", "feb.": "2", "1": "1", "12": "12", "Sept": "9"},
}


@pytest.mark.parametrize(("place", "typed", "meant"), [(place, typed, meant) for place, each in CHOICES.items() for typed, meant in each.items()])
def test_a_choice_is_read_where_it_is_clear_which_is_meant(place: tuple[str, str], typed: str, meant: str, scripts: Page) -> None:
    library = read_once()[0]
    field = next(each for each in library[f"calculation:{place[0]}"].inputs if each.name == place[1])
    assert read_given(field, typed, units_of(library)) == meant
    assert scripts.run("ClockRef.given.readGiven(ClockRef.calculations[data[0]].inputs.find(each => each.name === data[1]), data[2])", [*place, typed]) == meant


def test_a_bob_above_the_bend_is_no_answer(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = calc(capsys, "effective-overall", "overall=", "top=10", "tip=50", "bob_radius=40", "effective=240", "--json")
    assert status == 0 and [round(each["value"]) for each in json.loads(out)["solved"]["fits"]] == [300]  # not also a bob whose middle is a millimetre below the bend
    assert "reach above the bend" in calc(capsys, "effective-overall", "overall=100", "top=10", "tip=50", "bob_radius=60")[2]


def test_a_choice_is_named_and_a_step_that_is_a_number_is_said_once(capsys: pytest.CaptureFixture[str]) -> None:
    out = calc(capsys, "calendar-setting", "year=2028", "month=feb")[1]
    assert "  Month: February\n" in out and "Leap year: 1 for yes, 0 for no = 1\n" in out


def test_a_field_left_empty_on_purpose_is_the_one_that_is_found(capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(calc(capsys, "hands-meet", "turns=", "interval=62.6087", "--json")[1])
    assert found["solved"]["field"] == "turns" and found["inputs"]["turns"]["value"] == pytest.approx(24, rel=1e-4)


def test_half_an_hour_is_not_made_up_by_the_hour_hand(capsys: pytest.CaptureFixture[str]) -> None:
    given = ["strike-stepping", "counts=halves", "hand=3", "struck=3", "struck_at=hour", "--json"]
    assert json.loads(calc(capsys, *given, "hand_at=half")[1])["results"]["other_way"]["shown"].startswith("not so: they are half an hour apart")
    assert json.loads(calc(capsys, *given, "hand_at=hour")[1])["results"]["other_way"]["shown"] == "0"


def test_wheels_of_more_than_four_hundred_teeth_are_found(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = calc(capsys, "dial-period", "meshes=8/?", "driver_hours=24", "days=365.25", "--json")
    assert status == 0 and json.loads(out)["inputs"]["meshes"]["shown"] == "8/2922"


@pytest.mark.parametrize("text", ["2026-12-25", "2026/12/25", "25 December 2026", "25. Dec. 2026", "Dec 25, 2026", "25th December 2026", "25th of December 2026", "25/12/2026"])
def test_dates_are_read_as_people_write_them(text: str, capsys: pytest.CaptureFixture[str], scripts: Page) -> None:
    status, out, _ = calc(capsys, "moon-age", f"date={text}", "--json")
    assert status == 0 and json.loads(out)["inputs"]["date"]["value"] == "2026-12-25"
    assert scripts.run("answered('moon-age', data)", {"date": text, "hour": "", "month": ""})["inputs"]["date"] == "2026-12-25"


@pytest.mark.parametrize("text", ["84/7 78/8", "84:7, 78:8", "84/7 x 78/8", "84/7 and 78/8", "84 x 78 / 7 x 8", "84 × 78 : 7 × 8", "(84 × 78)/(7 × 8)", "7) 84, 8) 78", "7)84 8)78"])
def test_trains_are_read_as_people_write_them(text: str, capsys: pytest.CaptureFixture[str], scripts: Page) -> None:
    status, out, _ = calc(capsys, "beats-per-hour", f"meshes={text}", "escape_teeth=32", "--json")
    assert status == 0 and json.loads(out)["results"]["beats"]["value"] == 7488
    assert scripts.run("answered('beats-per-hour', data)", {"meshes": text, "escape_teeth": "32", "hours_per_turn": ""})["inputs"]["meshes"] == "84/7 78/8"


def test_a_lone_question_mark_is_a_blank(capsys: pytest.CaptureFixture[str], scripts: Page) -> None:
    given = {"beats": "?", "gravity": "39.14 in", "length": "39.14 in"}
    status, out, _ = calc(capsys, "pendulum-from-beats", *(f"{name}={text}" for name, text in given.items()), "--json")
    assert status == 0 and json.loads(out)["inputs"]["beats"]["shown"] == "3600"
    assert scripts.run("answered('pendulum-from-beats', data)", given)["inputs"]["beats"] == "3600"


@pytest.mark.parametrize("text", ["0 4.2 8.9 12.4", "0; 4,2; 8,9; 12,4", "0, 4.2, 8.9, 12.4", "0,4.2,8.9,12.4"])
def test_lists_are_read_with_blanks_or_commas(text: str, capsys: pytest.CaptureFixture[str], scripts: Page) -> None:
    given = {"days": "0,1,2,3", "errors": text}
    status, out, _ = calc(capsys, "rate-from-readings", *(f"{name}={value}" for name, value in given.items()), "--json")
    assert status == 0 and json.loads(out)["results"]["rate"]["shown"] == "4.19"
    assert scripts.run("answered('rate-from-readings', data)", given)["shown"]["rate"] == "4.19"


@pytest.mark.parametrize("text", ["0, 1 min 47 s, 3 min 30 s", "0; 1:47; 3:30", "0 107 210", "0 s, 107 s, 210 s"])
def test_readings_may_have_their_units(text: str, capsys: pytest.CaptureFixture[str], scripts: Page) -> None:
    given = {"days": "0 8 16", "errors": text}
    status, out, _ = calc(capsys, "rate-from-readings", *(f"{name}={value}" for name, value in given.items()), "--json")
    assert status == 0 and json.loads(out)["results"]["rate"]["value"] == 13.125
    assert scripts.run("answered('rate-from-readings', data)", given)["shown"]["rate"] == json.loads(out)["results"]["rate"]["shown"]


@pytest.mark.parametrize(("arguments", "says"), USAGE.items())
def test_what_cannot_be_used_is_one_line_and_status_2(arguments: str, says: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = calc(capsys, *shlex.split(arguments))
    assert (status, out) == (2, "") and says in err
    assert len(err.strip().splitlines()) == 1 and "Traceback" not in err


EACH_FIELD = {  # what is typed, and the fields that are named, each on its line
    "beats-per-hour": ["meshes", "escape_teeth"],
    "beats-per-hour meshes=": ["meshes", "escape_teeth"],
    "beats-per-hour 'meshes=84/7 78' escape_teeth=30,5 hours_per_turn=0": ["meshes", "escape_teeth", "hours_per_turn"],
    "beats-per-hour 'meshes=84/7 78' escape_teeth= beats=7200": ["meshes"],
    "beats-per-hour meshes=84/7 beats=many escape_teeth=1": ["escape_teeth", "beats"],
    "rating-nut pitch=0 'length=5 kg' error=x per_turn=?": ["pitch", "length", "error"],
    "rate-from-readings 'days=0 1 ? ?' errors=x": ["days", "errors"],
}


@pytest.mark.parametrize(("arguments", "fields"), EACH_FIELD.items())
def test_every_wrong_field_is_named_at_once(arguments: str, fields: list[str], capsys: pytest.CaptureFixture[str], scripts: Page) -> None:
    status, out, err = calc(capsys, *shlex.split(arguments), "--json")
    told = json.loads(out)["errors"]
    assert status == 2 and [each["field"] for each in told] == fields
    assert err.splitlines() == [f"calc: {each['error']}" for each in told]
    sum_id, *given = shlex.split(arguments)
    typed = {field.name: "" for field in read_once()[0][f"calculation:{sum_id}"].inputs} | dict(each.split("=") for each in given)
    theirs = scripts.run("(() => { try { return ClockRef.answer.answer(ClockRef.calculations[data[0]], data[1]); } catch (error) { return [error, ...error.others].map(each => [each.field, each.message]); } })()", [sum_id, typed])
    assert [f"{field}: {sentence}" for field, sentence in theirs] == [each["error"].partition("; to solve for it")[0] for each in told]


@pytest.mark.parametrize("arguments", ["rating-nut pitch=1 length=200 per_turn=216 divisions=", "moon-error meshes=1/59 period=29.5 lunation="])
def test_no_answer_is_one_line_and_status_1(arguments: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = calc(capsys, *shlex.split(arguments))
    assert (status, out) == (1, "") and "makes no difference here to what was given" in err and len(err.strip().splitlines()) == 1


def test_errors_are_data_too(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = calc(capsys, "beats-per-hour", "meshes=84/1", "escape_teeth=30", "--json")
    assert status == 2 and json.loads(out)["field"] == "meshes"


def test_the_list_says_all_a_stranger_needs(capsys: pytest.CaptureFixture[str], library: Library) -> None:
    status, out, _ = calc(capsys, "--list", "--json")
    listed = json.loads(out)
    assert status == 0 and [entry["id"] for entry in listed] == [entry.id for entry in calculations(library)]
    for entry in listed:
        for field in entry["inputs"]:
            assert field["name"] and field["label"] and field["type"] and field["accepted"]
            assert field["example"] or not field["required"]
            assert field["unit"] == "" or field["unit"] in field["unit_spellings"]
            assert all(field["unit"] in ("", *field["units_read"]) and choice["label"] for choice in field["choices"]) and (field["left_open"] or library[f"calculation:{entry['id']}"].procedure)
        assert entry["results"] and all(result["label"] for result in entry["results"])


def test_every_example_of_the_list_can_be_run(capsys: pytest.CaptureFixture[str], library: Library) -> None:
    for entry in json.loads(calc(capsys, "--list", "--json")[1]):
        status, out, err = calc(capsys, *shlex.split(entry["example"])[1:], "--json")
        assert (status, err) == (0, ""), entry["id"]
        told, named = json.loads(out), {result["name"] for result in entry["results"]}
        answered = {*told["results"], *told.get("tables", ())}
        assert answered == named or (answered < named and library[f"calculation:{entry['id']}"].procedure)  # an algorithm leaves out what wasn't asked for


def test_the_list_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert "beats-per-hour" in calc(capsys, "--list")[1]
    assert "a whole number from 2 to 400" in calc(capsys, "--list", "beats-per-hour")[1]
