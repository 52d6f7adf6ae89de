"""Activity by the phrases of the functional levels: counts, and never a level."""

from typing import get_args

from insight.diary import Diary
from plytide.bodies import Activity
from plytide.data import table
from plytide.insight import activity


def counts(diary, day):
    said = activity.phrases(diary.log(day).items("activity"), diary.at(day, 23))
    return {p["phrase"]: (p["days"], p["weeks"], p["times"]) for p in said}


def test_days_weeks_and_times_are_counted_for_each_phrase():
    diary = Diary("2031-03-03")  # a Monday
    for day, hour in ((0, 9), (0, 15), (6, 9), (7, 9)):
        diary.add(day, hour, "activity", what="stairs")
    diary.add(7, 10, "activity", what="run", minutes=20.0)
    assert counts(diary, 6)["Stairs"] == (2, 1, 3), "Monday and Sunday are one week"
    said = counts(diary, 7)
    assert said["Stairs"] == (3, 2, 4), "Sunday is still the first week, Monday begins the second"
    assert said["More than walking: impact, strain or long effort"] == (1, 1, 1)
    assert said["Level ground at a fixed pace"] == (0, 0, 0)


def test_more_than_twelve_weeks_ago_is_left_out():
    diary = Diary()
    diary.add(0, 9, "activity", what="curbs")
    assert counts(diary, 83)["Curbs"] == (1, 1, 1)
    assert counts(diary, 85)["Curbs"] == (0, 0, 0)


def test_no_answer_names_a_level_of_the_wearers_own():
    # A clinician assigns a level (United States Medicare 1995, read); the list is the same whatever was logged.
    empty, busy = Diary(), Diary()
    for what in get_args(Activity.model_fields["what"].annotation):
        busy.add(0, 9, "activity", what=what)

    def labels(diary):
        return [(p["level"], p["phrase"]) for p in activity.phrases(diary.log(0).items("activity"), diary.at(0, 23))]

    assert labels(empty) == labels(busy)
    assert {level for level, _ in labels(empty)} == {"K1", "K2", "K3", "K4"}


def test_every_activity_that_can_be_logged_bears_on_some_phrase():
    said = {what for row in table("levels")["phrases"] for what in row["activities"]}
    assert said == set(get_args(Activity.model_fields["what"].annotation))
