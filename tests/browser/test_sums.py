"""Each calculation's form gives, in a real browser, just what the command line gives: usual values, published ones, limits, mistakes, blanks."""
from __future__ import annotations

import contextlib
import io
import json
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Page, expect

from build_tools import calc_command, commandline
from build_tools.calculate import resolved
from build_tools.library import Library
from build_tools.model import Calculation
from build_tools.model_parts import Input
from tests.browser.conftest import Visit
from tests.browser.pages import ENTRIES

pytestmark = pytest.mark.browser
SUMS = [path.stem for path in ENTRIES if path.parent.name == "calculations"]
MISTAKES = {"number": ("many", "1/0", "9e999", "-1", "1,5,2"), "whole": ("2.5", "x", "0"), "train": ("84/0", "84", "84/7 78"), "date": ("31.2.",)}

Case = dict[str, str]  # what is typed, by the name of the field


@pytest.fixture(autouse=True)
def one_reading(monkeypatch: pytest.MonkeyPatch, library: Library) -> None:
    """The command line reads the knowledge base once for all the cases, or they would take ten times as long."""
    monkeypatch.setattr(calc_command, "read_library", lambda: (library, []))


def cases(entry: Calculation) -> Iterator[Case]:
    """What is tried: the example, what is printed, each limit and just beyond it, mistakes, and each field left blank."""
    example = {field.name: field.example for field in entry.inputs}
    yield example
    yield from ({name: text for name, text in check.given.items()} for check in entry.checks)
    for field in entry.inputs:
        yield from ({**example, field.name: text} for text in edges(field))
    yield from blanks(entry, example)
    yield {field.name: "" for field in entry.inputs if not field.choices}


def edges(field: Input) -> Iterator[str]:
    """Texts for one field that lie at its limits, beyond them, in its other units, or are no value at all."""
    yield from (choice.value for choice in field.choices)
    yield from (text for text in (field.minimum, field.maximum) if text)
    yield from (f"{text}{sign}" for text, sign in ((field.minimum, "e-3"), (field.maximum, "e3")) if text and field.type == "number" and "/" not in text)
    yield from (f"{field.example} {unit}" for unit in field.also if field.example.replace(".", "").isdigit())
    yield from MISTAKES.get(field.type, ())


def blanks(entry: Calculation, example: Case) -> Iterator[Case]:
    """Each field in turn left empty, with the first result given as the example has it. A procedure has no field for a result."""
    if entry.procedure:
        return
    wanted = entry.results[0]
    given = str(ask(entry.id, example)["results"][wanted.name]["value"])
    if not given.replace(".", "").isdigit() or any(wanted.name == field.name for field in entry.inputs):
        return
    yield {**example, wanted.name: given}
    yield from ({**example, field.name: "", wanted.name: given} for field in entry.inputs if field.type in ("number", "whole"))


def ask(sum_id: str, case: Case) -> dict[str, object]:
    """What the command line answers, as it prints it for programs."""
    printed, said = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(printed), contextlib.redirect_stderr(said):
        commandline.main(["calc", sum_id, *(f"{name}={text}" for name, text in case.items()), "--json"])
    return json.loads(printed.getvalue())


def expected(told: dict[str, object]) -> list[list[str]] | str:
    """The figures row by row, with those in other units beside them; or the sentence that says why there are none."""
    if "errors" in told:
        sentences = [str(each["error"]).partition("; to solve for it")[0].removeprefix(f"{each['field']}: ") for each in told["errors"]]
        return ". ".join(sentences)  # how to solve for it the form itself explains
    rows = [[result["shown"], *result["also"].values()] for result in told["results"].values()]
    solved = [[given["shown"]] for given in told["inputs"].values() if given["solved"]]
    return solved + rows


def by_hand(page: Page, case: Case) -> None:
    """Fill the form in and send it as a person does."""
    for name, text in case.items():
        field = page.locator(f"form.sum [name='{name}']")
        if field.evaluate("one => one.tagName") == "SELECT":
            field.select_option(text)
        else:
            field.fill(text)
    page.locator("form.sum button[type='submit']").tap()


# The same in one go, for the many cases: the fields written as they would stand, the form sent; then the figures row by row,
# or the sentences that say why there are none.
ALL_AT_ONCE = """cases => {
  const form = document.querySelector('form.sum');
  history.replaceState = () => {};  // the browser takes longer to note each address than the page to answer; what was typed by hand it has noted
  return cases.map(case_ => {
    form.reset();
    for (const [name, text] of Object.entries(case_)) {
      const unit = form.elements.namedItem(`${name}-unit`);
      if (unit) { unit.selectedIndex = 0; }  // a bare number is in the sum's own unit, as on the command line
      form.elements.namedItem(name).value = text;
    }
    form.requestSubmit();
    return (SHOWN)();
  });
}"""

