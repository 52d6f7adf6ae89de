"""The merge: which version of an entry stands, and what is answered. Pure; sync.py does the work around it.

The greater stamp wins, whole. Everything else here is about stamps too far in the future. Such a version is moved
back to five minutes from now; it must still come after what it was made from and before what was made from it, however
often it is sent again. So the stamp as it was sent is remembered: in a table, and in the field `moved` of the version
itself, which travels with every later one and is there still when the server was restored from an older backup.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

from plytide.entries import Entry, Refusal, is_id, parse_entry
from plytide.stamps import after, ceiling, counter_of, device_of, is_stamp, make, ms_of

CARRIED = 8  # more of them in one entry than any clock has reason to cause


class Version(NamedTuple):
    """A version as it is kept: its stamp and its JSON."""

    stamp: str
    doc: str


@dataclass(slots=True)
class Merged:
    """What came of a batch: an answer to each entry, and the rows to write, in the order they came to stand."""

    results: list[dict[str, Any]] = field(default_factory=list)
    standing: dict[str, tuple[Entry, str]] = field(default_factory=dict)  # id: the version that stands now, its JSON
    history: dict[tuple[str, str], str] = field(default_factory=dict)  # (id, stamp): JSON of what does not stand
    restamps: dict[tuple[str, str], str] = field(default_factory=dict)  # (id, stamp as sent): stamp given


@dataclass(frozen=True, slots=True)
class Refused:
    """What cannot be kept, with the id and stamp by which the phone knows it, where it has any."""

    id: str | None
    stamp: str | None
    code: str
    why: str


def read(raw: object) -> Entry | Refused:
    """One entry of a request."""
    try:
        return parse_entry(raw)
    except Refusal as refusal:
        id, stamp = (raw.get("id"), raw.get("stamp")) if isinstance(raw, dict) else (None, None)
        return Refused(id if is_id(id) else None, stamp if is_stamp(stamp) else None, refusal.code, refusal.why)


def merge(
    batch: Iterable[Entry | Refused],
    kept: Mapping[str, Version],
    restamps: Mapping[str, Mapping[str, str]],
    now_ms: int,
) -> Merged:
    """Merge a batch into what is kept: `kept` by id, `restamps` by id and stamp as sent."""
    merged = Merged()
    standing = dict(kept)
    moved_of = {id: dict(moved) for id, moved in restamps.items()}
    for item in batch:
        if isinstance(item, Refused):
            result = {"r": "refused", "code": item.code, "why": item.why}
        else:
            result = _one(item, standing, moved_of.setdefault(item.id, {}), merged, now_ms)
        merged.results.append({"id": item.id, "stamp": item.stamp, **result})
    return merged


def _one(
    entry: Entry, standing: dict[str, Version], moved: dict[str, str], merged: Merged, now_ms: int
) -> dict[str, Any]:
    sent, now = entry.stamp, standing.get(entry.id)
    carried = _carried(entry) if entry.extra else {}
    for old, new in carried.items():
        if old not in moved:
            moved[old] = merged.restamps[entry.id, old] = new
    try:
        doc = entry.as_json()
    except Refusal as refusal:
        return {"r": "refused", "code": refusal.code, "why": refusal.why}
    # The same device's later version may have come first and been moved back: this one must stay below it. A phone that
    # puts its clock right goes on as another device, or from the version that was moved, which it then carries.
    later = [new for old, new in moved.items() if _later(old, sent) and old not in carried] if moved else []
    if sent in moved:
        stamp = moved[sent]
    elif later and sent not in moved.values():
        stamp = _below(min(later), sent)
    else:
        stamp = _stamp(sent, now, now_ms)
    if now and stamp < now.stamp:
        if stamp != sent:
            doc = replace(entry, stamp=stamp).as_json()
        merged.history.setdefault((entry.id, stamp), doc)
        return {"r": "stale", "winner": json.loads(now.doc)}
    fresh = now is None or stamp > now.stamp
    if fresh:
        if stamp != sent:
            moved[sent] = merged.restamps[entry.id, sent] = stamp
            note = dict(sorted({**carried, sent: stamp}.items())[-CARRIED:])
            doc = (entry := replace(entry, stamp=stamp, extra={**entry.extra, "moved": note})).as_json()
        if now:
            merged.history.setdefault((entry.id, now.stamp), now.doc)
        merged.standing.pop(entry.id, None)  # so that it goes to the end of the order
        merged.standing[entry.id] = entry, doc
        standing[entry.id] = Version(stamp, doc)
    if stamp != sent:
        return {"r": "restamped", "stamp2": stamp, "moved": json.loads(standing[entry.id].doc).get("moved", {})}
    return {"r": "ok" if fresh else "dup"}


def _later(one: str, other: str) -> bool:
    """Whether the same device made one stamp after the other."""
    return one > other and device_of(one) == device_of(other)


def _below(stamp: str, sent: str) -> str:
    """A stamp for what was sent, lower than `stamp`."""
    return min(sent, make(max(ms_of(stamp) - 1, 0), counter_of(sent), device_of(sent)))


def _carried(entry: Entry) -> dict[str, str]:
    """Stamps that were moved back in what this version was made from: as sent, as given."""
    moved = entry.extra.get("moved")
    if not isinstance(moved, dict) or len(moved) > CARRIED:
        return {}
    return {old: new for old, new in moved.items() if is_stamp(old) and is_stamp(new) and new < old}


def _stamp(sent: str, now: Version | None, now_ms: int) -> str:
    """The stamp that a version gets when it comes for the first time.

    One from the future was made after everything that its device had seen, so it comes after the version that stands.
    """
    if now and sent <= now.stamp:
        return sent
    stamp = ceiling(sent, now_ms)
    return after(now.stamp, device_of(sent)) if now and stamp <= now.stamp else stamp
