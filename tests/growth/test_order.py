"""Several servers on one database: nothing is lost between them, and no reader ever skips a number.

PLYTIDE_ORDER_SECONDS lengthens the run.
"""

import os
import random
import sys
import threading
import time
from pathlib import Path

from crash.kill import Outcome, compare, entry, paired
from growth.cluster import AnyOf, Reader, serving, writers
from plytide.store import Store
from serving import COMMAND
from sqlalchemy import event

SECONDS = float(os.environ.get("PLYTIDE_ORDER_SECONDS", "1.5"))


class ThinksBetter(Exception):
    """Raised just before the commit."""


class Hesitant(threading.Thread):
    """A server process that is slow to commit, with the logbook's lock in its hand, and every other time does not."""

    def __init__(self, url: str, ending: threading.Event) -> None:
        super().__init__(daemon=True)
        self.url, self.ending, self.kept, self.undone = url, ending, 0, 0

    def run(self) -> None:
        with Store.open(self.url) as store:
            book, draw = store.logbooks()[0].id, random.Random(7)

            @event.listens_for(store.db.postgres, "commit")
            def slow(_: object) -> None:
                time.sleep(draw.uniform(0.01, 0.05))
                if draw.random() < 0.5:
                    raise ThinksBetter

            while not self.ending.is_set():
                try:
                    store.sync(book, None, 0, [entry(99, self.kept + self.undone)], round(time.time() * 1000), limit=1)
                    self.kept += 1
                except ThinksBetter:
                    self.undone += 1
                time.sleep(0.02)
            event.remove(store.db.postgres, "commit", slow)


def run(url: str, folder: Path, commands: list[tuple[str, ...]], hesitate: bool) -> tuple[Outcome, list[Reader], int]:
    """Four phones push and two pull through all servers; what came of it, and how many were undone."""
    ending, complete = threading.Event(), threading.Event()
    with serving(url, folder, commands) as servers:
        codes = [server.code for server in servers if server.code]
        assert len(codes) == 1, "one of the servers that started at once made the first logbook"
        tokens = paired(next(server for server in servers if server.code))
        clients = writers(servers, tokens, ending)
        readers = [Reader(AnyOf(servers[n:] + servers[:n]), tokens[0], complete) for n in range(2)]
        others = [Hesitant(url, ending)] if hesitate else []
        for thread in (*clients, *readers, *others):
            thread.start()
        time.sleep(SECONDS)
        ending.set()
        for thread in (*clients, *others):
            thread.join(60)
        complete.set()
        for reader in readers:
            reader.join(60)
        return compare(servers[0], clients, 0), readers, sum(other.undone for other in others)


def skipped(outcome: Outcome, readers: list[Reader]) -> int:
    """How many entries a reader who was there all the time did not hear of."""
    return sum(outcome.held - len(set(reader.seen)) for reader in readers)


def test_through_two_servers_nothing_is_lost_and_no_reader_skips_a_number(pg_database: str, tmp_path: Path) -> None:
    outcome, readers, undone = run(pg_database, tmp_path, [COMMAND, COMMAND], hesitate=True)
    assert (outcome.lost, outcome.changed, outcome.doubled, outcome.gaps) == ([], [], 0, 0)
    assert outcome.strange == []
    assert skipped(outcome, readers) == 0
    assert [len(reader.seen) for reader in readers] == [outcome.held] * 2, "and nothing came twice"
    # The run was a real one.
    assert outcome.acknowledged > 50
    assert undone > 2
    assert min(reader.pages for reader in readers) > 10


def test_the_same_check_catches_a_number_that_is_taken_before_the_lock(pg_database: str, tmp_path: Path) -> None:
    eager = (sys.executable, str(Path(__file__).with_name("eager.py")))
    outcome, readers, _ = run(pg_database, tmp_path, [eager], hesitate=False)
    assert outcome.lost == [], "the rows are there in the end"
    assert skipped(outcome, readers) > 0
