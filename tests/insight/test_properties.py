"""What must hold for any log, however messy: order, repeats, the server's zone, other kinds, time, a kept reading."""

import os
import time
from datetime import UTC, datetime, timedelta
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from insight import wearers
from plytide.entries import Entry
from plytide.insight import Reading, summarise
from plytide.stamps import make

START = datetime(2024, 3, 28, tzinfo=UTC)  # a clock change in Europe lies in the week that follows
ZONES = ("Europe/Berlin", "Pacific/Auckland", "America/St_Johns", "Pacific/Honolulu")
BODIES = {
    "don": st.fixed_dictionaries({"total": st.none() | st.integers(0, 12), "clicks": st.none() | st.integers(1, 9)}),
    "doff": st.just({}),
    "ply": st.fixed_dictionaries({"total": st.integers(0, 12), "socks": st.none() | st.just(["0" * 8])}),
    "adjust": st.sampled_from([{"what": "dial", "by": 2}, {"what": "vacuum", "reading": -20.5, "unit": "inHg"}]),
    "sore": st.fixed_dictionaries(
        {"height": st.floats(0, 1), "angle": st.floats(0, 359), "intensity": st.integers(0, 10)}
    ),
    "skin": st.sampled_from([{"clear": True}, {"clear": False, "findings": [{"what": "redness", "still_red": True}]}]),
    "comfort": st.fixed_dictionaries({"score": st.integers(0, 10)}),
    "mishap": st.just({"what": "stumble"}),
    "change": st.just({"what": "new_socket"}),
    "girth": st.just({"marks": [{"from_end_cm": 5, "girth_cm": 30}], "by": "self"}),
    "day": st.just({"tags": ["hot"]}),
    "activity": st.just({"what": "stairs"}),
    "sock": st.just({"name": "thick", "ply": 5}),
    "profile": st.fixed_dictionaries({"day_starts": st.sampled_from([0, 4, 4, 4])}),
}
LIMBLESS = {"day", "activity", "sock", "profile"}
UNRELATED = ("note", "question", "need", "option", "visit", "a_kind_of_later")


@st.composite
def logs(draw, kinds=tuple(BODIES)):
    """A week of entries in no order of sense: doffings first, two limbs, zones that jump, versions, erasures."""
    out = []
    for n in range(draw(st.integers(0, 28))):
        kind = draw(st.sampled_from(kinds))
        at = START + timedelta(minutes=draw(st.integers(0, 7 * 24 * 60)))
        limb = None if kind in LIMBLESS else draw(st.sampled_from(["left", "left", "left", "right"]))
        entry = Entry(
            id=f"{draw(st.integers(0, 40)):08x}-0000-7000-8000-000000000000", kind=kind, limb=limb,
            at=at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), zone=draw(st.sampled_from(ZONES[:1] * 5 + ZONES)),
            stamp=make(n, 0, "5f3a9c1e"), erased=draw(st.integers(0, 9)) == 0, body=draw(BODIES[kind]),
        )  # fmt: skip
        out.append(entry)
    return out


NOWS = st.integers(0, 9 * 24 * 60).map(lambda minutes: START + timedelta(minutes=minutes))
MANY = settings(max_examples=150, deadline=None)


