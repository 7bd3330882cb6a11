"""Figures move only when asked to, and then as the wheels would."""
from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Visit
from tests.browser.test_pages import sheets

pytestmark = pytest.mark.browser
TRAIN, ACROSS, ESCAPEMENT = "counts/motion-12-36-10-40/", "counts/verge-30h-78-60-42/", "terms/deadbeat-escapement/"


def turns(page: Page) -> list[float]:
    """Degrees by which each arbor of the plan has been turned."""
    spins = page.locator(".plan .spin").all()
    return [float(re.search(r"rotate\(([-\d.]+)", spin.get_attribute("transform") or "rotate(0").group(1)) for spin in spins]


def test_nothing_moves_until_it_is_asked_to(phone: Visit) -> None:
    page = phone.open(TRAIN)
    page.wait_for_timeout(300)
    assert turns(page) == [0, 0, 0]


def test_arbors_turn_at_their_true_relative_speed_and_direction(phone: Visit) -> None:
    """12 on 36 and 10 on 40: the middle arbor turns backwards at a third, the hour wheel forwards at a twelfth."""
    page = phone.open(TRAIN)
    page.get_by_role("button", name="Set in motion").tap()
    page.wait_for_timeout(700)
    page.get_by_role("button", name="Pause").tap()
    cannon, minute, hour = turns(page)
    assert cannon > 5
    assert minute == pytest.approx(-cannon / 3, abs=0.05) and hour == pytest.approx(cannon / 12, abs=0.05)
    page.wait_for_timeout(200)
    assert turns(page) == [cannon, minute, hour], "a pause is a pause"


def test_a_tap_names_a_wheel_and_leads_to_its_word(phone: Visit) -> None:
    page = phone.open(TRAIN)
    page.get_by_role("button", name="Minute arbor").tap(force=True)
    expect(page.locator(".said")).to_contain_text("Minute arbor: a driven wheel of 36 and a wheel of 10, driven by the cannon wheel of 12; one turn in 3 hours.")
    page.locator(".said a").tap()
    expect(page).to_have_url(re.compile("/terms/minute-wheel/"))


def test_a_wheel_is_named_with_the_keyboard_alone(desk: Visit) -> None:
    page = desk.open(TRAIN)
    page.get_by_role("button", name="Hour arbor").focus()
    expect(page.locator(".said")).to_contain_text("Hour arbor")
    page.keyboard.press("Enter")
    expect(page.locator(".said a")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile("/terms/hour-wheel/"))


def test_pointing_at_a_wheel_names_it(desk: Visit) -> None:
    page = desk.open(TRAIN)
    page.locator(".touched .hit").last.hover()
    expect(page.locator(".said")).to_contain_text("Cannon arbor")


def test_whoever_wants_less_motion_gets_it_slowly(visitor: Callable[..., Visit]) -> None:
    usual, slow = visitor().open(TRAIN), visitor(reduced_motion="reduce").open(TRAIN)
    assert int(slow.locator(".motion input").input_value()) < int(usual.locator(".motion input").input_value())
    assert turns(slow) == [0, 0, 0]


def test_wheels_are_large_enough_to_be_touched(phone: Visit) -> None:
    """24 px across, as WCAG 2.2 (2.5.8) asks; in the count with the smallest wheels drawn."""
    page = phone.open(ACROSS)
    sizes = page.locator(".touched .hit").evaluate_all("all => all.map(one => one.getBoundingClientRect().width)")
    assert len(sizes) == 4 and min(sizes) >= 23.9


def test_a_crown_wheel_that_lies_across_turns_with_the_rest(phone: Visit) -> None:
    """6 on 42: the crown wheel's arbor turns seven times as fast as the contrate wheel; from its edge its teeth wander."""
    page = phone.open(ACROSS)
    edge = page.locator(".across .edge").last
    before = edge.get_attribute("d")
    page.get_by_role("button", name="Set in motion").tap()
    page.wait_for_timeout(400)
    page.get_by_role("button", name="Pause").tap()
    assert edge.get_attribute("d") != before


def test_the_escapement_says_what_happens(phone: Visit) -> None:
    page = phone.open(ESCAPEMENT)
    page.locator(".said").evaluate("said => { window.heard = new Set(); new MutationObserver(() => heard.add(said.textContent)).observe(said, {childList: true}); }")
    page.locator(".motion input").evaluate("input => { input.value = 60; }")
    page.get_by_role("button", name="Set in motion").tap()
    page.wait_for_function("window.heard.size >= 6", timeout=20_000)
    assert {words.split(":")[0] for words in page.evaluate("[...window.heard]")} == {"Lock", "Impulse", "Drop"}
    assert page.locator(".said").get_attribute("aria-live") == "polite"


def test_an_escapement_goes_from_moment_to_moment_without_moving_by_itself(phone: Visit) -> None:
    page = phone.open(ESCAPEMENT)
    heard = []
    for _ in range(6):
        page.get_by_role("button", name="Next moment").tap()
        heard.append(page.locator(".said").text_content().split(":")[0])
    assert heard == ["Impulse", "Drop", "Lock"] * 2


