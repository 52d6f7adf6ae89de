"""Devices: known by a token that is renewed monthly, in band, whatever gets lost; shut out by hand or when copied."""

from datetime import datetime, timedelta

import pytest
from plytide.store import Device, Store, keys

DAY = timedelta(days=1)
MONTH = timedelta(days=30)


@pytest.fixture
def token(store: Store, logbook: str, now: datetime) -> str:
    return pair(store, logbook, now)


def pair(store: Store, logbook: str, now: datetime, name: str = "phone") -> str:
    return store.use_pair_code(store.new_pair_code(logbook, now).code, name, now)[1]


def known(store: Store, token: str, when: datetime) -> Device:
    device = store.device_by_token(token, when)
    assert device
    return device


def test_a_token_has_256_bits_and_only_its_hash_is_kept(store: Store, token: str) -> None:
    assert len(token) == 43  # 32 bytes in base 64 without padding (RFC 4648)
    with store.db.read() as connection:
        kept = str(connection.exec_driver_sql("SELECT * FROM device").fetchall())
    assert token not in kept
    assert keys.hash_token(token) in kept


@pytest.mark.parametrize("token", ["", "x", "\ud800", "x" * 10000])
def test_an_unknown_token_is_nobody(store: Store, logbook: str, now: datetime, token: str) -> None:
    pair(store, logbook, now)
    assert store.device_by_token(token, now) is None


def test_a_token_is_renewed_after_a_month_and_both_are_one_device(store: Store, token: str, now: datetime) -> None:
    assert known(store, token, now + 29 * DAY).new_token is None
    renewed = known(store, token, now + MONTH)
    assert renewed.new_token
    assert renewed.new_token != token
    fresh = known(store, renewed.new_token, now + MONTH)
    assert (fresh.id, fresh.new_token) == (renewed.id, None)


def test_the_old_token_is_good_until_the_new_one_is_seen(store: Store, token: str, now: datetime) -> None:
    offered = {known(store, token, now + MONTH + n * DAY).new_token for n in range(5)}
    assert len(offered) == 1, "requests side by side are all told the same new one"
    assert known(store, offered.pop() or "", now + MONTH + 5 * DAY)


def test_a_request_that_was_on_its_way_when_the_new_token_was_first_seen_is_still_good(
    store: Store, token: str, now: datetime
) -> None:
    new = known(store, token, now + MONTH).new_token or ""
    known(store, new, now + MONTH)
    late = known(store, token, now + MONTH + timedelta(seconds=30))
    assert late.new_token is None
    assert known(store, new, now + MONTH + timedelta(seconds=31))


def test_an_old_token_that_comes_back_shuts_the_device_out_and_says_so(
    store: Store, logbook: str, token: str, now: datetime
) -> None:
    new = known(store, token, now + MONTH).new_token or ""
    known(store, new, now + MONTH)
    assert store.device_by_token(token, now + MONTH + DAY) is None
    assert store.device_by_token(new, now + MONTH + DAY) is None
    assert store.devices(logbook)[0].revoked_at
    line = store.audit(logbook)[0]
    assert line.code == "key_reused"
    assert "phone was shut out" in line.words


def test_a_token_goes_through_many_renewals(store: Store, token: str, now: datetime) -> None:
    first, seen = known(store, token, now), {token}
    for month in range(1, 8):
        now += timedelta(days=31)
        token = known(store, token, now).new_token or ""
        assert known(store, token, now).id == first.id, month
        seen.add(token)
    assert len(seen) == 8


def test_a_removed_device_is_nobody_and_others_stay(store: Store, logbook: str, token: str, now: datetime) -> None:
    other = pair(store, logbook, now + timedelta(minutes=1), "tablet")
    device = known(store, token, now)
    assert store.revoke_device(logbook, device.id)
    assert store.device_by_token(token, now) is None
    assert known(store, other, now).name == "tablet"
    assert not store.revoke_device(logbook, device.id), "only once"
    assert [(d.name, bool(d.revoked_at)) for d in store.devices(logbook)] == [("phone", True), ("tablet", False)]


def test_another_logbooks_device_cannot_be_removed(store: Store, token: str, now: datetime) -> None:
    other = store.create_logbook()
    assert not store.revoke_device(other, known(store, token, now).id)
    assert known(store, token, now)


def test_when_a_device_was_last_seen_is_kept_by_the_hour(store: Store, logbook: str, token: str, now: datetime) -> None:
    known(store, token, now + timedelta(minutes=20))
    assert store.devices(logbook)[0].seen_at == "2031-03-02T12:00:00.000Z"
    known(store, token, now + timedelta(minutes=61))
    assert store.devices(logbook)[0].seen_at == "2031-03-02T13:01:00.000Z"
