"""The days of a period: no hole in the calendar, nothing made up where nothing was logged."""

from __future__ import annotations

import itertools
from datetime import date, timedelta
from statistics import fmean, median
from typing import Any

import pandas as pd
from clinic.sample import LAST, UNLOGGED, day
from hypothesis import given
from hypothesis import strategies as st
from plytide.clinic.period import AVERAGE_REACH, DAYS_MAX, WEEKS_MAX, averages, bins, ends, unit_of

FIRST = LAST - timedelta(days=27)
DAYS = [day(i) for i in range(28)]


def test_four_weeks_are_shown_day_by_day_without_a_hole() -> None:
    column = bins(DAYS, FIRST, LAST)
    assert [b.first for b in column] == [FIRST + timedelta(days=i) for i in range(28)]
    assert {i for i, b in enumerate(column) if not b.logged} == UNLOGGED
    assert all(column[i].peak is None and column[i].worn_h is None for i in UNLOGGED)


def test_days_outside_the_period_are_left_out() -> None:
    column = bins(DAYS, FIRST + timedelta(days=7), LAST - timedelta(days=7))
    assert sum(b.logged for b in column) == sum(i not in UNLOGGED for i in range(7, 21))


@given(st.dates(date(2000, 1, 1), date(2090, 1, 1)), st.integers(0, 4000))
def test_every_day_of_a_period_is_in_exactly_one_bin(first: date, length: int) -> None:
    last = first + timedelta(days=length)
    column = bins([], first, last)
    assert column[0].first == first
    assert column[-1].last == last
    assert all(a.last + timedelta(days=1) == b.first for a, b in itertools.pairwise(column))
    assert len(column) <= 140


@given(st.dates(date(2000, 1, 1), date(2090, 1, 1)), st.integers(DAYS_MAX, 3000))
def test_weeks_and_months_begin_where_the_calendar_of_pandas_says(first: date, length: int) -> None:
    last = first + timedelta(days=length)
    rule = "W-SUN" if unit_of(first, last) == "week" else "M"  # pandas names a week by its last day
    periods = pd.period_range(first, last, freq=rule)
    assert [max(p.start_time.date(), first) for p in periods] == [b.first for b in bins([], first, last)]


def test_a_bin_of_several_days_shows_its_middle_day() -> None:
    long = [day(i, of=70) for i in range(70)]
    column = bins(long, LAST - timedelta(days=69), LAST)
    week = next(b for b in column if (b.last - b.first).days == 6 and b.logged == 7)
    assert week.peak == median(d["peak"] or 0 for d in week.days)
    assert week.worn_h == median(d["worn_h"] or 0 for d in week.days)
    assert not week.partial


def test_the_units_change_where_the_table_says() -> None:
    assert unit_of(LAST - timedelta(days=DAYS_MAX - 1), LAST) == "day"
    assert unit_of(LAST - timedelta(days=DAYS_MAX), LAST) == "week"
    assert unit_of(LAST - timedelta(days=WEEKS_MAX), LAST) == "month"


def test_averages_are_the_centred_rolling_mean_of_pandas() -> None:
    column = bins(DAYS, FIRST, LAST)
    whole = [None if b.partial else b.peak for b in column]
    expected = pd.Series(whole, dtype=float).rolling(2 * AVERAGE_REACH + 1, center=True, min_periods=1).mean()
    assert averages(column, "peak") == list(expected)


def test_a_day_that_is_not_over_has_no_say_in_the_peak() -> None:
    unfinished: list[Any] = [*DAYS[:-1], {**DAYS[-1], "peak": 40}]
    assert ends(unfinished, "peak") == ends(DAYS, "peak")
    known = [d["peak"] for d in DAYS if d["peak"] is not None and not d["partial"]]
    assert ends(DAYS, "peak") == (fmean(known[:7]), fmean(known[-7:]))


def test_a_comparison_of_ends_needs_two_weeks_of_days() -> None:
    assert ends(DAYS[:13], "start") is None
