"""The merge: which version of an entry stands, and what is answered. Pure; sync.py does the work around it.

The greater stamp wins, whole. Everything else here is about stamps too far in the future: such a version is moved
back to five minutes from now, and it must still come after what it was made from and before what was made from it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from plytide.entries import Entry, Refusal, is_id, parse_entry
from plytide.stamps import after, ceiling, device_of, is_stamp


@dataclass(frozen=True, slots=True)
class Version:
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
    try:
        doc = entry.as_json()
    except Refusal as refusal:
        return {"r": "refused", "code": refusal.code, "why": refusal.why}
    stamp = moved.get(sent) or _stamp(sent, now, now_ms)
    # The same device's later version was moved back before this one came: this one cannot come after it now.
    overtaken = sent not in moved and any(s > sent and device_of(s) == device_of(sent) for s in moved)
    if now and (overtaken or stamp < now.stamp):
        merged.history.setdefault((entry.id, sent if overtaken else stamp), doc)
        return {"r": "stale", "winner": json.loads(now.doc)}
    if now is None or stamp > now.stamp:
        if stamp != sent:
            doc = (entry := replace(entry, stamp=stamp)).as_json()
            moved[sent] = merged.restamps[entry.id, sent] = stamp
        if now:
            merged.history.setdefault((entry.id, now.stamp), now.doc)
        merged.standing.pop(entry.id, None)  # so that it goes to the end of the order
        merged.standing[entry.id] = entry, doc
        standing[entry.id] = Version(stamp, doc)
        return {"r": "ok"} if stamp == sent else {"r": "restamped", "stamp2": stamp}
    return {"r": "dup"} if stamp == sent else {"r": "restamped", "stamp2": stamp}


def _stamp(sent: str, now: Version | None, now_ms: int) -> str:
    """The stamp that a version gets when it comes for the first time.

    One from the future was made after everything that its device had seen, so it comes after the version that stands.
    """
    if now and sent <= now.stamp:
        return sent
    stamp = ceiling(sent, now_ms)
    return after(now.stamp, device_of(sent)) if now and stamp <= now.stamp else stamp
