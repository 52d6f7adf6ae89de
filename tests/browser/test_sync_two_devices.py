"""Two devices of one logbook, and a server that fails in every way it can: both end equal, and nothing is lost."""

from __future__ import annotations

import json
import re
import socket
import threading
import time
from datetime import datetime

import pytest
from browser.conftest import NewPhone
from browser.phone import all_sent, kept, pair, says, separate_taps, shows, tap, wake
from browser.plytide_server import Server
from playwright.sync_api import Page, Route, expect
from plytide.entries import Entry


def paired(new_phone: NewPhone, server: Server, logbook: str) -> Page:
    """One more phone of the logbook."""
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    return phone


def test_what_one_device_logs_the_other_shows(new_phone: NewPhone, server: Server, logbook: str) -> None:
    one = paired(new_phone, server, logbook)
    tap(one, 6)
    all_sent(one)
    two = paired(new_phone, server, logbook)
    shows(two, 6)
    separate_taps(two)
    tap(two, 1)
    all_sent(two)
    wake(one)
    shows(one, 7)
    totals = [e.body["total"] for e in server.live(logbook)]
    assert totals == [6, 7]


def test_a_first_pairing_carries_what_the_phone_has(new_phone: NewPhone, server: Server, logbook: str) -> None:
    phone = new_phone()
    tap(phone, 3)
    shows(phone, 3)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    assert [e.body["total"] for e in server.live(logbook)] == [3]


