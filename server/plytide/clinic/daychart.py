"""The figure of a day: ply by hours since the leg went on, the usual band as water, the last days as steps in it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from statistics import median_low

from markupsafe import Markup

from plytide.clinic.svg import Sheet, line
from plytide.clinic.words import count, t
from plytide.insight.shape import DaySummary, Usual

WIDTH, PLOT, LEFT = 470, 150, 26
LAST_DAYS = 7


def through_a_day(usual: Usual, days: Sequence[DaySummary], ceiling: int) -> Markup:
    """The band over the hours it covers, and the steps of the last days, broken where the leg was off."""
    last = [d for d in days if d["steps"]][-LAST_DAYS:]
    ends = [_end(d) for d in last]
    hours = max([8.0, *(h for h in usual["hours"] if h <= 16), *ends])
    most = max([ceiling, *(total for d in last for _, total in d["steps"])]) + 1
    sheet = Sheet(WIDTH)
    top, across, unit = sheet.font + 8, (WIDTH - LEFT - 4) / hours, PLOT / most

    def x(hour: float) -> float:
        return LEFT + hour * across

    def y(ply: float) -> float:
        return top + PLOT - ply * unit

    step = 4 if most < 22 else 8
    for ply in range(step, int(most), step):
        if abs(ply - ceiling) * unit > sheet.font:
            sheet.text(LEFT - 8, y(ply), str(ply), anchor="end")
            sheet.path("tick", f"M{LEFT} {y(ply):.1f}H{WIDTH}")
    shown = [i for i, h in enumerate(usual["hours"]) if h <= hours]
    upper = [(x(usual["hours"][i]), y(usual["p75"][i])) for i in shown]
    lower = [(x(usual["hours"][i]), y(usual["p25"][i])) for i in shown]
    sheet.path("band", line([*upper, *lower[::-1]]) + "Z")
    sheet.path("bedge", line(upper) + line(lower))
    sheet.path("bmed", line([(x(usual["hours"][i]), y(usual["p50"][i])) for i in shown]))
    for k, day in enumerate(last):
        sheet.path("lvl each", line(None if p is None else (x(p[0]), y(p[1])) for p in steps_of(day, ends[k])))
    middle = steps_between(middle_of(last, ends))
    sheet.path("case", line(None if p is None else (x(p[0]), y(p[1])) for p in middle))
    sheet.path("lvl", line(None if p is None else (x(p[0]), y(p[1])) for p in middle))
    sheet.path("ceil", f"M{LEFT} {y(ceiling):.1f}H{WIDTH}")
    sheet.text(LEFT - 8, y(ceiling), str(ceiling), "k", "end")
    sheet.text(LEFT, y(ceiling) - 11, t("figure.ceiling"))
    sheet.path("ax", f"M{LEFT} {y(0) + 0.5:.1f}H{WIDTH}")
    for hour in range(0, int(hours) + 1, 2):
        sheet.path("ax", f"M{x(hour):.1f} {y(0):.1f}v5")
        sheet.text(x(hour), y(0) + sheet.font + 3, f"{hour} h" if hour == 0 else str(hour), anchor="middle")
    label = t("day.label", days=count(len(last), "day"), basis=count(usual["basis_days"], "day"))
    return sheet.svg(y(0) + sheet.font + 14, label)


def steps_of(day: DaySummary, end: float) -> list[tuple[float, float] | None]:
    """The corners of a day's steps up to `end`, with the pen up where the leg was off."""
    corners: list[tuple[float, float] | None] = []
    steps = day["steps"]
    for k, (begin, total) in enumerate(steps):
        until = steps[k + 1][0] if k + 1 < len(steps) else max(end, begin)
        at = begin
        for out, back in sorted(day["off"]):
            if at <= out < until:
                corners += [(at, total), (out, total), None]
                at = min(back, until)
        corners += [(at, total), (until, total)]
    return corners


def middle_of(days: Sequence[DaySummary], ends: Sequence[float]) -> list[tuple[float, int | None]]:
    """The middle ply of the days at each quarter of an hour; None where under half of them had the leg on."""
    found: list[tuple[float, int | None]] = []
    for quarter in range(int(max(ends, default=0) * 4) + 1):
        hour = quarter / 4
        worn = [v for d, end in zip(days, ends, strict=True) if (v := ply_at(d, hour, end)) is not None]
        found.append((hour, median_low(worn) if worn and 2 * len(worn) >= len(days) else None))
    return found


def ply_at(day: DaySummary, hour: float, end: float) -> int | None:
    """The ply `hour` hours after the first donning; None while the leg is off."""
    if hour > end or any(out <= hour < back for out, back in day["off"]):
        return None
    return next((total for begin, total in reversed(day["steps"]) if begin <= hour), None)


def steps_between(values: Sequence[tuple[float, int | None]]) -> list[tuple[float, float] | None]:
    """The corners of a stair through values that hold for a quarter of an hour each."""
    corners: list[tuple[float, float] | None] = []
    for hour, total in values:
        corners += [None] if total is None else [(hour, total), (hour + 0.25, total)]
    return corners


def _end(day: DaySummary) -> float:
    """Hours from putting on to taking off, or to the last step where taking off was not logged."""
    last = day["steps"][-1][0] if day["steps"] else 0.0
    if day["on_at"] is None:
        return last
    if day["off_at"] is not None:
        length = datetime.fromisoformat(day["off_at"]) - datetime.fromisoformat(day["on_at"])
        return max(last, length.total_seconds() / 3600)
    return max(last, day["worn_h"] or 0.0)
