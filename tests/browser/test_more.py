"""More and the way between screens: everything is reached, back leads back, what cannot be fetched is said."""

from __future__ import annotations

import re
from datetime import UTC, datetime

from browser.conftest import NewPhone
from browser.day_steps import Wearer, screen
from browser.phone import kept, separate_taps, shows, tap
from playwright.sync_api import Page, Route, expect


def test_every_screen_listed_opens_and_leads_back(phone: Page) -> None:
    screen(phone, "more", "More")
    links = phone.locator(".rows a")
    addresses = [link.get_attribute("href") or "" for link in links.all()]
    names = [link.locator(".what").inner_text().split("\n")[0] for link in links.all()]
    assert len(addresses) >= 10
    assert len(set(addresses)) == len(addresses)
    for address, name in zip(addresses, names, strict=True):
        screen(phone, address.removeprefix("#/"), re.compile(".+"))  # type: ignore[arg-type]
        expect(phone.get_by_role("heading", level=1)).to_be_focused()
        assert phone.title().endswith("· Plytide"), name
        expect(phone.get_by_role("link", name=re.compile("^Back to|^More$|^Today$")).first).to_be_visible()
        screen(phone, "more", "More")


def test_an_address_that_is_no_screen_shows_today(phone: Page) -> None:
    phone.evaluate("location.hash = '#/nowhere/at/all'")
    expect(phone.get_by_role("button", name="1 ply on")).to_be_visible()


def test_the_browsers_back_button_goes_back_a_screen(phone: Page) -> None:
    screen(phone, "more", "More")
    phone.get_by_role("link", name=re.compile("^Settings")).click()
    expect(phone.get_by_role("heading", level=1, name="Settings")).to_be_visible()
    phone.go_back()
    expect(phone.get_by_role("heading", level=1, name="More")).to_be_visible()


def test_every_screen_opens_offline_once_the_page_is_kept(phone: Page) -> None:
    kept(phone)
    phone.context.set_offline(True)
    phone.reload()
    screen(phone, "more", "More")
    screen(phone, "settings", "Settings")
    screen(phone, "about", "About and limits")


def test_a_screen_that_cannot_be_fetched_says_so_and_can_be_tried_again(new_phone: NewPhone) -> None:
    phone = new_phone("/healthz", service_workers="block")
    lost: list[str] = []

    def lose(route: Route) -> None:
        lost.append(route.request.url)
        route.abort()

    phone.context.route(re.compile(r"/assets/(table|rest)-"), lose)
    phone.goto(phone.url.replace("/healthz", "/"))
    tap(phone, 2)
    phone.get_by_role("link", name="More").click()
    expect(phone.get_by_role("alert")).to_contain_text("Your entries are safe.")
    assert lost
    phone.context.unroute_all()
    phone.get_by_role("button", name="Try again").click()
    expect(phone.get_by_role("heading", level=1, name="More")).to_be_visible()


def test_a_part_of_today_that_cannot_be_fetched_says_so_and_comes_at_a_tap(new_phone: NewPhone) -> None:
    phone = new_phone("/healthz", service_workers="block")
    phone.context.route(re.compile(r"/assets/(beside|sync)-"), lambda route: route.abort())
    phone.goto(phone.url.replace("/healthz", "/"))
    expect(phone.get_by_role("alert")).to_contain_text("could not be fetched. Your entries are safe.")
    tap(phone, 2)
    shows(phone, 2)
    phone.context.unroute_all()
    phone.get_by_role("button", name="Try again").click()
    expect(phone.get_by_role("radiogroup", name="Which side")).to_be_visible()
    expect(phone.get_by_role("alert")).to_be_hidden()


def test_where_a_newer_page_has_taken_the_place_of_a_file_it_is_opened(new_phone: NewPhone) -> None:
    phone = new_phone("/", service_workers="block")
    asked: list[str] = []

    def gone(route: Route) -> None:
        asked.append(route.request.url)
        if len(asked) > 2:  # by then it is the newer page that asks
            route.continue_()
        else:
            route.fulfill(status=404)

    phone.context.route(re.compile(r"/assets/table-"), gone)
    phone.get_by_role("link", name="More").click()
    expect(phone.get_by_role("alert")).to_be_visible()
    with phone.expect_event("load"):
        phone.get_by_role("button", name="Try again").click()
    expect(phone.get_by_role("heading", level=1, name="More")).to_be_visible()


