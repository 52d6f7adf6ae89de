"""The alarm budget: quiet on stable limbs, prompt on planted troubles; tests/bench/bench_alarms.py has the proof."""

import pytest
from insight.alarms import WARM_UP, begun, first_day, lived, sore
from insight.wearers import draw

DAYS = 90
MONTH = 30.4
LATE = 3  # days from meeting the rule to being found
PLANTED = 60


@pytest.mark.parametrize("seed", range(3))
def test_a_stable_limb_begins_at_most_one_sign_of_review_or_above_a_month(seed):
    found = begun(lived(draw(seed, DAYS, "stable")), WARM_UP, DAYS - 1)
    assert len(found) / ((DAYS - WARM_UP) / MONTH) <= 1, found


def test_a_socket_outgrown_is_found_when_most_days_of_a_week_reach_the_limit():
    wearer = draw(4, DAYS, "stable")
    wearer.level, wearer.rise, wearer.drift, wearer.fade, wearer.lost_days = 5.0, 2.0, 0.06, 1000.0, 0.0
    book = lived(wearer)
    peaks: dict[int, int] = {}
    for entry in book.entries:
        if entry.kind in ("don", "ply"):
            day = (book.at(0, 0).fromisoformat(entry.at) - book.at(0, 4)).days
            peaks[day] = max(peaks.get(day, 0), entry.body["total"])
    met = next(d for d in range(7, DAYS) if sum(peaks.get(n, 0) >= 10 for n in range(d - 6, d + 1)) >= 4)
    found = first_day(book, {"ply_review"}, 20, DAYS - 1)
    assert 30 < met < DAYS - LATE
    assert found is not None
    assert found <= met + LATE


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_one_spot_sore_again_and_again_is_found(seed):
    book = lived(draw(seed, DAYS, "stable"))
    for day in range(PLANTED, PLANTED + 12, 2):
        sore(book, day, (0.7, 100 + day % 5), 4)
    found = first_day(book, {"spot_again"}, PLANTED, PLANTED + 12)
    assert found is not None
    assert found <= PLANTED + 4 + LATE  # the third day with a mark is day 4


def test_redness_that_lasts_is_found_the_same_evening():
    book = lived(draw(1, DAYS, "stable"))
    mark = {"what": "redness", "height": 0.7, "angle": 100.0, "fade_min": 35}
    book.add(PLANTED, 23, "skin", clear=False, findings=[mark], fever_c=None, unwell=[])
    assert first_day(book, {"redness_long"}, PLANTED - 1, PLANTED + LATE) == PLANTED


def test_swelling_that_was_seen_is_found_the_same_evening():
    book = lived(draw(2, DAYS, "stable"))
    book.add(PLANTED, 23, "skin", clear=False, findings=[{"what": "swollen"}], fever_c=None, unwell=[])
    assert first_day(book, {"swelling"}, PLANTED - 1, PLANTED + LATE) == PLANTED


@pytest.mark.parametrize(("seed", "jump", "code"), [(101, 3.5, "limb_smaller"), (103, -3.5, "limb_bigger")])
def test_a_limb_that_suddenly_changes_by_more_than_three_ply_is_found_when_that_has_lasted(seed, jump, code):
    wearer = draw(seed, DAYS, "stable")
    wearer.level, wearer.changes = 5.0, ((PLANTED, jump, False),)
    found = first_day(lived(wearer), {code}, PLANTED - 5, PLANTED + 10)
    assert found is not None
    assert PLANTED < found <= PLANTED + 3 + LATE  # it has to be there on three days


def test_comfort_that_falls_by_four_points_is_found_within_a_week_and_three_days():
    book = lived(draw(5, DAYS, "stable"))
    book.entries = [e for e in book.entries if e.kind != "comfort"]
    for day in range(DAYS):
        book.add(day, 21.5, "comfort", score=(8 if day < PLANTED else 4) + day % 2)
    found = first_day(book, {"comfort_down"}, PLANTED, PLANTED + 7 + LATE)
    assert found is not None
    assert found >= PLANTED + 4, "one bad day is not a week"


def test_suction_lost_every_other_day_is_found():
    book = lived(draw(6, DAYS, "stable"))
    for day in range(PLANTED, PLANTED + 10, 2):
        book.add(day, 14.5, "mishap", what="suction_lost")
    found = first_day(book, {"suction_again"}, PLANTED, PLANTED + 10)
    assert found is not None
    assert found <= PLANTED + 4 + LATE
