"""Malformed entries: each is refused for itself, with a code for programs and a sentence for people."""

import json
import math
from typing import Any

import pytest
from conftest import MakeEntry
from hypothesis import given
from hypothesis import strategies as st
from plytide.entries import BODIES, DEPTH_MAX, SIZE_MAX, TEXT_MAX, Entry, Refusal, parse_entry
from plytide.store import Store

NEST: Any = "x"
for _ in range(DEPTH_MAX + 1):
    NEST = [NEST]

ENVELOPE: list[tuple[str, dict[str, Any], str]] = [
    ("id in capitals", {"id": "0198F2C3-A7B4-7000-8000-000000000001"}, "bad_id"),
    ("id with a line end", {"id": "0198f2c3-a7b4-7000-8000-000000000001\n"}, "bad_id"),
    ("id a number", {"id": 7}, "bad_id"),
    ("id a list", {"id": ["x"]}, "bad_id"),
    ("no id", {"id": None}, "bad_id"),
    ("stamp cut short", {"stamp": "0198f2c3a7b4-0000-5f3a9c1"}, "bad_stamp"),
    ("stamp an object", {"stamp": {}}, "bad_stamp"),
    ("kind with a space", {"kind": "p ly"}, "bad_kind"),
    ("kind a list", {"kind": ["ply"]}, "bad_kind"),
    ("kind endless", {"kind": "p" * 41}, "bad_kind"),
    ("a third leg", {"limb": "middle"}, "bad_limb"),
    ("limb a list", {"limb": ["left"]}, "bad_limb"),
    ("no limb where one is needed", {"limb": None}, "no_limb"),
    ("zone unknown", {"zone": "Europe/Atlantis"}, "bad_zone"),
    ("zone a path", {"zone": "../../etc/passwd"}, "bad_zone"),
    ("zone an offset", {"zone": "+01:00"}, "bad_zone"),
    ("time without zone", {"at": "2031-03-02T07:10:00"}, "bad_time"),
    ("time a date", {"at": "2031-03-02"}, "bad_time"),
    ("time with a space", {"at": "2031-03-02 07:10:00Z"}, "bad_time"),
    ("time a number", {"at": 1930000000}, "bad_time"),
    ("30 February", {"at": "2031-02-30T07:10:00Z"}, "bad_time"),
    ("29 February of no leap year", {"at": "2031-02-29T07:10:00Z"}, "bad_time"),
    ("hour 25", {"at": "2031-03-02T25:10:00Z"}, "bad_time"),
    ("digits of another script", {"at": "٢٠٣١-03-02T07:10:00Z"}, "bad_time"),
    ("year 1", {"at": "0001-01-01T00:00:00+14:00"}, "bad_time"),
    ("year 9999", {"at": "9999-12-31T23:59:59-12:00"}, "bad_time"),
    ("before 1970", {"at": "1969-12-31T23:59:59Z"}, "bad_time"),
    ("erased a word", {"erased": "yes"}, "bad_form"),
    ("body a list", {"body": []}, "bad_form"),
    ("body null", {"body": None}, "bad_form"),
    ("NUL in an unknown field", {"extra": "a\x00b"}, "bad_text"),
    ("lone surrogate", {"extra": "\ud800"}, "bad_text"),
    ("lone surrogate in a name", {"\udfff": 1}, "bad_text"),
    ("NaN", {"extra": math.nan}, "bad_number"),
    ("infinite", {"extra": [1, {"deep": -math.inf}]}, "bad_number"),
    ("more than a double holds", {"extra": 2**53 + 1}, "bad_number"),
    ("too deep", {"extra": NEST}, "too_deep"),
]  # fmt: skip

BODY: list[tuple[str, str, dict[str, Any]]] = [
    ("score out of range", "comfort", {"score": 11}),
    ("score below zero", "comfort", {"score": -1}),
    ("score half", "comfort", {"score": 5.5}),
    ("score as text", "comfort", {"score": "5"}),
    ("score as truth", "comfort", {"score": True}),
    ("score missing", "comfort", {}),
    ("41 ply", "ply", {"total": 41}),
    ("sock that is no id", "ply", {"total": 3, "socks": ["grey"]}),
    ("why unknown", "ply", {"total": 3, "why": "fun"}),
    ("above the brim", "sore", {"height": 1.01, "angle": 0, "intensity": 1}),
    ("below the tip", "sore", {"height": -0.01, "angle": 0, "intensity": 1}),
    ("full turn", "sore", {"height": 0.5, "angle": 360, "intensity": 1}),
    ("angle null", "sore", {"height": 0.5, "angle": None, "intensity": 1}),
    ("clear unsaid", "skin", {"findings": []}),
    ("finding unknown", "skin", {"clear": False, "findings": [{"what": "sparkle"}]}),
    ("fever of a stove", "skin", {"clear": False, "fever_c": 180.0}),
    ("too many findings", "skin", {"clear": False, "findings": [{"what": "itch"}] * 51}),
    ("text too long", "note", {"text": "x" * (TEXT_MAX + 1)}),
    ("text a list", "note", {"text": ["x"]}),
    ("sock without name", "sock", {"name": "", "ply": 3}),
    ("trip without hours", "trip", {"date": "2031-03-02"}),
    ("option that meets in its own way", "option", {"name": "x", "kind": "liner", "meets": {"no-id": "yes"}}),
    ("no marks on the tape", "girth", {"marks": [], "by": "self"}),
    ("three limbs", "profile", {"limbs": [{"side": "left", "level": "transtibial"}] * 3}),
    ("day that starts in the afternoon", "profile", {"day_starts": 13}),
]

