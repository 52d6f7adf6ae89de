"""The sock drawer, what makes a total, and packing: the sums are those of tests/vectors/stacks.json."""

from __future__ import annotations

import re

from browser.day_steps import Wearer, screen
from browser.limb_steps import entry, profile, put, stored
from browser.phone import all_sent, pair
from browser.plytide_server import Server
from playwright.sync_api import Page, expect


def with_socks(page: Page) -> None:
    socks = [("Grey five", 5, 2), ("Three", 3, 1), ("One", 1, 2)]
    put(page, [profile(), *(entry("sock", None, {"name": n, "ply": p, "count": c}, 60) for n, p, c in socks)])
    page.reload()


def test_a_sock_is_entered_changed_and_taken_out(phone: Page) -> None:
    put(phone, [profile()])
    phone.reload()
    screen(phone, "socks/new", "New sock")
    phone.get_by_label("Your own mark").fill("red thread")
    phone.get_by_role("button", name="Save").click()
    phone.get_by_role("link", name=re.compile("3 ply")).click()
    phone.get_by_text("In the wash").click()
    phone.get_by_role("button", name="Save").click()
    expect(phone.get_by_role("heading", name="In the wash")).to_be_visible()
    phone.get_by_role("button", name="All washed: ready").click()
    expect(phone.get_by_role("heading", name="Ready")).to_be_visible()
    phone.wait_for_timeout(200)
    body = stored(phone, "sock")[0]["body"]
    assert (body["ply"], body["mark"], body["state"]) == (3, "red thread", "ready")


def test_a_total_is_made_with_the_fewest_layers(phone: Page) -> None:
    # One 5 and one 3 rather than 5+1+1+... : fewer layers, fewer wrinkles (handouts, read).
    with_socks(phone)
    screen(phone, "socks", "Socks")
    fives = phone.get_by_role("list", name="Ways to make 5 ply").get_by_role("listitem")
    expect(fives.first).to_contain_text("1 layer")
    for _ in range(3):
        phone.get_by_role("button", name="1 ply on").click()
    first = phone.get_by_role("list", name="Ways to make 8 ply").get_by_role("listitem").first
    expect(first).to_contain_text("5 + 3")


def test_packing_without_a_reading_says_so_and_still_adds_up(phone: Page) -> None:
    with_socks(phone)
    screen(phone, "pack", "Pack")
    expect(phone.get_by_text("No forecast yet")).to_be_visible()
    expect(phone.get_by_role("list", name="Take along").get_by_role("listitem").first).to_be_visible()


def test_packing_rests_on_the_forecast_and_offline_too(new_phone, server: Server, logbook: str) -> None:  # type: ignore[no-untyped-def]
    wearer = Wearer()
    wearer.drawer()
    wearer.month()
    wearer.on_server(server, logbook)
    phone = new_phone(timezone_id=wearer.zone)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    screen(phone, "pack", "Pack")
    phone.get_by_text("Tomorrow").click()
    expect(phone.get_by_text(re.compile("days of this fit"))).to_be_visible(timeout=15_000)
    with server.down():
        screen(phone, "pack", "Pack")
        expect(phone.get_by_role("heading", name="Take along")).to_be_visible()


def test_a_trip_is_planned_and_a_wet_one_gets_a_spare(phone: Page) -> None:
    with_socks(phone)
    put(phone, [entry("don", "left", {"total": 5, "socks": None}, 30)])
    phone.reload()
    screen(phone, "pack", "Pack")
    phone.get_by_text("A trip").click()
    phone.get_by_role("checkbox", name="Water, rain or sweat likely").check()
    phone.get_by_role("button", name="Save").click()
    expect(phone.get_by_text("spare, in case the first gets wet").first).to_be_visible()
    assert stored(phone, "trip")[0]["body"]["water"] is True
