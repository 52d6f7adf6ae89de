"""Fitting by other means than socks is read as ply is: dial, strap, vacuum, air bladder, pin clicks."""

import pytest
from insight.diary import Diary, signs_at
from plytide.data import table
from plytide.insight import summarise


def fittings(diary, day, hour=12):
    told = summarise(diary.entries, diary.at(day, hour))["limbs"]["left"]["fittings"]
    return {one["what"]: one for one in told}


def dialled(*evening, what="dial"):
    """Days on which the dial goes up by one at eleven and by the rest in the afternoon."""
    diary = Diary(limb={"fitted_by": ["dial"]})
    for day, more in enumerate(evening):
        diary.add(day, 7, "don")
        diary.add(day, 11, "adjust", what=what, by=1)
        diary.add(day, 15, "adjust", what=what, by=more - 1)
        diary.add(day, 21, "doff")
    return diary


def test_steps_add_up_from_donning_and_have_a_usual_day():
    told = fittings(dialled(*[3, 4, 3, 4, 3, 4, 3]), 7)["dial"]
    assert (told["days"], told["latest"], told["usual"]["basis_days"]) == (7, 3, 7)
    at = dict(zip(told["usual"]["hours"], told["usual"]["p50"], strict=True))
    assert (at[0.0], at[4.0], at[8.0]) == (0, 1, 3)


def test_a_rise_over_weeks_is_a_heading_without_a_ceiling():
    told = fittings(dialled(*[3 + day // 5 for day in range(30)]), 30)["dial"]
    assert told["trend"]["low"] > 0
    assert told["trend"]["per_week"] == pytest.approx(1.4, abs=0.4)
    assert told["trend"]["words"].startswith("Rising")
    assert "ceiling" not in told["trend"]


@pytest.mark.parametrize("what", ["dial", "strap", "air_bladder", "pad"])
def test_a_sudden_rise_is_a_smaller_limb_and_once_it_has_lasted_a_sign_that_names_it(what):
    levels = [3, 4, 3, 3, 4] * 5 + [9] * 4
    diary = dialled(*levels, what=what)
    assert [s["code"] for s in fittings(diary, 29)[what]["shifts"]] == ["limb_smaller"]
    sign = signs_at(diary, 29)["fitting_shift"]
    name = table("signs")["words"]["fitting"][what]
    assert sign["entered"].startswith(f"Your highest for {name} has been about 9 a day since 28 March; before it was")
    assert {e.body["what"] for e in diary.entries if e.id in sign["evidence"]} == {what}
    assert "fitting_shift" not in signs_at(dialled(*[3, 4, 3, 3, 4] * 5, 9, 9, 4, 3, what=what), 29)


def test_vacuum_holds_the_leg_on_and_says_nothing_of_the_limbs_size():
    levels = [3, 4, 3, 3, 4] * 5 + [9] * 4
    diary = dialled(*levels, what="vacuum")
    assert "shifts" not in fittings(diary, 29)["vacuum"]
    assert "fitting_shift" not in signs_at(diary, 29)


def test_the_peak_of_readings_below_zero_is_the_one_furthest_from_it():
    diary = Diary(limb={"fitted_by": ["vacuum"]})
    diary.add(0, 7, "don")
    for hour, reading in ((8, -14.5), (12, -18.0), (16, -9.0)):
        diary.add(0, hour, "adjust", what="vacuum", reading=reading, unit="inHg")
    assert fittings(diary, 1)["vacuum"]["by_day"] == [("2031-03-03", -18.0)]


def test_a_reading_is_taken_as_it_is_and_days_without_one_are_not_zero():
    diary = Diary(limb={"fitted_by": ["vacuum"]})
    for day in range(8):
        diary.add(day, 7, "don")
        if day != 3:
            diary.add(day, 8, "adjust", what="vacuum", reading=-14.5 - day % 2, unit="inHg")
        diary.add(day, 21, "doff")
    told = fittings(diary, 8)["vacuum"]
    assert (told["days"], told["latest"]) == (7, -15.5)
    assert told["usual"]["p50"][4] == -14.5


def test_pin_clicks_are_read_from_donning():
    diary = Diary(limb={"suspension": ["pin_lock"]})
    for day in range(6):
        diary.add(day, 7, "don", total=3, clicks=6 + day // 3)
        diary.add(day, 21, "doff")
    told = fittings(diary, 6)["clicks"]
    assert (told["days"], told["latest"], told["usual"]["p50"][0]) == (6, 7, 6.5)


def test_before_and_after_a_change_is_told_of_the_fitting_too():
    diary = dialled(*[8] * 10, *[4] * 10)
    diary.add(10, 6, "change", what="new_socket")
    told = fittings(diary, 20)["dial"]
    assert told["days"] == 10
    assert told["compare"][0]["measures"] == [
        {"name": "dial", "before": 8, "after": 4, "shift": -4, "low": -4, "high": -4, "n_before": 10, "n_after": 7}
    ]


def test_a_wearer_without_socks_still_has_hours_and_says_why_there_is_no_ply():
    diary = dialled(*[3] * 8)
    limb = summarise(diary.entries, diary.at(8, 12))["limbs"]["left"]
    assert [day["worn_h"] for day in limb["days"][:8]] == [14] * 8
    assert limb["usual"]["code"] == limb["trend"]["code"] == "few_days"
    assert limb["days"][0]["peak"] is None


def test_an_adjustment_before_any_donning_is_kept_out_of_every_day():
    diary = Diary()
    diary.add(0, 2, "adjust", what="strap", by=2)
    diary.worn(1)
    assert fittings(diary, 2)["strap"]["days"] == 1  # the strap itself says that the leg was on
