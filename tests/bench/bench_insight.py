"""What a reading costs: a year and ten years of a busy wearer, one more entry, and memory.

    python tests/bench/bench_insight.py

Times are of one core (process time), the best of several runs, besides a plain loop of Python as a yardstick for
machines that are busy or slow. Budgets: a year 100 ms, ten years 1 s.
"""

from __future__ import annotations

import resource
import sys
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[1]))

from insight import wearers
from plytide.entries import Entry
from plytide.insight import Reading, summarise

A_DAY = 20  # entries


def busy(days: int) -> tuple[list[Entry], datetime, wearers.Book]:
    """The entries of a wearer who logs A_DAY a day, an afternoon of the last day, and a book for one more."""
    wearer = replace(
        wearers.draw(3, days, "stable"), notice=1.2, slack=0.45, lost_days=0.0, lost_taps=0.0, lost_doffs=0.0
    )
    entries = wearers.entries(wearer, extra=True)
    book, r = wearers.Book(wearer.seed + 1, wearer.zone), Random(1)
    missing = A_DAY * days - len(entries)
    for n in range(missing):
        day, hour = n * days // missing, r.uniform(8, 21)
        kind = r.choices(["sore", "comfort", "adjust", "activity", "ply"], [5, 3, 4, 4, 4])[0]
        body = {
            "sore": {"height": r.choice([0.7, 0.3]), "angle": r.gauss(100, 6), "intensity": r.randint(1, 5)},
            "comfort": {"score": r.randint(5, 8)},
            "adjust": {"what": "dial", "by": 1},
            "activity": {"what": "stairs"},
            "ply": {"total": r.randint(4, 8)},
        }[kind]
        book.add(day, hour, kind, None if kind == "activity" else "", **body)
    return [*entries, *book.entries], book.at(days - 1, 15).astimezone(UTC), book


def best(work: Callable[[], object], runs: int) -> float:
    """The least process time of some runs, in ms."""
    times = []
    for _ in range(runs):
        began = time.process_time()
        work()
        times.append(1000 * (time.process_time() - began))
    return min(times)


def yardstick() -> float:
    """A fixed loop, in ms: about 25 on the machine that the budgets were met on."""
    return best(lambda: sum(n * n % 7 for n in range(300_000)), 5)


def main() -> None:
    print(f"yardstick {yardstick():.0f} ms")
    for years, budget, runs in ((1, 100, 5), (10, 1000, 3)):
        entries, now, book = busy(365 * years)
        cold = best(lambda entries=entries, now=now: summarise(entries, now), 1)
        whole = best(lambda entries=entries, now=now: summarise(entries, now), runs)
        kept = Reading()
        summarise(entries, now, kept=kept)
        more = iter([book.add(365 * years - 1, 14 + n / 60, "ply", total=5 + n % 3) for n in range(20)])
        one = best(lambda now=now, kept=kept, more=more: summarise([next(more)], now, kept=kept), 20)
        del kept
        tracemalloc.start()
        kept = Reading()
        summarise(entries, now, kept=kept)
        held, peak = (size / 2**20 for size in tracemalloc.get_traced_memory())
        tracemalloc.stop()
        print(
            f"{years:2} years, {len(entries)} entries: first {cold:.0f} ms, then {whole:.0f} ms (budget {budget}); "
            f"one more entry {one:.1f} ms; a kept reading holds {held:.1f} MiB beside the entries, {peak:.1f} at most"
        )
    print(
        f"at most {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB of memory for the whole program"
    )


if __name__ == "__main__":
    main()
