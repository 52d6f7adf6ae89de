"""A phone as the page is one, in few lines: a log, an outbox, a cursor, an epoch and a clock of its own.

Its faults are planted, to show that the simulation sees them. The rules are those of web/src/log.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from plytide import stamps
from plytide.stamps import Clock
from plytide.store import SyncAnswer

Entry = dict[str, Any]
BATCH = 4  # small, so that an outbox often takes several requests


class WallClock(Clock):
    """Fault: the wall clock alone, whatever was seen before."""

    def next(self, now_ms: int) -> str:
        self.last = stamps.make(max(now_ms, 0), 0, self.device)
        return self.last


class MillisecondClock(Clock):
    """Fault: nothing decides between two versions of the same millisecond."""

    def next(self, now_ms: int) -> str:
        seen = stamps.ms_of(self.last) if self.last else 0
        self.last = stamps.make(max(now_ms, seen, 0), 0, "00000000")
        return self.last


CLOCKS = {"wall clock": WallClock, "no tie-break": MillisecondClock}


@dataclass
class Request:
    """What goes over the wire."""

    epoch: str | None
    cursor: int
    entries: list[Entry]


@dataclass
class Phone:
    """One device. `ahead_ms`: how wrong its clock is; `corrects`: it goes by the server's once it has heard it."""

    device: str
    ahead_ms: int
    corrects: bool = False
    fault: str = ""
    log: dict[str, Entry] = field(default_factory=dict)
    outbox: dict[str, Entry] = field(default_factory=dict)
    epoch: str | None = None
    cursor: int = 0

    def __post_init__(self) -> None:
        self.clock = CLOCKS.get(self.fault, Clock)(self.device)
        self.known_ms = 0  # how wrong the phone knows its clock to be

    def write(self, id: str, value: int, erased: bool, now_ms: int) -> Entry:
        """A tap: the entry is true from now on, and waits to be sent."""
        if id in self.log:
            self.clock.see(self.log[id]["stamp"])
        stamp = self.clock.next(now_ms + self.ahead_ms - self.known_ms)
        entry = {
            **self.log.get(id, {}),  # fields that this version does not know stay
            "id": id, "kind": "note", "limb": None, "at": "2031-03-02T07:10:00.000Z", "zone": "UTC",
            "stamp": stamp, "erased": erased, "body": {"text": str(value)},
        }  # fmt: skip
        self.log[id] = self.outbox[id] = entry
        return entry

    def request(self) -> Request:
        """What the phone sends next."""
        return Request(self.epoch, self.cursor, list(self.outbox.values())[:BATCH])

    def take(self, answer: SyncAnswer) -> None:
        """An answer that was read whole: acknowledgements first, then what is new; then the cursor."""
        for result in answer.results:
            self._acknowledged(result)
        for entry in answer.entries:
            self._pulled(entry)
        if self.corrects:
            self.known_ms = self.ahead_ms
            if any(result["r"] == "restamped" for result in answer.results):
                # Its future is over: on from what stands, as another device, for the stamps of one only ever grow.
                self.clock = type(self.clock)(f"{int(self.clock.device, 16) + 16:08x}")
        self.epoch, self.cursor = answer.epoch, answer.cursor

    def begin_anew(self, epoch: str) -> None:
        """The server was restored: from the start, and everything goes out again."""
        self.epoch = epoch
        if self.fault != "no epoch":
            self.cursor = 0
            self.outbox = {**self.log, **self.outbox}

    def _acknowledged(self, result: dict[str, Any]) -> None:
        id, sent = result["id"], result["stamp"]
        if result["r"] == "stale" and self.fault != "stale without winner":
            settled = result["winner"]
        elif result["r"] == "restamped":
            settled = {**self.log[id], "stamp": result["stamp2"], "moved": result["moved"]}
        else:
            settled = self.log[id]
        if self.log[id]["stamp"] == sent or settled["stamp"] > self.log[id]["stamp"]:
            self.log[id] = settled
        if result["r"] != "restamped":
            self.clock.see(self.log[id]["stamp"])
        waiting = self.outbox.get(id)
        if waiting and (waiting["stamp"] == sent or self.fault == "acknowledge without comparing"):
            del self.outbox[id]

    def _pulled(self, entry: Entry) -> None:
        mine = self.log.get(entry["id"])
        self.clock.see(entry["stamp"])
        if mine is None or entry["stamp"] > mine["stamp"]:
            self.log[entry["id"]] = entry
