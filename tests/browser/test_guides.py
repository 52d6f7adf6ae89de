"""Which way? and Break-in: what leaflets say, never a number of socks; a step gained only by a clear check."""

from __future__ import annotations

import re

from browser.day_steps import screen
from browser.limb_steps import entry, profile, put
from playwright.sync_api import Page, expect

DAY = 60 * 24


def own(page: Page, *more: dict[str, object], **settings: object) -> None:
    put(page, [profile(**settings), *more])  # type: ignore[list-item]
    page.reload()


def onward(page: Page, name: str) -> None:
    page.get_by_role("button", name=name).click()
    page.wait_for_timeout(600)  # taps closer together than half a second are one intent


def test_the_walk_shows_what_leaflets_say_and_the_trap_at_the_end(phone: Page) -> None:
    own(phone, clinic_phone="555 0142")
    screen(phone, "way", "Which way?")
    phone.get_by_role("checkbox", name="At the end of the limb").check()
    onward(phone, "Next")
    phone.get_by_role("checkbox", name="The kneecap has sunk").check()
    for name in ("Next", "Next", "See what leaflets say"):
        onward(phone, name)
    expect(phone.get_by_text("sinks too deep")).to_be_visible()
    expect(phone.get_by_text("The trap.")).to_be_visible()
    expect(phone.get_by_role("link", name=re.compile("Call clinic"))).to_have_attribute("href", "tel:5550142")
    # It informs and defers: nowhere does it tell the wearer to put on or take off a number of socks.
    assert not re.search(r"\b(add|take off|put on) \d", phone.locator("main").inner_text(), re.IGNORECASE)


def test_above_the_knee_it_asks_about_groin_and_sit_bone(phone: Page) -> None:
    own(phone, level="transfemoral")
    screen(phone, "way", "Which way?")
    expect(phone.get_by_text("In the groin")).to_be_visible()
    expect(phone.get_by_text("kneecap")).to_have_count(0)


def test_a_step_is_gained_by_a_clear_check_and_held_by_a_finding(phone: Page) -> None:
    steps = [{"minutes": m, "times": 1, "days": 1} for m in (60, 120, 240, 480)]  # a rehabilitation hospital's handout
    days = [
        entry("change", "left", {"what": "new_socket"}, 3 * DAY),
        entry("don", "left", {"total": 3}, 2 * DAY + 1),
        entry("skin", "left", {"clear": True, "findings": []}, 2 * DAY),
        entry("don", "left", {"total": 3}, DAY + 1),
        entry("skin", "left", {"clear": False, "findings": [{"what": "redness", "still_red": True}]}, DAY),
    ]  # fmt: skip
    own(phone, *days, break_in=steps)
    screen(phone, "breakin", "Break-in")
    expect(phone.get_by_text("Today’s step: 2 h.")).to_be_visible()
    expect(phone.get_by_text("found something, so the step stays")).to_be_visible()


def test_a_plan_is_entered_as_the_clinic_gave_it(phone: Page) -> None:
    own(phone)
    screen(phone, "breakin", "Break-in")
    phone.get_by_role("button", name="Add this step").click()
    expect(phone.get_by_text("Today’s step: 30 min.")).to_be_visible()
