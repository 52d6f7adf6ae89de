"""Summaries: kept, found where they are out of date, and made by one worker at a time."""

from datetime import datetime, timedelta

import pytest
from conftest import MakeEntry
from plytide.store import Store

AGE = timedelta(minutes=10)


@pytest.fixture
def store(either_store: Store) -> Store:
    return either_store


def opened(store: Store, logbook: str, when: datetime) -> None:
    """A phone of this logbook that was last seen then."""
    store.use_pair_code(store.new_pair_code(logbook, when).code, "phone", when)


def test_a_logbook_is_dirty_until_its_summary_rests_on_all_of_it(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    assert store.dirty() == []
    assert store.summary(logbook) is None
    store.sync(logbook, None, 0, [make_entry(), make_entry()], now_ms)
    assert store.dirty() == [(logbook, 2)]
    store.put_summary(logbook, 1, {"seq": 1}, now)
    assert store.dirty() == [(logbook, 2)]
    store.put_summary(logbook, 2, {"seq": 2, "word": "ö"}, now)
    assert store.dirty() == []
    assert store.summary(logbook) == {"seq": 2, "word": "ö"}


def test_a_slower_worker_does_not_put_an_older_summary_over_a_newer_one(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    store.sync(logbook, None, 0, [make_entry(), make_entry()], now_ms)
    store.put_summary(logbook, 2, {"seq": 2}, now)
    store.put_summary(logbook, 1, {"seq": 1}, now)
    assert store.summary(logbook) == {"seq": 2}
    store.put_summary(logbook, 2, {"seq": 2, "later": True}, now + timedelta(hours=1))
    assert store.summary(logbook) == {"seq": 2, "later": True}


def test_a_summary_of_an_erased_logbook_is_not_kept(store: Store, logbook: str, now: datetime) -> None:
    store.erase_logbook(logbook)
    store.put_summary(logbook, 1, {"seq": 1}, now)
    assert store.summary(logbook) is None


def test_what_is_behind_is_due_first_and_then_what_is_old(
    store: Store, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    books = {name: store.create_logbook(name) for name in ("behind", "old", "older", "fresh", "empty", "never")}
    for name, book in books.items():
        opened(store, book, now)
        if name != "empty":
            store.sync(book, None, 0, [make_entry()], now_ms)
    for name, ago in {"behind": 0, "old": 11, "older": 12, "fresh": 9}.items():
        store.put_summary(books[name], 1, {"seq": 1}, now - timedelta(minutes=ago))
    store.sync(books["behind"], None, 0, [make_entry()], now_ms)
    names = {book: name for name, book in books.items()}
    assert [names[book] for book in store.due(now, AGE)] == ["never", "behind", "older", "old"]
    assert [names[book] for book in store.due(now, None)] == ["never", "behind"]


def test_a_summary_that_no_phone_has_asked_for_in_a_month_does_not_grow_old(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    store.sync(logbook, None, 0, [make_entry()], now_ms)
    store.put_summary(logbook, 1, {"seq": 1}, now - timedelta(days=31))
    opened(store, logbook, now - timedelta(days=31))
    assert store.due(now, AGE) == []
    opened(store, logbook, now)
    assert store.due(now, AGE) == [logbook]


def test_a_summary_made_while_the_clock_stood_in_the_future_grows_old_too(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    opened(store, logbook, now)
    store.sync(logbook, None, 0, [make_entry()], now_ms)
    store.put_summary(logbook, 1, {"seq": 1}, now + timedelta(days=400))
    assert store.due(now, AGE) == [logbook]


def test_what_is_not_due_any_more_is_not_given_out(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    store.sync(logbook, None, 0, [make_entry()], now_ms)
    with store.claim(logbook, now, AGE) as mine:
        assert mine
        store.put_summary(logbook, 1, {"seq": 1}, now)
    with store.claim(logbook, now, AGE) as mine:
        assert not mine


def test_of_two_workers_on_postgresql_one_gets_a_logbook_and_the_other_the_next(
    pg_database: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    with Store.open(pg_database) as one, Store.open(pg_database) as other:
        books = [one.create_logbook(), one.create_logbook()]
        for book in books:
            one.sync(book, None, 0, [make_entry()], now_ms)
        with one.claim(books[0], now, AGE) as first, other.claim(books[0], now, AGE) as second:
            assert (first, second) == (True, False)
            with other.claim(books[1], now, AGE) as third:
                assert third
        with pytest.raises(ZeroDivisionError), one.claim(books[0], now, AGE):
            raise ZeroDivisionError
        with other.claim(books[0], now, AGE) as mine:
            assert mine, "what failed in one worker is free for the other"


def test_of_servers_that_start_at_once_one_makes_the_first_logbook(pg_database: str) -> None:
    from concurrent.futures import ThreadPoolExecutor

    with Store.open(pg_database) as store, ThreadPoolExecutor(8) as pool:
        made = list(pool.map(lambda _: store.first_logbook(), range(8)))
        assert len([book for book in made if book]) == len(store.logbooks()) == 1
