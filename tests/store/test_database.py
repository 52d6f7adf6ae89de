"""The file: kept as safely as SQLite can, by one server at a time, and what is said when it cannot be."""

import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from conftest import MakeEntry
from plytide.store import Store, StoreBusy, StoreError, StoreFull

OTHER = "import sys; from plytide.store import Store; Store.open(sys.argv[1], serving=sys.argv[2] == 'serving').close()"


def other_process(url: str, how: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-c", OTHER, url, how], capture_output=True, text=True, check=False)


def pragma(store: Store, name: str, door: str) -> object:
    with getattr(store.db, door)() as connection:
        return connection.exec_driver_sql(f"PRAGMA {name}").scalar()


@pytest.mark.parametrize("door", ["write", "read"])
@pytest.mark.parametrize(
    ("name", "value"),
    # SQLite's documentation: synchronous 2 is FULL, and with WAL only FULL syncs at every commit
    [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("secure_delete", 1), ("busy_timeout", 10000)],
)
def test_every_connection_is_set_up_for_safety(store: Store, door: str, name: str, value: object) -> None:
    assert pragma(store, name, door) == value


def test_the_readers_cannot_write(store: Store) -> None:
    with pytest.raises(StoreBusy) as caught, store.db.read() as connection:
        connection.exec_driver_sql("INSERT INTO meta VALUES ('a', 'b')")
    assert "readonly" in str(caught.value.__cause__)


def test_a_reader_sees_one_moment_whatever_is_written_meanwhile(store: Store) -> None:
    with store.db.read() as connection:
        before = connection.exec_driver_sql("SELECT count(*) FROM logbook").scalar()
        store.create_logbook()
        assert connection.exec_driver_sql("SELECT count(*) FROM logbook").scalar() == before


def test_what_raises_is_undone_whole(store: Store, logbook: str, make_entry: MakeEntry, now_ms: int) -> None:
    with pytest.raises(ZeroDivisionError), store.db.write() as connection:  # noqa: PT012
        connection.exec_driver_sql("UPDATE logbook SET seq = 99")
        raise ZeroDivisionError
    assert store.seq(logbook) == 0
    store.sync(logbook, None, 0, [make_entry()], now_ms)


def test_a_second_server_is_kept_out_and_told_what_to_do(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'plytide.db'}"
    with Store.open(url, serving=True):
        refused = other_process(url, "serving")
        assert refused.returncode == 1
        assert "Stop that one first" in refused.stderr
        with pytest.raises(StoreError, match="Stop that one first"):
            Store.open(url, serving=True)
    assert other_process(url, "serving").returncode == 0, "the lock goes with the server"


def test_a_killed_server_leaves_no_lock_behind(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'plytide.db'}"
    script = OTHER.replace(".close()", "; print('up', flush=True); import time; time.sleep(60)")
    with subprocess.Popen([sys.executable, "-c", script, url, "serving"], stdout=subprocess.PIPE) as process:
        assert process.stdout
        assert process.stdout.readline() == b"up\n"
        process.kill()
    Store.open(url, serving=True).close()


def test_a_guest_beside_a_server_reads_and_writes_and_leaves_the_log_alone(tmp_path: Path, now: datetime) -> None:
    url = f"sqlite:///{tmp_path / 'plytide.db'}"
    with Store.open(url, serving=True) as server:
        logbook = server.create_logbook()
        with Store.open(url) as guest:
            code = guest.new_pair_code(logbook, now).code
            # two processes that reset the write-ahead log at once have harmed databases before SQLite 3.51.3
            assert pragma(guest, "wal_autocheckpoint", "write") == 0
        assert pragma(server, "wal_autocheckpoint", "write") == 1000
        assert server.use_pair_code(code, "phone", now)[0] == logbook


def test_a_database_that_is_held_by_another_program_is_busy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("plytide.store.database.BUSY_MS", 100)
    with Store.open(f"sqlite:///{tmp_path / 'plytide.db'}") as store:
        with closing(sqlite3.connect(tmp_path / "plytide.db", isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            with pytest.raises(StoreBusy, match="try again"):
                store.create_logbook()
        assert store.create_logbook()


def test_no_room_is_told_apart_and_nothing_is_half_written(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    with store.db.bare() as connection:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages}")
    batch = [make_entry("note", {"text": "x" * 2000}, limb=None) for _ in range(200)]
    with pytest.raises(StoreFull, match="make room"):
        store.sync(logbook, None, 0, batch, now_ms)
    assert (store.seq(logbook), store.live(logbook)[0]) == (0, [])
    with store.db.bare() as connection:
        connection.execute("PRAGMA max_page_count=100000")
    assert len(store.sync(logbook, None, 0, batch, now_ms).results) == 200


def test_many_threads_at_once_all_get_through(store: Store, logbook: str, make_entry: MakeEntry, now_ms: int) -> None:
    batches, failed = [[make_entry() for _ in range(20)] for _ in range(24)], []

    def use(batch: list[dict[str, object]]) -> None:
        try:
            store.sync(logbook, None, 0, batch, now_ms)
            store.live(logbook)
        except Exception as error:
            failed.append(error)

    threads = [threading.Thread(target=use, args=(batch,)) for batch in batches]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    assert store.seq(logbook) == 480


def test_a_damaged_file_is_not_served(tmp_path: Path, make_entry: MakeEntry, now_ms: int) -> None:
    file = tmp_path / "plytide.db"
    with Store.open(f"sqlite:///{file}") as store:
        logbook = store.create_logbook()
        store.sync(logbook, None, 0, [make_entry("note", {"text": "x" * 500}, limb=None) for _ in range(300)], now_ms)
    raw = bytearray(file.read_bytes())
    for page in range(len(raw) // 8192, len(raw) // 4096):
        raw[page * 4096 + 8 : page * 4096 + 200] = b"\xa5" * 192
    file.write_bytes(raw)
    with pytest.raises(StoreError, match="damaged"):
        Store.open(f"sqlite:///{file}")


def test_a_file_that_is_no_database_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "plytide.db"
    file.write_text("a shopping list, and not a short one\n" * 200)
    with pytest.raises(StoreError, match="not a SQLite database"):
        Store.open(f"sqlite:///{file}")
    assert file.read_text().startswith("a shopping list")


@pytest.mark.parametrize("url", ["sqlite://", "sqlite:///:memory:"])
def test_a_log_that_is_gone_with_the_process_is_refused(url: str) -> None:
    with pytest.raises(StoreError, match="needs a file"):
        Store.open(url)


def test_the_key_is_made_once_and_is_for_its_owner_alone(tmp_path: Path, now: datetime) -> None:
    url, key = f"sqlite:///{tmp_path / 'plytide.db'}", tmp_path / "plytide.db.key"
    with Store.open(url) as store:
        code = store.new_pair_code(store.create_logbook(), now).code
    first = key.read_bytes()
    assert (len(first), key.stat().st_mode & 0o777) == (32, 0o600)
    with Store.open(url) as store:
        assert store.use_pair_code(code, "phone", now)
    assert key.read_bytes() == first
    assert {file.name for file in tmp_path.iterdir()} == {"plytide.db", "plytide.db.key", "plytide.db.lock"}


def test_a_key_of_another_kind_is_not_used(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'plytide.db'}"
    Store.open(url).close()
    (tmp_path / "plytide.db.key").write_bytes(b"short")
    with pytest.raises(StoreError, match="not a key"):
        Store.open(url)
