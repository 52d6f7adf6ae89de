"""What is particular to PostgreSQL: how safely it has to write, and nobody waits for ever for a process that hangs."""

import subprocess
import sys
import time

import pytest
from conftest import MakeEntry
from plytide.store import Store, StoreBusy, StoreError
from sqlalchemy import create_engine, text

HANGS = """
import sys, time
from plytide.store import Store
with Store.open(sys.argv[1]) as store, store.db.write() as connection:
    connection.exec_driver_sql("SELECT seq FROM logbook FOR UPDATE")
    print("held", flush=True)
    time.sleep(60)
"""


def impatient(url: str) -> str:
    """The address with the waits shortened, as an operator may."""
    return f"{url}&options=-c%20lock_timeout%3D200%20-c%20idle_in_transaction_session_timeout%3D1500"


def test_a_process_that_hangs_with_a_logbooks_lock_keeps_others_waiting_a_while_and_no_longer(
    pg_database: str, make_entry: MakeEntry, now_ms: int
) -> None:
    with Store.open(impatient(pg_database)) as store:
        book, sent = store.create_logbook(), make_entry()
        words = [sys.executable, "-c", HANGS, impatient(pg_database)]
        with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as hung:
            assert hung.stdout
            assert hung.stdout.readline() == "held\n"
            with pytest.raises(StoreBusy, match="try again"):
                store.sync(book, None, 0, [sent], now_ms)
            end = time.monotonic() + 20
            while time.monotonic() < end and store.seq(book) == 0:
                try:
                    store.sync(book, None, 0, [sent], now_ms)
                except StoreBusy:
                    time.sleep(0.1)
            hung.kill()
        assert store.seq(book) == 1


def test_a_database_that_confirms_what_it_has_not_written_is_not_served(pg_database: str) -> None:
    engine = create_engine(pg_database, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        database = connection.execute(text("SELECT current_database()")).scalar_one()
        connection.execute(text(f"ALTER DATABASE {database} SET synchronous_commit = off"))
    engine.dispose()
    with pytest.raises(StoreError, match="synchronous_commit off"):
        Store.open(pg_database)


@pytest.mark.parametrize("host", ["127.0.0.1:1", "no-such-host.invalid:5432"])
def test_a_database_that_cannot_be_reached_is_busy_and_not_a_fault(host: str) -> None:
    with pytest.raises(StoreBusy, match="try again"):
        Store.open(f"postgresql+psycopg://nobody@{host}/plytide?connect_timeout=2")
