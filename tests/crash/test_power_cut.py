"""Power cuts: whatever the disk forgets of what was never synced, no acknowledged entry is lost.

PLYTIDE_POWER_CUTS raises the number of cuts (2,000 by hand). The checker is shown to work by a planted fault: with
synchronous=NORMAL the log's last commits are not synced, and acknowledged entries are lost.
"""

import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from plytide.store import Store

sys.path.insert(0, str(Path(__file__).parent / "powercut"))
from record import Event, record
from replay import acknowledged, files_after, lay_out

CUTS = int(os.environ.get("PLYTIDE_POWER_CUTS", "120"))


def lost_by_cut(events: list[Event], cut: int, seed: int, folder: Path) -> set[str]:
    """The acknowledged versions that a store opened after the cut no longer has, as current or in history."""
    told = acknowledged(events, cut)
    lay_out(files_after(events, cut, Random(seed)), folder)
    try:
        store = Store.open(f"sqlite:///{folder}/plytide.db")
        kept = {f"{e.id}:{e.stamp}" for book in store.logbooks() for e in store.all_versions(book.id)}
        store.close()
    finally:
        shutil.rmtree(folder)
    return told - kept


def cuts(events: list[Event], count: int) -> Iterator[int]:
    """Moments for a cut: anywhere after the first acknowledgement, drawn by a fixed seed."""
    first = next(i for i, e in enumerate(events) if e.what == "a")
    rng = Random(1)
    for _ in range(count):
        yield rng.randrange(first, len(events) + 1)


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> list[Event]:
    return record(tmp_path_factory.mktemp("full"), 150, "FULL")


def test_the_record_holds_writes_syncs_and_acknowledgements(full: list[Event]) -> None:
    kinds = {e.what for e in full}
    assert {"w", "s", "a"} <= kinds
    assert sum(e.what == "s" for e in full) >= 150
    assert len(acknowledged(full, len(full))) > 400


def test_no_acknowledged_entry_is_lost_in_a_power_cut(full: list[Event], tmp_path: Path) -> None:
    for seed, cut in enumerate(cuts(full, CUTS)):
        assert lost_by_cut(full, cut, seed, tmp_path / "disk") == set(), f"seed {seed}, cut {cut}"


def test_the_checker_sees_the_loss_when_commits_are_not_synced(tmp_path: Path) -> None:
    (tmp_path / "normal").mkdir()
    events = record(tmp_path / "normal", 60, "NORMAL")
    found = (lost_by_cut(events, cut, seed, tmp_path / "disk") for seed, cut in enumerate(cuts(events, 60)))
    assert any(found)
