"""The calendar that a wearer can subscribe to: evening look at the skin, visits, break-in steps, when to book.

Words are few and say nothing of what was found: a calendar is seen on other screens and over other shoulders. Times
are local ones with their zone, so that nine in the evening stays nine in the evening when the clocks change.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event, vRecur

from plytide.entries import Entry
from plytide.insight.clock import instant, local_date

EVENING = time(21)
LOOK = timedelta(minutes=10)
PAST = timedelta(days=60)  # visits this far back stay in the calendar
NEW = frozenset({"new_socket", "test_socket"})
BREAK_IN = timedelta(days=90)  # after this a plan that never ended is no longer put into the calendar
REFRESH = timedelta(hours=6)
ZONES_KNOWN = timedelta(days=3 * 366)  # how far ahead the changes of the clocks are told; a fresh look tells more


def calendar(entries: Sequence[Entry], summary: Mapping[str, Any] | None, now: datetime, address: str) -> bytes:
    """The calendar as text. `entries` are those that stand; `address` makes the names of its events its own."""
    latest = max(entries, key=lambda e: e.at, default=None)
    zone = ZoneInfo(latest.zone if latest else "UTC")
    told = Calendar()
    told.add("prodid", "-//Plytide//log//EN")
    told.add("version", "2.0")
    told.add("x-wr-calname", "Prosthesis log")
    told.add("refresh-interval", REFRESH, parameters={"VALUE": "DURATION"})
    profile = max((e for e in entries if e.kind == "profile"), key=lambda e: e.stamp, default=None)
    settings: Mapping[str, Any] = profile.body if profile else {}
    today = date.fromisoformat(local_date(round(now.timestamp() * 1000), zone.key, settings.get("day_starts", 4)))
    told.add_component(_evening(entries, zone, now, address))
    for event in (*_visits(entries, today, now, address), *_break_in(entries, summary, settings, today, now, address),
                  *_book_by(summary, now, address)):  # fmt: skip
        told.add_component(event)
    first = min((e.at for e in entries), default=now.isoformat())
    told.add_missing_timezones(date.fromisoformat(first[:10]) - PAST, today + ZONES_KNOWN)
    text: bytes = told.to_ical()
    return text


def _evening(entries: Sequence[Entry], zone: ZoneInfo, now: datetime, address: str) -> Event:
    first = min((e.at for e in entries), default=now.isoformat())
    begin = datetime.combine(datetime.fromisoformat(first).astimezone(zone).date(), EVENING, zone)
    event = _event(f"skin-{address}", "Look at the skin", now)
    event.add("dtstart", begin)
    event.add("duration", LOOK)
    event.add("rrule", vRecur(FREQ="DAILY"))
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", "Look at the skin")
    alarm.add("trigger", timedelta(0))
    event.add_component(alarm)
    return event


def _visits(entries: Sequence[Entry], today: date, now: datetime, address: str) -> Iterator[Event]:
    for entry in entries:
        if entry.kind == "visit" and date.fromisoformat(entry.body["on"]) >= today - PAST:
            where = entry.body.get("clinic", "").strip()
            event = _whole_day(f"{entry.id}-{address}", "Clinic" + (f": {where}" if where else ""),
                               date.fromisoformat(entry.body["on"]), now)  # fmt: skip
            yield event


def _break_in(
    entries: Sequence[Entry], summary: Mapping[str, Any] | None, settings: Mapping[str, Any], today: date,
    now: datetime, address: str,
) -> Iterator[Event]:  # fmt: skip
    """The steps that are left, a day each from today, as if every look were clear; a step not gained moves them all."""
    plan = [step for step in settings.get("break_in") or [] for _ in range(step.get("days", 1))]
    changes = [e for e in entries if e.kind == "change" and e.body["what"] in NEW]
    if not plan or not changes:
        return
    last = max(changes, key=lambda e: e.at)
    since = local_date(instant(last.at), last.zone, settings.get("day_starts", 4))
    if date.fromisoformat(since) < today - BREAK_IN:
        return
    limb = (summary or {}).get("limbs", {}).get(last.limb, {})
    gained = sum(since <= d["date"] < today.isoformat() and d["start"] is not None and d["skin"] == "clear"
                 for d in limb.get("days", []))  # fmt: skip
    for i, step in enumerate(plan[gained:]):
        times = f", {step['times']} times" if step.get("times", 1) > 1 else ""
        event = _whole_day(f"break-in-{gained + i}-{last.id}-{address}", f"New socket: {step['minutes']:g} min{times}",
                           today + timedelta(days=i), now)  # fmt: skip
        event.add("description", "If the last look at the skin was clear. As your clinic gave it.")
        yield event


def _book_by(summary: Mapping[str, Any] | None, now: datetime, address: str) -> Iterator[Event]:
    for side, limb in (summary or {}).get("limbs", {}).items():
        on = limb["trend"].get("book_by")
        if on:
            event = _whole_day(f"book-{side}-{address}", "Book the clinic by today", date.fromisoformat(on), now)
            yield event


def _whole_day(name: str, words: str, on: date, now: datetime) -> Event:
    event = _event(name, words, now)
    event.add("dtstart", on)
    event.add("dtend", on + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    return event


def _event(name: str, words: str, now: datetime) -> Event:
    event = Event()
    event.add("uid", f"{name}@plytide")
    event.add("dtstamp", now.astimezone(UTC).replace(microsecond=0))
    event.add("summary", words)
    return event
