"""kill -9 under load: nothing acknowledged is lost, nothing is stored twice. PLYTIDE_CRASH_ROUNDS=1000 for long."""

import os
import sys
from pathlib import Path

from crash.kill import UNLIMITED, killing
from crash.warm import WarmServer
from serving import Server

ROUNDS = int(os.environ.get("PLYTIDE_CRASH_ROUNDS", "8"))


def test_a_killed_server_loses_nothing_that_it_acknowledged(tmp_path: Path) -> None:
    outcome = killing(WarmServer(tmp_path, settings=UNLIMITED), ROUNDS, seed=ROUNDS)
    assert (outcome.lost, outcome.changed, outcome.doubled, outcome.gaps) == ([], [], 0, 0)
    assert outcome.strange == [], "a server that starts or dies never answers with nonsense"
    # The run was a real one: there was load, and requests were cut off.
    assert outcome.acknowledged > 20 * ROUNDS
    assert outcome.repeats >= ROUNDS


def test_the_same_check_catches_a_server_that_acknowledges_before_it_commits(tmp_path: Path) -> None:
    planted = Path(__file__).with_name("early.py")
    outcome = killing(Server(tmp_path, (sys.executable, str(planted)), UNLIMITED), 1, seed=3)
    assert len(outcome.lost) > 0


def test_a_server_that_is_asked_to_stop_ends_well_and_starts_again(tmp_path: Path) -> None:
    server = Server(tmp_path)
    server.start()
    assert server.stop() == 0
    server.start()
    assert server.stop() == 0
