"""A made-up logbook for tests: days counted from a start, clock hours in the wearer's zone."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from plytide.entries import Entry, parse_entry
from plytide.insight import fittings, signs, skin
from plytide.insight.cache import Reading
from plytide.insight.log import Log
from plytide.stamps import make


class Diary:
    """Entries of one wearer. `day` 0 is `start`; every entry passes through `parse_entry` as from a phone."""

    def __init__(self, start: str = "2031-03-03", zone: str = "Europe/Lisbon", side: str = "left", **profile: Any):
        self.start, self.zone, self.side = date.fromisoformat(start), ZoneInfo(zone), side
        self.entries: list[Entry] = []
        limb = {"side": side, "level": "transtibial", **profile.pop("limb", {})}
        self.add(-1, 12, "profile", limbs=[limb], **profile)

    def at(self, day: int, hour: float) -> datetime:
        """The instant of a clock hour on a day; hours over 24 run into the night."""
        wall = datetime.combine(self.start, time(), self.zone) + timedelta(days=day, hours=hour)
        return wall.astimezone(UTC)

    def add(self, day: int, hour: float, kind: str, **body: Any) -> str:
        """One entry; returns its id."""
        n = len(self.entries) + 1
        at = self.at(day, hour)
        raw = {
            "id": f"0198f2c3-0000-7000-8000-{n:012x}", "kind": kind, "limb": body.pop("limb", self.side),
            "at": at.isoformat(timespec="milliseconds").replace("+00:00", "Z"), "zone": str(self.zone),
            "stamp": make(n, 0, "5f3a9c1e"), "erased": False, "body": body,
        }  # fmt: skip
        if kind in ("profile", "sock", "day", "activity"):
            raw["limb"] = None
        self.entries.append(parse_entry(raw))
        return raw["id"]

    def worn(self, day: int, *steps: tuple[float, int], off: float = 22) -> None:
        """A day on the leg: donned with the first (hour, total), changed at the others, taken off at `off`."""
        for index, (hour, total) in enumerate(steps or ((7, 5),)):
            self.add(day, hour, "ply" if index else "don", total=total)
        self.add(day, off, "doff")

    def sore(
        self, day: int, hour: float = 15, place: tuple[float, float] = (0.7, 100), score: int = 4, **more: Any
    ) -> str:
        """A sore mark; the place, unless given, is the outer bump below the knee."""
        return self.add(day, hour, "sore", height=place[0], angle=place[1], intensity=score, **more)

    def skin(self, day: int, *findings: dict[str, Any] | str, hour: float = 22.2, **more: Any) -> str:
        """A skin check; without findings and symptoms it is clear."""
        found = [{"what": f} if isinstance(f, str) else f for f in findings]
        clear = not found and not more.get("unwell") and not more.get("fever_c")
        return self.add(day, hour, "skin", **{"clear": clear, "findings": found, **more})

    def log(self, day: int, hour: float = 23) -> Log:
        """The limb's log as of a clock hour."""
        reading = Reading()
        reading.take(self.entries)
        return reading.logs(self.at(day, hour))[0][self.side]  # type: ignore[index]


SILENT: dict[str, Any] = {"reason": "Not enough days yet.", "code": "few_days", "days": 0}


def signs_at(diary: Diary, day: int, hour: float = 23, **parts: Any) -> dict[str, dict[str, Any]]:
    """The signs that stand at a clock hour, by code; usual and shifts are silent unless given."""
    log = diary.log(day, hour)
    given: Any = {
        "usual": SILENT, "shifts": [], "skin": skin.read(log), "fittings": fittings.fittings_of(log),
        **parts,
    }  # fmt: skip
    limb, person = signs.standing(log, given), signs.of_person([log])
    return {sign["code"]: dict(sign) for sign in [*signs.sober(limb, [*limb, *person]), *person]}
