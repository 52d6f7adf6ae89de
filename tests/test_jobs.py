"""The worker: what is out of date is made anew, soon, again and again, whatever goes wrong in between."""

import time
import uuid
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from plytide import jobs
from plytide.exchange.lines import keep
from plytide.jobs import Kept, Worker, recompute
from plytide.store import Store, StoreBusy


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = Store.open(f"sqlite:///{tmp_path / 'plytide.db'}")
    yield store
    store.close()


def ply(total: int, ago: timedelta = timedelta(minutes=5)) -> dict[str, Any]:
    at = datetime.now(UTC) - ago
    return {
        "id": str(uuid.uuid4()), "kind": "don", "limb": "left", "at": at.strftime("%Y-%m-%dT%H:%M:%S.000Z"),
        "zone": "Europe/Lisbon", "stamp": f"{int(at.timestamp() * 1000):012x}-0000-0a0b0c0d", "erased": False,
        "body": {"total": total},
    }  # fmt: skip


def add(store: Store, logbook_id: str, entry: dict[str, Any]) -> int:
    keep(store, logbook_id, [entry], datetime.now(UTC))
    return store.seq(logbook_id)


def running(worker: Worker) -> Iterator[Worker]:
    worker.start()
    yield worker
    worker.stop()


@pytest.fixture
def worker(store: Store) -> Iterator[Worker]:
    yield from running(Worker(store, minutes=10))


def total(store: Store, logbook_id: str) -> int | None:
    summary = store.summary(logbook_id)
    return summary["limbs"]["left"]["on"]["total"] if summary else None


def newer(store: Store, logbook_id: str, before: str) -> bool:
    return store.summary(logbook_id)["now"] > before


def until(true: Any, seconds: float = 10) -> bool:
    end = time.monotonic() + seconds
    while not true() and time.monotonic() < end:
        time.sleep(0.02)
    return bool(true())


def test_a_summary_says_what_was_entered_and_what_it_stands_at(store: Store) -> None:
    book = store.create_logbook()
    seq = add(store, book, ply(7))
    now = datetime.now(UTC)
    assert recompute(store, book, now) == seq
    assert total(store, book) == 7
    assert store.summary(book)["seq"] == seq
    assert store.dirty() == []


def test_a_kept_reading_gives_the_same_summary_as_a_fresh_one(store: Store) -> None:
    """Entry by entry, put right and erased, against reading everything anew each time."""
    book, kept = store.create_logbook(), Kept()
    now = datetime.now(UTC)
    entries = [ply(n, timedelta(hours=30 - n)) for n in range(1, 9)]
    later = [{**e, "stamp": e["stamp"][:13] + "0001" + e["stamp"][17:]} for e in entries]
    changes = [*entries, {**later[2], "body": {"total": 9}}, {**later[5], "erased": True}, {**later[7], "erased": True}]
    for change in changes:
        add(store, book, change)
        recompute(store, book, now, kept)
        warm = store.summary(book)
        recompute(store, book, now)
        assert store.summary(book) == warm
    assert kept.cursor == len(changes)


def test_a_restored_logbook_is_read_from_the_start_again(store: Store, worker: Worker, tmp_path: Path) -> None:
    book = store.create_logbook()
    store.backup(tmp_path / "copy.db")
    seq = add(store, book, ply(8))
    worker.notice(book)
    assert worker.wait(book, seq, 10)
    worker._kept[book].epoch = "of-an-earlier-life"
    seq = add(store, book, ply(9, timedelta(minutes=1)))
    worker.notice(book)
    assert worker.wait(book, seq, 10)
    assert total(store, book) == 9


def test_a_notice_makes_a_summary_that_has_the_entry_in_it(store: Store, worker: Worker) -> None:
    book = store.create_logbook()
    for n in range(1, 4):
        seq = add(store, book, ply(n, timedelta(minutes=10 - n)))
        worker.notice(book)
        assert worker.wait(book, seq, 10)
        assert total(store, book) == n


def test_entries_that_came_while_nobody_looked_are_read_at_the_start(store: Store) -> None:
    book = store.create_logbook()
    add(store, book, ply(5))
    for _ in running(Worker(store, minutes=0)):
        assert until(lambda: total(store, book) == 5)


def test_without_anybody_waiting_a_summary_is_made_a_moment_later(store: Store, worker: Worker) -> None:
    book = store.create_logbook()
    add(store, book, ply(6))
    worker.notice(book)
    assert store.summary(book) is None
    assert until(lambda: total(store, book) == 6)


