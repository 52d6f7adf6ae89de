"""When the database fails: the phone is told to keep its entries and come again, and nothing is half written."""

import sqlite3
from pathlib import Path
from typing import Any

import pytest
from api.site import entry, running
from plytide.api.faults import refusal_of
from plytide.store import StoreBusy, StoreFull
from starlette.requests import ClientDisconnect


@pytest.mark.parametrize(
    ("fault", "status", "code"),
    [(StoreBusy("planted"), 503, "busy"), (StoreFull("planted"), 507, "full")],
    ids=["busy", "full"],
)
def test_trouble_of_the_store_is_told_and_goes_away_by_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: Exception, status: int, code: str
) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        whole = site.store.sync

        def failing(*_: Any) -> None:
            raise fault

        monkeypatch.setattr(site.store, "sync", failing)
        sent = entry()
        answer = phone.sync([sent])
        assert (answer.status_code, answer.json()["code"]) == (status, code)
        assert int(answer.headers["retry-after"]) > 0
        monkeypatch.setattr(site.store, "sync", whole)
        assert phone.pulled() == {}
        assert phone.sync([sent]).json()["results"][0]["r"] == "ok"


def test_a_database_that_another_program_holds_is_503_and_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("plytide.store.database.BUSY_MS", 200)
    with running(tmp_path) as site, site.phone() as phone:
        other = sqlite3.connect(tmp_path / "plytide.db", isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        assert phone.sync([entry()]).status_code == 503
        other.execute("ROLLBACK")
        other.close()
        assert phone.pulled() == {}
        assert phone.sync([entry()]).status_code == 200


def test_a_full_database_is_507_keeps_what_it_had_and_goes_on_when_there_is_room(tmp_path: Path) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        kept = [entry() for _ in range(50)]
        phone.sync(kept)
        with site.store.db.bare() as connection:
            pages = connection.execute("PRAGMA page_count").fetchone()[0]
            connection.execute(f"PRAGMA max_page_count={pages}")  # SQLite's own way of running out of room
        big = [entry(kind="note", limb=None, body={"text": "x" * 2000}) for _ in range(400)]
        answer = phone.sync(big)
        assert (answer.status_code, answer.json()["code"]) == (507, "full")
        assert set(phone.pulled()) == {e["id"] for e in kept}
        with site.store.db.bare() as connection:
            connection.execute("PRAGMA max_page_count=1000000")
        assert phone.sync(big).status_code == 200
        assert len(phone.pulled()) == 450


def test_a_phone_that_loses_its_network_is_no_fault_of_the_server(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level("INFO", "plytide"):
        assert refusal_of(ClientDisconnect()).status == 400
        assert caplog.records == []
        assert refusal_of(RuntimeError("planted")).status == 500
        assert [record.levelname for record in caplog.records] == ["ERROR"]
