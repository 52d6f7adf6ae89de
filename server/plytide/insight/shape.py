"""The shape of the summary: what insight makes, the phone shows offline and the clinic page prints.

TypeScript types are generated from here as well (web/make_types.py). Every part rests on days it counts, or is a
`Silent` that says in plain words why it says nothing. Ply and other fitting steps are in the wearer's own units;
hours are hours; dates are local days (YYYY-MM-DD) that start at the profile's `day_starts`; times are RFC 3339 UTC.
"""

from __future__ import annotations

from typing import Literal, NotRequired

from typing_extensions import TypedDict  # pydantic reads these for the TypeScript types; it needs this one below 3.12

Level = Literal["emergency", "same_day", "review", "watch"]


class Silent(TypedDict):
    """A part that says nothing, and why. `code` names the reason, `days` how many days there were."""

    reason: str
    code: str
    days: int


class On(TypedDict):
    """What is on the limb at `now`."""

    total: int | None
    socks: list[str] | None
    since: str
    worn_h: float


class Gap(TypedDict):
    """A stretch that the log cannot speak for: `why` is a code such as no_doff, no_don, no_log."""

    start: str
    end: str
    why: str


class DaySummary(TypedDict):
    """One local day of one limb. None where nothing was logged that says so; never zero in its place."""

    date: str
    zone: str
    start: int | None
    peak: int | None
    peak_at: str | None
    end: int | None
    mean: float | None
    worn_h: float | None
    on_at: str | None
    off_at: str | None
    changes: int
    logged: bool
    partial: bool  # the day is not over at `now`
    steps: list[tuple[float, int]]  # (hours since the day's first donning, total) at each change
    off: list[tuple[float, float]]  # hours since first donning while the leg was off
    gaps: list[Gap]
    sore_worst: int | None
    sore_marks: int
    comfort: float | None
    skin: Literal["clear", "finding"] | None
    mishaps: int
    tags: list[str]


class Usual(TypedDict):
    """Ply by hours since donning over the present fit period: 10, 50 and 90 per cent of days."""

    basis_days: int
    hours: list[float]
    p10: list[float]
    p25: list[float]
    p50: list[float]
    p75: list[float]
    p90: list[float]
    kind: Literal["all", "weekday", "day_off"]
    now: NotRequired[UsualNow | None]


class UsualNow(TypedDict):
    """Today against the usual, at this hour since donning."""

    hour: float
    total: int
    usual: float
    above: int  # whole plies over the usual (less than one is 0); negative: under it


class Interval(TypedDict):
    """Whole-ply interval with the mass it really holds."""

    low: int
    high: int
    mass: float
    words: str  # such as "about 3 days in 4"


class Forecast(TypedDict):
    """The peak of the day, given all that is known at `now`.

    `more`: the chance of needing more than is on now; before the day's first donning, more than at the last day's
    start. `hits`: of the last 30 forecasts, made 2 hours after donning (tomorrow's: the day before) from the days
    before alone, how many named the peak in their `likely` interval.
    """

    date: str
    peak: dict[str, int]  # p05 p25 p50 p75 p95
    likely: Interval
    wide: Interval
    more: float
    more_words: str
    basis_days: int
    grade: Literal["rough", "normal"]
    hits: tuple[int, int]


class Reach(TypedDict):
    """Dates by which the ceiling is reached in 10, 50, 90 per cent of paths; None beyond the horizon."""

    p10: str | None
    p50: str | None
    p90: str | None


class AtDelivery(TypedDict):
    """The peak ply to expect when a socket ordered now would be back."""

    date: str
    p10: int
    p50: int
    p90: int


class Heading(TypedDict):
    """Where one number a day is heading within the present fit. `low` and `high` hold `per_week` 19 times in 20."""

    since: str
    basis_days: int
    per_week: float
    low: float
    high: float
    level: float  # of the line, today
    words: str


class Trend(Heading):
    """Heading of the daily peak, and when it may reach the ceiling: most days of a week at it."""

    ceiling: int
    reach: Reach | None  # None: no date in sight
    chance: dict[str, float]  # "30", "90", "180" days
    book_by: str | None  # not before today
    at_delivery: AtDelivery | None


class FitPeriod(TypedDict):
    """From one change to the next."""

    change_id: str | None
    what: str | None
    since: str
    until: str | None
    days: int


class Shift(TypedDict):
    """A sudden shift of start or peak; `question` asks whether a change went unlogged."""

    code: Literal["limb_smaller", "limb_bigger", "unlogged_change", "wear_falling"]
    date: str
    size: float
    question: str | None


