"""Signs of single skin checks and mishaps: how long they stand, what ends them, what never does."""

import pytest
from insight.diary import Diary, signs_at

BUMP = {"height": 0.7, "angle": 100.0}


def red(minutes=None, **more):
    return {"what": "redness", "fade_min": minutes, **BUMP, **more}


def test_a_sign_carries_its_entry_what_was_entered_its_rule_and_its_source():
    diary = Diary(clinic_phone="0123 456", emergency_phone="112")
    check = diary.skin(0, "open")
    sign = signs_at(diary, 0)["open_skin"]
    assert sign["level"] == "same_day"
    assert sign["evidence"] == [check]
    assert sign["since"] == diary.entries[-1].at
    assert sign["entered"] == "You entered open skin. Open skin or a burst blister is looked at the same day."
    assert sign["keep_off"]
    assert sign["do"][:2] == ["Take the leg off. Keep it off until you are told.", "Call your clinic (0123 456) today."]
    assert "(112)" in sign["do"][2]
    assert sign["source"] == "NPUAP 2016 pressure injury stages 2 to 4"
    assert sign["told"] is None


# 19, 20, 21 minutes against the default limit of 20 (five handouts: 15 to 30 minutes, read).
@pytest.mark.parametrize(("minutes", "code"), [(19, "pink"), (20, "pink"), (21, "redness_long")])
def test_a_mark_is_long_only_over_the_limit(minutes, code):
    diary = Diary()
    diary.skin(0, red(minutes))
    found = signs_at(diary, 0)
    assert {"pink", "redness_long"} & set(found) == {code}


def test_with_diabetes_sixteen_minutes_are_long_and_the_level_is_one_up():
    diary = Diary(higher_risk=["diabetes"])
    diary.skin(0, red(16))
    sign = signs_at(diary, 0)["redness_long"]
    assert (sign["level"], sign["keep_off"]) == ("same_day", True)
    assert "15 minutes" in sign["entered"]


def test_later_entries_of_the_same_day_do_not_end_a_sign():
    diary = Diary()
    diary.skin(0, "open", hour=9)
    diary.skin(0, hour=15)
    diary.skin(0, hour=22)
    diary.worn(0, (10, 5))
    assert "open_skin" in signs_at(diary, 0)


def test_half_past_three_in_the_night_is_still_the_same_day():
    diary = Diary()
    diary.skin(0, "open", hour=22)
    diary.skin(0, hour=27.5)
    assert "open_skin" in signs_at(diary, 1, 3.6)
    diary.skin(1, hour=8)
    assert "open_skin" not in signs_at(diary, 1, 8.5)


def test_a_clear_check_on_a_later_day_ends_it_without_a_word_of_comfort():
    diary = Diary()
    diary.skin(0, "open")
    assert "open_skin" in signs_at(diary, 1, 12)
    diary.skin(1)
    assert signs_at(diary, 1) == {}


def test_two_later_days_of_checks_that_mention_other_things_end_it_one_does_not():
    diary = Diary()
    diary.skin(0, "blister")
    diary.skin(1, red(5))
    diary.skin(1, red(5), hour=23)
    assert "blister" in signs_at(diary, 1, 23.5)
    diary.skin(2, red(5))
    assert "blister" not in signs_at(diary, 2)


def test_a_check_with_a_fever_is_not_a_clear_one():
    diary = Diary()
    diary.skin(0, "open")
    diary.skin(1, fever_c=38.0, clear=True)
    assert {"open_skin", "fever"} <= set(signs_at(diary, 1))


def test_nobody_looking_again_leaves_it_standing_and_says_so():
    diary = Diary()
    diary.skin(0, "blister")
    for day in range(0, 40):
        diary.worn(day)
    assert {"blister", "no_check"} <= set(signs_at(diary, 30))
    assert "blister" not in signs_at(diary, 31)
    assert "no_check" in signs_at(diary, 31)


def test_a_sign_that_comes_again_while_it_stands_keeps_its_first_day_and_all_its_entries():
    diary = Diary()
    first = diary.skin(0, red(30))
    again = diary.skin(2, red(25))
    sign = signs_at(diary, 2)["redness_long"]
    assert sign["evidence"] == [first, again]
    assert sign["since"] == next(e.at for e in diary.entries if e.id == first)
    diary.skin(3)
    later = diary.skin(5, red(25))
    assert signs_at(diary, 5)["redness_long"]["evidence"] == [later], "after a clear check it is a new one"


def test_told_leaves_the_sign_listed_with_the_date_and_a_new_one_is_untold():
    diary = Diary()
    diary.skin(0, "rash")
    diary.add(1, 9, "told", code="rash", limb=None)
    told = diary.entries[-1].at
    assert signs_at(diary, 1)["rash"]["told"] == told
    diary.skin(2)
    diary.skin(4, "rash")
    assert signs_at(diary, 4)["rash"]["told"] is None


def test_told_of_another_sign_or_the_other_limb_does_not_count():
    diary = Diary()
    diary.skin(0, "rash")
    diary.add(1, 9, "told", code="blister", limb=None)
    diary.add(1, 9, "told", code="rash", limb="right")
    assert signs_at(diary, 1)["rash"]["told"] is None


def test_an_erased_entry_takes_its_sign_with_it():
    diary = Diary()
    check = diary.skin(0, "black")
    assert signs_at(diary, 0)["black_skin"]["level"] == "emergency"
    diary.entries = [e for e in diary.entries if e.id != check]
    assert signs_at(diary, 0) == {}


def test_nothing_reassures_while_a_graver_sign_stands():
    diary = Diary()
    diary.skin(0, "thickened")
    diary.skin(1, red(5))
    assert set(signs_at(diary, 1)) == {"thickened"}


def test_the_graver_of_two_rules_about_the_same_entry_is_said_alone():
    diary = Diary()
    diary.skin(0, "drainage", fever_c=38.4, unwell=["confusion"])
    assert set(signs_at(diary, 0)) == {"fever_unwell", "skin_unwell"}


def test_signs_come_with_the_most_urgent_first():
    diary = Diary()
    diary.skin(0, "rash", "open", "black", red(5))
    levels = [sign["level"] for sign in signs_at(diary, 0).values()]
    assert levels == ["emergency", "same_day", "review"]


@pytest.mark.parametrize("added", [0, 2])
def test_swelling_after_socks_were_added_is_said_so(added):
    diary = Diary()
    diary.worn(0, (7, 5), (12, 5 + added))
    diary.skin(0, "cold_wet_end")
    found = signs_at(diary, 0)
    assert "choke" in found
    assert ("swelling_after_socks" in found) == bool(added)
    if added:
        assert "after 2 ply more" in found["swelling_after_socks"]["entered"]


def test_a_fall_with_a_knock_to_the_head_is_an_emergency_for_three_days_and_a_fall_for_two_weeks():
    diary = Diary()
    diary.add(0, 12, "mishap", what="fall", head=True)
    for day in range(16):
        diary.skin(day)
    assert set(signs_at(diary, 0)) == {"fall_head"}
    assert set(signs_at(diary, 3)) == {"fall_head"}
    assert set(signs_at(diary, 4)) == {"fall"}
    assert "fall" in signs_at(diary, 14)
    assert "fall" not in signs_at(diary, 15)


def test_a_failed_part_stands_until_something_was_changed():
    diary = Diary()
    diary.add(0, 12, "mishap", what="part_failed")
    assert signs_at(diary, 1)["part_failed"]["keep_off"]
    diary.add(2, 9, "change", what="foot")
    assert "part_failed" not in signs_at(diary, 2)
