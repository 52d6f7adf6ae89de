"""Signs that mishaps show together."""

import pytest
from insight.diary import Diary, signs_at
from plytide.insight import summarise


def mishaps(*days, what="stumble", **flags):
    diary = Diary()
    for day in days:
        diary.add(day, 12, "mishap", what=what, **flags)
    return diary


@pytest.mark.parametrize(("days", "stands"), [((6,), False), ((0, 6), True), ((0, 7), False), ((6, 6), True)])
def test_near_falls_within_a_week_are_a_sign(days, stands):
    assert ("near_falls" in signs_at(mishaps(*days), max(days))) == stands


def test_near_falls_are_one_sign_for_a_month_after_the_last():
    diary = mishaps(0, 3)
    assert signs_at(diary, 32)["near_falls"]["entered"].startswith("You entered 2 stumbles within 7 days.")
    assert "near_falls" not in signs_at(diary, 33)


def on_two_limbs(what, *days):
    diary = Diary()
    for n, day in enumerate(days):
        diary.add(day, 12, "mishap", what=what, limb=("left", "right")[n % 2])
    return diary


@pytest.mark.parametrize(("what", "code"), [("stumble", "near_falls"), ("fall", "falls_year")])
def test_falls_are_the_persons_and_are_added_up_over_both_legs(what, code):
    diary = on_two_limbs(what, 0, 4)
    summary = summarise(diary.entries, diary.at(4, 23))
    [sign] = summary["signs"]
    assert (sign["code"], sign["evidence"]) == (code, [entry.id for entry in diary.entries[1:]])
    assert all(code not in [one["code"] for one in limb["signs"]] for limb in summary["limbs"].values())
    diary.add(4, 20, "told", code=code, limb="right")
    assert summarise(diary.entries, diary.at(5, 0))["signs"][0]["told"] == diary.entries[-1].at


def test_nothing_is_called_ordinary_while_a_sign_of_the_other_leg_or_of_a_fall_stands():
    diary = Diary()
    diary.add(0, 9, "day", tags=["hot"])
    diary.skin(0, {"what": "redness", "fade_min": 5})
    codes = [sign["code"] for sign in summarise(diary.entries, diary.at(0, 23))["limbs"]["left"]["signs"]]
    assert codes == ["pink", "swing"]
    other = diary.skin(0, "open", limb="right")
    limbs = summarise(diary.entries, diary.at(0, 23))["limbs"]
    assert limbs["left"]["signs"] == []
    assert limbs["right"]["signs"][0]["evidence"] == [other]


# >= 2 falls in a year: Miller, Speechley, Deathe 2001 (read) for falls being common and counting.
@pytest.mark.parametrize(
    ("days", "now", "stands"),
    [((0,), 0, False), ((0, 200), 200, True), ((0, 364), 364, True), ((0, 365), 365, False), ((0, 20), 111, False)],
)
def test_two_falls_in_a_year_are_a_sign_for_a_quarter_after_the_last(days, now, stands):
    diary = mishaps(*days, what="fall")
    assert ("falls_year" in signs_at(diary, now)) == stands


def test_the_second_fall_is_since_when_and_each_fall_is_evidence():
    diary = mishaps(0, 40, what="fall")
    sign = signs_at(diary, 41)["falls_year"]
    assert sign["since"] == diary.entries[-1].at
    assert len(sign["evidence"]) == 2
    assert "fall" in signs_at(diary, 41)


@pytest.mark.parametrize(
    ("days", "stands"), [((0, 0, 0), False), ((0, 0, 1), True), ((0, 3), False), ((0, 3, 6), True), ((0, 3, 7), False)]
)
def test_suction_lost_three_times_and_not_all_on_one_day_is_a_sign(days, stands):
    diary = mishaps(*days, what="suction_lost")
    assert ("suction_again" in signs_at(diary, max(days))) == stands


def test_leaks_and_open_valves_count_as_lost_suction_and_wet_does_not():
    diary = Diary()
    for day, what in enumerate(("suction_lost", "valve_opened", "wet")):
        diary.add(day, 12, "mishap", what=what)
    assert "suction_again" not in signs_at(diary, 2)
    diary.add(3, 12, "mishap", what="sleeve_leak")
    assert signs_at(diary, 3)["suction_again"]["entered"].startswith(
        "You entered lost suction or a leak 3 times on 3 days within 7 days."
    )


@pytest.mark.parametrize(("days", "stands"), [((0,), False), ((0, 1), True), ((0, 2), False), ((0, 0), False)])
def test_the_leg_would_not_go_on_two_days_running(days, stands):
    diary = mishaps(*days, what="cannot_don")
    found = signs_at(diary, max(days))
    assert ("cannot_don_again" in found) == stands
    assert ("cannot_don" in found) == (not stands)


def test_the_leg_would_not_go_on_is_graver_with_pain_colour_change_or_illness_on_the_same_day():
    beside = {
        "pain": lambda d: d.sore(0, 9, score=4),
        "colour": lambda d: d.skin(0, "purple", hour=9),
        "illness": lambda d: d.add(0, 9, "day", tags=["ill"]),
        "fever": lambda d: d.skin(0, hour=9, fever_c=38.1, clear=True),
    }
    for name, enter in beside.items():
        diary = mishaps(0, what="cannot_don")
        enter(diary)
        sign = signs_at(diary, 0)["cannot_don_unwell"]
        assert (sign["level"], sign["keep_off"]) == ("same_day", True), name
        assert len(sign["evidence"]) == 2


@pytest.mark.parametrize(
    "enter",
    [
        lambda d: d.sore(0, 9, score=3), lambda d: d.sore(0, 9, score=8, phantom=True), lambda d: d.sore(1, 9, score=8),
        lambda d: d.skin(0, hour=9), lambda d: d.add(0, 9, "day", tags=["hot"]),
    ],
)  # fmt: skip
def test_what_is_no_pain_no_colour_change_and_no_illness_does_not_make_it_graver(enter):
    diary = mishaps(0, what="cannot_don")
    enter(diary)
    assert "cannot_don_unwell" not in signs_at(diary, 1)


@pytest.mark.parametrize(("added", "days", "stands"), [(1, (0, 1), True), (0, (0, 1), False), (1, (0,), False)])
def test_twisting_that_added_ply_does_not_cure(added, days, stands):
    diary = Diary()
    for day in days:
        diary.worn(day, (7, 5), (10, 5 + added))
        diary.add(day, 14, "mishap", what="twisted")
    assert ("movement" in signs_at(diary, max(days))) == stands


def test_mishaps_of_one_limb_say_nothing_about_the_other():
    diary = mishaps(0, 1)
    diary.entries = [e if e.kind == "profile" else type(e)(**{**e.as_dict(), "limb": "right"}) for e in diary.entries]
    assert signs_at(diary, 1) == {}
