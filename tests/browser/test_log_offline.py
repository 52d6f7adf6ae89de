"""The log without a network: it works from the first second, and what it said is saved is there afterwards."""

from __future__ import annotations

from contextlib import suppress

from browser.conftest import NewPhone
from browser.phone import all_sent, fresh, kept, pair, separate_taps, shows, tap, until, waits, wake
from browser.plytide_server import Server
from playwright.sync_api import Error, Page, Route, expect


def test_an_unpaired_phone_is_a_logbook_of_its_own(phone: Page) -> None:
    tap(phone, 3)
    shows(phone, 3)
    phone.reload()
    shows(phone, 3)
    expect(phone.get_by_role("status").filter(has_text="on this phone only").first).to_be_attached()


def test_taps_offline_outlive_a_reload_offline_and_are_sent_when_the_network_is_back(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    kept(phone)
    phone.context.set_offline(True)
    with server.down():
        tap(phone, 4)
        shows(phone, 4)
        waits(phone, 1)
        phone.reload()
        shows(phone, 4)
        separate_taps(phone)
        tap(phone, 1, "1 ply off")
        shows(phone, 3)
        assert server.live(logbook) == []
    phone.context.set_offline(False)
    wake(phone)
    all_sent(phone)
    assert [(e.kind, e.body["total"]) for e in server.live(logbook)] == [("don", 4), ("ply", 3)]


def test_a_tab_killed_straight_after_a_tap_keeps_it(new_phone: NewPhone, server: Server) -> None:
    phone = new_phone()
    tap(phone, 2)
    shows(phone, 2)
    phone.wait_for_timeout(300)  # what a tap takes to be saved, with room for a busy machine
    with phone.expect_event("crash"), suppress(Error):  # the renderer dies without a word; so does the command's answer
        phone.goto("chrome://crash")
    again = phone.context.new_page()
    again.goto(server.url)
    shows(again, 2)


def test_what_is_tapped_before_the_script_has_come_is_logged(new_phone: NewPhone, server: Server) -> None:
    phone = new_phone("/healthz", service_workers="block")  # a first visit: nothing is on the phone yet
    held: list[Route] = []
    phone.context.route("**/assets/main-*.js", lambda route: held.append(route))
    phone.goto(server.url, wait_until="commit")
    phone.get_by_role("button", name="1 ply on").click()
    phone.get_by_role("button", name="1 ply on").click()
    assert held, "the script was not held back"
    held[0].continue_()
    shows(phone, 2)


def test_the_second_tab_shows_what_the_first_logs_and_both_are_right(phone: Page, server: Server) -> None:
    other = phone.context.new_page()
    other.goto(server.url)
    fresh(other)
    tap(phone, 2)
    shows(other, 2)
    separate_taps(phone)
    tap(other, 1)
    shows(phone, 3)
    phone.reload()
    shows(phone, 3)


def test_storage_that_was_cleared_comes_back_from_the_server(new_phone: NewPhone, server: Server, logbook: str) -> None:
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    tap(phone, 5)
    all_sent(phone)
    session = phone.context.new_cdp_session(phone)
    kinds = "indexeddb,cache_storage,service_workers,local_storage"  # eviction takes these; the cookie stays
    session.send("Storage.clearDataForOrigin", {"origin": server.url, "storageTypes": kinds})
    phone.reload()
    shows(phone, 5)
    all_sent(phone)


def test_a_database_closed_under_the_page_is_opened_again(phone: Page, server: Server) -> None:
    tap(phone, 1)
    shows(phone, 1)
    session = phone.context.new_cdp_session(phone)
    session.send("Storage.clearDataForOrigin", {"origin": server.url, "storageTypes": "indexeddb"})
    separate_taps(phone)
    tap(phone, 1)
    phone.reload()
    shows(phone, 2)


def test_a_full_phone_says_so_and_keeps_the_entry_until_there_is_room(phone: Page, server: Server) -> None:
    session = phone.context.new_cdp_session(phone)
    session.send("Storage.overrideQuotaForOrigin", {"origin": server.url, "quotaSize": 1000})
    tap(phone, 2)
    expect(phone.get_by_text("Not saved.")).to_be_visible()
    expect(phone.get_by_text("The phone is full.")).to_be_visible()
    shows(phone, 2)
    session.send("Storage.overrideQuotaForOrigin", {"origin": server.url})
    phone.get_by_role("button", name="Try again").click()
    expect(phone.get_by_text("Not saved.")).to_be_hidden()
    phone.reload()
    shows(phone, 2)


def test_a_newer_page_in_another_tab_can_change_the_database_and_the_old_one_says_what_it_cannot_save(
    phone: Page, server: Server
) -> None:
    tap(phone, 1)
    shows(phone, 1)
    newer = phone.context.new_page()
    newer.goto(server.url + "/healthz")
    done = newer.evaluate("""new Promise((done) => {
        const open = indexedDB.open("plytide", 2);  // as a later version of the page will
        open.onsuccess = () => done("changed");
        open.onblocked = () => done("blocked");
    })""")
    assert done == "changed"
    separate_taps(phone)
    tap(phone, 1)
    expect(phone.get_by_text("Not saved.")).to_be_visible()
    shows(phone, 2)


def test_storage_that_does_not_answer_is_told_and_taps_stay_on_screen(new_phone: NewPhone, server: Server) -> None:
    holder = new_phone("/healthz")
    holder.evaluate("""new Promise((done) => {
        const open = indexedDB.open("plytide", 1);
        open.onupgradeneeded = () => {  // an upgrade that does not end keeps everybody else waiting
            const again = () => { store.get(0).onsuccess = again; };
            const store = open.result.createObjectStore("held");
            again();
            done();
        };
    })""")
    phone = holder.context.new_page()
    phone.goto(server.url)
    expect(phone.get_by_text("The phone’s storage does not answer.")).to_be_visible(timeout=15_000)
    tap(phone, 2)
    shows(phone, 2)


def test_the_full_log_of_a_phone_never_paired_goes_to_rest_and_is_carried_over_whole(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = new_phone()
    shown = phone.evaluate(MANY, 700)
    phone.reload()
    until(phone, COUNT + ".then(([rows, rest]) => rows === 0 && rest === 700)")
    tap(phone, 1)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    held = server.live(logbook)
    assert len(held) == 701
    assert {entry.id for entry in held} >= set(shown)


# 700 comfort scores of the last hundred days, as taps would have left them in the outbox.
MANY = """(n) => new Promise((done) => {
    const open = indexedDB.open("plytide");
    open.onsuccess = () => {
        const made = [];
        const tx = open.result.transaction("outbox", "readwrite");
        for (let i = 0; i < n; i++) {
            const ms = Date.now() - (i + 1) * 100 * 86400e3 / n;
            const hex = Math.floor(ms).toString(16).padStart(12, "0");
            const id = `${hex.slice(0, 8)}-${hex.slice(8)}-7000-8000-${i.toString(16).padStart(12, "0")}`;
            made.push(id);
            tx.objectStore("outbox").put({ refused: null, entry: {
                id, kind: "comfort", limb: "left", at: new Date(ms).toISOString(), zone: "UTC",
                stamp: `${hex}-0000-5f3a9c1e`, erased: false, body: { score: i % 11 },
            } });
        }
        tx.oncomplete = () => { open.result.close(); done(made); };
    };
})"""
# How many entries wait in the outbox, and how many are at rest in months.
COUNT = """new Promise((done) => {
    const open = indexedDB.open("plytide");
    open.onsuccess = () => {
        const tx = open.result.transaction(["outbox", "blocks"]);
        const rows = tx.objectStore("outbox").count();
        const blocks = tx.objectStore("blocks").getAll();
        tx.oncomplete = () => {
            open.result.close();
            done([rows.result, blocks.result.reduce((sum, block) => sum + block.entries.length, 0)]);
        };
    };
})"""


def test_what_waits_is_sent_as_the_page_goes_away(new_phone: NewPhone, server: Server, logbook: str) -> None:
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    tap(phone, 2)
    phone.goto("about:blank")  # at once, long before the next sync is due
    for _ in range(100):
        if server.live(logbook):
            break
        phone.wait_for_timeout(50)
    assert [entry.body["total"] for entry in server.live(logbook)] == [2]
    phone.goto(server.url)
    shows(phone, 2)
    all_sent(phone)
    assert len(server.live(logbook)) == 1
