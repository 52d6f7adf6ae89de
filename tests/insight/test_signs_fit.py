"""Signs of fit: the clinic's ply limits, a rise, sudden shifts, girth, hours."""

import pytest
from insight.diary import Diary, signs_at


def peaks(*values, **profile):
    diary = Diary(**profile)
    for day, value in enumerate(values):
        if value is not None:
            diary.worn(day, (7, 3), (14, value))
    return diary


# Review from 10 ply on most days of a week, watch from 8: handouts (over 10, read), common practice; clinic-set.
@pytest.mark.parametrize(
    ("values", "stands"),
    [
        ((10, 10, 10, 10), True), ((10, 10, 10, 9), False), ((10, 9, 10, 9, 10, 9, 10), True),
        ((10, 9, 10, 9, 10, 9, 9), False), ((9, 9, 9, 9, 9, 9, 9), False), ((10, None, 10, None, 10, None, 10), True),
    ],
)  # fmt: skip
def test_ply_at_the_review_limit_on_most_days_of_a_week(values, stands):
    assert ("ply_review" in signs_at(peaks(*values), len(values) - 1)) == stands


def test_once_it_stands_it_does_not_come_and_go_at_its_limit():
    diary = peaks(10, 10, 10, 10, *[9] * 8, 10, *[9] * 15)
    stands = ["ply_review" in signs_at(diary, day) for day in range(28)]
    assert [day for day, stood in enumerate(stands) if stood] == list(range(3, 26)), "to the end of that fortnight"
    assert signs_at(diary, 13)["ply_review"]["entered"].startswith("You logged 10 ply or more on 5 of the last 14 days")


def test_days_in_an_earlier_socket_do_not_count():
    diary = peaks(10, 10, 10, 10, 10, 6, 6)
    assert "ply_review" in signs_at(diary, 6)
    diary.add(5, 6, "change", what="new_socket")
    assert "ply_review" not in signs_at(diary, 6)


def test_the_clinics_own_limits_win():
    assert "ply_review" in signs_at(peaks(6, 6, 6, 6, ply_review=6), 3)
    assert "ply_review" not in signs_at(peaks(12, 12, 12, 12, ply_review=15), 3)
    assert "ply_watch" in signs_at(peaks(5, ply_watch=5), 0)
    assert "ply_watch" not in signs_at(peaks(9, ply_watch=12), 0)


def test_the_sign_counts_days_with_a_log_and_names_the_entries():
    sign = signs_at(peaks(10, 11, None, 10, 10), 4)["ply_review"]
    assert sign["entered"].startswith("You logged 10 ply or more on 4 of the last 4 days with a log.")
    assert len(sign["evidence"]) == 4
    assert sign["since"].startswith("2031-03-07"), "the day on which the rule was first met"


def test_ply_at_the_watch_limit_is_for_today_and_yesterday_only():
    diary = peaks(8, 7, 7)
    assert [("ply_watch" in signs_at(diary, day)) for day in (0, 1, 2)] == [True, True, False]


