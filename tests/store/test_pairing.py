"""Pairing codes in the store: five tries in all, counted whatever happens at the same time; one device a code."""

import re
import threading
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

import pytest
from plytide.store import NoLogbook, PairingRefused, Store, keys, pairing


@pytest.fixture
def store(either_store: Store) -> Store:
    return either_store


def refused(store: Store, code: str, now: datetime) -> tuple[str, int]:
    with pytest.raises(PairingRefused) as caught:
        store.use_pair_code(code, "phone", now)
    return caught.value.reason, caught.value.tries_left


def wrong(code: str) -> str:
    return code[:-1] + ("0" if code[-1] != "0" else "1")


def other_half(code: str, n: int) -> str:
    """The nth code that is meant to be this one and is not: who reads the first half over a shoulder tries these."""
    wrong = f"{n:04d}"
    return f"{code[:5]}{wrong if wrong != code[5:] else 'ZZZZ'}"


def at_once(count: int, do: Callable[[int], Any]) -> list[Any]:
    """What `count` threads get that all begin together."""
    gate, found = threading.Barrier(count), []

    def run(n: int) -> None:
        gate.wait()
        try:
            found.append(do(n))
        except PairingRefused as refusal:
            found.append(refusal)

    threads = [threading.Thread(target=run, args=(n,)) for n in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return found


def test_a_code_is_eight_letters_of_crockfords_base_32_in_two_groups(store: Store, logbook: str, now: datetime) -> None:
    # https://www.crockford.com/base32.html: ten digits and 22 letters, without I, L, O and U
    assert re.fullmatch(r"[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}", store.new_pair_code(logbook, now).code)
    assert len({keys.new_code() for _ in range(200)}) == 200


@pytest.mark.parametrize("typed", ["k7qm-4xtd", "K7QM4XTD", " k7qm 4xtd ", "K7QM–4XTD", "k-7-q-m-4-x-t-d"])
def test_a_code_is_read_as_people_type_it(typed: str) -> None:
    assert keys.plain_code(typed) == "K7QM4XTD"


def test_letters_that_are_not_in_it_are_read_as_what_they_look_like() -> None:
    # Crockford: i, l read as 1, o as 0
    assert keys.plain_code("ilo0-ILO1") == "11001101"


def test_a_right_code_makes_a_device_and_works_once(store: Store, logbook: str, now: datetime) -> None:
    code = store.new_pair_code(logbook, now).code
    book, token = store.use_pair_code(code, "phone", now)
    assert book == logbook
    device = store.device_by_token(token, now)
    assert device
    assert (device.logbook_id, device.name) == (logbook, "phone")
    assert refused(store, code, now) == ("used", 0)
    assert len(store.devices(logbook)) == 1


def test_wrong_codes_count_down_and_lock(store: Store, logbook: str, now: datetime) -> None:
    code = store.new_pair_code(logbook, now).code
    assert [refused(store, wrong(code), now) for _ in range(6)] == [("wrong", n) for n in (4, 3, 2, 1, 0, 0)]
    assert refused(store, code, now) == ("locked", 0)
    assert store.devices(logbook) == []


def test_a_locked_code_does_not_open_by_the_tries_of_a_fresh_one(store: Store, logbook: str, now: datetime) -> None:
    old = store.new_pair_code(logbook, now).code
    for _ in range(5):
        refused(store, wrong(old), now)
    fresh = store.new_pair_code(logbook, now).code
    assert refused(store, old, now) == ("locked", 0)
    assert store.use_pair_code(fresh, "phone", now)[0] == logbook


def test_twenty_guesses_at_once_are_counted_one_by_one(store: Store, logbook: str, now: datetime) -> None:
    code = store.new_pair_code(logbook, now).code
    guesses = at_once(20, lambda n: store.use_pair_code(other_half(code, n), "thief", now))
    assert [type(guess) for guess in guesses] == [PairingRefused] * 20
    assert sorted((guess.tries_left for guess in guesses), reverse=True)[:5] == [4, 3, 2, 1, 0]
    assert refused(store, code, now) == ("locked", 0)


def test_of_twenty_guesses_at_once_at_most_five_are_compared(store: Store, logbook: str, now: datetime) -> None:
    code = store.new_pair_code(logbook, now).code
    for _ in range(4):
        refused(store, wrong(code), now)
    # one try is left for nineteen wrong guesses and the right one
    found = at_once(20, lambda n: store.use_pair_code(code if n == 0 else other_half(code, n), "phone", now))
    let_in = [one for one in found if isinstance(one, tuple)]
    assert len(let_in) == len(store.devices(logbook)) <= 1


def test_twenty_phones_with_the_right_code_make_one_device(store: Store, logbook: str, now: datetime) -> None:
    code = store.new_pair_code(logbook, now).code
    found = at_once(20, lambda _: store.use_pair_code(code, "phone", now))
    assert sum(isinstance(one, tuple) for one in found) == 1
    assert {one.reason for one in found if isinstance(one, PairingRefused)} == {"used"}
    assert len(store.devices(logbook)) == 1


def test_a_stranger_who_types_anything_cannot_lock_a_wearer_out(store: Store, logbook: str, now: datetime) -> None:
    code = store.new_pair_code(logbook, now).code
    for n in range(200):
        guess = f"{n:04d}-{code[5:]}"
        if guess != code:
            assert refused(store, guess, now) == ("wrong", 5)
    assert store.use_pair_code(code, "phone", now)[0] == logbook


def test_wrong_tries_at_one_code_leave_the_others_theirs(store: Store, logbook: str, now: datetime) -> None:
    one, other = store.new_pair_code(logbook, now).code, store.new_pair_code(logbook, now).code
    for _ in range(5):
        refused(store, wrong(one), now)
    assert refused(store, one, now) == ("locked", 0)
    assert refused(store, wrong(other), now) == ("wrong", 4)
    assert store.use_pair_code(other, "phone", now)[0] == logbook


def test_without_the_count_before_the_comparison_a_sixth_guess_would_open(
    store: Store, logbook: str, now: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pairing, "TRIES", 10**6)  # the planted fault
    code = store.new_pair_code(logbook, now).code
    for _ in range(20):
        refused(store, wrong(code), now)
    assert store.use_pair_code(code, "thief", now)[0] == logbook


def test_many_codes_can_be_used_one_after_the_other(store: Store, logbook: str, now: datetime) -> None:
    # a clinic that sets twelve tablets up: each right code must not count against the others
    codes = [store.new_pair_code(logbook, now).code for _ in range(12)]
    for code in codes:
        store.use_pair_code(code, "tablet", now)
    assert len(store.devices(logbook)) == 12


def test_a_code_lasts_ten_minutes(store: Store, logbook: str, now: datetime) -> None:
    made = store.new_pair_code(logbook, now)
    assert datetime.fromisoformat(made.expires) - now == timedelta(minutes=10)
    assert refused(store, made.code, now + timedelta(minutes=10)) == ("expired", 0)
    assert store.use_pair_code(made.code, "phone", now + timedelta(minutes=9, seconds=59))[0] == logbook


def test_a_used_or_late_code_is_no_guess_against_others(store: Store, logbook: str, now: datetime) -> None:
    used, good = store.new_pair_code(logbook, now).code, store.new_pair_code(logbook, now).code
    store.use_pair_code(used, "phone", now)
    for _ in range(8):
        assert refused(store, used, now) == ("used", 0)
    assert store.use_pair_code(good, "phone", now)[0] == logbook


@pytest.mark.parametrize("code", ["", "-", "K7QM", "\x00", "\ud800", "K7QM-4XTD" * 1000, "٣٣٣٣-٣٣٣٣"])
def test_anything_may_be_typed(store: Store, logbook: str, now: datetime, code: str) -> None:
    store.new_pair_code(logbook, now)
    assert refused(store, code, now) == ("wrong", 5)


def test_no_code_without_a_logbook(store: Store, now: datetime) -> None:
    with pytest.raises(NoLogbook):
        store.new_pair_code("nobody", now)


def test_the_code_is_nowhere_in_the_database(store: Store, logbook: str, now: datetime) -> None:
    code = store.new_pair_code(logbook, now).code
    with store.db.read() as connection:
        kept = str(connection.exec_driver_sql("SELECT * FROM pair_code").fetchall())
    assert code not in kept
    assert keys.plain_code(code) not in kept