def test_the_log_of_a_day_lists_it_all_and_turns_to_other_days(new_phone: NewPhone) -> None:
    wearer = Wearer()
    five, three, _ = wearer.drawer()
    wearer.add(-1, 8, "don", total=5, socks=[five])
    wearer.add(-1, 12, "ply", total=8, socks=[five, three], why="loose")
    wearer.add(-1, 15, "sore", height=0.6, angle=10, intensity=4, feel="rub")
    wearer.add(-1, 20, "doff")
    wearer.add(-1, 21, "skin", clear=True, findings=[])
    wearer.add(-1, 21.1, "comfort", score=7)
    wearer.add(-1, 21.2, "note", text="A long walk.")
    wearer.worn(0, (8, 5), off=None)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    screen(phone, "day", "Day’s log")
    expect(phone.get_by_role("main").get_by_role("listitem")).to_have_count(1)
    phone.get_by_role("link", name="Day before").click()
    rows = phone.get_by_role("main").get_by_role("listitem")
    expect(rows).to_have_text(
        [
            re.compile("08:00.*Put on, 5 ply"),
            re.compile(r"12:00.*8 ply.*5 \+ 3, Loose"),
            re.compile("15:00.*Sore, 4 of 10.*rubbing"),
            re.compile("20:00.*Taken off"),
            re.compile("21:00.*Skin check: clear"),
            re.compile("21:06.*Comfort 7 of 10"),
            re.compile("21:12.*Note.*A long walk."),
        ]
    )
    phone.get_by_role("link", name="Day after").click()
    expect(phone.get_by_role("main").get_by_role("listitem")).to_have_count(1)
    screen(phone, "day/2031-02-30", "Day’s log")  # no such day
    expect(phone.get_by_role("heading", level=1)).to_be_visible()


def test_an_entry_the_server_sent_back_is_listed_with_its_reason_until_put_right(new_phone: NewPhone) -> None:
    phone = new_phone(service_workers="block")

    def refuse(route: Route) -> None:
        asked = route.request.post_data_json or {}
        refused = {"r": "refused", "code": "bad_time", "why": "The time of the entry is outside 1970 to 2200."}
        results = [{"id": e["id"], "stamp": e["stamp"], **refused} for e in asked["entries"]]
        route.fulfill(
            json={
                "epoch": "0" * 8, "cursor": 0, "more": False, "now": datetime.now(UTC).isoformat(), "results": results,
                "entries": [], "summary": None,
            }
        )  # fmt: skip

    phone.context.route("**/api/sync", refuse)
    phone.context.route("**/api/pair", lambda route: route.fulfill(json={"logbook": "a", "device": "b"}))
    phone.context.route("**/api/devices", lambda route: route.fulfill(json={"devices": []}))
    screen(phone, "pair/K7QM-4XTD", "Other devices and server")
    phone.get_by_role("button", name=re.compile("^Pair")).click()
    screen(phone, "today", "")
    tap(phone, 4)
    trouble = phone.get_by_role("alert").filter(has_text="1 entry refused.")
    expect(trouble).to_contain_text("The time of the entry is outside 1970 to 2200.", timeout=15_000)
    expect(phone.locator(".level .number")).to_have_text("4")  # it is kept, and shown
    trouble.get_by_role("link", name="Look").click()
    expect(phone.get_by_role("heading", level=1, name="Needs attention")).to_be_visible()
    expect(phone.get_by_text("They are safe on this phone.")).to_be_visible()
    phone.get_by_role("link", name="Fix the time").click()
    phone.get_by_role("group", name="Total ply").get_by_role("button", name="1 ply on").click()
    phone.context.unroute("**/api/sync")
    phone.get_by_role("button", name="Save").click()
    expect(phone.get_by_role("alert").filter(has_text="refused")).to_have_count(0)
    separate_taps(phone)
