"""The drawer against the day: what to put on, what to carry, what was worn."""

import json

import pytest
from insight.diary import Diary
from plytide.insight import socks


def forecast(low, high, days=21):
    peak = {"p05": low, "p25": low, "p50": high, "p75": high, "p95": high}
    return {"date": "2031-03-03", "peak": peak, "basis_days": days}


SILENT = {"reason": "Not enough days yet.", "code": "few_days", "days": 1}


def owner(plies, on=(), now=12.0, **profile):
    """A wearer with one sock entry for each of `plies`, those at the indices `on` worn since seven."""
    diary = Diary(**profile)
    ids = [
        diary.add(-1, 13, "sock", name=f"{ply} ply {i}", ply=ply, pin_hole=i % 2 == 0) for i, ply in enumerate(plies)
    ]
    if on:
        diary.add(0, 7, "don", total=sum(plies[i] for i in on), socks=[ids[i] for i in on])
    return diary.log(0, now), ids


def plies_of(log, stack):
    by_id = {item.id: item.body["ply"] for item in log.items("sock")}
    return [by_id[sock] for sock in stack]


def wear(log, total, cast=SILENT):
    part = socks.read(log, cast)
    return [plies_of(log, stack) for entry in part["wear"] if entry["total"] == total for stack in entry["stacks"]]


def test_with_the_leg_off_the_fewest_layers_come_first():
    log, _ = owner([1, 1, 3, 5, 5])
    assert wear(log, 5) == [[5], [3, 1, 1]]
    assert wear(log, 8) == [[5, 3]]
    assert wear(log, 4) == [[3, 1]]


def test_a_total_that_the_drawer_cannot_make_is_not_listed():
    log, _ = owner([3, 3])
    assert [entry["total"] for entry in socks.read(log, SILENT)["wear"]] == [3, 6]


def test_from_the_present_stack_the_fewest_moves_come_first_and_the_inner_socks_stay():
    log, ids = owner([3, 1, 5, 5, 1], on=(0, 1))
    [entry] = [entry for entry in socks.read(log, SILENT)["wear"] if entry["total"] == 9]
    assert entry["stacks"][0] == [ids[0], ids[1], ids[2]], "3 and 1 stay, a 5 goes over them"
    assert wear(log, 8)[0] == [3, 5], "the outer 1 comes off and a 5 goes on"
    assert wear(log, 4)[0] == [3, 1]


def test_the_layer_limit_of_the_profile_holds():
    log, _ = owner([1, 1, 1, 1], layers_max=2)
    assert [entry["total"] for entry in socks.read(log, SILENT)["wear"]] == [1, 2]


def test_socks_in_the_wash_or_worn_out_do_not_count():
    diary = Diary()
    diary.add(-1, 13, "sock", name="a", ply=5, state="wash")
    diary.add(-1, 13, "sock", name="b", ply=3, state="worn_out")
    diary.add(-1, 13, "sock", name="c", ply=1, count=2)
    assert [entry["total"] for entry in socks.read(diary.log(0), SILENT)["wear"]] == [1, 2]


def test_with_a_pin_lock_only_socks_with_a_hole_count():
    log, ids = owner([3, 5, 1], limb={"suspension": ["pin_lock"]})
    stacks = [entry["stacks"] for entry in socks.read(log, SILENT)["wear"]]
    assert stacks == [[[ids[2]]], [[ids[0]]], [[ids[0], ids[2]]]]


def test_what_to_carry_covers_from_one_more_than_now_to_the_forecasts_upper_end():
    log, ids = owner([3, 1, 1, 2, 5, 6], on=(0,), layers_max=4)
    carry = socks.read(log, forecast(4, 8))["carry"]
    assert carry["covers"] == (4, 8)
    assert sorted(plies_of(log, carry["socks"])) == [1, 1, 2, 5], "1, 2, 1+2, 1+1+2 and 5 over the 3"
    assert ids[0] not in carry["socks"], "what is on is not carried"
    assert carry["missing"] == []
    assert carry["rests_on"] == "21 days of this fit"


def test_where_adding_cannot_do_it_a_sock_may_come_off():
    log, _ = owner([3, 1, 2, 5], on=(0,), layers_max=2)
    carry = socks.read(log, forecast(3, 8))["carry"]
    # Adding alone leaves 7 out (3 + 4); with the 3 off, 5 + 2 makes it: worked example "socks", K = 2.
    assert carry["missing"] == []
    assert sorted(plies_of(log, carry["socks"])) == [1, 2, 5]


def test_totals_that_nothing_owned_can_make_are_named():
    log, _ = owner([3, 3, 1], on=(0,))
    assert socks.read(log, forecast(3, 8))["carry"]["missing"] == [5, 8]


def test_nothing_to_carry_is_said_as_nothing_and_silence_of_the_forecast_is_kept():
    log, _ = owner([3, 5], on=(0, 1))
    carry = socks.read(log, forecast(5, 8))["carry"]
    assert (carry["socks"], carry["missing"], carry["covers"]) == ([], [], (8, 8))
    assert socks.read(log, SILENT)["carry"] is None


def test_without_a_drawer_nothing_is_said_about_carrying():
    diary = Diary()
    diary.add(0, 7, "don", total=5)
    assert socks.read(diary.log(0, 12), forecast(5, 8))["carry"] is None


def test_socks_on_the_leg_that_nobody_named_are_added_to_and_never_taken_apart():
    diary = Diary()
    for name, ply in (("a", 1), ("b", 2)):
        diary.add(-1, 13, "sock", name=name, ply=ply)
    diary.add(0, 7, "don", total=5)
    carry = socks.read(diary.log(0, 12), forecast(5, 8))["carry"]
    assert (carry["covers"], carry["missing"]) == ((6, 8), [])
    assert "not logged" in carry["rests_on"]


def test_a_sock_on_the_leg_that_is_no_longer_owned_leaves_the_stack_unknown():
    diary = Diary()
    kept = diary.add(-1, 13, "sock", name="a", ply=3)
    diary.add(0, 7, "don", total=8, socks=[kept, "0198f2c3-0000-7000-8000-ffffffffffff"])
    part = socks.read(diary.log(0, 12), forecast(8, 9))
    assert part["used"] == []
    assert part["carry"]["missing"] == [9]


def test_hours_are_counted_by_what_was_worn_not_by_the_total():
    diary = Diary()
    three = diary.add(-1, 13, "sock", name="three", ply=3)
    ones = diary.add(-1, 13, "sock", name="ones", ply=1, count=3)
    diary.add(0, 7, "don", total=3, socks=[three])
    diary.add(0, 12, "ply", total=3, socks=[ones, ones, ones])
    diary.add(0, 14, "ply", total=4)
    diary.add(0, 20, "doff")
    part = socks.read(diary.log(0), SILENT)
    assert part["used"] == [
        {"plies": [3], "total": 3, "hours": 5.0}, {"plies": [1, 1, 1], "total": 3, "hours": 2.0},
    ]  # fmt: skip
    assert json.dumps(part)


@pytest.mark.parametrize("count", [0, 2, 5])
def test_the_same_sock_is_used_as_often_as_it_is_owned(count):
    diary = Diary()
    sock = diary.add(-1, 13, "sock", name="a", ply=2, count=count)
    stacks = [stack for entry in socks.read(diary.log(0), SILENT)["wear"] for stack in entry["stacks"]]
    assert stacks == [[sock] * n for n in range(1, min(count, 3) + 1)]
