"""The table does not depend on the order, the repetition or the cutting up of what comes in."""

import itertools
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plytide import stamps
from plytide.entries import Entry
from plytide.store import Store
from plytide.store.merge import Version, merge, read

NOW = 1_930_000_000_000
IDS = [f"01c06f2a-1000-7000-8000-{n:012x}" for n in range(3)]
DEVICES = ["00000001", "0000000a", "f0000000"]


def version(id: str, ms: int, count: int, device: str) -> dict[str, Any]:
    """A version whose content follows from its stamp, as it does in life."""
    stamp = stamps.make(NOW + ms, count, device)
    return {
        "id": id, "kind": "note", "limb": None, "at": "2031-03-02T07:10:00.000Z", "zone": "UTC", "stamp": stamp,
        "erased": count == 2, "body": {"text": f"{id[-1]} {stamp}"},
    }  # fmt: skip


# Few milliseconds and counts, so that many stamps differ in their last part only; some up to five minutes ahead.
versions = st.builds(
    version, st.sampled_from(IDS), st.sampled_from([-5, 0, 1, stamps.AHEAD_MS]), st.integers(0, 2),
    st.sampled_from(DEVICES),
)  # fmt: skip
operations = st.lists(versions, min_size=1, max_size=14)


@st.composite
def deliveries(draw: st.DrawFn) -> tuple[list[dict[str, Any]], list[list[dict[str, Any]]]]:
    """Operations, and one way for them to arrive: each at least once, in any order, in batches of any size."""
    ops = draw(operations)
    arriving = draw(st.permutations(ops + draw(st.lists(st.sampled_from(ops), max_size=8))))
    cuts = sorted(draw(st.lists(st.integers(0, len(arriving)), max_size=5)))
    return ops, [arriving[a:b] for a, b in itertools.pairwise([0, *cuts, len(arriving)])]


def newest(ops: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """What has to stand: by id, the version with the greatest stamp. Said without any code of ours."""
    return {op["id"]: op for op in sorted(ops, key=lambda op: op["stamp"])}


@settings(max_examples=400)
@given(deliveries())
def test_the_pure_merge(delivery: tuple[list[dict[str, Any]], list[list[dict[str, Any]]]]) -> None:
    ops, batches = delivery
    kept: dict[str, Version] = {}
    gone: set[tuple[str, str]] = set()
    for batch in batches:
        merged = merge([read(op) for op in batch], kept, {}, NOW)
        kept |= {id: Version(entry.stamp, doc) for id, (entry, doc) in merged.standing.items()}
        gone |= set(merged.history)
    assert {id: Entry.from_json(v.doc).as_dict() for id, v in kept.items()} == newest(ops)
    assert gone == {(op["id"], op["stamp"]) for op in ops} - {(id, v.stamp) for id, v in kept.items()}


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Any:
    with Store.open(f"sqlite:///{tmp_path_factory.mktemp('order') / 'plytide.db'}") as store:
        yield store


@settings(max_examples=80, deadline=None)
@given(delivery=deliveries())
def test_the_store(shared: Store, delivery: tuple[list[dict[str, Any]], list[list[dict[str, Any]]]]) -> None:
    ops, batches = delivery
    book = shared.create_logbook()
    for batch in batches:
        shared.sync(book, None, 0, batch, NOW)
    table = {entry["id"]: entry for entry in shared.sync(book, None, 0, [], NOW).entries}
    assert table == newest(ops)
    assert sorted(e.id + e.stamp for e in shared.all_versions(book)) == sorted({op["id"] + op["stamp"] for op in ops})


@settings(max_examples=200)
@given(st.lists(st.sampled_from([0, 1, 1000]), min_size=1, max_size=6), st.data())
def test_of_one_phone_days_ahead_the_last_version_stands_however_they_arrive(
    steps: list[int], data: st.DataObject
) -> None:
    clock, ahead = stamps.Clock("00000001"), 72 * 3_600_000
    ops = []
    for total in itertools.accumulate(steps):
        ops.append(version(IDS[0], 0, 0, "00000001") | {"stamp": clock.next(NOW + ahead + total)})
    for number, op in enumerate(ops):
        op["body"] = {"text": str(number)}
    arriving = data.draw(st.permutations(ops + data.draw(st.lists(st.sampled_from(ops), max_size=6))))
    kept: dict[str, Version] = {}
    moved: dict[str, dict[str, str]] = {}
    answers: dict[str, list[str]] = {}
    for number, op in enumerate(arriving):
        merged = merge([read(op)], kept, moved, NOW + number)
        kept |= {id: Version(entry.stamp, doc) for id, (entry, doc) in merged.standing.items()}
        for (id, sent), stamp in merged.restamps.items():
            moved.setdefault(id, {})[sent] = stamp
        answers.setdefault(op["stamp"], []).append(merged.results[0].get("stamp2", "stale"))
    assert Entry.from_json(kept[IDS[0]].doc).body == ops[-1]["body"]
    assert len(set(answers[ops[-1]["stamp"]])) == 1, "a repeat is answered as the first time"
