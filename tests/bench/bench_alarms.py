"""Signs of review and above that begin a month on invented stable wearers, and days to find planted troubles.

    .venv/bin/python tests/bench/bench_alarms.py --wearers 200 --seed 10000

The budget: at most one a month on stable limbs; troubles found within 3 days of meeting their rule. The wearers are
drawn afresh from fixed seeds that the tests do not use; the figures say nothing about people.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1]))
from insight.alarms import WARM_UP, begun, first_day, lived, sore
from insight.wearers import Book, draw

DAYS, PLANTED, MONTH = 120, 70, 30.4


Planted = tuple[Book, int | None]  # the book, and the day on which the rule is met; None where it never is


def stable(seed: int) -> Book:
    """A stable wearer's book, to plant a trouble in."""
    return lived(draw(seed, DAYS, "stable"))


def outgrown(seed: int) -> Planted:
    """A socket outgrown: the need rises by .06 ply a day until most days of a week reach the review limit."""
    book = lived(replace(draw(seed, DAYS, "stable"), level=5.0, drift=0.06, fade=1000.0))
    peaks: dict[int, int] = {}
    for entry in book.entries:
        if entry.kind in ("don", "ply"):
            day = (datetime.fromisoformat(entry.at) - book.at(0, 4)).days
            peaks[day] = max(peaks.get(day, 0), entry.body["total"])
    weeks = (d for d in range(WARM_UP, DAYS - 7) if sum(peaks.get(n, 0) >= 10 for n in range(d - 6, d + 1)) >= 4)
    return book, next(weeks, None)


def swollen(seed: int) -> Planted:
    """A limb suddenly bigger by 3.5 ply; the rule asks that it lasts four days."""
    return lived(replace(draw(seed, DAYS, "stable"), level=6.5, changes=((PLANTED, -3.5, False),))), PLANTED + 3


def seen_swollen(seed: int) -> Planted:
    """Swelling seen in the evening's skin check."""
    book = stable(seed)
    book.add(PLANTED, 23, "skin", clear=False, findings=[{"what": "swollen"}], fever_c=None, unwell=[])
    return book, PLANTED


def spot(seed: int) -> Planted:
    """One place sore every other day; the third of them meets the rule."""
    book = stable(seed)
    for day in range(PLANTED, DAYS, 2):
        sore(book, day, (0.7, 100 + day % 5), 4)
    return book, PLANTED + 4


def redness(seed: int) -> Planted:
    """Marks that stay half an hour."""
    book = stable(seed)
    for day in range(PLANTED, DAYS):
        mark = {"what": "redness", "height": 0.7, "angle": 100.0, "fade_min": 30 + day % 4}
        book.add(day, 23, "skin", clear=False, findings=[mark], fever_c=None, unwell=[])
    return book, PLANTED


def comfort(seed: int) -> Planted:
    """Comfort four points down, for a week."""
    book = stable(seed)
    book.entries = [e for e in book.entries if e.kind != "comfort"]
    for day in range(DAYS):
        book.add(day, 21.5, "comfort", score=(8 if day < PLANTED else 4) + day % 2)
    return book, PLANTED + 6


def suction(seed: int) -> Planted:
    """Suction lost every other day; the third of them meets the rule."""
    book = stable(seed)
    for day in range(PLANTED, DAYS, 2):
        book.add(day, 14.5, "mishap", what="suction_lost")
    return book, PLANTED + 4


TROUBLES: list[tuple[Callable[[int], Planted], set[str]]] = [
    (outgrown, {"ply_review"}), (swollen, {"limb_bigger"}), (seen_swollen, {"swelling"}),
    (spot, {"spot_again"}), (redness, {"redness_long"}), (comfort, {"comfort_down"}), (suction, {"suction_again"}),
]  # fmt: skip


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--wearers", type=int, default=200)
    asked.add_argument("--seed", type=int, default=10_000, help="first seed; never use one that a rule was tuned on")
    asked.add_argument("--parts", nargs="+", choices=["budget", "troubles"], default=["budget", "troubles"])
    given = asked.parse_args()
    if "budget" in given.parts:
        budget(given.wearers, given.seed)
    if "troubles" in given.parts:
        troubles(range(given.seed, given.seed + max(1, given.wearers // 10)))


def troubles(seeds: range) -> None:
    """How soon planted troubles are found."""
    print("\ntrouble       planted  found  median days after the rule is met  within 3 days")
    for plant, codes in TROUBLES:
        late = [found(*plant(seed), codes) for seed in seeds]
        known = [days for days in late if days is not None]
        seen = [days for days in known if days < DAYS]
        print(f"{plant.__name__:13} {len(known):7} {len(seen):6}  {median(known):33g}  {sum(d <= 3 for d in seen)}")


def budget(wearers: int, seed: int) -> None:
    """Signs of review and above that begin a month on stable wearers."""
    lives = [[code for _, code in begun(stable(one), WARM_UP, DAYS - 1)] for one in range(seed, seed + wearers)]
    months = (DAYS - WARM_UP) / MONTH
    rate = sum(map(len, lives)) / wearers / months
    over = [life for life in lives if len(life) / months > 1]
    print(f"{wearers} stable wearers, seeds from {seed}: {rate:.2f} signs of review or above a month;")
    print(f"by rule: {dict(Counter(code for life in lives for code in life).most_common())}")
    print(f"over one a month: {len(over)}; theirs: {over}")


def found(book: Book, met: int | None, codes: set[str]) -> int | None:
    """Days from the rule being met to the first of these signs; DAYS where none came, None where it was never met."""
    if met is None:
        return None
    day = first_day(book, codes, max(WARM_UP, met - 10), DAYS - 1)
    return DAYS if day is None else day - met


if __name__ == "__main__":
    main()
