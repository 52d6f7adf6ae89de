"""What is read out: what stands, what stood, everything for an export."""

from datetime import datetime, timedelta

import pytest
from conftest import MakeEntry
from plytide import stamps
from plytide.store import NoLogbook, Store, reading


@pytest.fixture
def store(either_store: Store) -> Store:
    return either_store


def test_live_entries_come_by_time_then_id_without_erased_ones(
    store: Store, logbook: str, make_entry: MakeEntry, now: datetime, now_ms: int
) -> None:
    late, early = make_entry(), make_entry(at=now - timedelta(days=9))
    twins = [make_entry(at=now - timedelta(days=2)) for _ in range(3)]
    store.sync(logbook, None, 0, [late, *reversed(twins), early, make_entry(erased=True)], now_ms)
    entries, seq = store.live(logbook)
    assert [entry.id for entry in entries] == [early["id"], *(twin["id"] for twin in twins), late["id"]]
    assert seq == store.seq(logbook) == 6


def test_history_has_every_version_the_standing_one_last(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int
) -> None:
    first = make_entry(body={"score": 1})
    versions = [{**first, "stamp": stamps.make(now_ms, n, "00000001"), "body": {"score": n}} for n in range(2, 6)]
    store.sync(logbook, None, 0, [first, versions[0], versions[3], versions[1]], now_ms)
    store.sync(logbook, None, 0, [versions[2], make_entry()], now_ms)
    assert [entry.body["score"] for entry in store.history(logbook, first["id"])] == [1, 2, 3, 4, 5]
    assert store.history(logbook, "nobody") == []
    assert store.history(store.create_logbook(), first["id"]) == []


def test_an_export_has_every_version_of_every_entry_once(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reading, "CHUNK", 3)
    first = [make_entry() for _ in range(7)]
    second = [{**entry, "stamp": stamps.make(now_ms, n, "00000001")} for n, entry in enumerate(first[:5])]
    erased = make_entry(erased=True)
    store.sync(logbook, None, 0, [*first, *second, erased], now_ms)
    found = [entry.as_dict() for entry in store.all_versions(logbook)]
    assert len(found) == 13
    assert all(entry in found for entry in [*first, *second, erased])
    assert list(store.all_versions(store.create_logbook())) == []


def test_nothing_is_lost_from_an_export_by_what_is_written_meanwhile(
    store: Store, logbook: str, make_entry: MakeEntry, now_ms: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reading, "CHUNK", 2)
    first = [make_entry() for _ in range(6)]
    store.sync(logbook, None, 0, first, now_ms)
    rows = store.all_versions(logbook)
    found = [next(rows).as_dict()]
    edits = [{**entry, "stamp": stamps.make(now_ms, n, "00000001")} for n, entry in enumerate(first)]
    store.sync(logbook, None, 0, edits, now_ms)
    found += [entry.as_dict() for entry in rows]
    assert all(entry in found for entry in first)


def test_logbooks_are_listed_by_age_and_told_apart(store: Store, logbook: str) -> None:
    other = store.create_logbook("Bo")
    rows = store.logbooks()
    assert {(row.id, row.name, row.seq) for row in rows} == {(logbook, "Ada", 0), (other, "Bo", 0)}
    assert rows == sorted(rows, key=lambda row: (row.made_at, row.id))
    assert store.epoch(logbook) != store.epoch(other)


def test_an_unknown_logbook_is_told(store: Store) -> None:
    for ask in (store.epoch, store.seq, store.live, store.erase_logbook):
        with pytest.raises(NoLogbook):
            ask("nobody")


def test_a_calendars_address_is_one_until_it_is_ended(store: Store, logbook: str, now: datetime) -> None:
    token = store.calendar_token(logbook, now)
    assert len(token) == 22
    assert store.calendar_token(logbook, now) == token
    assert store.calendar_logbook(token) == logbook
    store.revoke_calendar(logbook, now)
    assert store.calendar_logbook(token) is None
    assert store.calendar_token(logbook, now) != token
    assert store.calendar_logbook("x" * 22) is None


def test_the_audit_list_has_the_newest_line_first(store: Store, logbook: str, now: datetime) -> None:
    store.add_audit(logbook, "export", "Everything was exported.", now)
    assert [(line.code, line.words) for line in store.audit(logbook)] == [
        ("export", "Everything was exported."), ("made", "The logbook was made."),
    ]  # fmt: skip
    assert store.audit(store.create_logbook())[0].code == "made"
