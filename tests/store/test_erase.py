"""Erasing: every row, and every byte of it in the files of the database."""

import sqlite3
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from conftest import MakeEntry
from plytide import stamps
from plytide.store import LinkSpec, Store, logbooks, tables

WORD = "Zwetschgenknödel"  # stands in every text that was written


def fill(store: Store, make_entry: MakeEntry, now: datetime, now_ms: int, name: str = WORD) -> str:
    """A logbook with something in every table."""
    book = store.create_logbook(name)
    notes = [make_entry("note", {"text": f"{name} {n} " * 20}, limb=None) for n in range(60)]
    edits = [{**note, "stamp": stamps.make(now_ms, n, "00000001")} for n, note in enumerate(notes[:30])]
    future = make_entry("note", {"text": name}, limb=None, stamp=stamps.make(now_ms + 10**9, 0, "00000001"))
    store.sync(book, None, 0, [*notes, *edits, future], now_ms)
    store.put_summary(book, 1, {"text": name}, now)
    _, token = store.use_pair_code(store.new_pair_code(book, now).code, name, now)
    store.new_pair_code(book, now)
    link = store.make_link(book, LinkSpec(label=name), now)
    store.open_link(link.token, link.code, now)
    store.calendar_token(book, now)
    store.device_by_token(token, now + timedelta(days=40))
    store.add_audit(book, "export", name, now)
    return book


def rows(store: Store, book: str) -> dict[str, int]:
    with store.db.read() as connection:
        return {
            table.name: connection.exec_driver_sql(
                f"SELECT count(*) FROM {table.name} WHERE logbook_id = '{book}'"
            ).scalar_one()
            for table in tables.OF_A_LOGBOOK
        }


def residues(folder: Path, *words: str) -> int:
    """How often any of the words stands anywhere in the files of the database."""
    files = [file.read_bytes() for file in folder.iterdir() if file.name.startswith("plytide.db")]
    return sum(raw.count(word.encode()) for raw in files for word in words)


def test_every_table_of_a_logbook_is_emptied_and_the_other_logbook_stays(
    either_store: Store, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    store = either_store
    mine, theirs = (fill(store, make_entry, now, now_ms, name) for name in ("mine", "theirs"))
    before = rows(store, theirs)
    assert all(rows(store, mine).values()), "a table that nothing was written to proves nothing"
    assert store.erase_logbook(mine)
    assert not any(rows(store, mine).values())
    assert rows(store, theirs) == before
    assert [row.id for row in store.logbooks()] == [theirs]


def test_nothing_of_it_is_left_in_the_files(
    store: Store, tmp_path: Path, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    fill(store, make_entry, now, now_ms, "theirs")
    mine = fill(store, make_entry, now, now_ms)
    assert residues(tmp_path, WORD) > 1000
    assert store.erase_logbook(mine)
    assert residues(tmp_path, WORD, mine) == 0
    assert residues(tmp_path, "theirs") > 0


def test_without_secure_delete_and_emptying_the_log_traces_would_be_left(
    store: Store, tmp_path: Path, make_entry: MakeEntry, now: datetime, now_ms: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = fill(store, make_entry, now, now_ms)
    with store.db.bare() as connection:
        connection.execute("PRAGMA secure_delete=OFF")
    monkeypatch.setattr(logbooks.Logbooks, "wipe", lambda _: True)  # the planted fault
    store.erase_logbook(mine)
    assert residues(tmp_path, WORD) > 100


def test_copies_made_before_an_upgrade_go_too(
    store: Store, tmp_path: Path, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    mine = fill(store, make_entry, now, now_ms)
    store.backup(tmp_path / "plytide.db.before-0002")
    assert store.erase_logbook(mine)
    assert not (tmp_path / "plytide.db.before-0002").exists()


def test_a_reader_in_the_middle_of_something_makes_it_say_so(
    store: Store, tmp_path: Path, make_entry: MakeEntry, now: datetime, now_ms: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(logbooks, "WIPE_TRIES", 2)
    mine = fill(store, make_entry, now, now_ms)
    with store.db.bare() as connection:
        connection.execute("PRAGMA busy_timeout=100")
    reader = sqlite3.connect(tmp_path / "plytide.db", isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM entry").fetchone()
    assert store.erase_logbook(mine) is False
    assert store.logbooks() == [], "the rows are gone for everybody who asks"
    reader.close()
    assert store.wipe()
    assert residues(tmp_path, WORD) == 0


def test_what_was_open_is_closed(store: Store, make_entry: MakeEntry, now: datetime, now_ms: int) -> None:
    book = store.create_logbook()
    _, token = store.use_pair_code(store.new_pair_code(book, now).code, "phone", now)
    link = store.make_link(book, LinkSpec(live=True), now)
    session = store.open_link(link.token, link.code, now).session
    feed, code = store.calendar_token(book, now), store.new_pair_code(book, now).code
    store.erase_logbook(book)
    assert store.device_by_token(token, now) is None
    assert store.link_view(link.token, session, now) is None
    assert store.calendar_logbook(feed) is None
    with pytest.raises(Exception, match="not right"):
        store.use_pair_code(code, "phone", now)
