"""Limits on how much one device or address may ask: 429, when to come again, and nothing lost."""

import pytest
from api.site import entry, running
from plytide.api.answers import Refused
from plytide.api.rates import KEPT, Rate, address_of


class Clock:
    now = 1000.0

    def __call__(self) -> float:
        return self.now


def refused(rate: Rate, key: str = "a") -> int:
    """Requests that got through before the first refusal."""
    for n in range(10_000):
        try:
            rate.check(key)
        except Refused:
            return n
    return 10_000


def test_a_minutes_worth_may_come_at_once_and_then_one_by_one() -> None:
    clock = Clock()
    rate = Rate(60, clock)
    assert refused(rate) == 60
    clock.now += 3
    assert refused(rate) == 3
    clock.now += 3600
    assert refused(rate) == 60


def test_a_refusal_says_when_the_next_one_gets_through() -> None:
    clock = Clock()
    rate = Rate(6, clock)
    refused(rate)
    with pytest.raises(Refused) as caught:
        rate.check("a")
    assert (caught.value.status, caught.value.after_s) == (429, 10)
    clock.now += 10
    rate.check("a")


def test_keys_do_not_share_and_zero_is_no_limit() -> None:
    rate = Rate(2, Clock())
    assert [refused(rate, key) for key in "ab"] == [2, 2]
    assert refused(Rate(0, Clock())) == 10_000


def test_what_is_kept_in_memory_is_bounded() -> None:
    rate = Rate(5, Clock())
    for n in range(KEPT + 500):
        rate.check(str(n))
    assert len(rate._left) == KEPT


@pytest.mark.parametrize(
    ("host", "key"),
    [
        ("192.0.2.7", "192.0.2.7"), ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("2001:db8:1:2:ffff::1", "2001:db8:1:2::/64"), ("::ffff:192.0.2.7", "192.0.2.7"), ("fe80::1%eth0", "fe80::/64"),
        ("", "local"),
    ],
)  # fmt: skip
def test_an_ipv6_household_is_one_address(host: str, key: str) -> None:
    # A /64 is what one subscriber gets (RFC 6177, RFC 4291 section 2.5.1); addresses from RFC 5737 and RFC 3849.
    assert address_of({"client": (host, 4711)}) == key


def test_a_device_over_its_limit_is_429_and_loses_nothing(tmp_path_factory: pytest.TempPathFactory) -> None:
    with running(tmp_path_factory.mktemp("rates"), device_rate=5) as site, site.phone() as phone:
        statuses = [phone.sync([entry()]) for _ in range(7)]
        assert [a.status_code for a in statuses] == [200] * 5 + [429] * 2
        assert int(statuses[-1].headers["retry-after"]) >= 1
        assert len(site.phone(phone.logbook_id).pulled()) == 5


def test_an_address_over_its_limit_is_429_before_anything_is_read(tmp_path_factory: pytest.TempPathFactory) -> None:
    with running(tmp_path_factory.mktemp("rates"), address_rate=5) as site, site.stranger() as one:
        assert [one.get("/healthz").status_code for _ in range(7)] == [200] * 5 + [429] * 2


def test_a_forged_forwarded_header_does_not_make_another_address(tmp_path_factory: pytest.TempPathFactory) -> None:
    with running(tmp_path_factory.mktemp("rates"), address_rate=3) as site, site.stranger() as one:
        answers = [one.get("/healthz", headers={"x-forwarded-for": f"198.51.100.{n}"}) for n in range(5)]
        assert [a.status_code for a in answers] == [200] * 3 + [429] * 2


def test_behind_the_named_proxy_each_client_counts_for_itself_and_forges_nothing(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    with running(tmp_path_factory.mktemp("rates"), address_rate=2, proxy="127.0.0.1") as site, site.stranger() as one:

        def as_client(forwarded: str) -> int:
            return one.get("/healthz", headers={"x-forwarded-for": forwarded}).status_code

        assert [as_client("203.0.113.9") for _ in range(3)] == [200, 200, 429]
        # What a proxy adds stands last; what a client wrote before it is not believed.
        assert as_client("198.51.100.1, 203.0.113.9") == 429
        assert as_client("203.0.113.10") == 200


def test_guessing_codes_is_slowed_down_by_address_wherever_codes_are_typed(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    with running(tmp_path_factory.mktemp("rates"), guess_rate=4) as site, site.stranger() as one:

        def typed() -> list[int]:
            return [
                one.post("/api/pair", json={"code": "AAAA-AAAA"}).status_code,
                one.post("/s/AAAAAAAAAAAAAAAAAAAAAA", data={"code": "123456"}).status_code,
                one.post("/s/AAAAAAAAAAAAAAAAAAAAAA/shl/A", json={"recipient": "x"}).status_code,
            ]

        assert typed() + typed() == [403, 404, 404, 403, 429, 429]
