"""Sittings on worked cases written by hand from the rules; the phone is held to the same (web/test/wear.test.ts)."""

import json
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest
from plytide.entries import parse_entry
from plytide.insight.clock import Timed, instant, local_date, written
from plytide.insight.wear import Sitting, follow

CASES = json.loads((Path(__file__).parents[1] / "vectors" / "wear.json").read_text(encoding="utf-8"))


def timed(n: int, kind: str, at: str, zone: str, total: int | None = None) -> Timed:
    """An entry of a case as insight takes it."""
    body: dict[str, Any] = {"what": "dial", "by": 1} if kind == "adjust" else {} if total is None else {"total": total}
    entry = parse_entry({
        "id": f"0198f2c3-0000-7000-8000-{n:012x}", "kind": kind, "limb": "left", "at": at, "zone": zone,
        "stamp": f"{n:012x}-0000-5f3a9c1e", "erased": False, "body": body,
    })  # fmt: skip
    return Timed(instant(at), entry.id, local_date(instant(at), zone, 4), entry)


def told(sitting: Sitting) -> dict[str, Any]:
    """A sitting in the form of the case."""
    return {
        "date": sitting.date, "begun": written(sitting.begun), "until": written(sitting.until),
        "donned": sitting.donned, "doffed": sitting.doffed, "totals": [step.total for step in sitting.steps],
    }  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=[case["rule"] for case in CASES])
def test_sittings(case: dict[str, Any]) -> None:
    items = [timed(n, *entry) for n, entry in enumerate(case["entries"], 1)]
    found: list[Sitting] = []
    carried: Sitting | None = None
    for _, day in groupby(items, key=lambda item: item.date):
        wear = follow(carried, day)
        if carried is not None and wear.tail is not None:
            found[-1] = wear.tail
        found += wear.begun
        carried = wear.open
    assert [told(sitting) for sitting in found] == case["sittings"]
