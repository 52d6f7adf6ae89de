"""Backup and restore: a copy that is whole or not there, and phones that send again what it lacks."""

import os
import shutil
import sqlite3
import threading
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from conftest import MakeEntry
from plytide import stamps
from plytide.store import EpochChanged, LinkRefused, LinkSpec, Store, StoreError, migrate


@pytest.fixture
def url(tmp_path: Path) -> str:
    return f"sqlite:///{tmp_path / 'plytide.db'}"


def held(store: Store) -> list[str]:
    return sorted(entry.as_json() for row in store.logbooks() for entry in store.all_versions(row.id))


def test_a_backup_taken_while_others_write_is_whole(
    store: Store, logbook: str, tmp_path: Path, make_entry: MakeEntry, now_ms: int
) -> None:
    batches, going = [[make_entry() for _ in range(5)] for _ in range(60)], threading.Event()

    def write() -> None:
        for batch in batches:
            store.sync(logbook, None, 0, batch, now_ms)
            going.set()

    writer = threading.Thread(target=write)
    writer.start()
    going.wait()
    census = store.backup(tmp_path / "copy.db")
    writer.join()
    assert census.logbooks == 1
    assert 0 < census.entries <= 300
    assert census.entries % 5 == 0, "a batch is in it whole, or not at all"
    with Store.open(f"sqlite:///{tmp_path / 'copy.db'}") as copy:
        assert copy.check() == census
        assert set(held(copy)) <= set(held(store))


def test_a_backup_replaces_an_earlier_one_and_leaves_nothing_else_behind(
    store: Store, logbook: str, tmp_path: Path, make_entry: MakeEntry, now_ms: int
) -> None:
    (tmp_path / "backups").mkdir()
    for n in range(3):
        store.sync(logbook, None, 0, [make_entry()], now_ms)
        assert store.backup(tmp_path / "backups" / "copy.db").entries == n + 1
    assert sorted(file.name for file in (tmp_path / "backups").iterdir()) == ["copy.db", "copy.db.key"]


def test_a_backup_that_cannot_be_made_whole_leaves_the_earlier_one(
    store: Store, logbook: str, tmp_path: Path, make_entry: MakeEntry, now_ms: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "copy.db"
    store.backup(file)
    before = file.read_bytes()
    store.sync(logbook, None, 0, [make_entry()], now_ms)

    def damaged(_: Path) -> None:
        raise StoreError("planted")

    monkeypatch.setattr("plytide.store.backup.inspect", damaged)
    with pytest.raises(StoreError, match="planted"):
        store.backup(file)
    assert file.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir() if ".part" in p.name] == []


@pytest.mark.parametrize("where", ["plytide.db", "nowhere/copy.db"])
def test_a_backup_to_an_impossible_place_is_refused(store: Store, logbook: str, tmp_path: Path, where: str) -> None:
    with pytest.raises(StoreError, match="folder"  if "/" in where else "itself"):
        store.backup(tmp_path / where)
    assert store.logbooks()[0].id == logbook


def test_a_restored_database_is_the_backup_with_a_new_epoch_in_every_logbook(
    tmp_path: Path, url: str, make_entry: MakeEntry, now_ms: int
) -> None:
    with Store.open(url) as store:
        books = [store.create_logbook() for _ in range(3)]
        store.sync(books[0], None, 0, [make_entry()], now_ms)
        before, epochs = held(store), {row.epoch for row in store.logbooks()}
        store.backup(tmp_path / "copy.db")
        store.sync(books[0], None, 0, [make_entry()], now_ms)
    assert Store.restore(url, tmp_path / "copy.db").entries == 1
    with Store.open(url) as store:
        assert held(store) == before
        assert len({row.epoch for row in store.logbooks()} | epochs) == 6


def test_the_phone_that_sends_everything_again_brings_back_what_the_backup_lacked(
    tmp_path: Path, url: str, make_entry: MakeEntry, now_ms: int
) -> None:
    old, new = make_entry(), make_entry()
    with Store.open(url) as store:
        logbook = store.create_logbook()
        store.sync(logbook, None, 0, [old], now_ms)
        store.backup(tmp_path / "copy.db")
        done = store.sync(logbook, None, 0, [new], now_ms)
    Store.restore(url, tmp_path / "copy.db")
    with Store.open(url) as store:
        with pytest.raises(EpochChanged) as changed:
            store.sync(logbook, done.epoch, done.cursor, [], now_ms)
        again = store.sync(logbook, changed.value.epoch, 0, [old, new], now_ms)
        assert [result["r"] for result in again.results] == ["dup", "ok"]


