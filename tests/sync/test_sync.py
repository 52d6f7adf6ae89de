"""Push and pull against a real store, once on SQLite and once on PostgreSQL."""

import threading
from datetime import datetime
from typing import Any

import pytest
from conftest import MakeEntry
from plytide import stamps
from plytide.store import DeviceGone, EpochChanged, NoLogbook, Store, SyncAnswer

HOUR = 3_600_000


@pytest.fixture
def store(either_store: Store) -> Store:
    return either_store


def answers(done: SyncAnswer) -> list[str]:
    return [result["r"] for result in done.results]


def whole(store: Store, logbook: str, now_ms: int, limit: int = 1000) -> dict[str, dict[str, Any]]:
    """The logbook as a new phone pulls it, page after page."""
    found: dict[str, dict[str, Any]] = {}
    epoch, cursor, more = None, 0, True
    while more:
        page = store.sync(logbook, epoch, cursor, [], now_ms, limit=limit)
        assert len(page.entries) <= limit
        assert not set(found) & {entry["id"] for entry in page.entries}
        found |= {entry["id"]: entry for entry in page.entries}
        epoch, cursor, more = page.epoch, page.cursor, page.more
    return found


def test_results_come_in_the_order_of_the_entries(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    one, two = make_entry(), make_entry()
    newer = {**one, "stamp": stamps.make(now_ms, 0, "5f3a9c1e"), "body": {"score": 2}}
    future = make_entry(stamp=stamps.make(now_ms + HOUR, 3, "00000009"))
    done = store.sync(logbook, None, 0, [one, two, two, newer, one, {"id": 7}, future], now_ms)
    assert answers(done) == ["ok", "ok", "dup", "ok", "stale", "refused", "restamped"]
    assert done.results[0] == {"id": one["id"], "stamp": one["stamp"], "r": "ok"}
    assert done.results[4]["winner"] == newer
    assert set(done.results[5]) == {"id", "stamp", "r", "code", "why"}
    assert done.results[6]["stamp2"] == stamps.make(now_ms + 300_000, 3, "00000009")
    assert done.changed


def test_what_a_phone_sent_is_not_sent_back_but_what_was_changed_is(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    same, turned = make_entry(), make_entry(at="2031-03-02T10:00:00+02:00")
    done = store.sync(logbook, None, 0, [same, turned], now_ms)
    assert [entry["id"] for entry in done.entries] == [turned["id"]]
    assert done.entries[0]["at"] == "2031-03-02T08:00:00.000Z"
    again = store.sync(logbook, done.epoch, done.cursor, [same], now_ms)
    assert (answers(again), again.entries, again.cursor) == (["dup"], [], done.cursor)
    assert not again.changed


def test_another_phone_gets_what_came_since_and_nothing_twice(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    first = store.sync(logbook, None, 0, [], now_ms)
    assert (first.cursor, first.more, first.entries) == (0, False, [])
    sent = [make_entry() for _ in range(3)]
    store.sync(logbook, None, 0, sent, now_ms)
    page = store.sync(logbook, first.epoch, first.cursor, [], now_ms)
    assert page.entries == sent
    assert store.sync(logbook, page.epoch, page.cursor, [], now_ms).entries == []
    edited = {**sent[0], "stamp": stamps.make(now_ms, 0, "00000001")}
    store.sync(logbook, page.epoch, page.cursor, [edited], now_ms)
    assert store.sync(logbook, page.epoch, page.cursor, [], now_ms).entries == [edited]


@pytest.mark.parametrize("limit", [1, 3, 7, 10, 11])
def test_pages_follow_each_other_without_a_gap(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int, limit: int
) -> None:
    sent = [make_entry() for _ in range(10)]
    store.sync(logbook, None, 0, sent, now_ms)
    assert whole(store, logbook, now_ms, limit) == {entry["id"]: entry for entry in sent}


def test_an_entry_that_changes_while_pages_are_read_comes_in_a_later_one(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    sent = [make_entry() for _ in range(4)]
    store.sync(logbook, None, 0, sent, now_ms)
    page = store.sync(logbook, None, 0, [], now_ms, limit=2)
    edits = [{**sent[n], "stamp": stamps.make(now_ms, n, "00000001")} for n in (0, 3)]
    store.sync(logbook, None, 0, edits, now_ms)
    rest = store.sync(logbook, page.epoch, page.cursor, [], now_ms)
    assert rest.entries == [sent[2], *edits]


def test_an_older_view_is_told_the_new_epoch_before_anything_is_written(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    with pytest.raises(EpochChanged) as changed:
        store.sync(logbook, "0123456789abcdef", 5, [make_entry()], now_ms)
    assert changed.value.epoch == store.epoch(logbook)
    assert whole(store, logbook, now_ms) == {}


def test_a_cursor_that_was_never_given_begins_a_new_epoch(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    # Somebody put an older copy of the file in place by hand; what the phones have seen since is missing here.
    epoch = store.epoch(logbook)
    for entries in ([], [make_entry()]):
        with pytest.raises(EpochChanged) as changed:
            store.sync(logbook, epoch, 99, entries, now_ms)
        assert changed.value.epoch == store.epoch(logbook) != epoch
        epoch = changed.value.epoch
    assert whole(store, logbook, now_ms) == {}
    assert store.audit(logbook)[0].code == "epoch"


def test_a_phone_with_nothing_from_here_needs_no_epoch(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    entry = make_entry()
    assert answers(store.sync(logbook, None, 0, [entry], now_ms)) == ["ok"]
    assert answers(store.sync(logbook, "", 99, [entry], now_ms)) == ["dup"]


def test_an_unknown_logbook_is_refused(store: Store, make_entry: MakeEntry, now_ms: int) -> None:
    for entries in ([], [make_entry()]):
        with pytest.raises(NoLogbook):
            store.sync("nobody", None, 0, entries, now_ms)


def test_a_device_that_was_removed_on_the_way_writes_nothing(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    _, token = store.use_pair_code(store.new_pair_code(logbook, now).code, "phone", now)
    device = store.device_by_token(token, now)
    assert device
    store.sync(logbook, None, 0, [make_entry()], now_ms, device.id)
    store.revoke_device(logbook, device.id)
    with pytest.raises(DeviceGone):
        store.sync(logbook, None, 0, [make_entry()], now_ms, device.id)
    assert len(whole(store, logbook, now_ms)) == 1


def test_the_same_id_in_two_logbooks_is_two_entries(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    other = store.create_logbook("Bo")
    entry = make_entry()
    for book in (logbook, other):
        assert answers(store.sync(book, None, 0, [entry], now_ms)) == ["ok"]
    store.sync(other, None, 0, [{**entry, "erased": True, "stamp": stamps.make(now_ms, 0, "00000001")}], now_ms)
    assert whole(store, logbook, now_ms) == {entry["id"]: entry}


def test_numbers_have_no_gaps_and_no_doubles_under_many_writers(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    sent = [[make_entry() for _ in range(5)] for _ in range(8)]
    done: list[str] = []

    def push(mine: list[dict[str, Any]]) -> None:
        for entry in mine:
            done.extend(answers(store.sync(logbook, None, 0, [entry], now_ms)))

    threads = [threading.Thread(target=push, args=(mine,)) for mine in sent]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert done == ["ok"] * 40
    assert store.seq(logbook) == 40
    assert set(whole(store, logbook, now_ms, 7)) == {entry["id"] for mine in sent for entry in mine}


def test_a_reader_beside_writers_never_skips_a_number(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    sent = [[make_entry() for _ in range(40)] for _ in range(4)]
    writers = [
        threading.Thread(target=lambda mine=mine: [store.sync(logbook, None, 0, [e], now_ms) for e in mine])
        for mine in sent
    ]
    for writer in writers:
        writer.start()
    epoch, cursor, seen = None, 0, []
    over = False
    while not over:
        ended = not any(writer.is_alive() for writer in writers)  # asked before the page is read, not after
        page = store.sync(logbook, epoch, cursor, [], now_ms)
        epoch, cursor = page.epoch, page.cursor
        seen += [entry["id"] for entry in page.entries]
        over = ended and not page.entries
    assert len(seen) == len(set(seen)) == 160
