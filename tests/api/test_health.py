"""/healthz tells the truth about the database, and nothing about anybody's log."""

import sqlite3
from pathlib import Path

import pytest
from api.site import entry, running


def test_a_working_server_says_so(tmp_path: Path) -> None:
    with running(tmp_path) as site:
        answer = site.stranger().get("/healthz")
    assert answer.status_code == 200
    assert answer.json()["ok"] is True


def test_a_server_that_has_lost_its_database_says_so_and_recovers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        whole = site.store.any_logbook

        def broken() -> None:
            raise sqlite3.OperationalError("disk I/O error in /secret/path")

        monkeypatch.setattr(site.store, "any_logbook", broken)
        answer = phone.get("/healthz")
        assert answer.status_code == 503
        assert answer.json()["ok"] is False
        assert "secret" not in answer.text
        monkeypatch.setattr(site.store, "any_logbook", whole)
        assert phone.get("/healthz").status_code == 200


def test_a_disk_that_is_nearly_full_is_told_while_entries_are_still_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with running(tmp_path) as site, site.phone() as phone:
        monkeypatch.setattr("plytide.store.soundness.LEAST_ROOM", 2**62)  # no disk has as much
        answer = phone.get("/healthz")
        assert (answer.status_code, answer.json()["database"]) == (503, "short of room")
        assert phone.sync([entry()]).json()["results"][0]["r"] == "ok"