def test_settings_made_before_pairing_do_not_replace_those_of_the_logbook(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    one = paired(new_phone, server, logbook)
    clinic(one, server, "0151 111")
    all_sent(one)
    two = new_phone()
    clinic(two, server, "0151 222")
    pair(two, server.url, server.code(logbook))
    known(two, server, "0151 111")
    all_sent(two)  # that its own number is taken out again, too
    wake(one)
    known(one, server, "0151 111")
    assert [e.body["clinic_phone"] for e in server.live(logbook)] == ["0151 111"]


def clinic(phone: Page, server: Server, number: str) -> None:
    """Type the clinic's number under Settings, and go back to Today."""
    phone.goto(f"{server.url}/#/settings")
    phone.get_by_label("Clinic", exact=True).fill(number)
    phone.get_by_label("Clinic", exact=True).blur()
    phone.goto(f"{server.url}/#/today")


def known(phone: Page, server: Server, number: str) -> None:
    """The clinic's number under Settings is this; back to Today."""
    phone.goto(f"{server.url}/#/settings")
    expect(phone.get_by_label("Clinic", exact=True)).to_have_value(number)
    phone.goto(f"{server.url}/#/today")


def test_an_answer_lost_on_the_way_is_asked_for_again_and_nothing_is_doubled(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = paired(new_phone, server, logbook)
    lost = []

    def after_the_server_had_it(route: Route) -> None:
        if json.loads(route.request.post_data or "{}")["entries"] and not lost:
            lost.append(route.fetch().status)
            route.abort("connectionreset")
        else:
            route.continue_()

    phone.context.route("**/api/sync", after_the_server_had_it)
    tap(phone, 2)
    while not lost:
        phone.wait_for_timeout(50)
    assert lost == [200]
    assert len(server.live(logbook)) == 1
    all_sent(phone, 30_000)
    assert [e.body["total"] for e in server.live(logbook)] == [2]


def test_an_edit_made_while_its_entry_is_on_the_way_is_not_lost(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = paired(new_phone, server, logbook)
    held: list[Route] = []

    def hold_the_first(route: Route) -> None:
        if json.loads(route.request.post_data or "{}")["entries"] and not held:
            held.append(route)
        else:
            route.continue_()

    phone.context.route("**/api/sync", hold_the_first)
    phone.clock.set_fixed_time(time.time() * 1000)  # however slow this machine: the same few seconds
    tap(phone, 2)
    with phone.expect_request("**/api/sync"):
        pass
    tap(phone, 1)  # amends the entry that is on its way
    shows(phone, 3)
    held[0].continue_()
    all_sent(phone)
    assert [e.body["total"] for e in server.live(logbook)] == [3]


def test_a_server_that_accepts_and_never_answers_keeps_nobody_waiting(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = paired(new_phone, server, logbook)
    kept(phone)
    with server.down(), silence(server.port):
        phone.goto(server.url)
        tap(phone, 2)
        shows(phone, 2)
        says(phone, "offline", 30_000)
        phone.reload()
        shows(phone, 2)
    wake(phone)
    all_sent(phone, 30_000)
    assert [e.body["total"] for e in server.live(logbook)] == [2]


class silence:
    """A server that takes every connection and says nothing."""

    def __init__(self, port: int) -> None:
        self.port = port

    def __enter__(self) -> None:
        self.listening = socket.create_server(("127.0.0.1", self.port), reuse_port=False)
        self.open: list[socket.socket] = []
        threading.Thread(target=self._take, daemon=True).start()

    def _take(self) -> None:
        while True:
            try:
                self.open.append(self.listening.accept()[0])
            except OSError:
                return

    def __exit__(self, *_: object) -> None:
        self.listening.shutdown(socket.SHUT_RDWR)
        self.listening.close()
        for one in self.open:
            one.close()


def test_a_revoked_phone_keeps_its_log_and_sends_it_after_pairing_again(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    one, two = paired(new_phone, server, logbook), paired(new_phone, server, logbook)
    two.goto(f"{server.url}/#/pair")
    two.get_by_role("button", name=re.compile("^Remove")).first.click()
    two.get_by_role("button", name="Yes, remove").click()
    expect(two.get_by_role("button", name=re.compile("^Remove"))).to_have_count(0)
    tap(one, 4)
    says(one, "pair again")
    shows(one, 4)
    one.reload()
    shows(one, 4)
    pair(one, server.url, server.code(logbook))
    all_sent(one)
    assert [e.body["total"] for e in server.live(logbook)] == [4]


def test_a_code_of_another_logbook_is_refused_and_sends_nothing(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = paired(new_phone, server, logbook)
    tap(phone, 1)
    all_sent(phone)
    other = server.new_logbook()
    phone.context.clear_cookies()
    wake(phone)
    phone.goto(f"{server.url}/#/pair/{server.code(other).replace('-', '')}")
    phone.get_by_role("button", name=re.compile("^Pair")).click()
    expect(phone.get_by_text("That code belongs to another logbook.")).to_be_visible()
    assert server.live(other) == []


def test_a_wrong_code_counts_down(phone: Page, server: Server, logbook: str) -> None:
    right = server.code(logbook)
    wrong = ("0" if right[0] != "0" else "1") + right[1:]
    phone.goto(f"{server.url}/#/pair")
    phone.get_by_label("Pairing code").fill(wrong)
    phone.get_by_role("button", name=re.compile("^Pair")).click()
    expect(phone.get_by_text("That code is not right").first).to_be_visible()


@pytest.mark.parametrize(("year", "told"), [(2031, "ahead"), (1970, "behind")])
def test_a_phone_whose_clock_is_years_off_works_and_is_told(
    new_phone: NewPhone, server: Server, logbook: str, year: int, told: str
) -> None:
    true = paired(new_phone, server, logbook)
    tap(true, 2)
    all_sent(true)
    phone = new_phone("/healthz")
    phone.clock.install(time=f"{year}-01-01T12:00:00")
    phone.goto(server.url)
    pair(phone, server.url, server.code(logbook))
    expect(phone.get_by_text(re.compile(f"clock is .* {told}"))).to_be_visible()
    shows(phone, 2)
    tap(phone, 1)
    all_sent(phone)
    wake(true)
    shows(true, 3)
    separate_taps(true)
    tap(true, 1)
    all_sent(true)
    wake(phone)
    shows(phone, 4)
    assert all(abs(written(entry) - time.time()) < 120 for entry in server.live(logbook))


def test_what_was_logged_before_the_clocks_were_compared_gets_its_true_time(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = new_phone("/healthz")
    phone.clock.install(time="2036-01-01T12:00:00")
    phone.goto(server.url)
    tap(phone, 3)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    shows(phone, 3)
    phone.wait_for_timeout(2000)
    [entry] = server.live(logbook)
    assert abs(written(entry) - time.time()) < 120
    assert entry.body["total"] == 3


def written(entry: Entry) -> float:
    """When an entry says it was, in seconds since 1970."""
    return datetime.fromisoformat(entry.at).timestamp()


def test_an_entry_the_server_refuses_is_shown_with_its_reason_and_can_be_put_right(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = paired(new_phone, server, logbook)

    def spoil(route: Route) -> None:
        body = json.loads(route.request.post_data or "{}")
        for entry in body["entries"]:
            entry["body"]["total"] = 99  # as a page of a version with a fault might send
        route.continue_(post_data=json.dumps(body))

    phone.context.route("**/api/sync", spoil)
    tap(phone, 2)
    expect(phone.get_by_text("1 entry refused.")).to_be_visible()
    shows(phone, 2)
    phone.context.unroute("**/api/sync")
    phone.goto(f"{server.url}/#/attention")
    expect(phone.get_by_text("total", exact=False).first).to_be_visible()
    phone.reload()
    expect(phone.get_by_text("total", exact=False).first).to_be_visible()
    assert server.live(logbook) == []
