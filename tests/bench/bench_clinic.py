"""The page behind a link, over HTTP: time and size for four weeks, a year and ten years. Prints a table.

    .venv/bin/python tests/bench/bench_clinic.py

The log is the demo's four months over and over, moved back in time: about 28,000 entries in ten years. "First" is a
page that nobody has looked at since the last change, "again" one that was looked at within the minute. The last row is
a ratio, which travels better between machines.
"""

from __future__ import annotations

import http.client
import statistics
import sys
import tempfile
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
from plytide import demo
from plytide.exchange.lines import BATCH, keep
from plytide.ids import uuid7
from plytide.store import LinkSpec, Store
from serving import Server

YEARS, LOOKS, SPAN = 10, 5, timedelta(days=120)
SPANS = {"4 weeks": 28, "a year": 365, "ten years": 3650}
BUDGET_MS = {"4 weeks": 150, "a year": 150, "ten years": 500}
BUDGET_BYTES = 150_000
STANDING = {"profile", "sock", "visit", "need", "question", "option"}  # told once, not again every four months


def ten_years(now: datetime) -> list[dict[str, Any]]:
    """The demo's days repeated back in time; ids new, so that no entry replaces another."""
    once = demo.scenario(now, "Europe/Lisbon")
    told: list[dict[str, Any]] = []
    for back in range(int(YEARS * 365 / SPAN.days)):
        for line in once if back == 0 else [e for e in once if e["kind"] not in STANDING]:
            at = datetime.fromisoformat(line["at"]) - back * SPAN
            ms = int(at.timestamp() * 1000)
            moved = {"id": uuid7(ms), "at": at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), "stamp": f"{ms:012x}-0000-0a0b0c0d"}
            told.append(line if back == 0 else {**line, **moved})
    return told


def look(server: Server, token: str, session: str) -> tuple[float, int]:
    """Milliseconds until the page is here, and its bytes."""
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
    began = time.perf_counter()
    connection.request("GET", f"/s/{token}", headers={"cookie": f"plytide-view={session}"})
    answer = connection.getresponse()
    text = answer.read()
    spent = (time.perf_counter() - began) * 1000
    connection.close()
    assert answer.status == 200
    assert b"Day by day" in text or b"Week by week" in text or b"Month by month" in text, "the page did not open"
    return spent, len(text)


def looks(
    server: Server, store: Store, logbook: str, spec: LinkSpec, now: datetime
) -> tuple[list[float], list[float], int]:
    """(times of first looks, times of looks after them, bytes): a link for each, for a page is kept a while."""
    first, again, size = [], [], 0
    for _ in range(LOOKS):
        link = store.make_link(logbook, spec, now)
        session = store.open_link(link.token, link.code, now).session
        spent, size = look(server, link.token, session)
        first.append(spent)
        again.append(look(server, link.token, session)[0])
    return first, again, size


def main() -> None:
    now = datetime.now(UTC)
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder) / "data", settings={"address_rate": "0", "guess_rate": "0"})
        server.start()
        with closing(Store.open(f"sqlite:///{Path(folder) / 'data' / 'plytide.db'}")) as store:
            logbook, told = store.create_logbook(), ten_years(now)
            for start in range(0, len(told), BATCH):
                keep(store, logbook, told[start : start + BATCH], now)
            print(f"{len(told):,} entries in {YEARS} years")
            print(f"{'':22}{'first ms':>10}{'worst':>8}{'again ms':>10}{'budget':>8}{'bytes':>9}")
            firsts = {}
            for kind, live in (("live", True), ("snapshot", False)):
                for name, days in SPANS.items():
                    first, again, size = looks(server, store, logbook, LinkSpec(days=days, live=live), now)
                    firsts[name, kind] = statistics.median(first)
                    row = f"{firsts[name, kind]:10.0f}{max(first):8.0f}{statistics.median(again):10.0f}"
                    over = "" if size <= BUDGET_BYTES else f"  over {BUDGET_BYTES:,}"
                    print(f"{name + ', ' + kind:22}{row}{BUDGET_MS[name]:8}{size:9,}{over}")
            print(f"ten years take {firsts['ten years', 'live'] / firsts['a year', 'live']:.1f} times a year")
        server.kill()


if __name__ == "__main__":
    main()
