"""Ids: UUID version 7 as RFC 9562 has it."""

import uuid
from datetime import datetime

from hypothesis import given
from hypothesis import strategies as st
from plytide.entries import is_id
from plytide.ids import ms_of, uuid7

# RFC 9562, appendix A.6: Tuesday, February 22, 2022 2:22:22.00 PM GMT-05:00; rand_a CC3, rand_b 18C4DC0C0C07398F.
RFC_VALUE = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
RFC_MS = 0x017F22E279B0


def test_the_example_of_the_rfc() -> None:
    assert round(datetime.fromisoformat("2022-02-22T14:22:22-05:00").timestamp() * 1000) == RFC_MS
    random = (0xCC3 << 64 | 0x18C4DC0C0C07398F).to_bytes(10, "big")
    assert uuid7(RFC_MS, random) == RFC_VALUE
    assert ms_of(RFC_VALUE) == RFC_MS
    assert is_id(RFC_VALUE)


@given(st.integers(0, 2**48 - 1), st.binary(min_size=10, max_size=10))
def test_version_and_variant_are_those_of_the_rfc(ms: int, random: bytes) -> None:
    made = uuid.UUID(uuid7(ms, random))  # the standard library as the judge
    assert made.version == 7
    assert made.variant == uuid.RFC_4122
    assert made.int >> 80 == ms
    assert ms_of(str(made)) == ms


@given(st.lists(st.integers(0, 2**48 - 1), min_size=2, max_size=50))
def test_ids_sort_by_the_time_they_were_made(times: list[int]) -> None:
    ids = [uuid7(ms) for ms in sorted(set(times))]
    assert ids == sorted(ids)


def test_a_thousand_ids_of_one_millisecond_differ() -> None:
    assert len({uuid7(RFC_MS) for _ in range(1000)}) == 1000
