"""Clinic links: what they show, how they open, lock and end, and what the wearer is told of it."""

import re
import threading
from datetime import datetime, timedelta
from typing import Any

import pytest
from conftest import MakeEntry
from plytide.store import Link, LinkRefused, LinkSpec, Store
from plytide.store.opening import REFUSALS_LISTED

HALF_HOUR = timedelta(minutes=30)


@pytest.fixture
def store(either_store: Store) -> Store:
    return either_store


@pytest.fixture
def link(store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int) -> Link:
    """A snapshot of a week with one entry in it."""
    store.sync(logbook, None, 0, [make_entry("note", {"text": "before"}, limb=None)], now_ms)
    return store.make_link(logbook, LinkSpec(days=7, label="Tern Street"), now)


def refusal(store: Store, token: str, code: str | None, when: datetime) -> str:
    with pytest.raises(LinkRefused) as caught:
        store.open_link(token, code, when)
    assert str(caught.value) == "This link does not open.", "the same words for every reason"
    return caught.value.kind


def wrong(link: Link) -> str:
    assert link.code
    return f"{(int(link.code) + 1) % 1_000_000:06d}"


def texts(store: Store, link: Link, session: str, when: datetime) -> list[str]:
    view = store.link_view(link.token, session, when)
    assert view
    return [entry.body["text"] for entry in view.entries()]


def test_token_and_code_have_their_form_and_are_nowhere_in_the_database(store: Store, link: Link) -> None:
    assert re.fullmatch(r"[A-Za-z0-9_-]{22}", link.token)  # 128 bits in base 64
    assert link.code
    assert re.fullmatch(r"\d{6}", link.code)
    with store.db.read() as connection:
        kept = str(connection.exec_driver_sql("SELECT * FROM link").fetchall())
    assert link.token not in kept
    assert link.code not in kept


def test_links_do_not_share_token_or_code(store: Store, logbook: str, now: datetime) -> None:
    made = [store.make_link(logbook, LinkSpec(live=True), now) for _ in range(20)]
    assert len({link.token for link in made}) == 20
    assert len({link.code for link in made}) > 15


def test_the_right_code_opens_for_half_an_hour(store: Store, link: Link, now: datetime) -> None:
    opened = store.open_link(link.token, link.code, now)
    assert texts(store, link, opened.session, now + HALF_HOUR - timedelta(seconds=1)) == ["before"]
    assert store.link_view(link.token, opened.session, now + HALF_HOUR) is None


def test_a_session_opens_its_own_link_only_and_ends_when_the_reader_is_done(
    store: Store, logbook: str, link: Link, now: datetime
) -> None:
    other = store.make_link(logbook, LinkSpec(), now)
    opened = store.open_link(link.token, link.code, now)
    assert store.link_view(other.token, opened.session, now) is None
    assert store.link_view("x" * 22, opened.session, now) is None
    assert store.link_view(link.token, "x", now) is None
    store.end_session(opened.session)
    assert store.link_view(link.token, opened.session, now) is None


def test_ten_wrong_codes_lock_it_even_for_the_right_one(store: Store, link: Link, now: datetime) -> None:
    assert [refusal(store, link.token, wrong(link), now) for _ in range(11)] == ["wrong_code"] * 10 + ["locked"]
    assert refusal(store, link.token, link.code, now) == "locked"
    (shown,) = store.links(link.logbook_id, now)
    assert (shown.state, shown.tries_left) == ("locked", 0)


def test_right_codes_use_no_tries_up(store: Store, link: Link, now: datetime) -> None:
    for _ in range(25):
        store.open_link(link.token, link.code, now)
    assert store.links(link.logbook_id, now)[0].tries_left == 10


