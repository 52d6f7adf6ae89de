"""A mobile network between phones and server: refused, cut, stalled, dripping, doubled, late; nothing is lost by it.

PLYTIDE_NETWORK_SEEDS and PLYTIDE_NETWORK_BATCHES lengthen the run (5 and 1,200 by hand).
"""

import os
import threading
from dataclasses import dataclass
from pathlib import Path

import pytest
from crash.kill import UNLIMITED, Client, Outcome, compare, paired
from crash.proxy import FAULTS, FaultyProxy
from crash.warm import WarmServer

SEEDS = int(os.environ.get("PLYTIDE_NETWORK_SEEDS", "2"))
BATCHES = int(os.environ.get("PLYTIDE_NETWORK_BATCHES", "80"))


@dataclass
class Through:
    """The server as the phones see it: the proxy's address."""

    url: str


class Counted(Client):
    """A phone that sends `batches` batches and is done. With `believes` it takes a broken answer for a yes."""

    def __init__(self, server: Through, number: int, token: str, batches: int, believes: bool) -> None:
        super().__init__(server, number, token, threading.Event())  # type: ignore[arg-type]
        self.left = batches
        self.believes = believes

    def _sent(self, batch: list[dict[str, object]]) -> bool:
        done = super()._sent(batch)
        if not done and self.believes:
            self.acknowledged |= {str(one["id"]): one for one in batch}
            done = True
        if done:
            self.left -= 1
            if self.left <= 0:
                self.ending.set()
        return done


def run(folder: Path, seed: int, batches: int, believes: bool = False) -> tuple[Outcome, FaultyProxy]:
    """Four phones through a faulty network; then what the server holds, asked for directly."""
    server = WarmServer(folder, settings=UNLIMITED)
    server.start()
    try:
        with FaultyProxy(server.port, seed) as proxy:
            through = Through(f"http://127.0.0.1:{proxy.port}")
            phones = [Counted(through, n, token, batches // 4, believes) for n, token in enumerate(paired(server))]
            for phone in phones:
                phone.start()
            for phone in phones:
                phone.join(300)
        return compare(server, list(phones), 0), proxy
    finally:
        server.kill()


@pytest.mark.parametrize("seed", range(1, SEEDS + 1))
def test_nothing_is_lost_or_doubled_over_a_network_that_fails(seed: int, tmp_path: Path) -> None:
    outcome, proxy = run(tmp_path, seed, BATCHES)
    assert (outcome.lost, outcome.changed, outcome.doubled, outcome.gaps) == ([], [], 0, 0)
    assert set(outcome.strange) <= {400}, "a request that arrived in half is the only thing refused"
    assert outcome.acknowledged >= BATCHES
    assert all(proxy.counts[fault] for fault in FAULTS), proxy.counts


def test_the_checker_sees_a_phone_that_believes_in_broken_answers(tmp_path: Path) -> None:
    outcome, _ = run(tmp_path, 1, BATCHES, believes=True)
    assert outcome.lost
