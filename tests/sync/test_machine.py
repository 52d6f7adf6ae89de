"""The same world driven by Hypothesis, which looks for the shortest life that goes wrong."""

from __future__ import annotations

import itertools
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule
from plytide.store import Store
from sync.sim import HOUR, IDS, World

phones, ids = st.integers(0, 2), st.sampled_from(IDS[:3])
_count = itertools.count()


class Phones(RuleBasedStateMachine):
    """Three phones; what may happen to them is World's."""

    folder: Path
    world: World

    @initialize(
        ahead=st.lists(st.sampled_from([0, -25 * HOUR, 240_000, 72 * HOUR]), min_size=3, max_size=3),
        corrects=st.booleans(),
    )
    def begin(self, ahead: list[int], corrects: bool) -> None:
        self.world = World(self.folder / str(next(_count)), self.folder / "template", ahead, corrects)

    @rule(phone=phones, id=ids, erased=st.booleans())
    def write(self, phone: int, id: str, erased: bool) -> None:
        self.world.write(self.world.phones[phone], id, erased)

    @rule(phone=phones, how=st.sampled_from(["", "", "lost", "answer lost", "delayed", "twice"]),
          meanwhile=st.none() | ids)  # fmt: skip
    def sync(self, phone: int, how: str, meanwhile: str | None) -> None:
        self.world.sync(self.world.phones[phone], how, meanwhile)

    @rule()
    def arrive_late(self) -> None:
        self.world.arrive_late()

    @rule(ms=st.sampled_from([0, 1, 400, 61_000, 7 * 60_000, 3 * HOUR]))
    def tick(self, ms: int) -> None:
        self.world.tick(ms)

    @rule()
    def back_up(self) -> None:
        self.world.back_up()

    @rule(which=st.integers(0, 3))
    def restore(self, which: int) -> None:
        self.world.restore(which)

    def teardown(self) -> None:
        if hasattr(self, "world"):
            try:
                self.world.settle()
                assert self.world.complaints() == []
            finally:
                self.world.close()


def test_no_short_life_goes_wrong() -> None:
    with tempfile.TemporaryDirectory() as folder:
        Phones.folder = Path(folder)
        (Phones.folder / "template").mkdir()
        with Store.open(f"sqlite:///{folder}/template/plytide.db") as store:
            store.create_logbook()
        machine = Phones.TestCase()
        machine.settings = settings(
            max_examples=25, stateful_step_count=25, deadline=None, suppress_health_check=list(HealthCheck)
        )
        machine.runTest()
