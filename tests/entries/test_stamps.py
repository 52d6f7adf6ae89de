"""Stamps: the shared vectors, and what must hold of any clock whatever time it is told."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plytide.stamps import AHEAD_MS, MS_MAX, Clock, after, ceiling, counter_of, device_of, is_stamp, make, ms_of

VECTORS: dict[str, list[Any]] = json.loads((Path(__file__).parents[1] / "vectors" / "stamps.json").read_text())
named = {"ids": lambda case: case["name"] if isinstance(case, dict) else repr(case)}
devices = st.integers(0, 2**32 - 1).map(lambda n: f"{n:08x}")
stamps = st.builds(make, st.integers(0, MS_MAX), st.integers(0, 0xFFFF), devices)


@pytest.mark.parametrize("case", VECTORS["next"], **named)
def test_next(case: dict[str, Any]) -> None:
    assert Clock(case["device"], case["last"]).next(case["now_ms"]) == case["stamp"]


@pytest.mark.parametrize("case", VECTORS["see"], **named)
def test_see(case: dict[str, Any]) -> None:
    clock = Clock("5f3a9c1e", case["last"])
    clock.see(case["seen"])
    assert clock.last == case["after"]


@pytest.mark.parametrize("case", VECTORS["ceiling"], **named)
def test_ceiling(case: dict[str, Any]) -> None:
    assert ceiling(case["stamp"], case["now_ms"]) == case["result"]


@pytest.mark.parametrize("case", VECTORS["order"], **named)
def test_order(case: dict[str, Any]) -> None:
    assert case["less"] < case["greater"]


@pytest.mark.parametrize("text", VECTORS["valid"], **named)
def test_well_formed(text: str) -> None:
    assert is_stamp(text)


@pytest.mark.parametrize("text", VECTORS["invalid"], **named)
def test_not_well_formed(text: object) -> None:
    assert not is_stamp(text)


@given(st.lists(st.one_of(st.integers(-(2**40), 2**45), stamps.filter(lambda s: ms_of(s) < 2**45)), max_size=40))
def test_what_a_device_writes_comes_after_all_that_it_wrote_and_saw(steps: list[int | str]) -> None:
    clock, greatest = Clock("00000001"), ""
    for step in steps:
        if isinstance(step, str):
            clock.see(step)
            greatest = max(greatest, step)
        else:
            made = clock.next(step)
            assert is_stamp(made)
            assert made > greatest
            assert device_of(made) == "00000001"
            greatest = made


@given(st.lists(st.integers(0, 2**41), min_size=1))
def test_a_clock_that_only_goes_on_is_followed_to_the_millisecond(times: list[int]) -> None:
    clock = Clock("00000001")
    for ms in sorted(set(times)):
        assert ms_of(clock.next(ms)) == ms


@given(stamps, stamps)
def test_string_order_is_order_of_time_then_count_then_device(a: str, b: str) -> None:
    parts = [(ms_of(s), counter_of(s), int(device_of(s), 16)) for s in (a, b)]
    assert (a < b) == (parts[0] < parts[1])


@given(stamps.filter(lambda s: ms_of(s) < MS_MAX), devices)
def test_after_is_greater_whatever_the_device(stamp: str, device: str) -> None:
    assert after(stamp, device) > stamp


@given(stamps, st.integers(0, 2**45))
def test_no_stamp_stays_further_ahead_than_five_minutes(stamp: str, now_ms: int) -> None:
    kept = ceiling(stamp, now_ms)
    assert ms_of(kept) <= now_ms + AHEAD_MS
    assert ceiling(kept, now_ms) == kept
    assert kept <= stamp
