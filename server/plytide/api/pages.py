"""Pages that were made lately: kept packed, made once however many ask, and gone with the process."""

from __future__ import annotations

import gzip
from collections import OrderedDict, defaultdict
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Lock

PAGES_KEPT = 16
PACKING = 6  # of 9: a page of 130 KB is 30 in 4 ms


class Pages:
    """The pages looked at last, packed, so that reading on does not make them anew."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[object, ...], tuple[datetime, bytes]] = OrderedDict()
        self._lock = Lock()
        self._making: defaultdict[tuple[object, ...], Lock] = defaultdict(Lock)

    def of(self, key: tuple[object, ...], at: datetime, good: timedelta, make: Callable[[], str]) -> bytes:
        """The page under `key`, made at `at` where none that is kept is still good; who comes meanwhile waits."""
        with self._lock:
            making = self._making[key]
        with making:
            with self._lock:
                kept = self._kept.get(key)
            if kept and at - kept[0] < good:
                return kept[1]
            packed = gzip.compress(make().encode(), PACKING)
            with self._lock:
                self._kept[key] = at, packed
                while len(self._kept) > PAGES_KEPT:
                    self._making.pop(self._kept.popitem(last=False)[0], None)
        return packed