def test_where_no_summary_can_come_in_time_nobody_waits(store: Store) -> None:
    book = store.create_logbook()
    began = time.monotonic()
    assert not Worker(store, minutes=0).wait(book, add(store, book, ply(6)), 30)
    assert time.monotonic() - began < 10


def test_waiting_ends_when_the_time_is_up(store: Store, worker: Worker) -> None:
    began = time.monotonic()
    assert not worker.wait(store.create_logbook(), 1, 0.05)
    assert time.monotonic() - began < 5


def test_a_log_that_cannot_be_read_holds_nobody_else_up(
    store: Store, monkeypatch: pytest.MonkeyPatch, worker: Worker
) -> None:
    bad, good = store.create_logbook(), store.create_logbook()
    whole = store.sync

    def sync(logbook_id: str, epoch: str | None, cursor: int, entries: Any, *more: Any) -> Any:
        if logbook_id == bad and not entries:
            raise RuntimeError("planted")
        return whole(logbook_id, epoch, cursor, entries, *more)

    add(store, bad, ply(1))
    seq = add(store, good, ply(2))
    monkeypatch.setattr(store, "sync", sync)
    worker.notice(good)
    assert worker.wait(good, seq, 10)
    assert [book for book, _ in store.dirty()] == [bad]


def test_a_worker_outlives_a_database_that_fails(
    store: Store, monkeypatch: pytest.MonkeyPatch, worker: Worker
) -> None:
    book, whole, asked = store.create_logbook(), store.due, []

    def failing(*_: Any) -> Any:
        asked.append(1)
        raise OSError("planted")

    monkeypatch.setattr(store, "due", failing)
    worker.notice(book)
    assert until(lambda: asked)
    monkeypatch.setattr(store, "due", whole)
    seq = add(store, book, ply(3))
    worker.notice(book)
    assert worker.wait(book, seq, 10)


def test_a_database_that_is_away_for_a_moment_keeps_a_logbook_waiting_no_longer(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried = []

    def away_at_first(*words: Any) -> int:
        tried.append(time.monotonic())
        if len(tried) == 1:
            raise StoreBusy("planted")
        return recompute(*words)

    monkeypatch.setattr(jobs, "recompute", away_at_first)
    monkeypatch.setattr(jobs, "APART_S", 0.1)
    book = store.create_logbook()
    add(store, book, ply(3))
    for _ in running(Worker(store, minutes=0, look_s=0.05)):
        assert until(lambda: total(store, book) == 3)


def test_a_summary_grows_old_and_is_made_anew(store: Store) -> None:
    book = store.create_logbook()
    seq = add(store, book, ply(4))
    store.use_pair_code(store.new_pair_code(book, datetime.now(UTC)).code, "phone", datetime.now(UTC))
    recompute(store, book, datetime.now(UTC) - timedelta(hours=3))
    before = store.summary(book)["now"]
    for _ in running(Worker(store, minutes=1, look_s=0.05)):
        for _ in range(2):
            assert until(partial(newer, store, book, before))
            before = store.summary(book)["now"]
            store.put_summary(book, seq, store.summary(book), datetime.now(UTC) - timedelta(seconds=61))


def test_what_is_urgent_does_not_wait_for_a_long_list(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """A round ends after a while, and the next one begins with what came in meanwhile."""
    monkeypatch.setattr(jobs, "ROUND_S", -1.0)
    book = store.create_logbook()
    add(store, book, ply(4))
    assert Worker(store, minutes=0).look() == 0
    monkeypatch.setattr(jobs, "ROUND_S", 10.0)
    assert Worker(store, minutes=0).look() == jobs.LOOK_S
    assert total(store, book) == 4


def test_a_storm_of_entries_does_not_use_the_processor_up(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[float] = []

    def slow(store: Store, logbook_id: str, now: datetime, kept: Kept) -> int:
        time.sleep(0.05)
        made.append(time.monotonic())
        return 1

    monkeypatch.setattr(jobs, "recompute", slow)
    monkeypatch.setattr(jobs, "DELAY_S", 0)
    book = store.create_logbook()
    add(store, book, ply(4))
    for worker in running(Worker(store, minutes=0)):
        end = time.monotonic() + 1.5
        while time.monotonic() < end:
            worker.notice(book)
            time.sleep(0.005)
    # 50 ms of work, then three times as long of rest: at most 7 or 8 in 1.5 s, where 30 would fit.
    assert 2 <= len(made) <= 9