def test_twenty_guesses_at_once_share_ten_tries(store: Store, link: Link, now: datetime) -> None:
    gate, kinds = threading.Barrier(20), []

    def guess() -> None:
        gate.wait()
        try:
            store.open_link(link.token, wrong(link), now)
        except LinkRefused as refused:
            kinds.append(refused.kind)

    threads = [threading.Thread(target=guess) for _ in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(kinds) == ["locked"] * 10 + ["wrong_code"] * 10


@pytest.mark.parametrize("code", ["12345", "1234567", "\x00", "\ud800", "١٢٣٤٥٦"])
def test_anything_may_be_typed(store: Store, link: Link, now: datetime, code: str | None) -> None:
    assert refusal(store, link.token, code, now) == "wrong_code"


@pytest.mark.parametrize("code", [None, ""])
def test_a_form_sent_empty_opens_nothing_and_counts_as_no_guess(
    store: Store, link: Link, now: datetime, code: str | None
) -> None:
    for _ in range(12):
        assert refusal(store, link.token, code, now) == "wrong_code"
    (shown,) = store.links(link.logbook_id, now)
    assert (shown.tries_left, shown.openings) == (10, [])


def test_the_wearer_sees_every_opening(store: Store, link: Link, now: datetime) -> None:
    store.open_link(link.token, link.code, now)
    refusal(store, link.token, wrong(link), now + timedelta(minutes=1))
    store.open_link(link.token, link.code, now + timedelta(minutes=2))
    store.revoke_link(link.logbook_id, link.id, now + timedelta(minutes=3))
    refusal(store, link.token, link.code, now + timedelta(minutes=4))
    (shown,) = store.links(link.logbook_id, now)
    assert [(o.at[14:16], o.result) for o in shown.openings] == [
        ("00", "opened"), ("01", "wrong_code"), ("02", "opened"), ("04", "revoked"),
    ]  # fmt: skip


def test_someone_who_knocks_on_and_on_does_not_fill_the_list(store: Store, link: Link, now: datetime) -> None:
    for _ in range(REFUSALS_LISTED + 20):
        refusal(store, link.token, wrong(link), now)
    assert len(store.links(link.logbook_id, now)[0].openings) == REFUSALS_LISTED


def test_a_link_that_never_was_is_refused_and_leaves_no_trace(store: Store, link: Link, now: datetime) -> None:
    assert refusal(store, "x" * 22, "123456", now) == "unknown"
    assert store.links(link.logbook_id, now)[0].openings == []


def test_a_link_ends_at_its_time_for_those_who_have_it_open_too(store: Store, link: Link, now: datetime) -> None:
    end = now + timedelta(days=7)
    opened = store.open_link(link.token, link.code, end - timedelta(minutes=5))
    assert opened.expires == link.expires
    assert store.link_view(link.token, opened.session, end) is None
    assert refusal(store, link.token, link.code, end) == "expired"
    assert store.links(link.logbook_id, end)[0].state == "expired"


def test_a_stopped_link_ends_at_once_for_those_who_have_it_open_too(store: Store, link: Link, now: datetime) -> None:
    opened = store.open_link(link.token, link.code, now)
    assert store.revoke_link(link.logbook_id, link.id, now)
    assert store.link_view(link.token, opened.session, now) is None
    assert refusal(store, link.token, link.code, now) == "revoked"
    assert not store.revoke_link(link.logbook_id, link.id, now)
    with store.db.read() as connection:
        kept = connection.exec_driver_sql("SELECT snapshot FROM link").scalar_one()
    assert kept is None, "what it showed is gone as well"


def test_another_logbooks_link_cannot_be_stopped_or_seen(store: Store, link: Link, now: datetime) -> None:
    other = store.create_logbook()
    assert not store.revoke_link(other, link.id, now)
    assert store.links(other, now) == []
    assert store.open_link(link.token, link.code, now)


@pytest.mark.parametrize(
    ("spec", "good"),
    [
        (LinkSpec(expires=timedelta(days=90)), True), (LinkSpec(expires=timedelta(days=90, seconds=1)), False),
        (LinkSpec(code=False, expires=timedelta(hours=24)), True),
        (LinkSpec(code=False, expires=timedelta(hours=24, seconds=1)), False),
        (LinkSpec(expires=timedelta(0)), False), (LinkSpec(expires=timedelta(days=-1)), False),
    ],
)  # fmt: skip
def test_how_long_a_link_may_stand(store: Store, logbook: str, now: datetime, spec: LinkSpec, good: bool) -> None:
    if good:
        assert store.make_link(logbook, spec, now).expires
    else:
        with pytest.raises(ValueError, match="at most"):
            store.make_link(logbook, spec, now)


def test_a_link_without_a_code_opens_by_its_address(store: Store, logbook: str, now: datetime) -> None:
    link = store.make_link(logbook, LinkSpec(code=False, expires=timedelta(hours=1)), now)
    assert link.code is None
    assert store.link_view(link.token, store.open_link(link.token, None, now).session, now)


def test_a_snapshot_stays_as_it_was_and_a_live_link_does_not(
    store: Store, logbook: str, link: Link, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    live = store.make_link(logbook, LinkSpec(days=7, live=True), now)
    store.sync(logbook, None, 0, [make_entry("note", {"text": "after"}, limb=None)], now_ms)
    later = now + timedelta(minutes=1)
    shown = {}
    for one in (link, live):
        opened = store.open_link(one.token, one.code, later)
        shown[one.id] = texts(store, one, opened.session, later)
        view = store.link_view(one.token, opened.session, later)
        assert view
        assert view.as_of == ("2031-03-02T12:00:00.000Z" if one is link else "2031-03-02T12:01:00.000Z")
    assert shown == {link.id: ["before"], live.id: ["before", "after"]}


@pytest.mark.parametrize("window", [{"start": "0001-01-01"}, {"end": "9999-12-31"}, {"days": 10**7}], ids=str)
def test_edges_at_the_ends_of_the_calendar_are_no_trouble(
    store: Store, logbook: str, link: Link, now: datetime, window: dict[str, Any]
) -> None:
    made = store.make_link(logbook, LinkSpec(**window), now)
    assert texts(store, made, store.open_link(made.token, made.code, now).session, now) == ["before"]


@pytest.mark.parametrize("window", [{"start": "2031-02-30"}, {"end": "tomorrow"}], ids=str)
def test_a_day_that_is_not_in_the_calendar_is_a_value_error(
    store: Store, logbook: str, now: datetime, window: dict[str, Any]
) -> None:
    with pytest.raises(ValueError, match=r"day is out of range|isoformat"):
        store.make_link(logbook, LinkSpec(live=True, **window), now)


@pytest.mark.parametrize("live", [False, True])
@pytest.mark.parametrize(
    ("window", "expected"),
    [
        ({"days": 7}, {"near", "sock", "text"}),
        ({"start": "2031-01-20", "end": "2031-02-10"}, {"far", "sock", "text"}),
        ({"kinds": ("comfort",)}, {"near", "far", "profile"}),
        ({"kinds": ("note", "comfort"), "days": 7}, {"near", "text", "profile"}),
        ({"notes": False}, {"near", "far", "sock"}),
        ({}, {"near", "far", "sock", "text"}),
    ],
)  # fmt: skip
def test_what_certainly_is_not_ticked_is_not_even_in_it(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int, live: bool,
    window: dict[str, Any], expected: set[str],
) -> None:  # fmt: skip
    made = {
        "near": make_entry(at=now - timedelta(days=3)), "far": make_entry(at=now - timedelta(days=30)),
        "sock": make_entry("sock", {"name": "blue", "ply": 3}, limb=None, at=now - timedelta(days=300)),
        "text": make_entry("note", {"text": "x"}, limb=None),
        "profile": make_entry("profile", {}, limb=None, at=now - timedelta(days=300)),
        "gone": make_entry(erased=True),
    }  # fmt: skip
    store.sync(logbook, None, 0, list(made.values()), now_ms)
    link = store.make_link(logbook, LinkSpec(live=live, **window), now)
    view = store.link_view(link.token, store.open_link(link.token, link.code, now).session, now)
    assert view
    names = {entry["id"]: name for name, entry in made.items()}
    assert {names[entry.id] for entry in view.entries()} == expected | {"profile"}
    assert view.link.spec == LinkSpec(live=live, **window)


def test_links_that_ended_long_ago_are_forgotten(store: Store, logbook: str, link: Link, now: datetime) -> None:
    store.open_link(link.token, link.code, now)
    store.make_link(logbook, LinkSpec(), now + timedelta(days=7 + 90))
    assert link.id in {shown.id for shown in store.links(logbook, now)}
    store.make_link(logbook, LinkSpec(), now + timedelta(days=7 + 91))
    assert link.id not in {shown.id for shown in store.links(logbook, now)}


def test_the_audit_list_tells_of_it_in_words(store: Store, link: Link, now: datetime) -> None:
    store.open_link(link.token, link.code, now)
    store.revoke_link(link.logbook_id, link.id, now)
    assert [line.words for line in store.audit(link.logbook_id)[:3]] == [
        "A link for Tern Street was stopped.",
        "A link for Tern Street was opened.",
        "A link was made for Tern Street, good until 2031-03-09T12:00:00.000Z.",
    ]
