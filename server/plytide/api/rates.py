"""How many requests one device, or one address, may make: token buckets in memory.

They keep a runaway phone or a guesser from using the server up; they are not what keeps a code secret (the counted
tries in the database are). Each process counts for itself.
"""

from __future__ import annotations

import ipaddress
import math
import time
from collections import OrderedDict
from collections.abc import Callable

from starlette.types import Scope

from plytide.api.answers import Refused
from plytide.config import Settings

KEPT = 10_000  # buckets at most; the least lately used go first


class Rate:
    """`per_minute` requests for each key, all of which may come at once; 0 is no limit."""

    def __init__(self, per_minute: int, clock: Callable[[], float] = time.monotonic) -> None:
        self.per_minute = per_minute
        self.clock = clock
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def check(self, key: str) -> None:
        """Count one request, or refuse it with 429 and the seconds until the next one is let through."""
        if not self.per_minute:
            return
        now = self.clock()
        left, then = self._left.pop(key, (float(self.per_minute), now))
        left = min(self.per_minute, left + (now - then) * self.per_minute / 60)
        refused = left < 1
        self._left[key] = (left if refused else left - 1, now)
        if len(self._left) > KEPT:
            self._left.popitem(last=False)
        if refused:
            wait = max(1, math.ceil((1 - left) * 60 / self.per_minute))
            raise Refused(429, "too_many", "Too many requests at once. Nothing was lost; it is tried again.",
                          after_s=wait)  # fmt: skip


class Rates:
    """The limits of one server."""

    def __init__(self, settings: Settings) -> None:
        self.address = Rate(settings.address_rate)
        self.device = Rate(settings.device_rate)
        self.guess = Rate(settings.guess_rate)


def address_of(scope: Scope) -> str:
    """The client's IPv4, or the /64 of its IPv6: one household holds at least that many addresses."""
    client = scope.get("client")
    try:
        address = ipaddress.ip_address(client[0].split("%")[0] if client else "")
    except ValueError:
        return "local"  # a unix socket
    if isinstance(address, ipaddress.IPv6Address):
        mapped = address.ipv4_mapped
        return str(mapped or ipaddress.ip_network((address, 64), strict=False))
    return str(address)
