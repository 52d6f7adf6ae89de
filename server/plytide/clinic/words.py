"""The words of the clinic page: a catalogue a language, and the few ways in which numbers and dates become words.

A page is written in one language from its first word to its last: `speaking` says which, and everything here follows.
A text with ``|`` has a form for one and a form for many. Another language is another catalogue beside these.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date, datetime
from functools import cache
from importlib.resources import files
from typing import Literal, get_args
from zoneinfo import ZoneInfo

Language = Literal["en", "es"]
LANGUAGES: tuple[Language, ...] = get_args(Language)

_spoken: ContextVar[Language] = ContextVar("spoken", default="en")


@contextmanager
def speaking(language: Language) -> Iterator[None]:
    """What is said inside is said in this language."""
    before = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(before)


def spoken() -> Language:
    """The language of what is being written."""
    return _spoken.get()


@cache
def catalogue(language: Language) -> dict[str, str]:
    """All texts of a language by key."""
    read: dict[str, str] = json.loads(files(__package__).joinpath(f"words.{language}.json").read_text("utf-8"))
    return read


def t(key: str, **values: object) -> str:
    """The text under `key` with its values put in; `n` chooses between the forms for one and for many."""
    text = catalogue(spoken())[key]
    if "|" in text:
        one, many = text.split("|")
        text = one if values.get("n") == 1 else many
    return text.format(**values)


def known(key: str) -> bool:
    """Whether the catalogue has a text under `key`."""
    return key in catalogue(spoken())


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
    return "0" if text in ("-0", "0") else text.replace("-", "−").replace(".", t("decimal"))


def signed(value: float) -> str:
    """A change, with its sign."""
    text = number(value)
    return text if text == "0" or text[0] == "−" else f"+{text}"


def as_date(text: str | date) -> date:
    return text if isinstance(text, date) else date.fromisoformat(text[:10])


def day(text: str | date, year: bool = False) -> str:
    """A date as "12 June", with the year if asked."""
    return _said("year" if year else "day", text)


def short_day(text: str | date) -> str:
    """A date as "12 Jun"."""
    return _said("short", text)


def week_day(text: str | date) -> str:
    """A date as "Thu 12 June"."""
    return _said("week", text)


def month(text: str | date) -> str:
    """A date as "June 2031"."""
    return _said("month", text)


def short_month(text: str | date) -> str:
    """A date as "Jun 2031"."""
    that = as_date(text)
    return f"{_month(that)[:3]} {that.year}"


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
    return t("date.moment", date=day(there.date()), time=f"{there:%H:%M}")


def span(days: int) -> str:
    """A number of days as people say it: weeks where it comes out even or is long."""
    return count(round(days / 7), "week") if days >= 14 and (days % 7 == 0 or days > 60) else count(days, "day")


def _said(form: str, text: str | date) -> str:
    that = as_date(text)
    month, weekday = _month(that), t("weekdays").split()[that.weekday()]
    return t(f"date.{form}", day=that.day, month=month, short=month[:3], year=that.year, weekday=weekday)


def _month(that: date) -> str:
    return t("months").split()[that.month - 1]
