"""The demo's invented wearer, moved so that the last day is today. See seed_data/make_scenario.py for who she is."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from plytide.ids import ms_of as id_ms
from plytide.stamps import ms_of

DAY_STARTS = timedelta(hours=4)
DATES = frozenset({"date", "on", "amputated_on"})
PLACES = (Path(__file__).parent / "seed_data", Path(__file__).parents[2] / "seed_data")  # a wheel, a checkout


def lines() -> list[dict[str, Any]]:
    """The scenario as it stands in its file. FileNotFoundError where the package was installed without it."""
    for folder in PLACES:
        if (folder / "scenario.jsonl").is_file():
            text = (folder / "scenario.jsonl").read_text(encoding="utf-8")
            return [json.loads(line) for line in text.splitlines()]
    raise FileNotFoundError("The demo's scenario.jsonl is missing; install Plytide again.")


def scenario(now: datetime, zone: str) -> list[dict[str, Any]]:
    """The scenario with its last day on the day of `now`, every clock time kept, in `zone`; nothing after `now`."""
    told = lines()
    last = max((_local(line) - DAY_STARTS).date() for line in told)
    shift = (now.astimezone(ZoneInfo(zone)) - DAY_STARTS).date() - last
    return [line for line in _moved(told, shift, zone) if ms_of(line["stamp"]) <= now.timestamp() * 1000]


def _local(line: dict[str, Any]) -> datetime:
    """Wall-clock time of an entry, without its zone."""
    return datetime.fromisoformat(line["at"]).astimezone(ZoneInfo(line["zone"])).replace(tzinfo=None)


def _moved(told: list[dict[str, Any]], shift: timedelta, zone: str) -> Iterator[dict[str, Any]]:
    moved = {line["id"]: _moved_id(line["id"], shift) for line in told}
    for line in told:
        at = (_local(line) + shift).replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
        before = datetime.fromisoformat(line["at"])
        ms = ms_of(line["stamp"]) + round((at - before).total_seconds() * 1000)
        yield {
            **line, "id": moved[line["id"]], "at": at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), "zone": zone,
            "stamp": f"{ms:012x}{line['stamp'][12:]}", "body": _dates(_renamed(line["body"], moved), shift),
        }  # fmt: skip


def _moved_id(id: str, shift: timedelta) -> str:
    """An id made as much later: it carries the time at which an entry was begun."""
    ms = f"{id_ms(id) + round(shift.total_seconds() * 1000):012x}"
    return f"{ms[:8]}-{ms[8:]}{id[13:]}"


def _renamed(value: Any, names: dict[str, str]) -> Any:
    """The body with the ids of other entries in it replaced."""
    if isinstance(value, list):
        return [_renamed(inner, names) for inner in value]
    if isinstance(value, dict):
        return {names.get(key, key): _renamed(inner, names) for key, inner in value.items()}
    return names.get(value, value) if isinstance(value, str) else value


def _dates(value: Any, shift: timedelta) -> Any:
    """The body with the dates in it moved as well."""
    if isinstance(value, list):
        return [_dates(inner, shift) for inner in value]
    if not isinstance(value, dict):
        return value
    return {
        key: str(date.fromisoformat(inner) + shift) if key in DATES and inner else _dates(inner, shift)
        for key, inner in value.items()
    }


def zone_here() -> str:
    """The IANA name of this machine's time zone, or UTC where it does not say."""
    local = Path("/etc/localtime")
    names = [os.environ.get("TZ", "").lstrip(":")]
    if local.is_symlink():
        names.append(str(local.resolve()).partition("zoneinfo/")[2])
    if Path("/etc/timezone").is_file():
        names.append(Path("/etc/timezone").read_text(encoding="utf-8").strip())
    return next((name for name in names if name in available_timezones()), "UTC")
