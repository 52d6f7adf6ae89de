"""Logs for the tests of exchange: one entry of every kind with every field, the demo's four months, hostile words."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from plytide import demo
from plytide.entries import BODIES, LIMB_KINDS, Entry, parse_entry
from plytide.ids import uuid7

NOW = datetime(2031, 6, 12, 13, 15, tzinfo=UTC)
SOCK = "01978000-0000-7000-8000-000000000501"
NEED = "01978000-0000-7000-8000-000000000502"
SPOT = {"height": 0.65, "angle": 4.0}

BODIES_FULL: dict[str, dict[str, Any]] = {
    "sock": {"name": "5 ply wool", "ply": 5, "count": 3, "mark": "red thread", "pin_hole": True, "state": "ready"},
    "ply": {"total": 8, "socks": [SOCK], "why": "end_pressure"},
    "don": {"total": 5, "socks": [SOCK], "clicks": 4},
    "doff": {},
    "adjust": {"what": "dial", "by": -2, "reading": 14.5, "unit": "mmHg"},
    "sore": {**SPOT, "intensity": 4, "feel": "rub", "phantom": False},
    "skin": {"clear": False, "findings": [
        {"what": "redness", **SPOT, "fade_min": 35.0, "still_red": False, "blanches": True, "size_mm": 12.0},
        {"what": "smell"}], "fever_c": 38.2, "unwell": ["vomiting", "fast_heart"]},
    "comfort": {"score": 7},
    "mishap": {"what": "fall", "hurt": True, "head": True, "cannot_stand": True, "note": "wet kerb"},
    "change": {"what": "padding", **SPOT, "note": "behind the knee"},
    "girth": {"by": "clinic", "marks": [
        {"from_end_cm": 4.0, "girth_cm": 28.5}, {"from_end_cm": 8.0, "girth_cm": 31.0}]},
    "day": {"tags": ["hot", "long_walk"]},
    "activity": {"what": "stairs", "minutes": 12.0},
    "need": {"text": "Kneel", "firm": True, "order": 1},
    "question": {"text": "Is it at its limit?", "order": 1},
    "option": {"name": "Seal liner", "kind": "suspension", "meets": {NEED: "partly"}, "note": "dear"},
    "trip": {"date": "2031-06-14", "hours": 9.0, "water": True, "note": "river"},
    "visit": {"on": "2031-06-13", "clinic": "Tern Street", "purpose": "fit"},
    "told": {"code": "open_skin", "note": "by phone"},
    "note": {"text": "First line\nsecond line, \"quoted\"; =1+1"},
    "profile": {"name": "Marta Ünal", "limbs": [{"side": "left", "level": "transfemoral"}]},
}  # fmt: skip


def entry(n: int, kind: str, body: dict[str, Any], **over: Any) -> Entry:
    """An entry with an id made when it tells of, and stamped a second later."""
    ms = int(NOW.timestamp() * 1000) - n * 3_600_000
    raw = {
        "id": uuid7(ms, n.to_bytes(10, "big")), "kind": kind, "limb": "left" if kind in LIMB_KINDS else None,
        "at": datetime.fromtimestamp(ms / 1000, UTC).isoformat(timespec="milliseconds"), "zone": "Australia/Lord_Howe",
        "stamp": f"{ms + 1000:012x}-0000-5f3a9c1e", "erased": False, "body": body,
    }  # fmt: skip
    return parse_entry({**raw, **over})


def every_kind() -> list[Entry]:
    """One entry of each kind, every field filled."""
    assert set(BODIES_FULL) == set(BODIES)
    ids = {"sock": SOCK, "need": NEED}
    return [entry(i, kind, body, **({"id": ids[kind]} if kind in ids else {}))
            for i, (kind, body) in enumerate(BODIES_FULL.items())]  # fmt: skip


def bare() -> list[Entry]:
    """Entries with only what they must have."""
    least: dict[str, dict[str, Any]] = {
        "ply": {"total": 0}, "don": {}, "doff": {}, "adjust": {"what": "strap"},
        "sore": {"height": 0.0, "angle": 0.0, "intensity": 0, "phantom": True}, "skin": {"clear": True},
        "mishap": {"what": "wet"}, "change": {"what": "foot"}, "day": {"tags": []}, "activity": {"what": "run"},
        "need": {"text": " "}, "note": {"text": ""},
    }  # fmt: skip
    return [entry(100 + i, kind, body) for i, (kind, body) in enumerate(least.items())]


def demo_log() -> list[Entry]:
    """The demo's four months as they stand at the end: of each entry the version with the greatest stamp."""
    versions = sorted((parse_entry(line) for line in demo.scenario(NOW, "Europe/Berlin")), key=lambda e: e.stamp)
    return list({e.id: e for e in versions}.values())


def changed_and_erased() -> list[Entry]:
    """One that was changed a day later, one that was erased, one that was erased and is an empty tombstone."""
    later = f"{int(NOW.timestamp() * 1000):012x}-0001-5f3a9c1e"
    return [
        entry(200, "comfort", {"score": 5}, stamp=later),
        entry(201, "comfort", {"score": 3}, erased=True),
        entry(202, "skin", {}, erased=True),
    ]


SCENARIOS = {"every kind": every_kind, "bare": bare, "demo": demo_log, "changed": changed_and_erased}
