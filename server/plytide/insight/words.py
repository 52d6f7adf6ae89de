"""Chances and numbers in plain words; a screen never shows a percentage."""

from __future__ import annotations

# Chances people can picture. The nearest one is said, so "about 3 days in 4" stands for 0.71 to 0.775.
_SAID = ((1, 10), (1, 5), (1, 4), (1, 3), (1, 2), (2, 3), (3, 4), (4, 5), (9, 10))

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


def chance(p: float) -> str:
    """A chance from 0 to 1, such as "1 in 5"."""
    if p < 0.05:
        return "fewer than 1 in 20"
    if p > 0.95:
        return "more than 19 in 20"
    n, of = min(_SAID, key=lambda said: abs(said[0] / said[1] - p))
    return f"{n} in {of}"


def share(p: float) -> str:
    """A share of days, such as "about 3 days in 4"."""
    if p < 0.05:
        return "fewer than 1 day in 20"
    if p > 0.95:
        return "nearly every day"
    n, of = min(_SAID, key=lambda said: abs(said[0] / said[1] - p))
    return f"about {n} {'day' if n == 1 else 'days'} in {of}"


def on_day(text: str) -> str:
    """The day of a date, such as "3 March"."""
    return f"{int(text[8:10])} {_MONTHS[int(text[5:7]) - 1]}"


def days(n: int) -> str:
    """A count of days."""
    return "1 day" if n == 1 else f"{n} days"
