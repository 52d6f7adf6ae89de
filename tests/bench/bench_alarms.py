"""Signs of review and above that begin a month on invented stable wearers, and days to find planted troubles.

    .venv/bin/python tests/bench/bench_alarms.py [wearers]

The budget: at most one a month on stable limbs; troubles found within 3 days of meeting their rule. The wearers are
drawn afresh from fixed seeds that the tests do not use; the figures say nothing about people.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1]))
from insight.alarms import WARM_UP, begun, first_day, lived, sore
from insight.wearers import Book, draw

DAYS, PLANTED, MONTH, FIRST_SEED = 120, 70, 30.4, 10_000


def spot(book: Book) -> None:
    """One place sore every other day."""
    for day in range(PLANTED, DAYS, 2):
        sore(book, day, (0.7, 100 + day % 5), 4)


def redness(book: Book) -> None:
    """Marks that stay half an hour."""
    for day in range(PLANTED, DAYS):
        mark = {"what": "redness", "height": 0.7, "angle": 100.0, "fade_min": 30 + day % 4}
        book.add(day, 23, "skin", clear=False, findings=[mark], fever_c=None, unwell=[])


def comfort(book: Book) -> None:
    """Comfort four points down."""
    book.entries = [e for e in book.entries if e.kind != "comfort"]
    for day in range(DAYS):
        book.add(day, 21.5, "comfort", score=(8 if day < PLANTED else 4) + day % 2)


def suction(book: Book) -> None:
    """Suction lost every other day."""
    for day in range(PLANTED, DAYS, 2):
        book.add(day, 14.5, "mishap", what="suction_lost")


# Trouble, the sign that says it, and the days from planting after which its rule is met.
TROUBLES: list[tuple[Callable[[Book], None], str, int]] = [
    (spot, "spot_again", 4), (redness, "redness_long", 0), (comfort, "comfort_down", 6), (suction, "suction_again", 4),
]  # fmt: skip


def main(wearers: int) -> None:
    """Prints both tables."""
    rates, codes = [], Counter[str]()
    for seed in range(FIRST_SEED, FIRST_SEED + wearers):
        found = begun(lived(draw(seed, DAYS, "stable")), WARM_UP, DAYS - 1)
        codes.update(code for _, code in found)
        rates.append(len(found) / ((DAYS - WARM_UP) / MONTH))
    print(f"{wearers} stable wearers: {sum(rates) / len(rates):.2f} signs of review or above begin a month;")
    print(f"over one a month: {sum(rate > 1 for rate in rates)}; by rule: {dict(codes.most_common())}")
    print("\ntrouble      found  median days after the rule is met  within 3 days")
    for plant, code, met in TROUBLES:
        late = []
        for seed in range(FIRST_SEED, FIRST_SEED + max(1, wearers // 5)):
            book = lived(draw(seed, DAYS, "stable"))
            plant(book)
            day = first_day(book, {code}, PLANTED, DAYS - 1)
            late.append(DAYS if day is None else day - PLANTED - met)
        known, in_time = sum(days < DAYS for days in late), sum(days <= 3 for days in late)
        print(f"{plant.__name__:12} {known:5}  {median(late):33g}  {in_time} of {len(late)}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
