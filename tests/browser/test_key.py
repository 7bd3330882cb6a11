"""The key walked on a phone: by tapping in the live page, and by the cards where no script runs."""
from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from build_tools.key import Key
from build_tools.library import Library
from tests.browser.conftest import Visit

pytestmark = pytest.mark.browser
MOST_TAPS = 20
CANT_TELL = "Can’t tell"

# Clocks as a person might meet them: where he stands, what he would answer, and what is truly inside.
CLOCKS = {
    "a longcase with two holes that counts the hours": (
        "dial-shut",
        {"case-form": "longcase", "winding-holes": "two", "hour-sound": "count-one-note", "quarter-sound": "silent"},
        "train:going-strike",
    ),
    "a mantel clock with one hole that is silent": (
        "dial-shut",
        {"case-form": "mantel", "winding-holes": "one", "hour-sound": "silent", "quarter-sound": "silent"},
        "train:going-only",
    ),
}


def choose(page: Page, words: str) -> None:
    page.locator(".live-key .choices button", has_text=words).filter(visible=True).first.tap()


def asked(page: Page) -> str:
    return page.locator(".live-key .asked h2").inner_text()


def tap(page: Page, says: str) -> None:
    """Tap the answer that says just this."""
    page.locator(".live-key .asked").get_by_role("button", name=says, exact=True).tap()


def walk(page: Page, answers: dict[str, str], key: Key) -> dict[str, str]:
    """Answer what is asked, "can't tell" where the clock says nothing, until the key stops; returns what was answered."""
    by_heading = {question.asks: question for question in key.questions.values()}
    given: dict[str, str] = {}
    for _ in range(MOST_TAPS):
        if page.locator(".live-key .ending").count():
            return given
        question = by_heading[asked(page)]
        answer = answers.get(question.id, "cant-tell")
        says = {one.id: one.says for one in question.answers}.get(answer)
        tap(page, says[:1].upper() + says[1:] if says else CANT_TELL)
        given[question.id] = answer
        page.wait_for_function("id => location.hash.includes(id + '=')", arg=question.id)
    raise AssertionError(f"the key did not stop after {MOST_TAPS} answers: {given}")


@pytest.mark.parametrize(("viewpoint", "answers", "inside"), CLOCKS.values(), ids=CLOCKS)
def test_tapping_leads_to_what_is_inside_and_the_command_line_agrees(
    viewpoint: str, answers: dict[str, str], inside: str, phone: Visit, library: Library
) -> None:
    key = Key(library, "trains")
    page = phone.open("key/trains/")
    choose(page, next(row.says for row in library.table("viewpoints") if row.name == viewpoint))
    given = walk(page, answers, key)
    first = page.locator(".live-key .ranking > li").first
    expect(first.get_by_role("link").first).to_have_text(library[inside].name)
    found = key.find(given, viewpoint)
    shown = page.locator(".live-key .ranking > li > a").all_inner_texts()
    assert shown == [one.name for one in found.ranked][: len(shown)]
    first.get_by_role("link").first.tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text(library[inside].name, ignore_case=True)


def test_back_takes_the_last_answer_back(phone: Visit, library: Library) -> None:
    page = phone.open("key/trains/")
    choose(page, "before the dial, door shut")
    first = asked(page)
    tap(page, CANT_TELL)
    page.wait_for_function("first => document.querySelector('.live-key .asked h2').innerText !== first", arg=first)
    page.go_back()
    page.wait_for_function("first => document.querySelector('.live-key .asked h2').innerText === first", arg=first)


def test_the_cards_lead_to_an_outcome_without_any_script(visitor: Callable[..., Visit]) -> None:
    page = visitor(java_script_enabled=False).open("key/trains/")
    page.locator("article a[href*='trains-dial-shut']").first.tap()
    expect(page.locator(".card:visible")).to_have_count(1)
    for _ in range(MOST_TAPS):
        card = page.locator(".card:visible").first
        if "end" in (card.get_attribute("class") or "").split():
            break
        card.locator("ul a").first.tap()
    expect(page.locator(".card.end:visible")).to_have_count(1)
    page.locator(".card.end:visible ul a").first.tap()
    expect(page).to_have_url(re.compile("/trains/[a-z-]+/$"))
