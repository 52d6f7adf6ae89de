"""A database copied into another: everything arrives, it is proved, and what would lose something is refused."""

import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from conftest import MakeEntry
from plytide import stamps
from plytide.store import LinkSpec, Store, StoreError, copy
from sqlalchemy.exc import IntegrityError

HARMS = {
    "changes what was typed": "UPDATE entry SET doc = replace(doc, '7', '8') WHERE id = new.id",
    "drops rows": "DELETE FROM entry WHERE id = new.id",
    "turns a yes into a no": "UPDATE entry SET erased = 1 - erased WHERE id = new.id",
}


class Full:
    """A SQLite database with something in every table."""

    def __init__(self, folder: Path, make_entry: MakeEntry, now: datetime) -> None:
        self.url, self.now, now_ms = f"sqlite:///{folder / 'full.db'}", now, round(now.timestamp() * 1000)
        with Store.open(self.url) as store:
            self.book = store.create_logbook("Ada")
            sent = [make_entry(at=now) for _ in range(1200)]  # more than a batch
            future = make_entry(stamp=stamps.make(now_ms + 10**8, 0, "0000000a"))
            edits = [{**e, "erased": True, "stamp": stamps.make(now_ms, 0, "0000000b")} for e in sent[:30]]
            for part in (sent[:500], sent[500:1000], [*sent[1000:], future], edits):
                store.sync(self.book, None, 0, part, now_ms)
            self.token = store.use_pair_code(store.new_pair_code(self.book, now).code, "phone", now)[1]
            self.code = store.new_pair_code(self.book, now).code
            self.link = store.make_link(self.book, LinkSpec(), now)
            store.open_link(self.link.token, self.link.code, now)
            self.calendar = store.calendar_token(self.book, now)
            store.put_summary(self.book, 3, {"seq": 3, "word": "ö"}, now)
            self.holds = self.held(store)

    def held(self, store: Store) -> object:
        """All that can be asked for by those who have a right to it."""
        device = store.device_by_token(self.token, self.now)
        links = store.links(self.book, self.now)
        return (
            store.logbooks(), sorted(e.as_json() for e in store.all_versions(self.book)), device, links,
            store.calendar_logbook(self.calendar), store.audit(self.book), store.summary(self.book),
        )  # fmt: skip


@pytest.fixture
def full(tmp_path: Path, make_entry: MakeEntry, now: datetime) -> Full:
    return Full(tmp_path, make_entry, now)


@pytest.fixture
def empty(tmp_path: Path) -> str:
    return f"sqlite:///{tmp_path / 'empty.db'}"


def test_everything_goes_to_postgresql_and_back_and_works_there(full: Full, pg_database: str, tmp_path: Path) -> None:
    there = Store.copy(full.url, pg_database)
    assert min(table.rows for table in there) > 0, "the test has something in every table"
    assert len({table.hash for table in there}) == len(there)
    with Store.open(pg_database) as store:
        assert full.held(store) == full.holds
    back = f"sqlite:///{tmp_path / 'back' / 'plytide.db'}"
    assert Store.copy(pg_database, back) == there
    with Store.open(back) as store:
        assert full.held(store) == full.holds
        assert store.check().entries == 1201
    assert (tmp_path / "back" / "plytide.db.key").stat().st_mode & 0o777 == 0o600
    for url in (pg_database, back):  # and life goes on in both: new rows get numbers of their own
        with Store.open(url) as store:
            assert store.use_pair_code(full.code, "another phone", full.now)[0] == full.book
            store.open_link(full.link.token, full.link.code, full.now)
            assert len(store.links(full.book, full.now)[0].openings) == 2
    with Store.open(full.url) as store:
        assert full.held(store) == full.holds, "the first database is as it was"


def test_without_the_numbers_taken_along_new_rows_would_collide(
    full: Full, pg_database: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(copy, "_count_on", lambda *_: None)
    Store.copy(full.url, pg_database)
    with Store.open(pg_database) as store, pytest.raises(IntegrityError):
        store.add_audit(full.book, "export", "Everything was exported.", full.now)


@pytest.mark.parametrize("harm", HARMS)
def test_a_copy_that_is_not_the_same_is_seen_and_nothing_of_it_is_kept(full: Full, empty: str, harm: str) -> None:
    file = empty.removeprefix("sqlite:///")
    Store.open(empty).close()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute(f"CREATE TRIGGER harm AFTER INSERT ON entry BEGIN {HARMS[harm]}; END")
    with pytest.raises(StoreError, match="entry did not arrive"):
        Store.copy(full.url, empty)
    with closing(sqlite3.connect(file)) as connection:
        assert connection.execute("SELECT count(*) FROM logbook").fetchone() == (0,)
        connection.execute("DROP TRIGGER harm")
    assert sum(table.rows for table in Store.copy(full.url, empty)) > 1200, "and the way is free for another try"


def test_what_holds_something_is_not_copied_over(full: Full, store_url: str) -> None:
    with Store.open(store_url) as store:
        store.create_logbook("Bo")
        before = store.logbooks()
    with pytest.raises(StoreError, match="not empty"):
        Store.copy(full.url, store_url)
    with Store.open(store_url) as store:
        assert store.logbooks() == before


def test_a_database_of_another_form_is_not_copied_over(full: Full, empty: str) -> None:
    Store.open(empty).close()
    with closing(sqlite3.connect(empty.removeprefix("sqlite:///"))) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '0000'")
        connection.commit()
    with pytest.raises(StoreError, match="form 0000"):
        Store.copy(full.url, empty)


@pytest.mark.parametrize("which", ["source", "target"])
def test_nothing_is_copied_beside_a_running_server(full: Full, pg_database: str, which: str) -> None:
    busy = full.url if which == "source" else pg_database
    with Store.open(busy, serving=True), pytest.raises(StoreError, match=r"Stop (that one|it) first"):
        Store.copy(full.url, pg_database)
    assert Store.copy(full.url, pg_database)


def test_there_has_to_be_something_to_copy(tmp_path: Path, empty: str) -> None:
    missing = tmp_path / "missing" / "plytide.db"
    with pytest.raises(StoreError, match="no Plytide database at"):
        Store.copy(f"sqlite:///{missing}", empty)
    assert not missing.exists()


def test_a_hash_does_not_depend_on_the_order_of_rows_and_sees_every_value() -> None:
    def proof(*rows: tuple[object, ...]) -> copy.Proof:
        made = copy.Proof()
        made.take(rows)
        return made

    one, other = ("a", 1, None), ("b", 2, True)
    assert proof(one, other) == proof(other, one) != proof(one, one)
    assert proof(("a", 1)) != proof(("a", "1")) != proof(("a", None))