@MANY
@given(logs(), NOWS, st.randoms(use_true_random=False))
def test_order_and_repeats_never_change_a_summary(entries, now, random):
    mixed = [*entries, *random.sample(entries, len(entries) // 2)]
    random.shuffle(mixed)
    assert summarise(mixed, now) == summarise(entries, now)


@MANY
@given(logs(), NOWS)
def test_an_unrelated_kind_changes_nothing(entries, now):
    at, zone, body = "2024-03-29T12:00:00.000Z", "Pacific/Apia", {"text": "…", "on": "2024-04-09"}
    others = [
        Entry(f"{n:08x}-0000-7000-8000-00000000aaaa", kind, None, at, zone, make(1, 0, "0" * 8), False, body)
        for n, kind in enumerate(UNRELATED)
    ]
    assert summarise([*entries, *others], now) == summarise(entries, now)


@MANY
@given(logs(), NOWS)
def test_a_summary_of_the_log_up_to_a_day_is_the_summary_as_of_that_day(entries, now):
    # Versions of one entry are told apart by stamp, not by when they were known, so each id is left with one.
    latest = list({entry.id: entry for entry in entries}.values())
    up_to = [entry for entry in latest if datetime.fromisoformat(entry.at) <= now + timedelta(minutes=5)]
    assert summarise(latest, now) == summarise(up_to, now)


@MANY
@given(
    logs() | logs(kinds=("don", "doff", "doff", "ply", "day")),
    st.lists(st.tuples(st.integers(1, 12), NOWS), max_size=6),
    NOWS,
)
def test_a_reading_that_is_kept_says_what_a_fresh_one_says(entries, moves, last):
    kept, given_ = Reading(), 0
    for count, now in moves:  # in any order of time: a clock may also go back
        assert summarise(entries[given_ : given_ + count], now, kept=kept) == summarise(entries[: given_ + count], now)
        given_ += count
    assert summarise(entries[given_:], last, kept=kept) == summarise(entries, last)


@MANY
@given(logs(kinds=("don", "doff", "ply", "adjust", "sore")), NOWS)
def test_no_hours_are_invented(entries, now):
    live = {entry.id: entry for entry in entries}.values()
    for side, limb in summarise(entries, now)["limbs"].items():
        times = [datetime.fromisoformat(e.at) for e in live if e.limb == side and not e.erased and e.kind != "sore"]
        until = max([now, *[t for t in times if t <= now + timedelta(minutes=5)]])
        told = [t for t in times if t <= until]
        span = (until - min(told)).total_seconds() / 3600 if told else 0
        worn = [day["worn_h"] or 0 for day in limb["days"]]
        if len({e.zone for e in live}) == 1:
            assert sum(worn) <= span + 0.01 * len(worn)
        assert all(hours <= 48 for hours in worn)
        for day in limb["days"]:
            assert day["worn_h"] is None or day["worn_h"] > 0
            assert all(gap["start"] < gap["end"] for gap in day["gaps"])


@pytest.mark.parametrize("zone", ["UTC", "Asia/Kolkata", "Pacific/Apia", "America/St_Johns"])
def test_the_servers_own_zone_never_changes_a_summary(zone):
    entries = wearers.entries(wearers.draw(12, 40, "change"), extra=True)
    now = datetime(2031, 2, 14, 17, tzinfo=UTC)
    before, here = summarise(entries, now), os.environ.get("TZ")
    os.environ["TZ"] = zone
    time.tzset()
    try:
        assert summarise(entries, now) == before
        assert summarise(entries, now.astimezone()) == before
    finally:
        os.environ.pop("TZ") if here is None else os.environ.update(TZ=here)
        time.tzset()


def at(kind, day, hour, stamp, **body):
    """One entry on a day of Berlin's winter time, told `stamp`th."""
    moment = datetime(2024, 1, 8, tzinfo=UTC) + timedelta(days=day, hours=hour - 1)
    limb = None if kind == "day" else "left"
    name, when = f"{stamp:08x}-0000-7000-8000-000000000000", moment.strftime("%Y-%m-%dT%H:%M:%S.000Z")
    return Entry(name, kind, limb, when, ZONES[0], make(stamp, 0, "0" * 8), False, body)


@pytest.mark.parametrize(
    "late",
    [
        at("doff", 1, 5, 9),  # the night's doffing, told days after: it lengthens the day before
        at("ply", 1, 3, 9, total=9),
        at("don", 0, 6, 9, total=2),
        at("doff", 0, 12, 9),
        at("day", 0, 9, 9, tags=["hot"]),
        at("change", 0, 12, 9, what="liner"),
    ],
    ids=lambda entry: f"{entry.kind} {entry.at[8:13]}",
)
@pytest.mark.parametrize("next_day", [1, 3])
def test_what_is_told_late_is_read_into_the_days_it_touches(late, next_day):
    evening = [at("don", 0, 10, 1, total=5), at("ply", 0, 23, 2, total=7)]
    entries = [*evening, at("don", next_day, 11, 3, total=5), at("doff", next_day, 20, 4)]
    now = START
    kept = Reading()
    before = summarise(entries, now, kept=kept, days=90)
    after = summarise([late], now, kept=kept, days=90)
    assert after == summarise([*entries, late], now, days=90)
    assert after != before
    gone = Entry(late.id, late.kind, late.limb, late.at, late.zone, make(10, 0, "0" * 8), True, {})
    assert summarise([gone], now, kept=kept, days=90) == before


@pytest.mark.parametrize("seed", range(3))
def test_a_log_that_grows_day_by_day_reads_like_one_read_at_once(seed):
    wearer = wearers.draw(seed, 70, "silent_change")
    entries = wearers.entries(wearer, extra=True)
    kept, r, index = Reading(), Random(seed), 0
    while index < len(entries):
        step = r.randint(1, 60)
        new = entries[index : index + step]
        index += step
        now = datetime.fromisoformat(new[-1].at) + timedelta(minutes=r.randint(0, 600))
        assert summarise(new, now, kept=kept) == summarise(entries[:index], now)
    one = entries[len(entries) // 2]
    edited = Entry(one.id, one.kind, one.limb, one.at, one.zone, make(2**40, 0, "5f3a9c1e"), True, {})
    assert summarise([edited], now, kept=kept) == summarise([*entries, edited], now)