def test_the_old_database_stays_beside_it(tmp_path: Path, url: str, make_entry: MakeEntry, now_ms: int) -> None:
    with Store.open(url) as store:
        logbook = store.create_logbook()
        store.backup(tmp_path / "copy.db")
        store.sync(logbook, None, 0, [make_entry()], now_ms)
        before = held(store)
        for file in tmp_path.glob("plytide.db*"):
            shutil.copy(file, tmp_path / f"killed-{file.name}")
    for file in tmp_path.glob("killed-plytide.db*"):  # as a killed server leaves it: half of it in the log
        file.rename(tmp_path / file.name.removeprefix("killed-"))
    assert (tmp_path / "plytide.db-wal").stat().st_size > 0
    Store.restore(url, tmp_path / "copy.db")
    with Store.open(url) as store:
        assert held(store) == [], "nothing of the old log is played into the new database"
    with Store.open(f"{url}.replaced") as store:
        assert held(store) == before


def test_a_restore_beside_a_running_server_is_refused(tmp_path: Path, url: str) -> None:
    with Store.open(url, serving=True) as store:
        store.create_logbook()
        store.backup(tmp_path / "copy.db")
        store.create_logbook()
        with pytest.raises(StoreError, match="Stop that one first"):
            Store.restore(url, tmp_path / "copy.db")
        assert len(store.logbooks()) == 2


