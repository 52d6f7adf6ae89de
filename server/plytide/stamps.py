"""Hybrid logical clock stamps: the one order in which versions of an entry replace each other.

A stamp is ``mmmmmmmmmmmm-cccc-dddddddd``: 12 hex digits of milliseconds since 1970, 4 of counter, 8 of device.
Comparing two stamps as strings compares them as events, so no other ordering rule exists anywhere.
The same rules stand in web/src/log/stamp.ts; tests/vectors/stamps.json holds both to them.
"""

import re
from dataclasses import dataclass

# A stamp further ahead of the server than this is moved back to exactly this point.
AHEAD_MS = 5 * 60 * 1000
COUNTER_MAX = 0xFFFF
MS_MAX = 0xFFFF_FFFF_FFFF

_FORM = re.compile(r"[0-9a-f]{12}-[0-9a-f]{4}-[0-9a-f]{8}\Z")


def is_stamp(text: object) -> bool:
    """Whether `text` is a well-formed stamp."""
    return isinstance(text, str) and _FORM.match(text) is not None


def make(ms: int, counter: int, device: str) -> str:
    """A stamp from milliseconds, counter and an 8-hex device."""
    return f"{ms:012x}-{counter:04x}-{device}"


def ms_of(stamp: str) -> int:
    """Milliseconds since 1970 that a stamp carries."""
    return int(stamp[:12], 16)


def counter_of(stamp: str) -> int:
    """The counter that a stamp carries."""
    return int(stamp[13:17], 16)


def device_of(stamp: str) -> str:
    """The 8-hex device that a stamp carries."""
    return stamp[18:]


def after(stamp: str, device: str) -> str:
    """The next stamp of a device that has seen `stamp`: one count on, or the next millisecond when that is full."""
    ms, counter = ms_of(stamp), counter_of(stamp) + 1
    return make(ms, counter, device) if counter <= COUNTER_MAX else make(ms + 1, 0, device)


@dataclass
class Clock:
    """A device's clock. `last` is the greatest stamp it has made or seen."""

    device: str
    last: str = ""

    def next(self, now_ms: int) -> str:
        """A stamp greater than every stamp made or seen, as near to the wall clock as that allows."""
        now_ms = min(max(now_ms, 0), MS_MAX)
        if not self.last or now_ms > ms_of(self.last):
            self.last = make(now_ms, 0, self.device)
        else:
            self.last = after(self.last, self.device)
        return self.last

    def see(self, stamp: str) -> None:
        """Take note of a stamp from elsewhere, so that what is written next comes after it."""
        if stamp > self.last:
            self.last = stamp


def ceiling(stamp: str, now_ms: int) -> str:
    """The stamp itself, or, when it is further ahead than AHEAD_MS, its re-stamped form at that limit.

    Clamping to *now* instead would let an older write of another device win over a newer one of this device.
    """
    limit = now_ms + AHEAD_MS
    return stamp if ms_of(stamp) <= limit else make(limit, counter_of(stamp), device_of(stamp))
