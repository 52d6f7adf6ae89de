"""The shared vectors of the merge, in the server's pure core and in the store itself."""

import json
from pathlib import Path
from typing import Any

import pytest
from plytide.stamps import AHEAD_MS, ms_of
from plytide.store import Store
from plytide.store.merge import merge, read

CASES: list[dict[str, Any]] = json.loads((Path(__file__).parents[1] / "vectors" / "merge.json").read_text())["merge"]
named = {"ids": lambda case: case["name"]}


def present(case: dict[str, Any]) -> int:
    return max(ms_of(op["stamp"]) for op in case["ops"]) + AHEAD_MS


@pytest.mark.parametrize("case", CASES, **named)
def test_the_pure_merge(case: dict[str, Any]) -> None:
    merged = merge([read(op) for op in case["ops"]], {}, {}, present(case))
    assert [result["r"] for result in merged.results] == case["answers"]
    table = {id: entry.as_dict() for id, (entry, _) in merged.standing.items()}
    assert table == {entry["id"]: entry for entry in case["table"]}


@pytest.mark.parametrize("case", CASES, **named)
@pytest.mark.parametrize("size", [1, 2, 500])
def test_the_store_in_batches_of_any_size(store: Store, logbook: str, case: dict[str, Any], size: int) -> None:
    answers = []
    for start in range(0, len(case["ops"]), size):
        done = store.sync(logbook, None, 0, case["ops"][start : start + size], present(case))
        answers += [result["r"] for result in done.results]
    assert answers == case["answers"]
    pulled = store.sync(logbook, None, 0, [], present(case))
    assert {entry["id"]: entry for entry in pulled.entries} == {entry["id"]: entry for entry in case["table"]}


@pytest.mark.parametrize("case", [c for c in CASES if "stale" in c["answers"]], **named)
def test_a_stale_answer_brings_the_version_that_stands(store: Store, logbook: str, case: dict[str, Any]) -> None:
    done = store.sync(logbook, None, 0, case["ops"], present(case))
    for number, result in enumerate(done.results):
        if result["r"] == "stale":
            earlier = [op for op in case["ops"][:number] if op["id"] == result["id"]]
            assert result["winner"] == max(earlier, key=lambda op: op["stamp"])
