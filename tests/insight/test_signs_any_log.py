"""Whatever a log holds, signs are well formed, rest on entries that exist, and do not depend on the order of those."""

import json
import random
from typing import get_args

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from insight.diary import Diary
from plytide.bodies import Finding, Mishap, Profile, Skin, Sore
from plytide.insight import plain, rules, summarise
from plytide.insight.signs.found import MOST


def words(model, name):
    """The words a field may hold, also where it is a list or may be null."""
    kind = model.model_fields[name].annotation
    found = [a for a in get_args(kind) if isinstance(a, str)]
    return found or [a for inner in get_args(kind) for a in get_args(inner) if isinstance(a, str)]


HEIGHT, ANGLE = st.floats(0, 1), st.floats(0, 359.9)
FINDING = st.fixed_dictionaries(
    {"what": st.sampled_from(words(Finding, "what"))},
    optional={
        "height": HEIGHT, "angle": ANGLE, "fade_min": st.floats(0, 90), "still_red": st.booleans(),
        "blanches": st.sampled_from([None, True, False]), "size_mm": st.floats(0, 80),
    },
)  # fmt: skip
BODIES = st.one_of(
    st.tuples(st.just("skin"), st.fixed_dictionaries(
        {"clear": st.booleans()},
        optional={
            "findings": st.lists(FINDING, max_size=3), "fever_c": st.floats(35, 41),
            "unwell": st.lists(st.sampled_from(words(Skin, "unwell")), max_size=2),
        },
    )),
    st.tuples(st.just("mishap"), st.fixed_dictionaries(
        {"what": st.sampled_from(words(Mishap, "what"))},
        optional={"hurt": st.booleans(), "head": st.booleans(), "cannot_stand": st.booleans()},
    )),
    st.tuples(st.just("sore"), st.fixed_dictionaries(
        {"height": HEIGHT, "angle": ANGLE, "intensity": st.integers(0, 10)},
        optional={"phantom": st.booleans(), "feel": st.sampled_from(words(Sore, "feel"))},
    )),
    st.tuples(st.sampled_from(["don", "ply"]), st.fixed_dictionaries({"total": st.integers(0, 40)})),
    st.tuples(st.just("doff"), st.just({})),
    st.tuples(st.just("adjust"), st.fixed_dictionaries({"what": st.just("dial"), "by": st.integers(-9, 9)})),
    st.tuples(st.just("comfort"), st.fixed_dictionaries({"score": st.integers(0, 10)})),
    st.tuples(st.just("change"), st.just({"what": "liner"})),
    st.tuples(st.just("day"), st.just({"tags": ["hot", "ill"]})),
    st.tuples(st.just("told"), st.fixed_dictionaries({"code": st.sampled_from(sorted(rules.rules()))})),
    st.tuples(st.just("girth"), st.fixed_dictionaries({
        "marks": st.lists(st.fixed_dictionaries({"from_end_cm": st.floats(0, 30), "girth_cm": st.floats(15, 60)}),
                          min_size=1, max_size=4),
        "by": st.sampled_from(["self", "clinic"]),
    })),
)  # fmt: skip
SIDES = st.sampled_from(["left", "left", "right"])
LOGS = st.lists(st.tuples(st.integers(0, 40), st.floats(0, 30), SIDES, BODIES), max_size=40)
RISKS = st.lists(st.sampled_from(words(Profile, "higher_risk")), max_size=2)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(LOGS, RISKS, st.integers(0, 2**16))
def test_signs_of_any_log(log, risks, seed):
    diary = Diary(higher_risk=risks, limb={"tender": [{"height": 0.5, "angle": 10.0}]})
    for day, hour, side, (kind, body) in log:
        diary.add(day, hour, kind, **{"limb": side, **body} if kind not in ("day", "told") else body)
    now = diary.at(40, 23)
    summary = summarise(diary.entries, now)
    known = {entry.id for entry in diary.entries}
    lists = [summary["signs"], *(limb["signs"] for limb in summary["limbs"].values())]
    graver = any(sign["level"] != "watch" for signs in lists for sign in signs)
    for signs in lists:
        levels = [rules.LEVELS.index(sign["level"]) for sign in signs]
        assert levels == sorted(levels)
        codes = [sign["code"] for sign in signs]
        assert len(codes) == len(set(codes))
        assert not (graver and {"pink", "swing"} & set(codes))
        for sign in signs:
            assert set(sign["evidence"]) <= known
            assert 0 < len(sign["evidence"]) <= MOST
            assert len(set(sign["evidence"])) == len(sign["evidence"])
            assert sign["since"] <= summary["now"]
            assert "{" not in sign["entered"] + sign["title"] + "".join(sign["do"])
            assert "you have " not in sign["entered"].lower()
    assert max(map(len, plain.page(summary, diary.entries).splitlines())) <= 100
    json.dumps(summary)
    again = diary.entries * 2
    random.Random(seed).shuffle(again)
    assert summarise(again, now) == summary
