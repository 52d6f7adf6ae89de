"""From what a link may reach to a reading: the dates, the kinds and the notes that were ticked, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Protocol

from plytide import insight
from plytide.clinic.reading import ALL_KINDS, Reading, profile_shown
from plytide.clinic.words import Language
from plytide.entries import Entry
from plytide.insight.clock import dater, instant, local_date
from plytide.insight.telling import edited, late

EVERY_LINK = frozenset({"profile"})  # comes with every link: it says whose legs these are, and the clinic's limits
FREE_TEXT = ("note",)  # fields of other kinds that hold the wearer's free words


class Spec(Protocol):
    """What was ticked: the last `days` local days, or `start` to `end`, or everything; `kinds` None: all kinds."""

    @property
    def days(self) -> int | None: ...
    @property
    def start(self) -> str | None: ...
    @property
    def end(self) -> str | None: ...
    @property
    def kinds(self) -> Sequence[str] | None: ...
    @property
    def notes(self) -> bool: ...
    @property
    def live(self) -> bool: ...
    @property
    def waiting(self) -> int: ...
    @property
    def language(self) -> Language: ...


def reading_of(
    spec: Spec, entries: Sequence[Entry], as_of: datetime, now: datetime, *, expires: datetime | None = None,
    synced: datetime | None = None,
) -> Reading:  # fmt: skip
    """What a link shows at `now` of the entries as they stood at `as_of`.

    `entries` may be more than was ticked: this is where the rest is left out. `synced`: when a phone last sent
    anything; a live link says so.
    """
    profile, zone = profile_shown(entries), zone_of(entries)
    day_starts = profile.get("day_starts", 4)
    first, last = window(spec, entries, as_of, zone, day_starts)
    kinds = kinds_of(spec)
    shown = ticked(entries, kinds, first, last, day_starts)
    summary = insight.summarise(shown, as_of, days=(last - first).days + 1)
    shown = [e for e in shown if e.kind != "profile"]
    return Reading(
        summary=summary, profile=profile, entries=shown, first=first, last=last, zone=zone, kinds=kinds,
        live=spec.live, as_of=as_of, now=now, expires=expires, edits=sum(edited(e) for e in shown),
        late=sum(late(e) for e in shown), waiting=spec.waiting, synced=synced, language=spec.language,
    )  # fmt: skip


def kinds_of(spec: Spec) -> frozenset[str]:
    """The kinds that were ticked."""
    kinds = ALL_KINDS if spec.kinds is None else ALL_KINDS & set(spec.kinds)
    return kinds if spec.notes else kinds - {"note"}


def window(spec: Spec, entries: Sequence[Entry], as_of: datetime, zone: str, day_starts: int) -> tuple[date, date]:
    """The first and the last of the wearer's days that the link is about."""
    today = date.fromisoformat(local_date(round(as_of.timestamp() * 1000), zone, day_starts))
    last = min(date.fromisoformat(spec.end), today) if spec.end else today
    if spec.days is not None:
        return last - timedelta(days=spec.days - 1), last
    if spec.start:
        return min(date.fromisoformat(spec.start), last), last
    days = [local_date(instant(e.at), e.zone, day_starts) for e in entries if e.kind != "profile"]
    return min(date.fromisoformat(min(days)), last) if days else last, last


def ticked(entries: Iterable[Entry], kinds: frozenset[str], first: date, last: date, day_starts: int) -> list[Entry]:
    """The entries that may be shown, without the wearer's free words unless notes were ticked.

    What is true until further notice (the profile, socks owned, needs, questions, options, visits) has no date that
    matters; everything else has to lie within the dates.
    """
    standing = EVERY_LINK | {"sock", "need", "question", "option", "visit"}
    shown, dated = kinds | EVERY_LINK, dater(day_starts)
    edge = first.isoformat(), last.isoformat()
    # Far from the edges the time in UTC already tells: no zone is further than a day from it.
    sure = (first + timedelta(days=2)).isoformat(), (last - timedelta(days=1)).isoformat()
    found = []
    for e in entries:
        if e.erased or e.kind not in shown:
            continue
        inside = sure[0] <= e.at <= sure[1] or edge[0] <= dated(instant(e.at), e.zone) <= edge[1]
        if e.kind in standing or inside:
            found.append(e if "note" in kinds else _silent(e))
    return found


def zone_of(entries: Sequence[Entry]) -> str:
    """The wearer's time zone: that of the latest entry."""
    latest = max(entries, key=lambda e: e.at, default=None)
    return latest.zone if latest else "UTC"


def _silent(entry: Entry) -> Entry:
    """The entry without free words."""
    if not any(entry.body.get(name) for name in FREE_TEXT):
        return entry
    return replace(entry, body={k: v for k, v in entry.body.items() if k not in FREE_TEXT})