DATES = [
    ("trip", {"date": "2031-02-30", "hours": 4.0}),
    ("visit", {"on": "2031-13-01"}),
    ("profile", {"limbs": [{"side": "left", "level": "transtibial", "amputated_on": "2029-02-29"}]}),
]


def refusal(raw: object) -> Refusal:
    with pytest.raises(Refusal) as caught:
        parse_entry(raw)
    return caught.value


@pytest.mark.parametrize(("over", "code"), [case[1:] for case in ENVELOPE], ids=[case[0] for case in ENVELOPE])
def test_an_envelope_that_is_wrong_is_refused_by_its_code(
    make_entry: MakeEntry, over: dict[str, Any], code: str
) -> None:
    refused = refusal(make_entry() | over)
    assert refused.code == code
    assert refused.why.endswith(".")
    assert refused.why[0].isupper()


@pytest.mark.parametrize(("kind", "body"), [case[1:] for case in BODY], ids=[case[0] for case in BODY])
def test_a_body_outside_its_range_is_refused_and_told_where(
    make_entry: MakeEntry, kind: str, body: dict[str, Any]
) -> None:
    refused = refusal(make_entry(kind, body))
    assert refused.code == "bad_body"
    assert ": " in refused.why


@pytest.mark.parametrize(("kind", "body"), DATES, ids=[kind for kind, _ in DATES])
def test_a_day_that_is_not_in_the_calendar_is_refused(make_entry: MakeEntry, kind: str, body: dict[str, Any]) -> None:
    assert refusal(make_entry(kind, body, limb=None)).code == "bad_date"


@pytest.mark.parametrize("raw", [None, 7, "entry", [], [{}], True, 1e400])
def test_what_is_no_object_is_refused(raw: object) -> None:
    assert refusal(raw).code == "not_an_object"


def test_an_entry_larger_than_any_has_reason_to_be_is_refused(make_entry: MakeEntry) -> None:
    entry = parse_entry(make_entry("note", {"text": "short", "more": ["x" * 2000] * (SIZE_MAX // 2000 + 1)}, limb=None))
    with pytest.raises(Refusal) as caught:
        entry.as_json()
    assert caught.value.code == "too_large"


def test_a_number_that_json_reads_as_infinite_is_refused(make_entry: MakeEntry) -> None:
    sent = json.dumps(make_entry("sore", {"height": 0.5, "angle": 0, "intensity": 1}))
    raw = json.loads(sent.replace("0.5", "1e400"))
    assert raw["body"]["height"] == math.inf
    assert refusal(raw).code == "bad_number"


def test_the_reason_does_not_repeat_what_was_typed(make_entry: MakeEntry) -> None:
    assert "secret" not in str(refusal(make_entry("comfort", {"score": "secret words"})))


def test_a_bad_entry_costs_only_itself(store: Store, logbook: str, make_entry: MakeEntry, now_ms: int) -> None:
    good = [make_entry() for _ in range(3)]
    bad = [make_entry() | over for _, over, _ in ENVELOPE] + [make_entry(kind, body) for _, kind, body in BODY]
    done = store.sync(logbook, None, 0, [good[0], *bad, None, good[1], "x", good[2]], now_ms)
    assert [result["r"] for result in done.results].count("ok") == 3
    assert {entry.id for entry in store.live(logbook)[0]} == {entry["id"] for entry in good}
    for result, raw in zip(done.results[1:], bad, strict=False):
        assert result["r"] == "refused"
        assert result["id"] in (raw.get("id"), None)
    json.dumps(done.results, allow_nan=False).encode()  # the answers themselves can travel


def test_an_erased_entry_is_not_refused_for_its_body(make_entry: MakeEntry) -> None:
    assert parse_entry(make_entry("comfort", {"score": 99}, erased=True)).erased


@pytest.mark.parametrize("kind", sorted(BODIES))
def test_every_kind_takes_an_empty_tombstone(make_entry: MakeEntry, kind: str) -> None:
    assert parse_entry(make_entry(kind, {}, limb=None, erased=True)).body == {}


def test_times_are_kept_in_utc_with_milliseconds(make_entry: MakeEntry) -> None:
    assert parse_entry(make_entry(at="2031-03-02T07:10:00.1239+02:00")).at == "2031-03-02T05:10:00.123Z"


def test_text_is_kept_in_its_composed_form(make_entry: MakeEntry) -> None:
    # Unicode: e + U+0301 composes to U+00E9 in NFC
    assert parse_entry(make_entry("note", {"text": "e\u0301"}, limb=None)).body["text"] == "\u00e9"


junk = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(st.characters(codec=None)),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4),
    max_leaves=20,
)


@given(junk, st.sampled_from(["id", "kind", "limb", "at", "zone", "stamp", "erased", "body", "more"]), junk)
def test_no_junk_does_worse_than_be_refused(raw: Any, name: str, value: Any) -> None:
    whole = {
        "id": "0198f2c3-a7b4-7000-8000-000000000001", "kind": "comfort", "limb": "left",
        "at": "2031-03-02T07:10:00Z", "zone": "UTC", "stamp": "0198f2c3a7b4-0000-5f3a9c1e", "body": {"score": 1},
    }  # fmt: skip
    for sent in (raw, {**whole, name: value}, {**whole, "body": {"score": 1, "more": value}}):
        try:
            kept = parse_entry(sent).as_json()
        except Refusal:
            continue
        assert Entry.from_json(kept).as_json() == kept
        kept.encode()
