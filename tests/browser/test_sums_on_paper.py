"""A calculation prints as a worksheet: one sheet, filled in or blank, with all that the bench needs of it."""
from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Visit
from tests.browser.test_pages import MARGINS, sheets

pytestmark = pytest.mark.browser
LONGEST = ("pallets", "mainspring-turns", "energy-a-day", "spring-change", "lost-wheel", "best-train", "notes-a-day")
MONTH = "+".join(map(str, range(31)))
LONG_USES = (  # what somebody puts in who makes much of a sum: a month of readings, ninety marks, a line every five days
    f"rate-from-readings/#days={MONTH}&errors={MONTH}", "arc-scale/#distance=500&every=0.1&most=9", "equation-of-time-year/#year=2026&every=5",
    "pallets/#teeth=30&spanned=7.5&radius=20&arm=20", "lost-wheel/#meshes=84/7+?/?&escape_teeth=30&pendulum=994",
)
ACROSS_A_SHEET = 703  # CSS pixels across A4 within MARGINS


@pytest.mark.parametrize("sum_id", LONGEST)
def test_prints_on_one_sheet_filled_in_or_blank(sum_id: str, desk: Visit) -> None:
    page = desk.open(f"calculations/{sum_id}/")
    assert sheets(page.pdf(format="A4", margin=MARGINS)) == 1
    page.get_by_role("button", name="Put in the example").click()
    assert sheets(page.pdf(format="A4", margin=MARGINS)) == 1


@pytest.mark.parametrize("address", LONG_USES)
def test_a_long_use_prints_on_one_sheet_in_type_that_can_be_read(address: str, desk: Visit) -> None:
    page = desk.open(f"calculations/{address}")
    assert sheets(page.pdf(format="A4", margin=MARGINS)) == 1
    page.emulate_media(media="print")
    page.set_viewport_size({"width": ACROSS_A_SHEET, "height": 1000})
    assert page.evaluate("document.scrollingElement.scrollWidth") <= ACROSS_A_SHEET  # or the browser prints all of it smaller


def test_the_sheet_holds_all_that_the_bench_needs(desk: Visit) -> None:
    page = desk.open(f"calculations/{LONG_USES[0]}")
    page.pdf(format="A4", margin=MARGINS)
    page.emulate_media(media="print")
    sheet = page.locator("article").inner_text()
    assert page.locator("[data-typed]").first.evaluate("one => getComputedStyle(one, '::before').content").endswith('29 30"')
    parts = ("What rate do my readings give?", "s/day", "Working", "0 1 2 … 30 (31 numbers)", "Where it holds:", "Source: ", page.url)
    assert [part for part in parts if part not in sheet] == []
    page.emulate_media(media="screen")
    desk.open("calculations/mainspring-turns/")
    page.get_by_role("button", name="Put in the example").click()
    page.pdf(format="A4", margin=MARGINS)
    page.emulate_media(media="print")
    cautions = page.locator("details.caution p")
    assert cautions.count() > 1
    assert all(caution.is_visible() for caution in cautions.all())


def test_the_curve_with_the_visitors_dot_is_on_the_sheet(desk: Visit) -> None:
    page = desk.open("calculations/spring-change/")
    curve = page.locator("figure[data-sum]")
    page.emulate_media(media="print")
    expect(curve).to_be_hidden()  # that of the worked example is none of a blank sheet's
    page.emulate_media(media="screen")
    page.get_by_role("button", name="Put in the example").click()
    page.emulate_media(media="print")
    expect(curve).to_be_visible()
    expect(curve).to_contain_text("The dot is your sum")
