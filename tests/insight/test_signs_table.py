"""The table of signs: what one entry meets at once, the same in Python and on the phone."""

import json
import re
from pathlib import Path
from typing import get_args

import pytest
from insight.diary import Diary, signs_at
from plytide.bodies import FindingKind, Mishap, Profile, Unwell
from plytide.data import table
from plytide.insight import rules

SHARED = json.loads((Path(__file__).parents[1] / "vectors" / "signs.json").read_text(encoding="utf-8"))
VECTORS = SHARED["cases"]
TEXTS = [
    text
    for rule in table("signs")["rules"]
    for text in [rule["title"], rule["rule"], rule.get("entered", ""), *rule["do"]]
]


@pytest.mark.parametrize("case", VECTORS, ids=[case["name"] for case in VECTORS])
def test_an_entry_meets_what_its_source_says(case):
    met = rules.met_by(case["kind"], case["body"], case["profile"])
    assert [m._asdict() for m in met] == case["met"], case["source"]
    if "do" in case:
        assert rules.steps(met[0], case["profile"]) == case["do"]
    if "entered" in case:
        assert rules.what_was_entered(case["kind"], case["body"]) == case["entered"]


@pytest.mark.parametrize("case", SHARED["stands"], ids=[case["name"] for case in SHARED["stands"]])
def test_what_an_entry_meets_stands_as_long_as_on_the_phone(case):
    diary = Diary()
    for item in case["log"]:
        if item["kind"] == "skin":
            diary.skin(item["day"], *item["body"].get("findings", ()), hour=item["hour"],
                       **{k: v for k, v in item["body"].items() if k != "findings"})  # fmt: skip
        else:
            diary.add(item["day"], item["hour"], item["kind"], **item["body"])
    immediate = [code for code, rule in rules.rules().items() if "when" in rule]
    found = signs_at(diary, case["today"], 28 - 1 / 60)
    assert [code for code in immediate if code in found] == case["codes"]


def test_thirty_eight_degrees_is_the_fever_of_the_table_in_both_scales():
    # 38.0 C = 100.4 F: the definition of the Fahrenheit scale, and the NHS text on cellulitis.
    celsius = next(w["fever_at_least"] for w in rules.rules()["fever"]["when"])
    assert celsius * 9 / 5 + 32 == pytest.approx(100.4)
    assert "38.0 °C (100.4 °F)" in rules.rules()["fever"]["rule"]


def test_every_finding_mishap_and_symptom_that_can_be_entered_has_words():
    words = table("signs")["words"]
    assert set(words["finding"]) == set(get_args(FindingKind))
    assert set(words["unwell"]) == set(get_args(Unwell))
    assert set(words["mishap"]) == set(get_args(Mishap.model_fields["what"].annotation))


@pytest.mark.parametrize("what", get_args(FindingKind))
def test_every_finding_alone_meets_some_rule(what):
    body = {"findings": [{"what": what}]}
    assert rules.met_by("skin", body, {})


@pytest.mark.parametrize("what", get_args(Unwell))
def test_every_symptom_alone_is_asked_about_the_same_day_or_sooner(what):
    assert rules.met_by("skin", {"unwell": [what]}, {})[0].level in ("emergency", "same_day")


def test_the_clauses_use_only_words_that_entries_have():
    risks = get_args(get_args(Profile.model_fields["higher_risk"].annotation)[0])
    may = {
        "finding": set(get_args(FindingKind)), "also": set(get_args(FindingKind)), "any_unwell": set(get_args(Unwell)),
        "what": set(get_args(Mishap.model_fields["what"].annotation)), "any_flag": {"hurt", "head", "cannot_stand"},
        "risk": set(risks), "kind": {"skin", "mishap"},
    }  # fmt: skip
    for rule in table("signs")["rules"]:
        for clause in rule.get("when", []):
            assert set(clause) <= {*may, "fever_at_least", "over_limit", "blanches"}
            for key in may.keys() & clause.keys():
                said = {clause[key]} if isinstance(clause[key], str) else set(clause[key])
                assert said <= may[key], (rule["code"], key)


def test_a_rule_names_its_source_and_how_far_it_is_to_be_trusted():
    for rule in table("signs")["rules"]:
        assert rule["source"]
        assert rule["mark"] in ("seen", "second-hand", "derived", "common practice"), rule["code"]
        assert all(code in rules.rules() for code in rule.get("covers", []))


def test_the_starred_rows_go_one_level_up_and_no_others_do():
    # The rows with a star, as the trade's table of warning signs has them (derived; for a prosthetist to review).
    assert {code for code, rule in rules.rules().items() if rule["higher_risk"]} == {
        "infection", "fever", "open_skin", "deep_mark", "redness_long",
    }  # fmt: skip
    for code, rule in rules.rules().items():
        before, after = rules.level_of(code, {}), rules.level_of(code, {"higher_risk": ["dialysis"]})
        rise = rules.LEVELS.index(before.level) - rules.LEVELS.index(after.level)
        assert rise == (1 if rule["higher_risk"] else 0)


def test_an_unknown_key_in_a_clause_never_holds():
    assert not rules.clause_holds({"kind": "skin", "photo": True}, "skin", {}, {})


@pytest.mark.parametrize("text", TEXTS)
def test_the_words_never_diagnose_dose_or_reassure(text):
    said = text.lower()
    assert "you have " not in said
    assert not re.search(r"\badd \w+ (ply|sock)|\btake off \w+ (ply|sock)|\bdon't worry|\bnormal\b|\bfine\b|%", said)
    assert len(text) < 200


def test_above_review_the_emergency_number_is_always_named_and_the_clinic_from_review_on():
    for code, rule in rules.rules().items():
        for profile in ({}, {"higher_risk": ["diabetes"], "clinic_phone": "0123", "emergency_phone": "112"}):
            met = rules.level_of(code, profile)
            said = " ".join(rules.steps(met, profile))
            if met.level in ("emergency", "same_day"):
                assert "the emergency number" in said
                assert ("(112)" in said) == bool(profile)
            if met.level != "watch":
                assert "your clinic" in said
            if met.keep_off:
                assert "Take the leg off" in said, rule["code"]


def test_the_limits_are_those_of_the_profile_model_and_name_their_source():
    limits = {name: limit for name, limit in table("limits").items() if isinstance(limit, dict)}
    for name, limit in limits.items():
        default = Profile.model_fields[name].default
        assert default == (None if name == "fade_limit_min" else limit["default"])
        assert limit["source"]
    assert set(limits) >= {"ply_watch", "ply_review", "ply_ceiling", "layers_max", "fade_limit_min"}
    # 8, 10 and 11 ply; 20 and 15 minutes, between 10 and 30: handouts (read) and common practice.
    fade = limits["fade_limit_min"]
    assert (fade["default"], fade["higher"], fade["low"], fade["high"]) == (20, 15, 10, 30)
    assert [limits[f"ply_{name}"]["default"] for name in ("watch", "review", "ceiling")] == [8, 10, 11]