@pytest.mark.parametrize("what", ["nothing", "text", "other", "cut", "damaged", "newer", "itself"])
def test_what_is_no_sound_backup_is_refused_and_nothing_changes(
    tmp_path: Path, url: str, make_entry: MakeEntry, now_ms: int, what: str
) -> None:
    file = tmp_path / "backup.db"
    with Store.open(url) as store:
        logbook = store.create_logbook()
        store.sync(logbook, None, 0, [make_entry("note", {"text": "x" * 900}, limb=None) for _ in range(99)], now_ms)
        store.backup(file)
        before = held(store)
    if what == "nothing":
        file.unlink()
    elif what == "text":
        file.write_text("no database at all\n" * 99)
    elif what == "other":
        file.unlink()
        with closing(sqlite3.connect(file)) as connection:
            connection.execute("CREATE TABLE recipes (name TEXT)")
    elif what == "cut":
        file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])
    elif what == "damaged":
        raw = bytearray(file.read_bytes())
        raw[len(raw) // 2 : len(raw) // 2 + 3000] = b"\xa5" * 3000
        file.write_bytes(raw)
    elif what == "newer":
        with closing(sqlite3.connect(file)) as connection:
            connection.execute("UPDATE alembic_version SET version_num = '0999'")
            connection.commit()
    else:
        file = tmp_path / "plytide.db"
    with pytest.raises(StoreError):
        Store.restore(url, file)
    with Store.open(url) as store:
        assert held(store) == before


def test_a_database_can_be_restored_where_there_is_none_any_more(tmp_path: Path, url: str) -> None:
    with Store.open(url) as store:
        logbook = store.create_logbook()
        store.backup(tmp_path / "copy.db")
    for file in tmp_path.glob("plytide.db*"):
        file.unlink()
    Store.restore(url, tmp_path / "copy.db")
    with Store.open(url) as store:
        assert [row.id for row in store.logbooks()] == [logbook]


def test_a_clinic_link_opens_again_on_a_new_machine_because_the_key_comes_with_the_backup(
    tmp_path: Path, url: str, now: datetime
) -> None:
    with Store.open(url) as store:
        made = store.make_link(store.create_logbook(), LinkSpec(days=7), now)
        store.backup(tmp_path / "copy.db")
    for file in tmp_path.glob("plytide.db*"):
        file.unlink()
    Store.restore(url, tmp_path / "copy.db")
    with Store.open(url) as store:
        assert store.open_link(made.token, made.code, now).link_id == made.id
        assert store.links(made.logbook_id, now)[0].token == made.token
        assert store.addresses_lost(now) == 0


def test_without_its_key_a_restored_link_is_said_to_be_lost(tmp_path: Path, url: str, now: datetime) -> None:
    with Store.open(url) as store:
        logbook = store.create_logbook()
        made = store.make_link(logbook, LinkSpec(days=7), now)
        store.make_link(logbook, LinkSpec(days=7, expires=timedelta(hours=1)), now - timedelta(hours=2))
        store.calendar_token(logbook, now)
        store.backup(tmp_path / "copy.db")
        assert store.addresses_lost(now) == 0
    (tmp_path / "copy.db.key").unlink()
    (tmp_path / "plytide.db.key").unlink()
    Store.restore(url, tmp_path / "copy.db")
    with Store.open(url) as store:
        assert store.addresses_lost(now) == 2, "the link that stands and the calendar; not the one that has ended"
        with pytest.raises(LinkRefused):
            store.open_link(made.token, made.code, now)
        store.revoke_link(logbook, made.id, now)
        store.revoke_calendar(logbook, now)
        assert store.addresses_lost(now) == 0


def test_a_key_that_a_restore_replaces_stays_beside_it(tmp_path: Path, url: str) -> None:
    with Store.open(url) as store:
        store.backup(tmp_path / "copy.db")
    other = bytes(range(32))
    (tmp_path / "plytide.db.key").write_bytes(other)
    Store.restore(url, tmp_path / "copy.db")
    assert (tmp_path / "plytide.db.key").read_bytes() == (tmp_path / "copy.db.key").read_bytes()
    assert (tmp_path / "plytide.db.key.replaced").read_bytes() == other


def test_nobody_else_on_the_machine_can_read_database_key_or_backup(tmp_path: Path) -> None:
    folder, before = tmp_path / "data", os.umask(0o022)  # as most systems have it
    try:
        with Store.open(f"sqlite:///{folder / 'plytide.db'}") as store:
            store.create_logbook()
            store.backup(tmp_path / "copy.db")
            files = [*folder.iterdir(), *tmp_path.glob("copy.db*")]
            assert {file.name.partition("db")[2] for file in files} == {"", ".key", ".lock", "-shm", "-wal"}
            assert [file.name for file in files if file.stat().st_mode & 0o077] == []
            assert folder.stat().st_mode & 0o077 == 0
            assert store.read_by_others() == []
            (folder / "plytide.db").chmod(0o644)
            assert store.read_by_others() == [str(folder / "plytide.db")]
    finally:
        os.umask(before)


def test_what_the_old_database_knew_of_stamps_of_the_future_is_taken_along(
    tmp_path: Path, url: str, make_entry: MakeEntry, now_ms: int
) -> None:
    sent = make_entry(stamp=stamps.make(now_ms + 10**9, 0, "0000000a"))
    with Store.open(url) as store:
        logbook = store.create_logbook()
        store.backup(tmp_path / "copy.db")
        first = store.sync(logbook, None, 0, [sent], now_ms).results
    Store.restore(url, tmp_path / "copy.db")
    with Store.open(url) as store:
        assert store.sync(logbook, None, 0, [sent], now_ms + 60_000).results == first


def test_an_older_backup_is_brought_up_to_date(tmp_path: Path, url: str, monkeypatch: pytest.MonkeyPatch) -> None:
    dump = Path(__file__).parent / "released" / "0001.sql"
    with closing(sqlite3.connect(tmp_path / "old.db")) as connection:
        connection.executescript(dump.read_text())
    census = Store.restore(url, tmp_path / "old.db")
    assert census.logbooks == 1
    with closing(sqlite3.connect(tmp_path / "plytide.db")) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone()[0] == migrate.HEAD


def test_check_counts_what_there_is(either_store: Store, make_entry: MakeEntry, now_ms: int) -> None:
    logbook, entry = either_store.create_logbook(), make_entry()
    later = {**entry, "stamp": stamps.make(now_ms, 0, "0000000a")}
    either_store.sync(logbook, None, 0, [entry, later, make_entry()], now_ms)
    census = either_store.check()
    assert (census.logbooks, census.entries, census.versions) == (1, 2, 1)


def test_postgresql_is_backed_up_by_its_own_means(pg_database: str, tmp_path: Path) -> None:
    with Store.open(pg_database) as store, pytest.raises(StoreError, match="pg_dump"):
        store.backup(tmp_path / "copy.db")
    with pytest.raises(StoreError, match="no file"):
        Store.restore(pg_database, tmp_path / "copy.db")
