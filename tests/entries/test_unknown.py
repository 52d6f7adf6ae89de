"""What a newer phone knows and this server does not is kept and given back untouched."""

from typing import Any

from conftest import MakeEntry
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from plytide.entries import BODIES, Entry, parse_entry
from plytide.store import Store

# JSON that travels: no NUL, no surrogates, whole numbers that a double holds; NFC is the one change that is made.
words = st.text(st.characters(codec="ascii", exclude_characters="\x00"), max_size=20)
plain = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | st.floats(allow_nan=False, allow_infinity=False) | words,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(words, inner, max_size=3),
    max_leaves=8,
).filter(lambda value: depth(value) < 6)
ENVELOPE = {"id", "kind", "limb", "at", "zone", "stamp", "erased", "body"}


def depth(value: Any) -> int:
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return 1 + max(map(depth, inner), default=0)


def test_an_unknown_kind_comes_back_as_it_went_in(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    sent = make_entry("weather", {"pressure": {"hpa": 1013.25}, "clouds": [1, 2]}, limb=None, colour="blue")
    assert store.sync(logbook, None, 0, [sent], now_ms).results[0]["r"] == "ok"
    assert store.sync(logbook, None, 0, [], now_ms).entries == [sent]
    assert [entry.as_dict() for entry in store.live(logbook)[0]] == [sent]
    assert [entry.as_dict() for entry in store.all_versions(logbook)] == [sent]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(st.dictionaries(words.filter(lambda w: w not in ENVELOPE), plain, max_size=4),
       st.dictionaries(words.filter(lambda w: w != "score"), plain, max_size=4))  # fmt: skip
def test_unknown_fields_beside_and_inside_a_known_kind_are_round_tripped(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int, beside: dict[str, Any], inside: dict[str, Any]
) -> None:
    sent = make_entry("comfort", {"score": 3, **inside}) | beside
    assert parse_entry(sent).as_dict() == sent
    other = store.create_logbook()
    assert store.sync(other, None, 0, [sent], now_ms).results[0]["r"] == "ok"
    assert store.sync(other, None, 0, [], now_ms).entries == [sent]


def test_every_kind_keeps_an_unknown_field_in_its_body(make_entry: MakeEntry) -> None:
    for kind, model in BODIES.items():
        assert model.model_config.get("extra") == "allow", kind


def test_an_entry_read_back_is_the_entry(make_entry: MakeEntry) -> None:
    entry = parse_entry(make_entry("ply", {"total": 5, "new": 1}, later="yes"))
    assert Entry.from_json(entry.as_json()) == entry
