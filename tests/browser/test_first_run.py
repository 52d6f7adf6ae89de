"""First run: from nothing to the first tap without it, and through it in a few taps; every page can be skipped."""

from __future__ import annotations

import re

from browser.conftest import NewPhone
from browser.day_steps import screen
from browser.limb_steps import stored
from browser.phone import shows, tap
from playwright.sync_api import Page, expect


def choose(page: Page, name: str) -> None:
    """Pick a radio by its name."""
    page.get_by_role("radio", name=name, exact=True).check(force=True)


def test_nothing_waits_for_it(phone: Page) -> None:
    expect(phone.get_by_role("region", name="New here?")).to_contain_text("nobody is watching what you enter")
    tap(phone, 3)
    shows(phone, 3)


def test_a_leg_its_fit_socks_and_clinic_in_fifteen_taps(phone: Page) -> None:
    phone.get_by_role("link", name="Set up").click()
    choose(phone, "Left")
    choose(phone, "Below the knee")
    phone.get_by_role("button", name="Liner with pin").click()
    phone.get_by_role("button", name="Next: fit and socks").click()
    phone.get_by_role("button", name="Dial").click()
    for _ in range(2):
        phone.get_by_role("button", name="One 1 ply more").click()
    phone.get_by_role("button", name="One 5 ply more").click()
    phone.get_by_role("button", name="Next: your clinic").click()
    phone.get_by_label("Clinic’s number").fill("+351 21 000 0000")
    expect(phone.get_by_text("It does not diagnose and does not tell you how many socks to wear.")).to_be_attached()
    phone.get_by_role("button", name="Start").click()
    tap(phone, 5)
    shows(phone, 5)
    expect(phone.get_by_role("region", name="New here?")).to_have_count(0)
    (profile,) = stored(phone, "profile")
    assert profile["body"]["limbs"] == [
        {"side": "left", "level": "transtibial", "suspension": ["pin_lock"], "fitted_by": ["socks", "dial"]}
    ]
    assert profile["body"]["clinic_phone"] == "+351 21 000 0000"
    assert sorted((e["body"]["ply"], e["body"]["count"]) for e in stored(phone, "sock")) == [(1, 2), (5, 1)]
    assert [e["limb"] for e in stored(phone, "don")] == ["left"]


def test_every_page_can_be_skipped_and_nothing_is_made_up(phone: Page) -> None:
    phone.get_by_role("link", name="Set up").click()
    for n in (1, 2, 3):
        expect(phone.get_by_text(f"{n} of 3")).to_be_visible()
        phone.get_by_role("button", name="Skip").click()
    expect(phone.get_by_role("button", name="1 ply on")).to_be_visible()
    assert stored(phone, "profile") == []
    assert stored(phone, "sock") == []


def test_what_was_logged_before_goes_to_the_only_leg_there_is(phone: Page) -> None:
    tap(phone, 4)  # with Right shown, before anyone was asked
    screen(phone, "first", "Your leg")
    choose(phone, "Left")
    choose(phone, "Above the knee")
    phone.get_by_role("button", name="Next: fit and socks").click()
    screen(phone, "today", "")
    shows(phone, 4)
    assert [e["limb"] for e in stored(phone, "don")] == ["left"]


def test_both_legs_are_asked_about_apart(phone: Page) -> None:
    screen(phone, "first", "Your leg")
    choose(phone, "Both")
    phone.get_by_role("radiogroup", name="Where does the left limb end?").get_by_role(
        "radio", name="Below the knee"
    ).check(force=True)
    phone.get_by_role("radiogroup", name="Where does the right limb end?").get_by_role(
        "radio", name="Through the knee"
    ).check(force=True)
    phone.get_by_role("button", name="Next: fit and socks").click()
    expect(phone.get_by_text("2 of 3")).to_be_visible()
    assert [(limb["side"], limb["level"]) for limb in stored(phone, "profile")[0]["body"]["limbs"]] == [
        ("left", "transtibial"),
        ("right", "knee_disarticulation"),
    ]


def test_it_can_be_done_again_and_changes_only_what_is_changed(phone: Page) -> None:
    screen(phone, "first/2", "Fit and socks")
    phone.get_by_role("button", name="One 3 ply more").click()
    phone.get_by_role("button", name="Next: your clinic").click()
    expect(phone.get_by_text("3 of 3")).to_be_visible()
    screen(phone, "first/2", "Fit and socks")
    count = phone.get_by_role("group", name="3 ply", exact=True)
    expect(count.get_by_role("status")).to_have_text("1")
    count.get_by_role("button", name="One 3 ply more").click()
    phone.get_by_role("button", name="Next: your clinic").click()
    expect(phone.get_by_text("3 of 3")).to_be_visible()
    assert [(e["body"]["ply"], e["body"]["count"]) for e in stored(phone, "sock")] == [(3, 2)]


def test_it_is_done_offline_and_by_keyboard(new_phone: NewPhone) -> None:
    phone = new_phone(has_touch=False, is_mobile=False)
    expect(phone.get_by_role("region", name="New here?")).to_be_visible()
    screen(phone, "first", "Your leg")
    phone.context.set_offline(True)
    phone.get_by_role("radio", name="Left", exact=True).focus()
    phone.keyboard.press("ArrowRight")
    expect(phone.get_by_role("radio", name="Right", exact=True)).to_be_checked()
    phone.keyboard.press("Tab")
    phone.keyboard.press("Space")
    expect(phone.get_by_role("radio", name="Below the knee")).to_be_checked()
    next_page = phone.get_by_role("button", name="Next: fit and socks")
    next_page.focus()
    phone.keyboard.press("Enter")
    expect(phone.get_by_role("heading", level=1, name="Fit and socks")).to_be_focused()
    (profile,) = stored(phone, "profile")
    assert profile["body"]["limbs"] == [{"side": "right", "level": "transtibial", "suspension": []}]
    assert re.match(r"[0-9a-f-]{36}", profile["id"])
