"""Skin checks over days: places, fade times, what counts as clear, and skin where it is sore or tender."""

import json

import pytest
from insight.diary import Diary
from plytide.insight import skin

BUMP = {"height": 0.7, "angle": 100.0}


def red(minutes=None, place=BUMP, **more):
    return {"what": "redness", "fade_min": minutes, **place, **more}


def test_fade_times_are_kept_by_place_and_day_the_longest_of_each():
    diary = Diary()
    diary.skin(0, red(10), hour=12)
    diary.skin(0, red(15))
    diary.skin(1, red(25, {"height": 0.72, "angle": 103.0}))
    diary.skin(2, red(5, {"height": 0.4, "angle": 200.0}))
    part = skin.read(diary.log(2))
    by_region = {place["region"]: place for place in part["places"]}
    assert by_region["fibular_head"]["fades"] == [("2031-03-03", 15), ("2031-03-04", 25)]
    assert by_region["fibular_head"]["days"] == 2
    assert by_region["calf"]["fades"] == [("2031-03-05", 5)]
    assert part["places"][0]["region"] == "calf", "the latest first"
    assert json.dumps(part)


def test_what_is_about_the_whole_limb_is_a_place_of_its_own():
    diary = Diary()
    diary.skin(0, "itch", red(5))
    diary.skin(1, "itch")
    whole = next(place for place in skin.read(diary.log(1))["places"] if place["region"] == "whole")
    assert (whole["what"], whole["days"], whole["height"]) == (["itch"], 2, None)


def test_checks_are_counted_and_the_last_one_named():
    diary = Diary()
    assert skin.read(diary.log(0))["last"] is None
    diary.skin(0)
    diary.skin(1, red(5))
    part = skin.read(diary.log(3))
    assert (part["checks"], part["last"], part["last_clear"]) == (2, "2031-03-04", False)


@pytest.mark.parametrize(
    ("body", "clear"),
    [
        ({"clear": True}, True), ({"clear": False}, False), ({"clear": True, "findings": [red(5)]}, False),
        ({"clear": True, "unwell": ["faint"]}, False), ({"clear": True, "fever_c": 37.9}, True),
        ({"clear": True, "fever_c": 38.0}, False),
    ],
)  # fmt: skip
def test_a_check_is_clear_only_when_nothing_stands_beside_it(body, clear):
    assert skin.was_clear(body) is clear


# Default 20 minutes; 15 with diabetes, poor circulation or feeling; the clinic's own wins (handouts, read).
@pytest.mark.parametrize(
    ("profile", "limit"),
    [
        ({}, 20), ({"higher_risk": ["circulation"]}, 15), ({"higher_risk": ["immunity"]}, 20),
        ({"fade_limit_min": 12.0}, 12), ({"fade_limit_min": 25.0, "higher_risk": ["diabetes"]}, 25),
    ],
)  # fmt: skip
def test_the_limit_is_the_wearers_own(profile, limit):
    assert skin.read(Diary(**profile).log(0))["limit_min"] == limit


def test_skin_where_a_spot_or_a_tender_place_is_says_so():
    diary = Diary(limb={"tender": [{"height": 0.3, "angle": 0.0, "name": "shin"}]})
    for day in range(3):
        diary.sore(day, place=(0.7, 95))
    diary.skin(2, red(5), red(5, {"height": 0.3, "angle": 2.0}), red(5, {"height": 0.4, "angle": 200.0}))
    places = {place["region"]: (place["at_sore"], place["at_tender"]) for place in skin.read(diary.log(2))["places"]}
    assert places == {"fibular_head": (True, False), "tibial_crest": (False, True), "calf": (False, False)}


def test_marks_on_either_side_of_the_front_are_one_place():
    diary = Diary()
    diary.skin(0, red(5, {"height": 0.5, "angle": 357.0}))
    diary.skin(1, red(5, {"height": 0.5, "angle": 3.0}))
    [place] = skin.read(diary.log(1))["places"]
    assert (place["days"], place["region"]) == (2, "tibial_crest")


def test_a_look_that_could_not_see_the_end_is_no_clear_look():
    diary = Diary()
    diary.worn(0)
    diary.skin(0, end_unseen=True)
    assert skin.read(diary.log(0))["last_clear"] is False
    assert diary.log(0).day("2031-03-03").skin is None  # type: ignore[union-attr]
    diary.skin(0, red(12), end_unseen=True)
    assert diary.log(0).day("2031-03-03").skin == "finding"  # type: ignore[union-attr]
