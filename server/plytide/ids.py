"""Ids of entries: UUID version 7 (RFC 9562), so that ids sort by the time they were made.

The phone makes them in web/src/log/uuid.ts; the server only where it writes entries itself (the demo, an import).
"""

import secrets

MS_BITS = 48


def uuid7(ms: int, random: bytes | None = None) -> str:
    """An id from milliseconds since 1970 and ten random bytes, of which 74 bits are used."""
    random = secrets.token_bytes(10) if random is None else random
    tail = int.from_bytes(random, "big")
    rand_a, rand_b = (tail >> 64) & 0xFFF, tail & ((1 << 62) - 1)
    text = f"{(ms & ((1 << MS_BITS) - 1)) << 80 | 0x7 << 76 | rand_a << 64 | 0b10 << 62 | rand_b:032x}"
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))


def ms_of(uuid: str) -> int:
    """The milliseconds since 1970 that a version 7 id carries."""
    return int(uuid[:8] + uuid[9:13], 16)
