"""The figure of the whole period: ply from start to peak, and under it, on the same days, all else that was logged.

One time axis for everything, so that a reader sees what came with what. Drawn twice, wide and narrow, since a page
without a script cannot measure itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date

from markupsafe import Markup

from plytide.clinic import words
from plytide.clinic.period import Bin, Unit, averages
from plytide.clinic.said import chance
from plytide.clinic.svg import Sheet, line, n
from plytide.clinic.words import t
from plytide.insight.shape import Trend

PLOT = 140  # height of the ply part
ROW, TALL = 21, 32
WIDE, NARROW = 690, 358


@dataclass(frozen=True)
class Story:
    """What the figure tells of one limb. `spots`: (name, [(date, worst)], latest); `skin`: date -> clear?

    `courses`: (name, a value a bin) of other fittings; `wear`: whether hours were ticked.
    """

    bins: Sequence[Bin]
    unit: Unit
    ceiling: int
    trend: Trend | None
    ply: bool = True
    wear: bool = True
    courses: Sequence[tuple[str, Sequence[float | None]]] = ()
    spots: Sequence[tuple[str, Sequence[tuple[str, int]]]] = ()
    skin: dict[str, bool] = field(default_factory=dict)
    comfort: bool = False
    changes: Sequence[tuple[str, str]] = ()
    mishaps: Sequence[str] = ()


def figure(story: Story, label: str) -> Markup:
    """Both drawings; the style shows the one that fits."""
    return _Drawing(story, WIDE).draw(label, "wide") + _Drawing(story, NARROW).draw(label, "narrow")


class _Drawing:
    def __init__(self, story: Story, width: float) -> None:
        self.story, self.side = story, width >= WIDE
        self.sheet = Sheet(width)
        self.left = 214 if self.side else 24
        self.ahead = 100 if self.side else 92
        self.right = width
        self.pitch = (width - self.left - self.ahead) / max(1, len(story.bins))
        self.today = self.left + self.pitch * len(story.bins)
        self.y = 0.0
        self._column = {d: i for i, b in enumerate(story.bins) for d in _dates(b)}

    def x(self, i: float) -> float:
        return self.left + (i + 0.5) * self.pitch

    def at(self, day: str) -> float | None:
        """The middle of the column that a date falls in."""
        i = self._column.get(day)
        return None if i is None else self.x(i)

    def draw(self, label: str, kind: str) -> Markup:
        story = self.story
        if story.ply:
            self._ply()
        self._axis()
        for name, values in story.courses:
            self._row(name, lambda y, values=values: self._course(y, values), TALL)  # type: ignore[misc]
        if story.changes:
            self._row(t("figure.changes"), self._changes)
        for name, marks in story.spots:
            self._row(name, lambda y, marks=marks: self._spot(y, marks))  # type: ignore[misc]
        if story.skin:
            self._row(t("figure.skin"), self._skin)
        if story.mishaps:
            self._row(t("figure.mishaps"), self._mishaps)
        if story.comfort:
            self._row(t("figure.comfort"), self._comfort, TALL)
        if story.wear:
            self._row(t("figure.hours"), self._hours, TALL)
        return self.sheet.svg(self.y + 6, label, kind)

    # ply from start to peak, averages, the way ahead, the ceiling
    def _ply(self) -> None:
        story, sheet = self.story, self.sheet
        known = [b.peak for b in story.bins if b.peak is not None]
        most = max([story.ceiling, *known]) + 1
        unit, top = PLOT / most, sheet.font + 8

        def up(ply: float) -> float:
            return top + PLOT - ply * unit

        step = 4 if most < 22 else 8
        for ply in range(step, int(most), step):
            if abs(ply - story.ceiling) * unit > sheet.font:
                sheet.text(self.left - 8, up(ply), str(ply), anchor="end")
                sheet.path("tick", f"M{self.left} {up(ply):.1f}H{self.right}")
        wide = min(11.0, self.pitch * 0.66)
        holes = [i for i, b in enumerate(story.bins) if b.peak is None or b.start is None]
        sheet.path("missing", "".join(f"M{n(self.x(i))} {n(up(0))}V{n(up(story.ceiling))}" for i in holes))
        self._fan(up)
        bars = {"past": "", "late": ""}
        for i, b in enumerate(story.bins):
            if b.peak is None or b.start is None:
                continue
            late = i >= len(story.bins) - (7 if story.unit == "day" else 1)
            high, low = up(b.peak) + wide / 2, up(b.start) - wide / 2  # the round ends reach out half their width
            if b.partial:
                sheet.rect("hollow", self.x(i) - wide / 2, up(b.peak), wide, max(low - high, 0) + wide, wide / 2)
            else:
                bars["late" if late else "past"] += f"M{n(self.x(i))} {n(high)}V{n(max(low, high))}"
        for look, data in bars.items():
            sheet.path(look, data, wide)
        if story.unit == "day":
            self._averages(up)
        sheet.path("ceil", f"M{self.left} {up(story.ceiling):.1f}H{self.right}")
        sheet.text(self.left - 8, up(story.ceiling), str(story.ceiling), "k", "end")
        sheet.text(self.left, up(story.ceiling) - 11, t("figure.ceiling"))
        self.y = top + PLOT

    def _averages(self, up: Callable[[float], float]) -> None:
        named = 0.0
        for name, kind in (("peak", "mean"), ("start", "mean thin")):
            column = averages(self.story.bins, name)  # type: ignore[arg-type]
            points = [None if v is None else (self.x(i), up(v)) for i, v in enumerate(column)]
            self.sheet.path("case", line(points))
            self.sheet.path(kind, line(points))
            first = next((p for p in points if p), None)
            if first and self.side:
                named = max(first[1], named + self.sheet.font + 2)
                self.sheet.text(0, named, t(f"figure.{name}"), "k2")

    def _fan(self, up: Callable[[float], float]) -> None:
        trend = self.story.trend
        if trend is None:
            return
        days = {"day": 1.0, "week": 7.0, "month": 30.4}[self.story.unit]
        begin = self.x(len(self.story.bins) - 1)
        weeks = (self.right - begin) / self.pitch * days / 7
        here, slopes = up(trend["level"]), (trend["low"], trend["per_week"], trend["high"])
        low, mid, high = (up(min(max(trend["level"] + s * weeks, 0), trend["ceiling"] + 1)) for s in slopes)
        self.sheet.path("fan", f"M{begin:.1f} {here:.1f}L{self.right} {high:.1f}V{low:.1f}Z")
        self.sheet.path("fanl", f"M{begin:.1f} {here:.1f}L{self.right} {mid:.1f}")
        odds = t("figure.ahead", chance=chance(trend["chance"]["30"]), days=words.count(30, "day"))
        self.sheet.text(self.right, up(trend["ceiling"]) - 11, odds, "k", "end")

    def _axis(self) -> None:
        sheet, bins = self.sheet, self.story.bins
        sheet.path("ax", f"M{self.left} {self.y + 0.5:.1f}H{self.right if self.story.trend else self.today}")
        last, text_y = len(bins) - 1, self.y + sheet.font + 3
        name = {"day": words.short_day, "week": words.short_day, "month": words.short_month}[self.story.unit]
        final = name(bins[last].first)
        room = sheet.room(final) + 14
        edge = self.x(last) - room / 2
        every = max(1, round(7 if self.story.unit == "day" else room / self.pitch + 1))
        free = self.left - 34.0
        for i in range(0, last, every):
            words_ = name(bins[i].first)
            half = sheet.room(words_) / 2
            centre = max(self.x(i), self.left + half - 10)
            if centre - half < free or centre + half > edge:
                continue
            sheet.path("ax", f"M{self.x(i):.1f} {self.y:.1f}v5")
            sheet.text(centre, text_y, words_, anchor="middle")
            free = centre + half + 10
        sheet.path("nowl", f"M{self.x(last):.1f} {self.y:.1f}v6")
        sheet.text(self.x(last), text_y, final, "k", "middle")
        self.y += sheet.font + 14

    def _row(self, name: str, marks: Callable[[float], None], height: float = ROW) -> None:
        """A row of marks on the same days, named at its side where there is room and above it where there is not."""
        self.y += 4 if height > ROW else 0  # the number of its scale stands at its very top
        if self.side:
            self.sheet.text(0, self.y + height / 2, self._fitting(name, self.left - (34 if height > ROW else 10)), "k2")
        else:
            self.y += self.sheet.font + 2
            self.sheet.text(0, self.y - self.sheet.font / 2, name, "k2")
            self.y += 8 if height > ROW else 0
        marks(self.y)
        self.y += height + (4 if height > ROW else 0)

    def _fitting(self, name: str, room: float) -> str:
        """A name cut to what fits; the tables have it whole."""
        fits = int(room / self.sheet.font / 0.5)
        return name if len(name) <= fits else name[: fits - 1].rstrip(" ,(") + "…"

    def _base(self, y: float) -> None:
        self.sheet.path("tick", f"M{self.left} {y:.1f}H{self.today:.1f}")

    def _value(self, y: float, strong: str, rest: str = "") -> None:
        self.sheet.text(self.today + 6, y, rest, strong=strong)

    def _spot(self, y: float, marks: Sequence[tuple[str, int]]) -> None:
        y += ROW / 2
        self._base(y)
        worst_at: dict[float, int] = {}
        for day, worst in marks:
            if (x := self.at(day)) is not None:
                worst_at[x] = max(worst, worst_at.get(x, 0))
        for x, worst in worst_at.items():
            self.sheet.dot("dot", x, y, 2.2 + worst * 0.7)
        if marks:
            self._value(y, str(marks[-1][1]), f", {words.short_day(marks[-1][0])}")

    def _changes(self, y: float) -> None:
        y += ROW / 2
        self._base(y)
        placed = [(x, what) for day, what in self.story.changes if (x := self.at(day)) is not None]
        ends = [x - 8 for x, _ in placed[1:]] + [self.right]
        for (x, what), end in zip(placed, ends, strict=True):
            if x + 10 + self.sheet.room(what) < end:
                self.sheet.text(x + 10, y, what, "k2 cased")
        self.sheet.path("dot", "".join(f"M{n(x)} {n(y - 6)}l6 6l-6 6l-6 -6Z" for x, _ in placed))

    def _mishaps(self, y: float) -> None:
        y += ROW / 2
        self._base(y)
        places = [x for x in dict.fromkeys(map(self.at, self.story.mishaps)) if x is not None]
        self.sheet.path("cross", "".join(f"M{n(x - 4)} {n(y - 4)}l8 8m0 -8l-8 8" for x in places))
        self._value(y, str(len(self.story.mishaps)))

    def _skin(self, y: float) -> None:
        """A tick for a look that found nothing, a filled square for a finding; nothing where nobody looked."""
        y += ROW / 2
        self._base(y)
        clear_at: dict[float, bool] = {}
        for day, clear in self.story.skin.items():
            if (x := self.at(day)) is not None:
                clear_at[x] = clear and clear_at.get(x, True)
        size = max(3.0, min(9.0, self.pitch * 0.8))
        self.sheet.path("look", "".join(f"M{n(x)} {n(y - 4)}v8" for x, clear in clear_at.items() if clear))
        squares = (f"M{n(x - size / 2)} {n(y)}h{n(size)}" for x, clear in clear_at.items() if not clear)
        self.sheet.path("stroke", "".join(squares), size)
        found = sum(not clear for clear in self.story.skin.values())
        self._value(y, str(found), t("figure.found", days=words.count(len(self.story.skin), "day")))

    def _comfort(self, y: float) -> None:
        self._curve(y, [b.comfort for b in self.story.bins], (0, 10))

    def _course(self, y: float, values: Sequence[float | None]) -> None:
        """A fitting by its furthest value a day, on a scale from 0 to the greatest (or the least, below 0)."""
        known = [v for v in values if v is not None]
        self._curve(y, values, (min([0, *known]), max([0, *known])))

    def _curve(self, y: float, values: Sequence[float | None], scale: tuple[float, float]) -> None:
        """Values as a line with dots, broken where there are none, and the latest in figures."""
        floor, (low, high) = y + TALL - 3, scale
        self.sheet.path("ax", f"M{self.left} {floor:.1f}H{self.today:.1f}")
        self.sheet.path("tick", f"M{self.left} {y + 3:.1f}H{self.today:.1f}")
        self.sheet.text(self.left - 8, y + 5, words.number(high), anchor="end")
        unit = (TALL - 6) / ((high - low) or 1)
        points = [None if v is None else (self.x(i), floor - (v - low) * unit) for i, v in enumerate(values)]
        self.sheet.path("mean thin", line(points))
        self.sheet.path("points", "".join(f"M{n(p[0])} {n(p[1])}h0" for p in points if p))
        latest = next((v for v in reversed(values) if v is not None), None)
        self._value(next((p[1] for p in reversed(points) if p), floor), words.number(latest))

    def _hours(self, y: float) -> None:
        floor, most = y + TALL, max(14.0, *(b.worn_h or 0 for b in self.story.bins))
        wide = min(8.0, self.pitch * 0.5)
        scale = TALL / most
        self.sheet.path("tick", f"M{self.left} {floor - 12 * scale:.1f}H{self.today:.1f}")
        self.sheet.text(self.left - 8, floor - 12 * scale, "12", anchor="end")
        bars = ""
        for i, b in enumerate(self.story.bins):
            if b.worn_h is not None and b.partial:
                self.sheet.rect("part", self.x(i) - wide / 2, floor - b.worn_h * scale, wide, b.worn_h * scale)
            elif b.worn_h is not None:
                bars += f"M{n(self.x(i))} {n(floor)}v{n(-b.worn_h * scale)}"
        self.sheet.path("bar", bars, wide)
        self.sheet.path("ax", f"M{self.left} {floor + 0.5:.1f}H{self.today:.1f}")
        worn = [b.worn_h for b in self.story.bins if b.worn_h is not None and not b.partial]
        if worn:
            self._value(floor - 5, words.number(sum(worn) / len(worn)), t("figure.a_day"))


def _dates(b: Bin) -> list[str]:
    return [date.fromordinal(k).isoformat() for k in range(b.first.toordinal(), b.last.toordinal() + 1)]
