"""What each answer of the server does to the phone: the log goes on, nothing is lost, and the screen says why."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from browser.conftest import NewPhone
from browser.phone import all_sent, kept, pair, says, separate_taps, shows, tap, wake
from browser.plytide_server import Server
from playwright.sync_api import Page, Route

SYNC = "**/api/sync"


@pytest.fixture
def phone(new_phone: NewPhone, server: Server, logbook: str) -> Page:
    """A paired phone with everything sent."""
    made = new_phone()
    pair(made, server.url, server.code(logbook))
    all_sent(made)
    return made


def answering(status: int, **headers: str) -> Callable[[Route], None]:
    """A route that answers for the server, as a server of that state would."""
    body = json.dumps({"code": "said", "why": "Said by the test."})
    return lambda route: route.fulfill(status=status, body=body, content_type="application/json", headers=headers)


@pytest.mark.parametrize(
    ("status", "words"), [(401, "pair again"), (426, "update to send"), (507, "the server is full"), (503, "1 waiting"),
                          (429, "1 waiting"), (500, "1 waiting")]
)  # fmt: skip
def test_the_log_goes_on_and_is_sent_later(phone: Page, server: Server, logbook: str, status: int, words: str) -> None:
    phone.context.route(SYNC, answering(status, **{"Retry-After": "1"}))
    tap(phone, 2)
    says(phone, words)
    shows(phone, 2)
    phone.context.unroute(SYNC)
    phone.reload()
    shows(phone, 2)
    all_sent(phone)
    assert [entry.body["total"] for entry in server.live(logbook)] == [2]


def test_a_log_in_page_in_the_way_counts_as_no_answer(phone: Page, server: Server, logbook: str) -> None:
    page = "<html>Welcome to our café. Please accept our terms.</html>"
    phone.context.route(SYNC, lambda route: route.fulfill(status=200, body=page, content_type="text/html"))
    tap(phone, 1)
    says(phone, "offline")
    phone.context.unroute(SYNC)
    wake(phone)
    all_sent(phone)
    assert len(server.live(logbook)) == 1


def test_a_batch_that_is_too_big_is_halved(phone: Page, server: Server, logbook: str) -> None:
    sizes = []

    def at_most_one(route: Route) -> None:
        sizes.append(len(json.loads(route.request.post_data or "{}")["entries"]))
        if sizes[-1] > 1:
            answering(413)(route)
        else:
            route.continue_()

    phone.context.set_offline(True)
    with server.down():
        tap(phone, 2)
        for _ in range(2):
            separate_taps(phone)
            tap(phone, 1)
        says(phone, "offline")
        phone.context.route(SYNC, at_most_one)
    phone.context.set_offline(False)
    wake(phone)
    all_sent(phone)
    assert [entry.body["total"] for entry in server.live(logbook)] == [2, 3, 4]
    assert sizes[0] == 3
    assert max(size for size in sizes[1:]) <= 2


def test_a_server_restored_from_a_backup_gets_everything_again(
    phone: Page, server: Server, logbook: str, tmp_path: Path
) -> None:
    tap(phone, 2)
    all_sent(phone)
    backup = tmp_path / "backup.db"
    server.command("backup", str(backup))
    separate_taps(phone)
    tap(phone, 1)
    all_sent(phone)
    assert len(server.live(logbook)) == 2
    with server.down():
        server.command("restore", str(backup), "--yes")
        assert len(server.live(logbook)) == 1
    wake(phone)
    phone.wait_for_timeout(3000)
    all_sent(phone)
    assert [entry.body["total"] for entry in server.live(logbook)] == [2, 3]


def test_the_worker_sends_what_waits_when_the_network_is_back_and_no_page_is_open(
    phone: Page, server: Server, logbook: str
) -> None:
    kept(phone)
    blank = phone.context.new_page()
    session = phone.context.new_cdp_session(blank)
    found: list[str] = []
    session.on("ServiceWorker.workerRegistrationUpdated",
               lambda event: found.extend(one["registrationId"] for one in event["registrations"]))  # fmt: skip
    session.send("ServiceWorker.enable")
    with server.down():
        tap(phone, 3)
        shows(phone, 3)
        says(phone, "offline")
        phone.wait_for_timeout(500)  # saved: what is closed before that was never said to be
        phone.close()
    assert server.live(logbook) == []
    # What the browser does by itself once there is a network; Playwright's own browser has no such moment.
    event = {"origin": server.url, "registrationId": found[0], "tag": "plytide", "lastChance": False}
    session.send("ServiceWorker.dispatchSyncEvent", event)
    for _ in range(100):
        if server.live(logbook):
            break
        blank.wait_for_timeout(100)
    assert [entry.body["total"] for entry in server.live(logbook)] == [3]
    again = blank.context.new_page()
    again.goto(server.url)
    shows(again, 3)
    all_sent(again)
    assert len(server.live(logbook)) == 1
