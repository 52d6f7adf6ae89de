"""The small forms: each writes one entry, comes back to their list, and can be undone there."""

from __future__ import annotations

import re

import pytest
from browser.day_steps import screen
from browser.limb_steps import profile, put, stored
from playwright.sync_api import Page, expect


@pytest.fixture
def own(phone: Page) -> Page:
    """A phone whose wearer has said which leg, and the numbers to call."""
    put(phone, [profile(clinic_phone="555 0142", emergency_phone="555 0911")])
    phone.reload()
    return phone


def save(page: Page) -> None:
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", level=1, name="Log something else")).to_be_visible()


def test_comfort_is_one_tap_of_eleven_and_save(own: Page) -> None:
    screen(own, "log/comfort", "Comfort")
    own.get_by_role("radio", name="7", exact=True).check(force=True)
    save(own)
    assert [e["body"] for e in stored(own, "comfort")] == [{"score": 7}]
    own.get_by_role("button", name="Undo").click()
    expect(own.get_by_role("button", name="Undo")).to_have_count(0)
    assert stored(own, "comfort")[0]["erased"] is True


def test_a_fall_asks_and_says_at_once_what_calls_for_help(own: Page) -> None:
    # A knock to the head in a fall is an emergency (common first-aid advice; the table of signs names its source).
    screen(own, "log/mishap", "Mishap")
    own.get_by_role("radio", name="Fall").check()
    expect(own.get_by_role("link", name=re.compile("Call now"))).to_have_count(0)
    own.get_by_role("checkbox", name="Hit the head").check()
    expect(own.get_by_role("link", name=re.compile("Call now"))).to_have_attribute("href", "tel:5550911")
    save(own)
    body = stored(own, "mishap")[0]["body"]
    assert (body["what"], body["head"], body["hurt"], body["cannot_stand"]) == ("fall", True, False, False)


def test_the_kind_of_day_is_one_entry_a_day_however_often_it_is_changed(own: Page) -> None:
    screen(own, "log/day", "Kind of day")
    own.get_by_role("button", name="hot", exact=True).click()
    save(own)
    screen(own, "log/day", "Kind of day")
    expect(own.get_by_role("button", name="hot", exact=True)).to_have_attribute("aria-pressed", "true")
    own.get_by_role("button", name="travel").click()
    save(own)
    own.wait_for_timeout(200)
    assert [e["body"]["tags"] for e in stored(own, "day")] == [["hot", "travel"]]


def test_an_activity_may_leave_its_length_unsaid(own: Page) -> None:
    screen(own, "log/activity", "Activity")
    own.get_by_role("radio", name="Stairs").check()
    save(own)
    assert stored(own, "activity")[0]["body"] == {"what": "stairs", "minutes": None}


def test_the_tape_takes_a_decimal_comma_and_refuses_what_cannot_be(own: Page) -> None:
    screen(own, "log/tape", "Tape")
    own.get_by_role("button", name="Save").click()
    expect(own.get_by_role("alert").filter(has_text="at least one girth")).to_be_visible()
    own.get_by_label("Level 1: girth, cm").fill("28,4")
    own.get_by_label("Level 2: girth, cm").fill("300")
    own.wait_for_timeout(600)  # taps closer together than half a second are one intent
    own.get_by_role("button", name="Save").click()
    expect(own.get_by_role("alert").filter(has_text="does not fit")).to_be_visible()
    own.get_by_label("Level 2: girth, cm").fill("30.1")
    own.wait_for_timeout(600)
    save(own)
    assert stored(own, "girth")[0]["body"] == {
        "marks": [{"from_end_cm": 0, "girth_cm": 28.4}, {"from_end_cm": 5, "girth_cm": 30.1}], "by": "self",
    }  # fmt: skip


def test_a_tape_in_inches_is_kept_in_centimetres(phone: Page) -> None:
    # 1 inch is 2.54 cm exactly (international yard and pound agreement, 1959).
    put(phone, [profile(units="us")])
    phone.reload()
    screen(phone, "log/tape", "Tape")
    phone.get_by_label("Level 1: girth, in").fill("10")
    save(phone)
    assert stored(phone, "girth")[0]["body"]["marks"][0]["girth_cm"] == 25.4


def test_a_change_and_a_note_are_kept_with_their_words(own: Page) -> None:
    screen(own, "log/change", "Change to the socket")
    own.get_by_role("radio", name="Relief added").check()
    own.get_by_label("A note, if you like").fill("outer side")
    save(own)
    screen(own, "log/note", "Note")
    expect(own.get_by_role("button", name="Save")).to_be_disabled()
    own.get_by_label("What should be remembered?").fill("new shoes")
    save(own)
    assert stored(own, "change")[0]["body"]["what"] == "relief_added"
    assert stored(own, "change")[0]["body"]["note"] == "outer side"
    assert stored(own, "note")[0]["body"] == {"text": "new shoes"}
