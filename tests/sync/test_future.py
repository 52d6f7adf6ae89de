"""Stamps from the future: moved back to five minutes ahead, and what that must never cost."""

from typing import Any

import pytest
from conftest import MakeEntry
from plytide import stamps
from plytide.store import Store

HOUR = 3_600_000
AHEAD = stamps.AHEAD_MS
ID = "01c06f2a-1000-7000-8000-000000000001"


@pytest.fixture
def write(make_entry: MakeEntry, now_ms: int) -> Any:
    """A version of one entry: `ms` from now by its clock, of a device, saying something."""

    def version(ms: int, device: str, says: str, count: int = 0, **over: Any) -> dict[str, Any]:
        stamp = stamps.make(now_ms + ms, count, device)
        return make_entry("note", {"text": says}, limb=None, id=ID, stamp=stamp, **over)

    return version


def stands(store: Store, logbook: str) -> str:
    return str(store.live(logbook)[0][0].body["text"])


def test_a_repeat_is_answered_as_the_first_time(store: Store, logbook: str, write: Any, now_ms: int) -> None:
    sent = write(72 * HOUR, "0000000a", "one")
    first = store.sync(logbook, None, 0, [sent], now_ms).results[0]
    for later in (0, 1, HOUR, 100 * HOUR):  # at last the stamp is not in the future any more
        assert store.sync(logbook, None, 0, [sent], now_ms + later).results[0] == first
    assert len(list(store.all_versions(logbook))) == 1


def test_an_edit_made_upon_it_stands_when_the_first_comes_again(
    store: Store, logbook: str, write: Any, now_ms: int
) -> None:
    sent = write(72 * HOUR, "0000000a", "one")
    moved = store.sync(logbook, None, 0, [sent], now_ms).results[0]
    edit = write(AHEAD, "0000000b", "two", count=1)
    assert edit["stamp"] > moved["stamp2"]
    store.sync(logbook, None, 0, [edit], now_ms + HOUR)
    again = store.sync(logbook, None, 0, [sent], now_ms + 2 * HOUR).results[0]
    assert (again["r"], again["winner"]) == ("stale", edit)
    assert stands(store, logbook) == "two"


def test_two_versions_of_one_phone_keep_their_order_within_a_millisecond(
    store: Store, logbook: str, write: Any, now_ms: int
) -> None:
    one, two = write(72 * HOUR, "0000000a", "one", count=5), write(73 * HOUR, "0000000a", "two")
    done = store.sync(logbook, None, 0, [one, two], now_ms)
    assert [result["r"] for result in done.results] == ["restamped", "restamped"]
    assert done.results[0]["stamp2"] < done.results[1]["stamp2"]
    assert stands(store, logbook) == "two"


def test_the_older_of_two_that_comes_late_does_not_win(store: Store, logbook: str, write: Any, now_ms: int) -> None:
    one, two = write(72 * HOUR, "0000000a", "one"), write(73 * HOUR, "0000000a", "two")
    store.sync(logbook, None, 0, [two], now_ms)
    assert store.sync(logbook, None, 0, [one], now_ms + HOUR).results[0]["r"] == "stale"
    assert stands(store, logbook) == "two"
    assert [e.body["text"] for e in store.all_versions(logbook)] == ["two", "one"]


def test_an_edit_of_a_clock_days_ahead_comes_after_what_it_was_made_upon(
    store: Store, logbook: str, write: Any, now_ms: int
) -> None:
    # B wrote at the very ceiling; A, three days ahead, saw that and wrote upon it, in the same millisecond here.
    store.sync(logbook, None, 0, [write(AHEAD, "0000000b", "B", count=9)], now_ms)
    done = store.sync(logbook, None, 0, [write(72 * HOUR, "0000000a", "A")], now_ms)
    assert done.results[0]["stamp2"] == stamps.make(now_ms + AHEAD, 10, "0000000a")
    assert stands(store, logbook) == "A"


def test_a_phone_that_puts_its_clock_right_can_go_on_from_there(
    store: Store, logbook: str, write: Any, now_ms: int
) -> None:
    sent = write(72 * HOUR, "0000000a", "one")
    moved = store.sync(logbook, None, 0, [sent], now_ms).results[0]
    upon = {"moved": moved["moved"]}  # the note travels with what is made from it
    right = write(AHEAD, "0000000a", "two", count=1, **upon)
    assert store.sync(logbook, None, 0, [right], now_ms + HOUR).results[0]["r"] == "ok"
    assert stands(store, logbook) == "two"


def test_the_note_tells_a_restored_server_what_it_has_forgotten(
    store: Store, logbook: str, write: Any, now_ms: int
) -> None:
    other = store.create_logbook()  # stands for the same logbook, restored from before all of this
    sent = write(72 * HOUR, "0000000a", "one")
    moved = store.sync(logbook, None, 0, [sent], now_ms).results[0]
    edit = write(AHEAD, "0000000b", "two", count=1, moved=moved["moved"])
    store.sync(other, None, 0, [edit], now_ms + HOUR)
    assert store.sync(other, None, 0, [sent], now_ms + HOUR).results[0]["r"] == "stale"
    assert stands(store, other) == "two"


@pytest.mark.parametrize("note", ["x", [], {"x": "y"}, {"ffffffffffff-0000-00000001": 7}, {"a": {}}, None])
def test_a_note_that_is_no_note_is_kept_and_not_read(
    store: Store, logbook: str, write: Any, now_ms: int, note: Any
) -> None:
    sent = write(0, "0000000a", "one", moved=note)
    assert store.sync(logbook, None, 0, [sent], now_ms).results[0]["r"] == "ok"
    assert store.sync(logbook, None, 0, [], now_ms).entries == [sent]


def test_five_minutes_ahead_is_no_matter(store: Store, logbook: str, write: Any, now_ms: int) -> None:
    assert store.sync(logbook, None, 0, [write(AHEAD, "0000000a", "one")], now_ms).results[0]["r"] == "ok"
    assert store.sync(logbook, None, 0, [write(AHEAD + 1, "0000000b", "two")], now_ms).results[0]["r"] == "restamped"
