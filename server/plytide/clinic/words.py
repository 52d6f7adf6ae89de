"""The words of the clinic page: one catalogue, and the few ways in which numbers and dates become words.

A text with ``|`` has a form for one and a form for many. English here; another language is another catalogue.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from functools import cache
from importlib.resources import files
from zoneinfo import ZoneInfo

from plytide.insight.words import chance as chance

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")  # fmt: skip
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")

@cache
def _catalogue() -> dict[str, str]:
    read: dict[str, str] = json.loads(files(__package__).joinpath("words.json").read_text("utf-8"))
    return read


def t(key: str, **values: object) -> str:
    """The text under `key` with its values put in; `n` chooses between the forms for one and for many."""
    text = _catalogue()[key]
    if "|" in text:
        one, many = text.split("|")
        text = one if values.get("n") == 1 else many
    return text.format(**values)


def known(key: str) -> bool:
    """Whether the catalogue has a text under `key`."""
    return key in _catalogue()


def word(group: str, name: str) -> str:
    """The word for a value of an entry, such as ``feel``, ``rub``; a value newer than this catalogue stays as it is."""
    key = f"{group}.{name}"
    return t(key) if known(key) else name.replace("_", " ")


def count(n: int, unit: str) -> str:
    """`n` of something: "1 day", "3 days"."""
    return t(f"unit.{unit}", n=n)


def number(value: float | None, digits: int = 1) -> str:
    """A number without needless zeros; a dash where there is none; a true minus sign."""
    if value is None:
        return "–"
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "0") else text.replace("-", "−")


def as_date(text: str | date) -> date:
    return text if isinstance(text, date) else date.fromisoformat(text[:10])


def day(text: str | date, year: bool = False) -> str:
    """A date as "12 June", with the year if asked."""
    that = as_date(text)
    return f"{that.day} {MONTHS[that.month - 1]}" + (f" {that.year}" if year else "")


def short_day(text: str | date) -> str:
    """A date as "12 Jun"."""
    that = as_date(text)
    return f"{that.day} {MONTHS[that.month - 1][:3]}"


def week_day(text: str | date) -> str:
    """A date as "Thu 12 June"."""
    that = as_date(text)
    return f"{DAYS[that.weekday()]} {that.day} {MONTHS[that.month - 1]}"


def month(text: str | date) -> str:
    """A date as "June 2031"."""
    that = as_date(text)
    return f"{MONTHS[that.month - 1]} {that.year}"


def local(at: str | datetime, zone: str) -> datetime:
    """An instant in the wearer's own time."""
    moment = datetime.fromisoformat(at) if isinstance(at, str) else at
    return moment.astimezone(ZoneInfo(zone))


def zone(name: str) -> ZoneInfo:
    """A time zone by its name."""
    return ZoneInfo(name)


def clock(at: str | datetime | None, zone: str) -> str:
    """An instant as "07:10" in the wearer's own time."""
    return "" if at is None else f"{local(at, zone):%H:%M}"


def moment(at: str | datetime, zone: str) -> str:
    """An instant as "12 June, 13:15" in the wearer's own time."""
    there = local(at, zone)
    return f"{day(there.date())}, {there:%H:%M}"


def span(days: int) -> str:
    """A number of days as people say it: weeks where it comes out even or is long."""
    return count(round(days / 7), "week") if days >= 14 and (days % 7 == 0 or days > 60) else count(days, "day")
