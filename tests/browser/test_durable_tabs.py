"""What browsers do to tabs: killed, frozen, their database taken away. What was said to be saved is there afterwards,
once, and what could not be saved is not lost either.

Beside these: test_log_offline.py (a full phone, cleared and closed storage), test_sync_two_devices.py (a server that
never answers, a clock that is years off), test_install.py (a new version while something is typed).
"""

from __future__ import annotations

from contextlib import suppress

from browser.conftest import NewPhone
from browser.limb_steps import stored
from browser.phone import all_sent, pair, says, shows, tap, until, wake
from browser.plytide_server import Server
from playwright.sync_api import Error, Page, expect


def paired(new_phone: NewPhone, server: Server, logbook: str) -> Page:
    """A phone of the logbook."""
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    return phone


def test_a_tab_killed_in_the_moment_it_says_saved_has_kept_the_check(new_phone: NewPhone, server: Server) -> None:
    phone = new_phone("/#/skin/left")
    phone.get_by_role("button", name="All clear").click()
    until(phone, "document.body.textContent.includes('All clear. Saved on this phone')")
    with phone.expect_event("crash"), suppress(Error):  # the renderer dies without a word; so does the command's answer
        phone.goto("chrome://crash")
    again = phone.context.new_page()
    again.goto(server.url)
    expect(again.get_by_role("heading", level=1)).to_be_visible()
    assert [entry["body"]["clear"] for entry in stored(again, "skin")] == [True]


def test_a_frozen_tab_holds_nobody_up_and_sends_nothing_twice(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    one = paired(new_phone, server, logbook)
    two = one.context.new_page()
    two.goto(server.url)
    tap(one, 2)
    shows(two, 2)
    session = one.context.new_cdp_session(one)
    session.send("Page.setWebLifecycleState", {"state": "frozen"})
    two.get_by_role("button", name="Take off").click()
    all_sent(two)  # the entry of the frozen tab too, whose own turn to send never came
    assert [entry.kind for entry in server.live(logbook)] == ["don", "doff"]
    session.send("Page.setWebLifecycleState", {"state": "active"})
    expect(one.get_by_text("2 ply before that.")).to_be_visible()
    wake(one)
    all_sent(one)
    assert [(entry.kind, entry.body.get("total")) for entry in server.live(logbook)] == [("don", 2), ("doff", None)]


def test_what_an_old_tab_cannot_save_any_more_still_reaches_the_server(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = paired(new_phone, server, logbook)
    newer = phone.context.new_page()
    newer.goto(server.url + "/healthz")
    newer.evaluate("""new Promise((done) => {
        const open = indexedDB.open("plytide", 2);  // as a later version of the page will
        open.onsuccess = () => { open.result.close(); done(); };
    })""")
    tap(phone, 3)
    expect(phone.get_by_text("Not saved.")).to_be_visible()
    says(phone, "waiting")
    phone.goto("about:blank")
    for _ in range(100):
        if server.live(logbook):
            break
        phone.wait_for_timeout(50)
    assert [entry.body["total"] for entry in server.live(logbook)] == [3]
