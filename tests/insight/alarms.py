"""How often signs of review and above begin, day by day, for invented wearers; and wearers with a trouble planted.

Ordinary life is added to the ply of `wearers`: pink marks that mostly fade in time, now and then a sore mark, a
stumble, lost suction, comfort that goes up and down. The rates are invented and say nothing about people.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from insight.wearers import Book, Wearer
from insight.wearers import entries as ply_entries
from plytide.entries import Entry
from plytide.insight import Reading, summarise

URGENT = ("emergency", "same_day", "review")
WARM_UP = 35  # days before which nothing is counted: a week against the four before it needs them


@dataclass
class Life:
    """One wearer's ordinary days: rates a day, and minutes that a pink mark takes to fade."""

    pink: float
    fade: float
    sore: float
    spot: float
    stumble: float
    suction: float
    comfort: float


def draw_life(seed: int) -> Life:
    """Rates drawn for one wearer."""
    r = Random(seed * 31 + 5)
    return Life(
        pink=r.uniform(0, 0.3), fade=r.uniform(4, 10), sore=r.uniform(0, 0.1), spot=r.uniform(0, 0.05),
        stumble=r.uniform(0, 0.03), suction=r.uniform(0, 0.05), comfort=r.uniform(5.5, 9),
    )  # fmt: skip


def lived(wearer: Wearer) -> Book:
    """A wearer's ply and ordinary life as one book, to which more may be added."""
    book = Book(wearer.seed, wearer.zone)
    book.entries = ply_entries(wearer)
    r, life = Random(wearer.seed * 53 + 7), draw_life(wearer.seed)
    home = (r.random(), r.uniform(0, 360))  # the place that is a little sore now and then
    for day in range(wearer.days):
        if r.random() < 0.85:
            pink = r.random() < life.pink
            minutes = round(life.fade * r.lognormvariate(0, 0.35), 1)
            mark = {"what": "redness", "height": home[0], "angle": home[1], "fade_min": minutes}
            book.add(day, 22.7, "skin", clear=not pink, findings=[mark] if pink else [], fever_c=None, unwell=[])
        if r.random() < 0.6:
            book.add(day, 21.5, "comfort", score=min(10, max(0, round(r.gauss(life.comfort, 1.0)))))
        if r.random() < life.sore:
            sore(book, day, (r.random(), r.uniform(0, 359)), r.randint(1, 5))
        if r.random() < life.spot:
            sore(book, day, home, r.randint(1, 5))
        if r.random() < life.stumble:
            book.add(day, 13, "mishap", what="stumble")
        if r.random() < life.suction:
            book.add(day, 14, "mishap", what="suction_lost")
    return book


def sore(book: Book, day: int, place: tuple[float, float], score: int) -> Entry:
    """A sore mark near a place."""
    return book.add(day, 16, "sore", height=place[0], angle=place[1] % 360, intensity=score, phantom=False)


def standing(book: Book, first: int, last: int) -> Iterator[tuple[int, dict[str, str]]]:
    """For the evening of each day the codes that stand, with their levels; one reading is kept from day to day."""
    kept = Reading()
    kept.take(book.entries)
    for day in range(first, last + 1):
        summary = summarise((), book.at(day, 23.6), kept=kept, days=1)
        signs = [*summary["signs"], *summary["limbs"][book.side]["signs"]]
        yield day, {sign["code"]: sign["level"] for sign in signs}


def begun(book: Book, first: int, last: int) -> list[tuple[int, str]]:
    """The (day, code) of each sign of review or above that did not stand the evening before."""
    found: list[tuple[int, str]] = []
    before: set[str] = set()
    for day, codes in standing(book, first - 1, last):
        urgent = {code for code, level in codes.items() if level in URGENT}
        found += [(day, code) for code in sorted(urgent - before)] if day >= first else []
        before = urgent
    return found


def first_day(book: Book, codes: set[str], first: int, last: int) -> int | None:
    """The first evening on which one of the codes stands."""
    return next((day for day, standing_now in standing(book, first, last) if codes & standing_now.keys()), None)
