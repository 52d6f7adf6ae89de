"""The day an entry belongs to: on the night the clocks go back, and on a journey across zones."""

from __future__ import annotations

import re
from datetime import datetime

from browser.conftest import NewPhone
from browser.day_steps import screen
from browser.limb_steps import stored
from browser.phone import shows, tap
from playwright.sync_api import Page, expect


def at(phone: Page, moment: str) -> None:
    """Time goes on to `moment` (UTC), by the phone's clock."""
    phone.clock.set_system_time(datetime.fromisoformat(moment))


def listed(phone: Page, day: str, *rows: str) -> None:
    """The log of that day has just these rows, in this order."""
    screen(phone, f"day/{day}", "Day’s log")
    expect(phone.get_by_role("main").get_by_role("listitem")).to_have_text([re.compile(row) for row in rows])


def test_the_hour_that_comes_twice_keeps_both_its_entries_in_order_and_on_the_evenings_day(
    new_phone: NewPhone,
) -> None:
    # In Berlin 03:00 summer time became 02:00 on 25 October 2026: 00:30 and 01:30 UTC are both half past two there
    # (tz database, rule EU: last Sunday of October, 01:00 UTC). A day begins at 04:00 by the wall: at 03:00 UTC.
    phone = new_phone("/healthz", timezone_id="Europe/Berlin")
    phone.clock.install(time=datetime.fromisoformat("2026-10-25T00:30:00Z"))
    phone.goto(phone.url.removesuffix("healthz"))
    tap(phone, 2)
    shows(phone, 2)
    for moment, total in (("2026-10-25T01:30:00Z", 3), ("2026-10-25T02:59:00Z", 4), ("2026-10-25T03:01:00Z", 5)):
        at(phone, moment)
        tap(phone, 1)
        shows(phone, total)
    listed(phone, "2026-10-24", "02:30.*Put on, 2 ply", "02:30.*3 ply", "03:59.*4 ply")
    listed(phone, "2026-10-25", "04:01.*5 ply")
    phone.reload()
    listed(phone, "2026-10-25", "04:01.*5 ply")
    assert [e["at"][11:16] for e in stored(phone, "don") + stored(phone, "ply")] == ["00:30", "01:30", "02:59", "03:01"]


def test_a_day_that_began_in_lisbon_and_ends_in_new_york_is_one_day(new_phone: NewPhone) -> None:
    phone = new_phone("/healthz")
    session = phone.context.new_cdp_session(phone)
    session.send("Emulation.setTimezoneOverride", {"timezoneId": "Europe/Lisbon"})
    phone.clock.install(time=datetime.fromisoformat("2026-06-10T08:00:00Z"))
    phone.goto(phone.url.removesuffix("healthz"))
    tap(phone, 5)
    shows(phone, 5)
    session.send("Emulation.setTimezoneOverride", {"timezoneId": "America/New_York"})
    phone.wait_for_timeout(1100)  # the zone is asked for once a second
    at(phone, "2026-06-10T20:00:00Z")
    tap(phone, 1)
    shows(phone, 6)
    at(phone, "2026-06-11T03:30:00Z")  # half past four of the next morning in Lisbon, half past eleven at night here
    tap(phone, 1)
    shows(phone, 7)
    listed(phone, "2026-06-10", "09:00.*Put on, 5 ply", "16:00.*6 ply", "23:30.*7 ply")
    listed(phone, "2026-06-11")
    phone.reload()
    screen(phone, "today", "")
    shows(phone, 7)
    zones = [entry["zone"] for entry in stored(phone, "don") + stored(phone, "ply")]
    assert zones == ["Europe/Lisbon", "America/New_York", "America/New_York"]
