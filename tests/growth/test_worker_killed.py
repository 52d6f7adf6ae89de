"""Two workers on one database share the work, and one that is killed in the middle of it leaves it to the other."""

import sys
import time
from pathlib import Path

from crash.kill import entry
from growth.cluster import until, working
from plytide.store import Store
from serving import COMMAND

STUCK = (sys.executable, str(Path(__file__).with_name("stuck.py")))


def filled(store: Store) -> str:
    book = store.create_logbook()
    store.sync(book, None, 0, [entry(1, n) for n in range(20)], round(time.time() * 1000))
    return book


def missing(url: str, *planted: str) -> list[str]:
    """Of three logbooks, which have no summary after the worker that had begun the first one was killed."""
    with Store.open(url) as store, working(url, [*STUCK, *planted]) as stuck:
        first = filled(store)
        assert stuck.stdout
        assert stuck.stdout.readline().strip() == first
        with working(url, COMMAND):
            second = filled(store)
            assert until(lambda: store.summary(second)), "while one is stuck, the other does the rest"
            assert not store.summary(first), "and leaves alone what the first one has in hand"
            stuck.kill()
            stuck.wait(30)
            third = filled(store)
            assert until(lambda: store.summary(third)), "the other has looked once more"
            until(lambda: store.summary(first), 3)
            return [book for book in (first, second, third) if not store.summary(book)]


def test_a_worker_that_is_killed_leaves_its_work_to_the_other(pg_database: str) -> None:
    assert missing(pg_database) == []


def test_the_same_check_catches_a_job_that_is_crossed_off_before_it_is_done(pg_database: str) -> None:
    assert len(missing(pg_database, "planted")) == 1
