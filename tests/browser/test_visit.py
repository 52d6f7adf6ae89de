"""Getting ready: a visit, questions in order, needs, and ways to go set against them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from browser.day_steps import screen
from browser.limb_steps import profile, put, stored
from playwright.sync_api import Page, expect


@pytest.fixture
def ready(phone: Page) -> Page:
    put(phone, [profile()])
    phone.reload()
    screen(phone, "visit", "Getting ready")
    return phone


def live(page: Page, kind: str) -> list[dict[str, object]]:
    page.wait_for_timeout(200)
    return [e["body"] for e in stored(page, kind) if not e["erased"]]


def test_a_visit_is_entered_and_stands_at_the_top(ready: Page) -> None:
    on = (datetime.now(UTC) + timedelta(days=9)).strftime("%Y-%m-%d")
    ready.get_by_label("On", exact=True).fill(on)
    ready.get_by_label("With").fill("Harbour Limb Clinic")
    ready.get_by_role("button", name="Save the visit").click()
    expect(ready.get_by_text("Next visit:")).to_be_visible()
    assert live(ready, "visit")[0]["clinic"] == "Harbour Limb Clinic"


def test_questions_keep_the_order_the_wearer_gives_them(ready: Page) -> None:
    for text in ("First", "Second"):
        ready.get_by_label("A question").first.fill(text)
        ready.get_by_role("button", name="A question").click()
    ready.get_by_role("button", name="Move up: Second").click()
    asked = ready.get_by_role("list", name="What you want to ask").get_by_role("listitem")
    expect(asked.first).to_contain_text("Second")
    assert sorted((str(q["text"]), q["order"]) for q in live(ready, "question")) == [("First", 2), ("Second", 1)]


def test_a_starter_question_is_added_with_one_tap_and_then_not_offered(ready: Page) -> None:
    ready.get_by_text("Questions others were glad to have asked").click()
    offered = ready.get_by_role("button", name="Is the socket made here or sent away?", exact=True)
    offered.click()
    expect(offered).to_have_count(0)
    assert live(ready, "question")[0]["text"] == "Is the socket made here or sent away?"


def test_a_way_to_go_is_set_against_the_needs(ready: Page) -> None:
    ready.get_by_label("A need").first.fill("Kneel to load the van")
    ready.get_by_role("button", name="A need").click()
    ready.get_by_role("button", name="firm").click()
    ready.get_by_role("link", name="Add a way to go").click()
    ready.get_by_label("What", exact=True).fill("Socket with a dial")
    ready.get_by_role("radio", name="no", exact=True).check(force=True)
    ready.get_by_role("button", name="Save").click()
    expect(ready.get_by_role("link", name="Socket with a dial")).to_contain_text("does not meet: Kneel to load the van")
    option = live(ready, "option")[0]
    assert list(option["meets"].values()) == ["no"]  # type: ignore[attr-defined]


def test_without_an_earlier_visit_nothing_is_compared(ready: Page) -> None:
    expect(ready.get_by_text("No earlier visit is entered")).to_be_visible()
