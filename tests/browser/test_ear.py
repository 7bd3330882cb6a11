"""Melodies and striking by ear: nothing sounds before a tap, a tap plays, and another ends it."""
from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Visit

pytestmark = pytest.mark.browser
# Counts the tones that are begun, and keeps the times at which they are told to stop.
LISTEN = """
window.heard = { devices: 0, tones: [], stops: 0 };
const Real = window.AudioContext;
window.AudioContext = class extends Real {
  constructor() { super(); window.heard.devices += 1; }
  createOscillator() {
    const tone = super.createOscillator();
    const start = tone.start.bind(tone), stop = tone.stop.bind(tone);
    tone.start = (at) => { window.heard.tones.push([tone.frequency.value, at]); start(at); };
    tone.stop = (at) => { window.heard.stops += 1; stop(at); };
    return tone;
  }
};
"""


def listening(visit: Visit, path: str) -> Page:
    visit.page.add_init_script(LISTEN)
    return visit.open(path)


def test_nothing_sounds_without_a_tap_and_a_second_tap_ends_it(own_phone: Visit) -> None:
    page = listening(own_phone, "melodies/westminster/")
    assert page.evaluate("heard") == {"devices": 0, "tones": [], "stops": 0}
    page.get_by_role("button", name="Quarter past").tap()
    partials = page.evaluate("ClockRef.earData.partials.length")
    assert page.evaluate("heard.tones.length") == 4 * partials
    expect(page.locator(".plays .notes")).to_contain_text("G♯4")
    page.get_by_role("button", name="Stop").tap()
    expect(page.get_by_role("button", name="Stop")).to_have_count(0)
    assert page.evaluate("heard.stops") == 8 * partials
    expect(page.locator(".plays .notes")).to_have_text("")


def test_the_hour_follows_the_choice_and_one_thing_plays_at_a_time(own_phone: Visit) -> None:
    page = listening(own_phone, "by-ear/")
    page.get_by_label("Hour last struck").select_option("11")
    buttons = page.locator(".plays button", has_text="The hour")
    buttons.first.tap()
    partials = page.evaluate("ClockRef.earData.partials.length")
    assert page.evaluate("heard.tones.length") == 11 * partials
    buttons.nth(1).tap()
    expect(page.get_by_role("button", name="Stop")).to_have_count(1)
    assert page.evaluate("heard.devices") == 1