class Measure(TypedDict):
    """One number a day before and after a change; None bounds where there are too few days."""

    name: str
    before: float | None
    after: float | None
    shift: float | None
    low: float | None
    high: float | None
    n_before: int
    n_after: int


class Compare(TypedDict):
    """A change, and what was different after it."""

    change_id: str
    what: str
    at: str
    measures: list[Measure]


class WithPly(TypedDict):
    """Soreness on days when ply was low or high for the wearer: rates with Wilson intervals."""

    low_days: int
    low_sore: int
    low_rate: tuple[float, float, float]
    other_days: int
    other_sore: int
    other_rate: tuple[float, float, float]
    ratio: float | None
    p: float | None
    words: str


class Spot(TypedDict):
    """A cluster of sore marks on the limb's surface."""

    region: str  # id in data/limb.json, or quarter and third
    plain: str
    trade: str
    height: float
    angle: float
    days: int
    marks: int
    first: str
    last: str
    worst: int
    latest: int
    feels: list[str]
    state: Literal["new", "known", "healed"]
    recurring: bool
    with_ply: WithPly | None
    by_day: NotRequired[list[tuple[str, int]]]  # (date, worst of that day), oldest first: the dots of the figure


class HeatPoint(TypedDict):
    """Heat on the limb's surface, for drawing."""

    height: float
    angle: float
    value: float


class SkinPlace(TypedDict):
    """Findings at one place over time."""

    region: str
    plain: str
    trade: str
    height: float | None
    angle: float | None
    what: list[str]
    days: int
    first: str
    last: str
    fades: list[tuple[str, float]]  # (date, minutes)
    at_sore: bool
    at_tender: bool


class SkinPart(TypedDict):
    """Skin checks: how many, when last, and the places with findings."""

    checks: int
    last: str | None
    last_clear: bool | None
    limit_min: float
    places: list[SkinPlace]


class Stack(TypedDict):
    """Socks that make a total, inner first."""

    total: int
    stacks: list[list[str]]


class Carry(TypedDict):
    """What to take along: the smallest set that makes every target from now to the forecast's upper end."""

    date: str
    socks: list[str]
    covers: tuple[int, int]
    missing: list[int]
    rests_on: str


class SocksPart(TypedDict):
    """The sock drawer read against the day."""

    wear: list[Stack]
    carry: Carry | None
    used: list[SockUse]


class SockUse(TypedDict):
    """Hours a composition was worn lately. `plies`: inner first."""

    plies: list[int]
    total: int
    hours: float


class Fitting(TypedDict):
    """Other ways of fitting, read the way ply is: dial, strap, vacuum, air_bladder, pad by their reading, or by steps
    since donning where none is read; clicks of a pin lock by how deep it seated. `days` of the present fit."""

    what: str
    days: int
    usual: Usual | Silent
    trend: Heading | Silent
    latest: float | None
    shifts: NotRequired[list[Shift]]
    compare: NotRequired[list[Compare]]  # before and after each change, by this fitting's peak of the day
    by_day: NotRequired[list[tuple[str, float]]]  # (date, peak of that day), oldest first


class GirthPart(TypedDict):
    """Volume by truncated cones, and the change against the same measurer's earlier tape."""

    at: str
    by: str
    volume_ml: float | None  # None for a tape at one level
    against: str | None
    change_pct: float | None
    marks: list[tuple[float, float, float | None]]  # from end cm, girth cm, change cm
    words: str


class Phrase(TypedDict):
    """What the log shows for one phrase of the functional levels; never a level."""

    level: str
    phrase: str
    days: int
    weeks: int
    times: int


class Sign(TypedDict):
    """A warning sign: what was entered, which rule it meets, what to do, where the rule comes from."""

    code: str
    level: Level
    since: str
    evidence: list[str]
    title: str
    entered: str
    do: list[str]
    keep_off: bool
    source: str
    told: str | None


class LimbSummary(TypedDict):
    """Everything about one limb."""

    on: On | None
    off_since: str | None
    days: list[DaySummary]
    usual: Usual | Silent
    forecast: Forecast | Silent
    tomorrow: Forecast | Silent
    trend: Trend | Silent
    periods: list[FitPeriod]
    shifts: list[Shift]
    compare: list[Compare]
    spots: list[Spot]
    phantom: list[Spot]
    heat: list[HeatPoint]
    skin: SkinPart
    socks: SocksPart
    fittings: list[Fitting]
    girth: GirthPart | None
    signs: list[Sign]


class Summary(TypedDict):
    """The whole reading at one moment. `limbs` by side."""

    now: str
    seq: int
    limbs: dict[str, LimbSummary]
    activity: list[Phrase]
    signs: list[Sign]  # of the person rather than of one limb: falls, added up over both