def test_a_part_is_found_by_what_it_does(phone: Visit) -> None:
    page = phone.open("plates/by-look/")
    shown = page.locator(".looks.parts li:visible")
    everything = shown.count()
    page.get_by_label("What does it look like").fill("even pace")
    expect(shown.first).to_contain_text("fly")
    assert 0 < shown.count() < everything / 10
    page.get_by_label("What does it look like").fill("xyzzy")
    expect(page.get_by_role("status").filter(has_text="No parts")).to_be_visible()
    assert shown.count() == 0 and page.locator("article h2:visible").count() == 0


GALLERY = "figures/"
INK = """all => all.map(svg => {
  const box = svg.getBoundingClientRect(), marks = [...svg.querySelectorAll('path, circle, rect')].filter(mark => !mark.closest('defs'));
  const strokes = marks.map(mark => getComputedStyle(mark)).filter(style => style.stroke !== 'none' && !/rgba.*, 0\\)/.test(style.stroke)).map(style => style.stroke);
  return {name: svg.querySelector('title')?.textContent || '', left: box.left, right: box.right, height: box.height, marks: marks.length, strokes: [...new Set(strokes)]};
})"""
MEETING = """all => all.flatMap(svg => {
  const texts = [...svg.querySelectorAll('text')].map(text => ({words: text.textContent, box: text.getBoundingClientRect()}));
  return texts.flatMap((one, n) => texts.slice(0, n).filter(other => one.box.left < other.box.right - 1 && other.box.left < one.box.right - 1
    && one.box.top < other.box.bottom - 3 && other.box.top < one.box.bottom - 3).map(other => [svg.querySelector('title').textContent, one.words, other.words]));
})"""


def luminance(colour: str) -> float:
    """Of an rgb() colour, as WCAG 2.2 defines it."""
    parts = [int(part) / 255 for part in re.findall(r"\d+", colour)[:3]]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_figure_is_seen_on_a_phone_in_light_and_dark(visitor: Callable[..., Visit], scheme: str) -> None:
    """Within the screen, drawn in a colour that stands out by 3 to 1 from the page (WCAG 2.2, 1.4.11); faint help lines apart."""
    page = visitor(color_scheme=scheme).open(GALLERY)
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    seen = page.locator("figure .drawing").evaluate_all(INK)
    assert len(seen) > 40
    for figure in seen:
        assert figure["left"] >= 0 and figure["right"] <= 360 and figure["height"] > 40 and figure["marks"] > 2, figure["name"]
        assert max(contrast(stroke, paper) for stroke in figure["strokes"]) >= 7, figure["name"]
        assert sum(contrast(stroke, paper) < 3 for stroke in figure["strokes"]) <= 1, figure["name"]


def test_no_two_labels_meet_in_the_fonts_of_a_phone(phone: Visit) -> None:
    page = phone.open(GALLERY)
    assert page.locator("figure .drawing").evaluate_all(MEETING) == []


MOST_PARTS = ("plates/movement-side", "plates/movement-front", "plates/the-dial", "figures/rack-cycle", "figures/deadbeat", "figures/eight-day-96-60-56")


@pytest.mark.parametrize("figure", MOST_PARTS)
def test_a_sheet_to_fill_in_prints_on_one_page_and_so_do_its_answers(desk: Visit, figure: str) -> None:
    for page in ("to-fill-in", "answers"):
        assert sheets(desk.open(f"{figure}/{page}/").pdf(format="A4")) == 1, page


def test_a_count_prints_on_one_page(desk: Visit) -> None:
    assert sheets(desk.open("counts/eight-day-96-60-56/").pdf(format="A4")) == 1


def test_in_print_every_figure_is_whole_on_its_sheet(desk: Visit) -> None:
    """Ink on white, nothing to be pressed, and none taller than what a sheet leaves (A4 less its margins, 25 cm)."""
    page = desk.open(GALLERY)
    page.emulate_media(media="print")
    expect(page.locator(".motion").first).to_be_hidden()
    for figure in page.locator("figure .drawing").evaluate_all(INK):
        assert 40 < figure["height"] < 25 / 2.54 * 96, figure["name"]
        assert max(contrast(stroke, "rgb(255, 255, 255)") for stroke in figure["strokes"]) >= 7, figure["name"]
    kept = page.locator("figure.figure:not(.told-in-steps), .told-in-steps li").evaluate_all("all => all.map(one => getComputedStyle(one).breakInside)")
    assert set(kept) == {"avoid"}


def test_the_live_key_shows_what_would_be_seen(phone: Visit) -> None:
    page = phone.open("key/drive/")
    page.locator(".live-key .choices button").first.tap()
    expect(page.locator(".live-key .choices button svg").first).to_be_visible()


def test_the_pins_of_a_melody_light_while_it_plays(phone: Visit) -> None:
    """Westminster's first quarter is bells 1 2 3 4, each a pin on its own line."""
    page = phone.open("melodies/westminster/")
    page.evaluate("window.lit = []; new MutationObserver(() => { const pin = document.querySelector('.pin.struck'); if (pin) lit.push(pin.dataset.quarter + pin.dataset.note); })"
                  ".observe(document.querySelector('figure.pins'), {subtree: true, attributes: true})")
    page.locator(".plays button").first.tap()
    page.wait_for_function("new Set(window.lit).size >= 4", timeout=20_000)
    assert list(dict.fromkeys(page.evaluate("window.lit")))[:4] == ["first0", "first1", "first2", "first3"]
    expect(page.locator(".pin.struck")).to_have_count(0, timeout=10_000)
