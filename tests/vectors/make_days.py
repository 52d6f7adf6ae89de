"""Writes days.json: which local day an instant belongs to, worked out with nothing but zoneinfo.

The rule under test: a day runs from `day_starts` o'clock to the same hour of the next day by the clock on the wall,
so an instant belongs to its wall date, or to the date before when the wall clock has not reached that hour.
Run it by hand when a zone's rules change: python tests/vectors/make_days.py
"""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

# Zones with a plain one-hour change, none, half an hour, a day left out (30 December 2011), and a -3:30 offset.
ZONES = ["Europe/Berlin", "Asia/Kolkata", "Australia/Lord_Howe", "Pacific/Apia", "America/St_Johns"]
SPANS = [(2024, 2025), (2031, 2032)]
HOUR = timedelta(hours=1)


def changes(zone: ZoneInfo, first: int, last: int) -> list[datetime]:
    """Instants in UTC at which the zone's offset changes, to the minute."""
    found = []
    moment = datetime(first, 1, 1, tzinfo=UTC)
    while moment.year < last:
        low, high = moment, moment + HOUR
        if offset(low, zone) != offset(high, zone):
            while high - low > timedelta(minutes=1):
                middle = low + (high - low) / 2
                middle = middle.replace(second=0, microsecond=0)
                low, high = (low, middle) if offset(low, zone) != offset(middle, zone) else (middle, high)
            found.append(high)
        moment += HOUR
    return found


def offset(moment: datetime, zone: ZoneInfo) -> timedelta | None:
    """The zone's distance from UTC at an instant."""
    return moment.astimezone(zone).utcoffset()


def day(moment: datetime, zone: ZoneInfo, day_starts: int) -> str:
    """The local day by the wall clock."""
    wall = moment.astimezone(zone)
    return str(wall.date() if wall.hour >= day_starts else wall.date() - timedelta(days=1))


def instants(zone: ZoneInfo) -> list[tuple[datetime, str]]:
    """Instants worth asking about: round every change of the clock, and round the day's edge on plain days."""
    asked = []
    for first, last in SPANS:
        for moment in changes(zone, first, last):
            minutes = [-61, -30, -1, 0, 1, 29, 30, 59, 60, 119, *(60 * h for h in (-24, -3, 3, 12, 24))]
            asked += [(moment + timedelta(minutes=m), "clock change") for m in minutes]
    for y, m, d in ((2031, 3, 2), (2024, 2, 29), (2031, 12, 31), (2032, 1, 1)):
        for hour, minute, second in ((0, 0, 0), (3, 59, 59), (4, 0, 0), (12, 0, 0), (23, 59, 59)):
            wall = datetime(y, m, d, hour, minute, second, tzinfo=zone)
            asked.append((wall.astimezone(UTC), "edge of a day"))
    return asked


def main() -> None:
    rows = []
    for name in ZONES:
        zone = ZoneInfo(name)
        asked = instants(zone)
        if name == "Pacific/Apia":
            turn = datetime(2011, 12, 30, 10, 0, tzinfo=UTC)
            asked += [(turn + timedelta(minutes=m), "a date left out") for m in (-1, 0, 239, 240)]
        for moment, note in asked:
            for day_starts in (0, 4, 12) if note == "edge of a day" else (4, 2):
                at = moment.strftime("%Y-%m-%dT%H:%M:%S.000Z")
                local = day(moment, zone, day_starts)
                rows.append({"at": at, "zone": name, "day_starts": day_starts, "day": local, "note": note})
    text = "[\n" + ",\n".join(json.dumps(row) for row in rows) + "\n]\n"
    Path(__file__).with_name("days.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
