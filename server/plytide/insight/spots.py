"""Sore spots: marks that lie together on the limb, since when, how bad, and where the soreness gathers.

Phantom pain is felt where the leg no longer is, so its marks are one group apart and never touch the spots.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

from plytide.insight.clock import Timed, number
from plytide.insight.cluster import NOBODY, Point, cluster
from plytide.insight.log import Log, once
from plytide.insight.shape import HeatPoint, Spot
from plytide.insight.soreness import against_ply
from plytide.insight.surface import SAME_PLACE_MM, Surface, heat_at, middle
from plytide.limb.geometry import Size, surface_point

WINDOW_DAYS = 180  # marks older than half a year are history, not a spot
LEAST_MARKS = 3
NEW_DAYS = 7  # a spot first marked this lately is new
QUIET_DAYS = 7  # worn days without a mark after which a spot counts as healed
HEAT_DAYS = 28
SIGMA_MM = 15.0
REACH_MM = 5 * SIGMA_MM
FAINT = 0.05  # heat below this is not worth a point on a drawing
HEIGHTS = tuple(step / 25 for step in range(26))
ANGLES = tuple(float(angle) for angle in range(0, 360, 15))


class Mark(NamedTuple):
    """One sore mark on the surface."""

    item: Timed
    place: tuple[float, float]
    point: Point

    @property
    def intensity(self) -> int:
        """How sore, 0 to 10."""
        return int(self.item.body["intensity"])


def find(log: Log) -> tuple[list[Spot], list[Spot], list[HeatPoint]]:
    """The spots, those that still hurt first; the phantom pain; the heat of the last weeks for drawing."""
    surface = Surface(log.limb)
    spots = [_spot(log, surface, marks) for marks in groups(log)]
    spots.sort(key=lambda spot: (spot["state"] == "healed", -spot["days"], spot["first"], spot["height"]))
    return spots, _phantom(log), _heat(log, surface)


@once
def groups(log: Log) -> list[list[Mark]]:
    """The marks of each spot within the last WINDOW_DAYS local days, oldest first."""
    marks = marks_of(log, WINDOW_DAYS)
    labels = cluster(tuple(mark.point for mark in marks), SAME_PLACE_MM, LEAST_MARKS)
    found: dict[int, list[Mark]] = {}
    for mark, label in zip(marks, labels, strict=True):
        if label != NOBODY:
            found.setdefault(label, []).append(mark)
    return list(found.values())


def marks_of(log: Log, days: int) -> list[Mark]:
    """Sore marks on the limb itself within the last `days` local days, oldest first."""
    surface = Surface(log.limb)
    marks = []
    for item in log.lately("sore", days):
        body = item.entry.body
        if not body.get("phantom"):
            place = (body["height"], body["angle"])
            marks.append(Mark(item, place, surface.point(*place)))
    return marks


def _spot(log: Log, surface: Surface, marks: Sequence[Mark]) -> Spot:
    height, angle = middle([mark.place for mark in marks], [mark.point for mark in marks])
    region, plain, trade = surface.name(height, angle)
    return _shaped(
        log, [mark.item for mark in marks], region=region, plain=plain, trade=trade, height=height, angle=angle
    )


def _phantom(log: Log) -> list[Spot]:
    items = [item for item in log.lately("sore", WINDOW_DAYS) if item.body.get("phantom")]
    if not items:
        return []
    last = items[-1].body
    return [
        _shaped(
            log, items, region="phantom", plain="Phantom pain", trade="Phantom limb pain",
            height=last["height"], angle=last["angle"],
        )
    ]  # fmt: skip


def _shaped(
    log: Log, items: Sequence[Timed], *, region: str, plain: str, trade: str, height: float, angle: float
) -> Spot:
    worst: dict[str, int] = {}
    for item in items:
        worst[item.date] = max(item.body["intensity"], worst.get(item.date, 0))
    feels = dict.fromkeys(item.body["feel"] for item in items if item.body.get("feel"))
    by_day = sorted(worst.items())
    first, last = by_day[0][0], by_day[-1][0]
    return Spot(
        region=region, plain=plain, trade=trade, height=height, angle=angle, days=len(by_day), marks=len(items),
        first=first, last=last, worst=max(worst.values()), latest=items[-1].body["intensity"], feels=list(feels),
        state=_state(log, first, last), recurring=len(by_day) >= 2,
        with_ply=against_ply(log, items) if region != "phantom" else None, by_day=by_day,
    )  # fmt: skip


def _state(log: Log, first: str, last: str) -> Literal["new", "known", "healed"]:
    """Healed only where the log speaks for it: days with the leg on and no mark. Days without a log prove nothing."""
    since = [day for day in log.last_days(WINDOW_DAYS) if day.date > last]
    quiet = sum(day.begun is not None and not day.partial for day in since)
    if quiet >= QUIET_DAYS:
        return "healed"
    return "new" if number(log.today) - number(first) < NEW_DAYS else "known"


def _heat(log: Log, surface: Surface) -> list[HeatPoint]:
    marks = tuple((mark.point, float(mark.intensity)) for mark in marks_of(log, HEAT_DAYS))
    return [
        HeatPoint(height=height, angle=angle, value=value)
        for (height, angle), value in _heats(surface.level, surface.size, marks)
    ]


@lru_cache(maxsize=16)
def _heats(
    level: str, size: Size, marks: tuple[tuple[Point, float], ...]
) -> tuple[tuple[tuple[float, float], float], ...]:
    """Places and their heat where there is any, remembered because most new entries are not sore marks.

    The places of one height lie in a row, and marks far above or below a row add nothing that two decimals could show.
    """
    found = []
    for height in HEIGHTS:
        z = surface_point(level, height, 0.0, size)[2]
        near = [mark for mark in marks if abs(mark[0][2] - z) <= REACH_MM]
        for angle in ANGLES if height and near else (0.0,):  # the tip is one point whatever the angle
            value = round(heat_at(surface_point(level, height, angle, size), near, SIGMA_MM), 2)
            if value >= FAINT:
                found.append(((height, angle), value))
    return tuple(found)
