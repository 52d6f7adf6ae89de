"""Quiet signs: no check for days, the same place again, skin where it is sore, an ordinary swing."""

import pytest
from insight.diary import Diary, signs_at

BUMP = {"what": "redness", "height": 0.7, "angle": 100.0, "fade_min": 5}


# Looking at the skin at least daily: MSD Manual (read); "for days" is three.
@pytest.mark.parametrize(("days", "stands"), [(0, False), (2, False), (3, True), (9, True)])
def test_no_skin_check_for_days_is_a_watch(days, stands):
    diary = Diary()
    diary.skin(0)
    for day in range(days + 1):
        diary.worn(day)
    found = signs_at(diary, days)
    assert ("no_check" in found) == stands
    if stands:
        assert found["no_check"]["level"] == "watch"
        assert "from 3 March" in found["no_check"]["entered"]


def test_never_a_check_counts_from_the_first_day_of_the_log():
    diary = Diary()
    for day in range(5):
        diary.worn(day)
    assert "no_check" not in signs_at(diary, 2)
    assert signs_at(diary, 3)["no_check"]["entered"].startswith("No skin check is logged yet.")


def test_a_limb_that_is_not_in_use_is_not_asked_about():
    diary = Diary()
    diary.skin(0)
    diary.worn(1)
    assert "no_check" in signs_at(diary, 14)
    assert "no_check" not in signs_at(diary, 15)
    assert signs_at(Diary(), 5) == {}


@pytest.mark.parametrize(("days", "stands"), [((0, 1), False), ((0, 3, 6), True), ((0, 3, 7), False)])
def test_a_mark_at_one_place_on_three_days_of_a_week_is_a_watch_even_if_it_fades(days, stands):
    diary = Diary()
    for day in days:
        diary.skin(day, BUMP)
    found = signs_at(diary, max(days))
    assert ("skin_again" in found) == stands
    if stands:
        assert "outer bump below the knee on 3 of the last 7 days" in found["skin_again"]["entered"]


def test_skin_where_it_is_tender_is_a_watch():
    diary = Diary(limb={"tender": [{"height": 0.7, "angle": 95.0}]})
    diary.skin(0, BUMP)
    assert "skin_at_sore" in signs_at(diary, 2)
    assert "skin_at_sore" not in signs_at(diary, 3)


def usual(above):
    return {"basis_days": 21, "now": {"hour": 5.0, "total": 5 + above, "usual": 5.0, "above": above}}


def test_a_ply_off_the_usual_and_a_hot_day_are_an_ordinary_swing():
    diary = Diary()
    diary.worn(0, (7, 5), (12, 6))
    diary.add(0, 9, "day", tags=["hot", "salty"])
    sign = signs_at(diary, 0, usual=usual(1))["swing"]
    assert sign["level"] == "watch"
    assert "6 ply on; your usual by now is 5." in sign["entered"]
    assert "a hot day, salty food" in sign["entered"]
    assert "swing" not in signs_at(diary, 1, usual=usual(0))


def test_the_usual_ply_on_an_ordinary_day_is_no_sign_at_all():
    diary = Diary()
    diary.worn(0, (7, 5))
    diary.add(0, 9, "day", tags=["other"])
    assert signs_at(diary, 0, usual=usual(0)) == {}


def test_a_swing_is_never_called_ordinary_beside_a_graver_sign():
    diary = Diary()
    diary.worn(0, (7, 5))
    diary.add(0, 9, "day", tags=["hot"])
    diary.skin(0, "swollen")
    assert "swing" not in signs_at(diary, 0, usual=usual(2))
