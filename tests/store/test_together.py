"""Pushes that wait for each other go to the disk together; none is answered before it is there, none costs another."""

import sqlite3
import threading
import time
from collections import deque
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import closing, contextmanager
from typing import Any

import pytest
from conftest import MakeEntry
from plytide.store import EpochChanged, Store, SyncAnswer
from plytide.store.together import Together
from sqlalchemy import event

PHONES = 8


@contextmanager
def commits(store: Store) -> Iterator[list[int]]:
    """Counts how often the writer committed."""
    made: list[int] = []
    writer = store.db.postgres
    event.listen(writer, "commit", lambda _: made.append(1))
    yield made


class Counted(deque[Any]):
    """A queue that knows how many ever came."""

    came = 0

    def append(self, one: Any) -> None:
        super().append(one)
        self.came += 1


def pushed_at_once(store: Store, work: list[tuple[str, str | None, list[dict[str, Any]]]], now_ms: int) -> list[Any]:
    """Push all of them while another transaction holds the database up; their futures, done."""
    store.db._together._waiting = waiting = Counted()
    with ThreadPoolExecutor(len(work)) as threads:
        with store.db.write():
            futures: list[Future[SyncAnswer]] = [
                threads.submit(store.sync, book, epoch, 0, entries, now_ms) for book, epoch, entries in work
            ]
            ends = time.monotonic() + 20
            while waiting.came < len(work):
                assert time.monotonic() < ends, "the pushes did not come"
                time.sleep(0.01)
        wait(futures)
    return futures


def test_pushes_that_wait_share_a_commit(store: Store, make_entry: MakeEntry, now_ms: int) -> None:
    books = [store.create_logbook() for _ in range(PHONES)]
    with commits(store) as made:
        done = pushed_at_once(store, [(book, None, [make_entry()]) for book in books], now_ms)
    assert [future.result().results[0]["r"] for future in done] == ["ok"] * PHONES
    assert [store.seq(book) for book in books] == [1] * PHONES
    assert len(made) <= 3, "the transaction that held them up, the first that waited, and all the others"


def test_one_that_fails_costs_its_neighbours_nothing(store: Store, make_entry: MakeEntry, now_ms: int) -> None:
    books = [store.create_logbook() for _ in range(PHONES)]
    work = [(book, "of-another-life" if n == 3 else None, [make_entry()]) for n, book in enumerate(books)]
    done = pushed_at_once(store, work, now_ms)
    with pytest.raises(EpochChanged):
        done[3].result()
    assert [store.seq(book) for book in books] == [0 if n == 3 else 1 for n in range(PHONES)]
    kept = [future.result() for n, future in enumerate(done) if n != 3]
    assert all(answer.results[0]["r"] == "ok" and answer.cursor == 1 for answer in kept)


class Early(Together):
    """The planted fault: it answers before it has committed."""

    def _written(self, group: list[Any]) -> bool:
        with self._begin() as connection:
            for work, done in group:
                done.set_result(work(connection))
            time.sleep(0.01)
        return True


def unseen(store: Store, make_entry: MakeEntry, now_ms: int) -> int:
    """How many entries, pushed by eight phones at once, others did not see when the answer was there."""
    book, missing = store.create_logbook(), []

    def push() -> None:
        with closing(sqlite3.connect(f"file:{store.db.file}?mode=ro", uri=True)) as other:
            for _ in range(10):
                sent = make_entry()
                store.sync(book, None, 0, [sent], now_ms, limit=1)
                if not other.execute("SELECT 1 FROM entry WHERE id = ?", (sent["id"],)).fetchone():
                    missing.append(sent["id"])

    threads = [threading.Thread(target=push) for _ in range(PHONES)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return len(missing)


def test_an_answer_means_that_others_can_see_it(store: Store, make_entry: MakeEntry, now_ms: int) -> None:
    assert unseen(store, make_entry, now_ms) == 0
    store.db._together.close()
    store.db._together = Early(store.db.write)
    assert unseen(store, make_entry, now_ms) > 0
