"""Making summaries afresh: where entries have come since, and now and then because time itself moves.

There is no queue to lose: what is to be done is read off the store, where a summary stands at a lower number than its
logbook. A thread inside the server does it by default; `plytide worker` runs the same loop by itself. Several share the
work by claims that end with whoever holds them.
"""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from plytide import insight
from plytide.entries import Entry
from plytide.logs import log
from plytide.store import EpochChanged, Store, StoreBusy

LOOK_S = 60.0  # how often to look without being told, in a server that is told of what it takes in
APART_S = 2.0  # the same for a worker that runs by itself
DELAY_S = 1.0  # from an entry to its summary where nobody waits for it: more entries may be on their way
KEPT_ENTRIES = 100_000  # in readings kept in memory: ten years of one wearer, or the last months of many
PAGE = 2000
ROUND_S = 10.0  # at most so long by one list of what is due: what came in meanwhile may be more urgent than its rest
REST = 3  # after a summary that took t, its logbook rests 3 t: entries that pour in do not use up the processor


@dataclass
class Kept:
    """A logbook as far as it was read: only what came since has to be read for the next summary."""

    epoch: str | None = None
    cursor: int = 0
    entries: int = 0
    reading: insight.Reading = field(default_factory=insight.Reading)

    def forget(self) -> None:
        """Begin from the start: the logbook was restored, and may lack what was read."""
        self.epoch, self.cursor, self.entries, self.reading = None, 0, 0, insight.Reading()


def recompute(store: Store, logbook_id: str, now: datetime, kept: Kept | None = None) -> int:
    """Make a logbook's summary as of `now` and keep it; answers the number that it stands at."""
    now = now.replace(microsecond=now.microsecond // 1000 * 1000)  # a summary is known by its milliseconds
    kept = Kept() if kept is None else kept
    more = True
    while more:
        try:
            page = store.sync(logbook_id, kept.epoch, kept.cursor, (), 0, None, PAGE)
        except EpochChanged:
            kept.forget()
            continue
        kept.reading.take(Entry.from_json(doc) for doc in page.docs)
        kept.epoch, kept.cursor, kept.entries = page.epoch, page.cursor, kept.entries + len(page.docs)
        more = page.more
    summary = insight.summarise((), now, kept.cursor, kept=kept.reading)
    store.put_summary(logbook_id, kept.cursor, dict(summary), now)
    return kept.cursor


class Worker:
    """Keeps summaries fresh.

    `minutes`: the age at which one is made anew without new entries; 0 is never. `look_s`: how often to look unasked.
    """

    def __init__(self, store: Store, minutes: int, look_s: float = LOOK_S) -> None:
        self.store = store
        self.age = timedelta(minutes=minutes) if minutes else None
        self.look_s = look_s
        self._told = threading.Event()
        self._stopping = threading.Event()
        self._made = threading.Condition()
        self._at: dict[str, int] = {}  # logbook: the number that its summary stands at
        self._ready: dict[str, float] = {}  # logbook: until when it rests
        self._later: dict[str, float] = {}  # logbook: when what was noticed is to be looked at
        self._kept: OrderedDict[str, Kept] = OrderedDict()  # the logbook read last stands last
        self._thread: threading.Thread | None = None

    def start(self) -> None:
        """Begin, in a thread of its own."""
        self._thread = threading.Thread(target=self.run, name="worker", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """End, and wait for it."""
        self.end()
        if self._thread is not None:
            self._thread.join()

    def end(self) -> None:
        """Ask `run` to return when the summary in hand is done."""
        self._stopping.set()
        self._told.set()

    def notice(self, logbook_id: str) -> None:
        """Something was written into a logbook: its summary is made soon, or at once if somebody waits for it."""
        if logbook_id not in self._later:
            self._later[logbook_id] = time.monotonic() + DELAY_S
            self._told.set()

    def wait(self, logbook_id: str, seq: int, seconds: float) -> bool:
        """Wait until the logbook's summary stands at `seq`, at most so long; whether it does.

        Not a moment where it cannot come in that time: no thread here to make it, or a logbook that rests for longer.
        """
        if self._thread is None or self._ready.get(logbook_id, 0.0) - time.monotonic() > seconds:
            seconds = 0
        elif self._later.pop(logbook_id, None) is not None:
            self._told.set()
        with self._made:
            return self._made.wait_for(lambda: self._at.get(logbook_id, -1) >= seq, seconds)

    def run(self) -> None:
        """Look, work, wait; until stopped. A summary that cannot be made is a line in the log, and tried again."""
        while not self._stopping.is_set():
            try:
                pause = self.look()
            except Exception as error:
                log.error("event=worker_failed", exc_info=error)
                pause = self.look_s
            self._told.wait(pause)
            self._told.clear()

    def look(self) -> float:
        """Make every summary that is due, for a while; answers the seconds until one may be due again."""
        pause, began = self.look_s, time.monotonic()
        for logbook_id in self.store.due(datetime.now(UTC), self.age):
            due_at = max(self._ready.get(logbook_id, 0.0), self._later.get(logbook_id, 0.0))
            if self._stopping.is_set() or time.monotonic() - began > ROUND_S:
                return 0.0
            if (left := due_at - time.monotonic()) > 0:
                pause = min(pause, left)
            else:
                self._make(logbook_id)
        return pause

    def _make(self, logbook_id: str) -> None:
        now = datetime.now(UTC)
        self._later.pop(logbook_id, None)
        began = time.monotonic()
        kept = self._kept.pop(logbook_id, Kept())  # not put back when it fails: the next try begins afresh
        try:
            with self.store.claim(logbook_id, now, self.age) as mine:
                seq = recompute(self.store, logbook_id, now, kept) if mine else None
        except Exception as error:
            log.error("event=summary_failed", exc_info=error)
            # A log that cannot be read rests for a while; a database that is away may be back in a moment.
            self._ready[logbook_id] = time.monotonic() + (APART_S if isinstance(error, StoreBusy) else LOOK_S)
            return
        if kept.entries:
            self._kept[logbook_id] = kept
        while len(self._kept) > 1 and sum(k.entries for k in self._kept.values()) > KEPT_ENTRIES:
            self._kept.popitem(last=False)
        if seq is None:
            return  # another worker has it in hand, or was faster
        ended = time.monotonic()
        self._ready[logbook_id] = ended + REST * (ended - began)
        with self._made:
            self._at[logbook_id] = seq
            self._made.notify_all()
        log.debug("event=summary ms=%.0f", (ended - began) * 1000)
