"""The pairing screen: a code typed or carried by the address, what is sent, what goes wrong, the devices."""

from __future__ import annotations

import re

from browser.conftest import NewPhone
from browser.day_steps import screen
from browser.phone import all_sent, pair, separate_taps, shows, tap
from browser.plytide_server import Server
from playwright.sync_api import Page, expect

TITLE = "Other devices and server"


def try_code(phone: Page, code: str) -> None:
    """Type a code and send it."""
    phone.get_by_label("Pairing code").fill(code)
    phone.get_by_role("button", name=re.compile("^Pair")).click()


def said(phone: Page, text: str | re.Pattern[str]) -> None:
    """What came of it, on the screen and to a screen reader."""
    expect(phone.get_by_role("status").filter(has_text=text).first).to_be_visible(timeout=15_000)


def test_it_says_first_what_will_be_sent_and_sends_it_after_the_button(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = new_phone()
    tap(phone, 4)
    separate_taps(phone)
    tap(phone, 1)
    screen(phone, "pair", TITLE)
    expect(phone.get_by_text("This logbook is on this phone only.")).to_be_visible()
    expect(phone.get_by_text("2 entries on this phone will go to the server.")).to_be_visible()
    assert server.live(logbook) == []
    phone.get_by_label("Pairing code").fill(server.code(logbook))
    phone.get_by_role("button", name="Pair and send").click()
    said(phone, "Everything is on the server.")
    assert [(e.kind, e.body["total"]) for e in server.live(logbook)] == [("don", 4), ("ply", 5)]


def test_the_address_carries_the_code_and_still_asks(new_phone: NewPhone, server: Server, logbook: str) -> None:
    code = server.code(logbook)
    phone = new_phone(f"/#/pair/{code}")
    expect(phone.get_by_label("Pairing code")).to_have_value(re.compile(r"^\w{4}-\w{4}$"))
    expect(phone.get_by_text("Nothing is on this phone yet; the server’s log will come here.")).to_be_visible()
    phone.get_by_role("button", name="Pair", exact=True).click()
    said(phone, "Everything is on the server.")
    expect(phone).to_have_url(re.compile("#/pair$"))  # a used code is not left lying in the address


def test_a_code_is_read_as_people_write_it(new_phone: NewPhone, server: Server, logbook: str) -> None:
    code = server.code(logbook)
    phone = new_phone()
    screen(phone, "pair", TITLE)
    try_code(phone, code.lower().replace("-", " ").replace("0", "o").replace("1", "l"))
    said(phone, "Everything is on the server.")


def test_a_short_code_is_not_sent(phone: Page) -> None:
    screen(phone, "pair", TITLE)
    try_code(phone, "K7Q")
    said(phone, "A code has 8 letters and digits")


def test_a_wrong_code_counts_down_and_then_locks(new_phone: NewPhone, server: Server, logbook: str) -> None:
    code = server.code(logbook)
    wrong = code[:-1] + ("2" if code[-1] != "2" else "3")
    phone = new_phone()
    screen(phone, "pair", TITLE)
    try_code(phone, wrong)
    said(phone, re.compile("That code is not right"))
    for _ in range(4):
        phone.wait_for_timeout(600)  # taps closer than half a second are one
        try_code(phone, wrong)
    phone.wait_for_timeout(600)
    try_code(phone, code)
    said(phone, re.compile("Ask for a new (code|one)"))
    assert server.live(logbook) == []


def test_a_used_code_is_told_apart(new_phone: NewPhone, server: Server, logbook: str) -> None:
    code = server.code(logbook)
    one, two = new_phone(), new_phone()
    pair(one, server.url, code)
    screen(two, "pair", TITLE)
    try_code(two, code)
    said(two, re.compile("was used already|not right"))


def test_without_an_answer_nothing_is_lost(new_phone: NewPhone, server: Server, logbook: str) -> None:
    phone = new_phone()
    tap(phone, 3)
    screen(phone, "pair", TITLE)
    phone.context.set_offline(True)
    try_code(phone, server.code(logbook))
    said(phone, "The server did not answer. Your entries are safe.")
    screen(phone, "today", "")
    shows(phone, 3)


def test_a_code_of_another_logbook_is_refused_and_nothing_of_this_phone_is_sent(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    tap(phone, 2)
    all_sent(phone)
    strangers = server.new_logbook()
    screen(phone, f"pair/{server.code(strangers)}", TITLE)
    phone.get_by_role("button", name="Pair", exact=True).click()
    said(phone, "That code belongs to another logbook.")
    assert server.live(strangers) == []


def test_a_second_device_is_added_with_a_code_made_here_and_gets_the_whole_log(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    one, two = new_phone(), new_phone()
    pair(one, server.url, server.code(logbook))
    tap(one, 6)
    all_sent(one)
    screen(one, "pair", TITLE)
    one.get_by_role("button", name="Add a device").click()
    code = one.locator(".code-large").inner_text()
    assert re.fullmatch(r"[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}", code)  # Crockford's base 32
    expect(one.get_by_text("Works once, until")).to_be_visible()
    expect(one.get_by_role("img", name="The same as a square to scan")).to_be_visible()
    pair(two, server.url, code)
    shows(two, 6)


def test_a_device_is_removed_after_asking_keeps_its_log_and_can_come_back(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    one, two = new_phone(), new_phone()
    pair(one, server.url, server.code(logbook))
    pair(two, server.url, server.code(logbook))
    screen(one, "pair", TITLE)
    devices = one.get_by_role("list", name="Devices of this logbook")
    expect(devices.get_by_role("listitem")).to_have_count(2)
    expect(devices.get_by_role("listitem").filter(has_text="this device").get_by_role("button")).to_have_count(0)
    devices.get_by_role("button").click()
    one.get_by_role("alertdialog").get_by_role("button", name="Cancel").click()
    expect(devices.get_by_role("listitem")).to_have_count(2)
    devices.get_by_role("button").click()
    one.get_by_role("button", name="Yes, remove").click()
    expect(devices.get_by_role("listitem")).to_have_count(1)
    tap(two, 4)
    says_again = two.get_by_role("status").filter(has_text="safe here; pair again to send")
    expect(says_again.first).to_be_attached(timeout=15_000)
    shows(two, 4)
    assert server.live(logbook) == []
    pair(two, server.url, server.code(logbook))
    all_sent(two)
    assert [e.body["total"] for e in server.live(logbook)] == [4]
