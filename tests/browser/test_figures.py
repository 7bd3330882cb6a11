"""Figures move only when asked to, and then as the wheels would."""
from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Visit

pytestmark = pytest.mark.browser
TRAIN, ESCAPEMENT = "counts/motion-12-36-10-40/", "terms/deadbeat-escapement/"


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


def test_a_tap_names_a_wheel(phone: Visit) -> None:
    page = phone.open(TRAIN)
    page.locator(".plan .arbor").nth(1).dispatch_event("click")
    expect(page.locator(".said")).to_have_text("Minute: one turn in 3 hours.")


def test_the_escapement_says_what_happens(phone: Visit) -> None:
    page = phone.open(ESCAPEMENT)
    page.locator(".said").evaluate("said => { window.heard = new Set(); new MutationObserver(() => heard.add(said.textContent)).observe(said, {childList: true}); }")
    page.locator(".motion input").evaluate("input => { input.value = 60; }")
    page.get_by_role("button", name="Set in motion").tap()
    page.wait_for_function("window.heard.size >= 4", timeout=20_000)
    assert set(page.evaluate("[...window.heard]")) == {
        "Impulse on the entry pallet", "The exit pallet holds a tooth", "Impulse on the exit pallet", "The entry pallet holds a tooth",
    }


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
