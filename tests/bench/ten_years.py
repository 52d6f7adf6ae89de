"""A logbook with ten years in it, for benchmarks: entries at random, many a day, up to now."""

from __future__ import annotations

import random
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from typing import Any

from browser.plytide_server import Server
from plytide import stamps
from plytide.ids import uuid7
from plytide.jobs import recompute
from plytide.store import iso

YEARS, BATCH = 10, 500


def ten_years(count: int) -> list[dict[str, Any]]:
    """`count` entries over ten years up to now, oldest first; the leg is on at the end."""
    chance, end = random.Random(7), datetime.now(UTC)
    made = []
    for n in range(count):
        at = end - timedelta(days=365.25 * YEARS) * (1 - n / count) - timedelta(minutes=5)
        ms = round(at.timestamp() * 1000)
        kind = chance.choices(["ply", "don", "doff", "sore", "comfort"], [6, 2, 2, 1, 1])[0] if n < count - 1 else "don"
        body: dict[str, Any] = {
            "ply": {"total": chance.randint(3, 10)}, "don": {"total": chance.randint(2, 6)}, "doff": {},
            "sore": {"height": chance.random(), "angle": chance.randrange(360), "intensity": chance.randrange(11)},
            "comfort": {"score": chance.randrange(11)},
        }[kind]  # fmt: skip
        made.append({
            "id": uuid7(ms), "kind": kind, "limb": "right", "at": iso(at), "zone": "Europe/Lisbon",
            "stamp": stamps.make(ms, 0, "5f3a9c1e"), "erased": False, "body": body,
        })  # fmt: skip
    return made


def fill(server: Server, count: int) -> str:
    """A logbook of `server` with `count` entries and their summary."""
    logbook = server.new_logbook()
    entries = ten_years(count)
    with closing(server.store) as store:
        for start in range(0, count, BATCH):
            part = entries[start : start + BATCH]
            answer = store.sync(logbook, None, 0, part, round(time.time() * 1000), limit=1)
            assert {result["r"] for result in answer.results} == {"ok"}
        recompute(store, logbook, datetime.now(UTC))
    return logbook