def rising(days, then=()):
    """A peak that rises by a ply a week, from 4; then other days."""
    return [4 + day // 7 for day in range(days)] + list(then)


@pytest.mark.parametrize(("ceiling", "values", "stands"), [
    (11, rising(35), True), (40, rising(35), False), (11, [8] * 35, False), (11, rising(4), False),
])  # fmt: skip
def test_a_steady_rise_that_more_likely_than_not_reaches_the_ceiling(ceiling, values, stands):
    found = signs_at(peaks(*values, ply_ceiling=ceiling), len(values), 6)
    assert ("ply_review" in found) == stands
    if stands:
        said = found["ply_review"]["entered"]
        assert said.startswith("Your daily peak rose by about 0.9 ply a week from 3 March to 6 April.")
        assert "reaches 11 ply within 90 days" in said


def test_a_rise_does_not_come_and_go_at_its_limit_and_ends_with_a_change_of_socket():
    diary = peaks(*rising(35, [4, 5, 4, 6] * 10))
    stood = [day for day in range(20, 75) if "ply_review" in signs_at(diary, day, 6)]
    assert stood == list(range(stood[0], stood[-1] + 1))
    assert 35 + 14 <= stood[-1] < 70, "a fortnight after it was last met"
    diary.add(36, 6.5, "change", what="new_socket")
    assert "ply_review" not in signs_at(diary, 40, 6)


def test_a_rise_that_arrives_at_the_limit_is_one_sign_that_grows():
    diary = peaks(*rising(50))
    sign = signs_at(diary, 50, 6)["ply_review"]
    assert sign["entered"].startswith("You logged 10 ply or more on 6 of the last 6 days with a log.")
    assert " Your daily peak rose by about " in sign["entered"]
    assert sign["since"].startswith("2031-03-03")
    assert len(sign["evidence"]) == len(set(sign["evidence"]))


def shift(code, day, size=3.2):
    return [{"code": code, "date": day, "size": size, "question": None}]


def test_fewer_hours_are_a_watch_for_two_weeks():
    shifts = shift("wear_falling", "2031-03-03")
    found = signs_at(peaks(5), 13, shifts=shifts)["wear_falling"]
    assert found["level"] == "watch"
    assert "about 3.2 h a day since 3 March" in found["entered"]
    assert "wear_falling" not in signs_at(peaks(5), 14, shifts=shifts)


# Clear weight change is told within days (handouts, read); one or two ply is an ordinary swing (Sanders 2012, read).
@pytest.mark.parametrize(
    ("after", "code"),
    [
        ((10, 10, 10), "limb_smaller"), ((9, 9, 9), None), ((10, 10), None), ((10, 7, 7), None),
        ((10, 10, 7, 10), "limb_smaller"), ((4, 4, 4), "limb_bigger"), ((5, 5, 5), None),
    ],
)  # fmt: skip
def test_a_sudden_shift_of_more_than_two_ply_on_most_of_four_days(after, code):
    diary = peaks(*[7] * 10, *after)
    shifts = shift("limb_smaller", "2031-03-14") + shift("limb_bigger", "2031-03-14")
    found = signs_at(diary, 10 + len(after), 12, shifts=shifts)
    assert {"limb_smaller", "limb_bigger"} & set(found) == ({code} if code else set())
    if code:
        assert "about 3 ply within days, from 14 March" in found[code]["entered"]


@pytest.mark.parametrize(("before", "told"), [((5, 5, 5), True), ((3, 5, 7), False)])
def test_a_shift_within_the_wearers_own_scatter_is_not_told(before, told):
    diary = peaks(*before * 4, 8, 8, 8)
    assert ("limb_smaller" in signs_at(diary, 15, 12, shifts=shift("limb_smaller", "2031-03-16"))) == told


def test_an_old_shift_is_not_told_again():
    diary = peaks(*[5] * 10, *[9] * 20)
    shifts = shift("limb_smaller", "2031-03-14")
    assert "limb_smaller" in signs_at(diary, 25, 12, shifts=shifts), "it had lasted on day 12"
    assert "limb_smaller" not in signs_at(diary, 26, 12, shifts=shifts)


def test_days_long_after_a_shift_do_not_make_it_last():
    diary = peaks(*[5] * 30, *[9] * 6)
    assert "limb_smaller" not in signs_at(diary, 36, 12, shifts=shift("limb_smaller", "2031-03-14"))


@pytest.mark.parametrize(("lasting", "told"), [(4, True), (2, False)])
def test_a_suspected_change_that_nobody_logs_may_be_a_bigger_limb(lasting, told):
    shifts = [{"code": "unlogged_change", "date": "2031-03-14", "size": -3.0, "question": "Was the socket changed?"}]
    diary = peaks(*[9] * 10, *[5] * lasting, *[9] * 4)
    assert ("limb_bigger" in signs_at(diary, 12 + lasting, 12, shifts=shifts)) == told
    diary.add(10, 6, "change", what="new_socket")
    assert "limb_bigger" not in signs_at(diary, 12 + lasting, 12, shifts=shifts)


def test_a_girth_that_changed_on_two_days_is_a_sign():
    diary = Diary()
    for day, girth in ((0, 30.0), (20, 31.6), (21, 31.7)):
        diary.add(day, 9, "girth", marks=[{"from_end_cm": 5, "girth_cm": girth}], by="self")
    assert "girth_change" not in signs_at(diary, 20)
    sign = signs_at(diary, 21)["girth_change"]
    assert "+1.7 cm at 5 cm from the end" in sign["entered"]
    assert len(sign["evidence"]) == 3
