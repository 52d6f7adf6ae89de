"""Links that log: `/?log=up` opens the page, which then logs on the phone; a second within a minute asks."""

from __future__ import annotations

import re

from browser.conftest import NewPhone
from browser.day_steps import Wearer
from browser.limb_steps import stored
from browser.phone import all_sent, kept, pair, shows, tap
from browser.plytide_server import Server
from playwright.sync_api import Page, expect


def wearing(new_phone: NewPhone, off: float | None = None) -> Page:
    """A phone whose wearer has 8 ply on since 12:00, or has taken the leg off."""
    wearer = Wearer()
    wearer.worn(0, (8, 5), (12, 8), off=off)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    return phone


def follow(phone: Page, what: str) -> None:
    """Open the link as a tag or a shortcut does: a whole new load of the page."""
    stored(phone, "ply")  # shown at once, kept when its transaction is complete: no sooner is this page left
    phone.goto(phone.url.split("#")[0].split("?")[0] + f"?log={what}")


def test_a_link_logs_once_and_a_reload_does_not_log_again(new_phone: NewPhone) -> None:
    phone = wearing(new_phone)
    follow(phone, "up")
    shows(phone, 9)
    assert "log=" not in phone.url
    stored(phone, "ply")
    phone.reload()
    shows(phone, 9)
    assert [e["body"]["total"] for e in stored(phone, "ply")] == [8, 9]


def test_the_same_link_within_a_minute_asks_and_no_means_nothing(new_phone: NewPhone) -> None:
    phone = wearing(new_phone)
    follow(phone, "up")
    shows(phone, 9)
    follow(phone, "up")
    asked = phone.get_by_role("alertdialog", name="From the link")
    expect(asked).to_contain_text("The same was logged less than a minute ago.")
    shows(phone, 9)
    asked.get_by_role("button", name="No").click()
    expect(asked).to_be_hidden()
    shows(phone, 9)


def test_the_same_link_within_a_minute_logs_after_a_yes(new_phone: NewPhone) -> None:
    phone = wearing(new_phone)
    follow(phone, "down")
    shows(phone, 7)
    follow(phone, "down")
    phone.get_by_role("button", name="Yes, log it").click()
    shows(phone, 6)


def test_a_link_for_ply_with_the_leg_off_logs_nothing_and_says_so(new_phone: NewPhone) -> None:
    phone = wearing(new_phone, off=12.5)
    follow(phone, "up")
    expect(phone.get_by_role("alertdialog")).to_contain_text("the leg is off. Nothing was logged.")
    assert [e["body"]["total"] for e in stored(phone, "ply")] == [8]


def test_links_put_on_and_take_off(new_phone: NewPhone) -> None:
    phone = wearing(new_phone)
    follow(phone, "off")
    expect(phone.locator(".level .number")).to_have_text("off")
    follow(phone, "on")
    shows(phone, 8)


def test_links_open_the_sore_spot_and_the_skin_check(new_phone: NewPhone) -> None:
    phone = wearing(new_phone)
    follow(phone, "sore")
    expect(phone.get_by_role("heading", level=1, name="Sore spot")).to_be_visible()
    follow(phone, "skin")
    expect(phone.get_by_role("heading", level=1, name="Skin check")).to_be_visible()


def test_a_link_works_offline(new_phone: NewPhone) -> None:
    phone = wearing(new_phone)
    kept(phone)
    phone.context.set_offline(True)
    follow(phone, "up")
    shows(phone, 9)


def test_opening_the_address_writes_nothing_on_the_server(new_phone: NewPhone, server: Server, logbook: str) -> None:
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    tap(phone, 5)
    all_sent(phone)
    cookies = {cookie["name"]: cookie["value"] for cookie in phone.context.cookies()}
    before = server.live(logbook)
    asked = phone.context.request.get(f"{server.url}/?log=up")  # with the phone's cookie, but no page to run
    assert asked.ok
    assert cookies
    assert server.live(logbook) == before


def test_what_is_not_a_link_of_ours_is_passed_over(new_phone: NewPhone) -> None:
    phone = wearing(new_phone)
    follow(phone, "everything")
    shows(phone, 8)
    expect(phone.get_by_role("alertdialog")).to_have_count(0)
    expect(phone.locator(".undo")).to_contain_text(re.compile("^Last: 3 ply on"))
