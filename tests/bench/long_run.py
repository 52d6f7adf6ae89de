"""The long run: phones with every trouble there is, on one real server, for as long as it takes. Prints a table.

    .venv/bin/python tests/bench/long_run.py --minutes 60 --phones 50

Two phones share a logbook. Requests and answers get lost, requests come twice, phones go offline, clocks are wrong by
minutes and days. It asks of the server: nothing lost, memory flat, latency flat, the database as large as what is in
it. An hour holds about as many entries as a year of that many wearers. Exit code 1 where it is not so.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
from bench.handset import Handset
from crash.kill import UNLIMITED
from plytide.jobs import KEPT_ENTRIES
from plytide.store import Store
from serving import COMMAND, Server

# What a flat line may do, generously: limits are to catch what grows with time, not a slow minute of the machine.
SLACK_MB, KB_A_REQUEST, KB_KEPT = 12, 20, 4  # KB_KEPT: an entry in a reading that the worker keeps in memory
SLACK_MS, TIMES_SLOWER = 150, 2
BYTES_A_VERSION = 1200  # a row of the table, its two keys, and some air in the pages
SAMPLES = 40


@dataclass
class Figures:
    """What was seen of the server: memory in MB over time, milliseconds of every request that nothing befell."""

    requests: int = 0
    versions: int = 0  # entries, and versions that were replaced
    database: int = 0  # bytes, without the empty tables and without summaries
    memory: list[float] = field(default_factory=list)
    latency: list[float] = field(default_factory=list)
    troubles: Counter[str] = field(default_factory=Counter)
    lost: list[str] = field(default_factory=list)
    strange: Counter[int] = field(default_factory=Counter)


def quarter(values: Sequence[float], number: int) -> float:
    """The median of one quarter, the first being 1."""
    size = len(values) // 4
    return statistics.median(values[size * (number - 1) : size * number])


def complaints(figures: Figures) -> list[str]:
    """What is not as it should be. The first quarter of memory is not looked at: a server warms up."""
    found = [f"lost: {what}" for what in figures.lost]
    found += [f"{count} answers of {status}" for status, count in figures.strange.items()]
    half = figures.requests / 2
    allowed = SLACK_MB + half * KB_A_REQUEST / 1024 + min(figures.versions / 2, KEPT_ENTRIES) * KB_KEPT / 1024
    grown = quarter(figures.memory, 4) - quarter(figures.memory, 2)
    if grown > allowed:
        found.append(f"memory grew by {grown:.0f} MB from the second quarter to the last, {allowed:.0f} at most")
    first, last = quarter(figures.latency, 1), quarter(figures.latency, 4)
    if last > first * TIMES_SLOWER + SLACK_MS:
        found.append(f"a request took {first:.0f} ms in the first quarter and {last:.0f} in the last")
    if figures.database > figures.versions * BYTES_A_VERSION:
        found.append(f"the database takes {figures.database / figures.versions:.0f} bytes a version")
    return found


def memory_mb(server: Server) -> float:
    status = Path(f"/proc/{server.process.pid}/status").read_text()
    return next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmRSS")) / 1024


def run(
    folder: Path, phones: int, seconds: float, pause_s: float, command: tuple[str, ...] = COMMAND, worker: str = "yes"
) -> Figures:
    """Let so many phones loose on a fresh server; what was seen."""
    url, now = f"sqlite:///{folder / 'plytide.db'}", datetime.now(UTC)
    with Store.open(url) as store:
        books = [store.create_logbook(f"wearer {n}") for n in range(phones // 2)]
        tokens = [
            store.use_pair_code(store.new_pair_code(book, now).code, "phone", now)[1] for book in books for _ in "ab"
        ]
    empty = size(folder)
    server, figures = Server(folder, command, UNLIMITED | {"worker": worker}), Figures()
    server.start()
    try:
        ending = threading.Event()
        sets = [Handset(server.port, n, token, ending, pause_s) for n, token in enumerate(tokens)]
        for each in sets:
            each.start()
        for _ in range(SAMPLES):
            time.sleep(seconds / SAMPLES)
            figures.memory.append(memory_mb(server))
        ending.set()
        for each in sets:
            each.join(120)
        for each in [*sets, *sets]:  # twice: the second of a pair may have sent what the first lacks
            each.settle()
    finally:
        server.stop()
    with Store.open(url) as store:
        figures.lost = [f"{what} of wearer {n}" for n, book in enumerate(books) for what in lost(store, book, sets, n)]
        census = store.check()
        figures.versions = census.entries + census.versions
        summaries = sum(len((store.summary_json(book) or "").encode()) for book in books)
    figures.database = size(folder) - empty - summaries
    figures.requests = sum(each.requests for each in sets)
    figures.latency = [ms for _, ms in sorted(pair for each in sets for pair in each.latency)]
    for each in sets:
        figures.troubles += each.troubles
        figures.strange += each.strange
    return figures


def lost(store: Store, book: str, sets: list[Handset], wearer: int) -> list[str]:
    """Where the two phones of a wearer and the server do not hold the same, or something still waits."""
    held = {entry.id: entry.as_dict() for entry in store.standing(book)}
    pair = sets[2 * wearer : 2 * wearer + 2]
    found = [f"phone {n} differs" for n, each in enumerate(pair) if each.phone.log != held]
    return found + [f"phone {n} still waits" for n, each in enumerate(pair) if each.phone.outbox]


def size(folder: Path) -> int:
    """Bytes of the database's file and its log."""
    return sum(file.stat().st_size for file in folder.glob("plytide.db*"))


def table(figures: Figures, seconds: float) -> str:
    """The figures for people."""
    rows = [
        ("requests", f"{figures.requests} ({figures.requests / seconds:.0f}/s)"),
        ("troubles", ", ".join(f"{name} {count}" for name, count in sorted(figures.troubles.items()))),
        ("versions of entries kept", f"{figures.versions} ({figures.versions / seconds:.0f}/s)"),
        ("memory by quarters", ", ".join(f"{quarter(figures.memory, n):.0f}" for n in range(1, 5)) + " MB"),
        ("median of a request by quarters",
         ", ".join(f"{quarter(figures.latency, n):.1f}" for n in range(1, 5)) + " ms"),
        ("p99 of a request", f"{sorted(figures.latency)[len(figures.latency) * 99 // 100]:.0f} ms"),
        ("database, a version", f"{figures.database / figures.versions:.0f} bytes"),
    ]  # fmt: skip
    return "\n".join(f"{what:34} {figure}" for what, figure in rows)


def main() -> int:
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0] if __doc__ else None)
    asked.add_argument("--minutes", type=float, default=60)
    asked.add_argument("--phones", type=int, default=50)
    asked.add_argument("--pause", type=float, default=1.0, help="seconds from one tap of a phone to the next")
    asked.add_argument("--worker", choices=["yes", "no"], default="yes", help="no: the server without its readings")
    words = asked.parse_args()
    with tempfile.TemporaryDirectory(prefix="plytide-long-") as folder:
        figures = run(Path(folder), words.phones, words.minutes * 60, words.pause, worker=words.worker)
    print(table(figures, words.minutes * 60))
    wrong = complaints(figures)
    print("\n".join(wrong) if wrong else "Nothing lost; memory, latency and size as they should be.")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