SHOWN = """() => {
  const rows = [...document.querySelectorAll('form.sum .answer dd')].map(row => [...row.querySelectorAll('[data-value]')].map(one => one.dataset.value));
  const sentences = [...document.querySelectorAll('form.sum .error:not([hidden]), form.sum .answer > p')].map(one => one.textContent);
  return rows.length ? rows : sentences.join(' ').replace(/\\.$/, '');
}"""


@pytest.fixture
def read_once(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """Spare the command line its reading of the knowledge base for each of many questions."""
    monkeypatch.setattr(calc_command, "read_library", lambda *_: (library, []))


@pytest.mark.usefixtures("read_once")
@pytest.mark.parametrize("sum_id", SUMS)
def test_the_form_gives_the_command_lines_figures(sum_id: str, phone: Visit, library: Library) -> None:
    entry = resolved(library[f"calculation:{sum_id}"], library)
    page = phone.open(f"calculations/{sum_id}/")
    tried = list(cases(entry))
    by_hand(page, tried[0])
    assert page.evaluate(SHOWN) == expected(ask(sum_id, tried[0]))
    answers = page.evaluate(ALL_AT_ONCE.replace("SHOWN", SHOWN), tried)
    told = [expected(ask(sum_id, case)) for case in tried]
    differences = [f"{case}: the command line gives {ours}, the page {theirs}" for case, ours, theirs in zip(tried, told, answers) if ours != theirs]
    assert len(tried) > 5
    assert not differences, "\n".join(differences)


def test_the_answer_stays_in_the_address_and_comes_back(phone: Visit) -> None:
    page = phone.open("calculations/beats-per-hour/")
    by_hand(page, {"meshes": "84/7 78/7", "escape_teeth": "33"})
    answer = page.evaluate(SHOWN)
    assert "8825.14" in answer[0]
    page.reload()
    expect(page.locator("form.sum [name='escape_teeth']")).to_have_value("33")
    assert page.evaluate(SHOWN) == answer


def test_a_field_left_empty_is_found_and_said_to_be(phone: Visit) -> None:
    page = phone.open("calculations/beats-per-hour/#meshes=84/7+78/7&beats=8825.14")
    expect(page.locator("form.sum p.found")).to_have_text("Left empty; worked out: 33")
    expect(page.locator("form.sum .answer .found")).to_contain_text("found for the field left empty")
    expect(page.locator("form.sum details.known")).to_have_attribute("open", "")


def test_each_wrong_field_has_its_sentence_at_once(phone: Visit) -> None:
    page = phone.open("calculations/beats-per-hour/")
    page.locator("[name='meshes']").fill("84/7 78")
    page.locator("[name='hours_per_turn']").fill("never")
    expect(page.locator("#error-meshes")).to_contain_text("'78' is not a wheel over")
    expect(page.locator("#error-hours_per_turn")).to_contain_text("'never' is not a number")
    expect(page.locator("#error-escape_teeth")).to_be_hidden()  # only still empty
    page.get_by_role("button", name="Work it out").tap()
    expect(page.locator("#error-escape_teeth")).to_contain_text("is missing; accepted: a whole number from 2 to 400")
    expect(page.locator("[name='meshes']")).to_be_focused()


def test_what_is_wrong_stands_beside_its_field_which_gets_the_focus(phone: Visit) -> None:
    page = phone.open("calculations/beats-per-hour/")
    by_hand(page, {"meshes": "84/7 78/7", "escape_teeth": "many"})
    field = page.locator("[name='escape_teeth']")
    expect(field).to_be_focused()
    expect(field).to_have_value("many")
    expect(page.locator("#error-escape_teeth")).to_contain_text("accepted: a whole number from 2 to 400")


def test_units_begin_with_the_example_and_then_with_the_visitors_choice(phone: Visit) -> None:
    page = phone.open("calculations/rating-nut/")
    assert [page.locator(f"[name='{name}-unit']").input_value() for name in ("pitch", "length", "error")] == ["tpi", "in", "s/day"]
    page.locator("[name='length']").fill("994.156")
    page.locator("[name='length-unit']").select_option("mm")
    page.locator("[name='length-unit']").select_option("in")
    expect(page.locator("#hint-length")).to_contain_text("994.156 in = 25 250 mm")
    page.get_by_role("button", name="Turn 994.156 mm into 39.14 in").tap()
    expect(page.locator("[name='length']")).to_have_value("39.14")
    phone.open("calculations/arc-reading/")
    expect(page.locator("[name='distance-unit']")).to_have_value("in")
    expect(page.locator("#hint-distance")).to_have_text("Usually 2.4 to 43 in.")
    page = phone.open("calculations/rating-nut/")
    assert [page.locator(f"[name='{name}-unit']").input_value() for name in ("pitch", "length")] == ["tpi", "in"]  # inches chosen for lengths are none for threads


def test_tapping_along_counts_ticks_by_thumb_and_by_key(phone: Visit) -> None:
    page = phone.open("calculations/tap-beat/")
    button = page.locator("button.tap")
    for _ in range(3):
        button.tap()
        page.wait_for_timeout(100)
    expect(page.locator("[name='taps']")).to_have_value("3")
    page.keyboard.press("Shift+Tab")
    button.focus()
    page.keyboard.press("Space")
    expect(page.locator("[name='taps']")).to_have_value("4")
    page.locator("#tap-step").fill("60")
    expect(page.locator("[name='taps']")).to_have_value("181")
    page.locator("[name='time']").fill("90")
    expect(page.locator("form.sum .answer dd").first).to_contain_text("7200 per hour")
    expect(page.locator(".fitting")).to_contain_text("Standard counts within the error")


def test_the_answer_is_copied_with_its_source_and_limits_or_a_refusal_is_said(phone: Visit) -> None:
    page = phone.open("calculations/beats-per-hour/#meshes=84/7+78/7&escape_teeth=33")
    page.evaluate("() => { navigator.clipboard.writeText = async (text) => { window.copied = text; }; }")
    page.get_by_role("button", name="Copy as text").tap()
    expect(page.locator(".after [role='status']")).to_have_text("Copied.")
    copied = page.evaluate("window.copied")
    assert all(part in copied for part in ("Teeth of the escape wheel: 33", "Beats an hour = 8825.14 per hour", "Limits: The sum is exact", "Source: ", page.url))
    page.evaluate("() => { navigator.clipboard.writeText = async () => { throw new Error('no'); }; }")
    page.get_by_role("button", name="Copy as text").tap()
    expect(page.locator(".after [role='status']")).to_contain_text("does not let a page copy")


def test_the_curve_follows_the_visitors_figures_and_the_dot_is_his_sum(phone: Visit) -> None:
    """A seconds pendulum on a thread of one millimetre: one turn is a thousandth of its length, which is 43 s a day."""
    page = phone.open("calculations/rating-nut/")
    figure = page.locator("figure[data-sum]")
    example = figure.inner_html()
    by_hand(page, {"pitch": "1 mm", "length": "1000 mm"})
    expect(figure.locator("figcaption")).to_contain_text("The dot is your sum: 1000 mm gives 43.2 s/day.")
    dot, line = figure.locator("circle"), figure.locator("path.accent")
    ends = [float(part) for part in line.get_attribute("d").rpartition("L")[2].split()]
    assert [float(dot.get_attribute(name)) for name in ("cx", "cy")] == ends, "1000 mm is where the curve ends"
    by_hand(page, {"pitch": "1 mm", "length": "2000 mm"})
    expect(figure.locator("figcaption")).to_contain_text("2000 mm gives 21.6 s/day.")
    assert figure.locator("tbody tr").last.locator("td").all_text_contents() == ["2000", "21.600"], "the curve reaches as far as the sum"
    page.get_by_role("button", name="Clear").tap()
    assert figure.inner_html() == example


def test_what_goes_on_beyond_the_edge_is_shaded_there(phone: Visit) -> None:
    page = phone.open("calculations/strike-stepping/")
    page.get_by_role("button", name="Put in the example").tap()
    wide, narrow = (page.locator(f"form.sum .formula[aria-label='{label}, worked']") for label in ("Blows that you will hear", "Releases to give"))
    expect(wide).to_have_class("formula scrolls")
    assert "gradient" in wide.evaluate("one => getComputedStyle(one).backgroundImage")
    expect(narrow).to_have_class("formula")
    hidden = page.evaluate("[...document.querySelectorAll('.formula:not(.scrolls), .wide:not(.scrolls)')].filter(one => one.scrollWidth > one.clientWidth + 1).length")
    assert hidden == 0


def test_a_unit_typed_with_the_number_stands_alone(desk: Visit) -> None:
    page = desk.open("calculations/fall-of-weight/#drum=2+in")
    page.locator("[name='drum']").fill("2 in")
    expect(page.locator("[name='drum-unit']")).to_be_hidden()
    page.locator("[name='drum']").fill("2")
    expect(page.locator("[name='drum-unit']")).to_be_visible()


def test_a_wheel_too_many_would_be_noticed(phone: Visit) -> None:
    page = phone.open("calculations/beats-per-hour/")
    by_hand(page, {"meshes": "84/7 78/7", "escape_teeth": "34"})
    assert page.evaluate(SHOWN) != expected(ask("beats-per-hour", {"meshes": "84/7 78/7", "escape_teeth": "33"}))


def test_without_script_the_page_shows_the_worked_example_and_no_dead_form(visitor: Callable[..., Visit]) -> None:
    page = visitor(java_script_enabled=False).open("calculations/beats-per-hour/")
    expect(page.locator("form.sum")).to_be_hidden()
    expect(page.get_by_role("heading", name="Worked example")).to_be_visible()
    expect(page.locator("math").first).to_be_visible()
