"""Three phones and a real store, and everything that can go wrong between them.

The oracle stands outside the server: each write is noted with the write that it was made upon. In the end every
replica has to be equal, and no version may stand that somebody had already written over.
"""

from __future__ import annotations

import random
import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest
from plytide import stamps
from plytide.store import EpochChanged, Store, SyncAnswer, merge
from sync.phone import Phone, Request

HOUR = 3_600_000
START = 1_930_000_000_000
IDS = [f"01c06f2a-1000-7000-8000-{n:012x}" for n in range(8)]
SERVER_FAULTS = ("timestamp cursor", "clamp to now", "restamps forgotten", "old epoch")
STAMP_FAULTS = ("clamp to now", "restamps forgotten")
PHONE_FAULTS = (
    "acknowledge without comparing", "no epoch", "stale without winner", "wall clock", "no tie-break",
)  # fmt: skip


@dataclass(frozen=True)
class Write:
    """What the oracle knows of a write: the value it was made upon, and the true time."""

    upon: int | None
    at_ms: int


class World:
    """A store on a file, three phones, the true time, and the oracle's notes."""

    def __init__(self, folder: Path, template: Path, ahead: list[int], corrects: bool, fault: str = "") -> None:
        self.folder, self.fault = folder, fault
        folder.mkdir(parents=True)
        for file in template.iterdir():
            shutil.copyfile(file, folder / file.name)
        self.url = f"sqlite:///{folder / 'plytide.db'}"
        self.store = Store.open(self.url)
        self.logbook = self.store.logbooks()[0].id
        self.now_ms = START
        self.phones = [Phone(f"0000000{n + 1}", ms, corrects, fault) for n, ms in enumerate(ahead)]
        self.writes: dict[int, tuple[str, Write]] = {}
        self.acknowledged: set[tuple[str, str]] = set()
        self.written_at: dict[str, int] = {}  # for the faulty cursor: when each entry last changed
        self.delayed: list[Request] = []
        self.backups: list[Path] = []
        self.restored = False
        # Without the old file nobody knows which stamps it had moved back, so the clocks are not that wrong then.
        self.disk_lost = max(ahead) < stamps.AHEAD_MS

    def close(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)

    # What can happen.

    def tick(self, ms: int) -> None:
        self.now_ms += ms

    def write(self, phone: Phone, id: str, erased: bool = False) -> None:
        value, before = len(self.writes), phone.log.get(id)
        upon = None if before is None else int(before["body"]["text"])
        phone.write(id, value, erased, self.now_ms)
        self.writes[value] = id, Write(upon, self.now_ms)

    def sync(self, phone: Phone, how: str = "", meanwhile: str | None = None) -> None:
        """One request. `how`: lost, answer lost, delayed, twice. `meanwhile`: written while it is on its way."""
        request = phone.request()
        if meanwhile is not None:
            self.write(phone, meanwhile)
        if how == "lost":
            return
        if how == "delayed":
            self.delayed.append(request)
            return
        try:
            answer = self._serve(request)
            if how == "twice":
                answer = self._serve(request)
        except EpochChanged as changed:
            phone.begin_anew(changed.epoch)
            return
        if how != "answer lost":
            phone.take(answer)
            for result in answer.results:
                if result["r"] in ("ok", "dup", "restamped"):
                    self.acknowledged.add((result["id"], result.get("stamp2", result["stamp"])))

    def arrive_late(self) -> None:
        """A request that everybody has given up arrives after all; nobody hears the answer."""
        if self.delayed:
            try:
                self._serve(self.delayed.pop(0))
            except EpochChanged:
                return

    def back_up(self) -> None:
        self.backups.append(self.folder / f"backup-{len(self.backups)}.db")
        self.store.backup(self.backups[-1])

    def restore(self, which: int) -> None:
        if self.backups:
            self.store.close()
            if self.disk_lost:
                for file in self.folder.glob("plytide.db*"):
                    file.unlink()
            Store.restore(self.url, self.backups[which % len(self.backups)])
            self.store = Store.open(self.url)
            self.restored = True

    def _serve(self, request: Request) -> SyncAnswer:
        if self.fault == "timestamp cursor":
            return self._serve_by_time(request)
        return self.store.sync(self.logbook, request.epoch, request.cursor, request.entries, self.now_ms, limit=3)

    def _serve_by_time(self, request: Request) -> SyncAnswer:
        """The fault: what changed after a moment, in place of what changed after a number."""
        done = self.store.sync(self.logbook, request.epoch, 0, request.entries, self.now_ms)
        for result in done.results:
            if result["r"] in ("ok", "restamped"):
                self.written_at[result["id"]] = self.now_ms
        whole = self.store.sync(self.logbook, None, 0, [], self.now_ms)
        docs = [d for d, e in zip(whole.docs, whole.entries, strict=True)
                if self.written_at.get(e["id"], 0) > request.cursor]  # fmt: skip
        return SyncAnswer(done.epoch, self.now_ms, False, done.results, docs, done.changed)

    # What has to hold in the end.

    def settle(self) -> None:
        """Quiet rounds: nothing fails, until nobody has anything to send or to fetch."""
        self.tick(100)
        while self.delayed:
            self.arrive_late()
        for _ in range(60):
            before = [(phone.cursor, phone.epoch, bool(phone.outbox)) for phone in self.phones]
            for phone in self.phones:
                self.sync(phone)
            self.tick(1000)
            if before == [(phone.cursor, phone.epoch, False) for phone in self.phones]:
                break

    def complaints(self) -> list[str]:
        """What is wrong with the world after `settle`."""
        server = {e["id"]: e for e in self.store.sync(self.logbook, None, 0, [], self.now_ms).entries}
        found = [f"phone {n} differs" for n, phone in enumerate(self.phones) if phone.log != server]
        found += [f"phone {n} still waits" for n, phone in enumerate(self.phones) if phone.outbox]
        for id in {id for id, _ in self.writes.values()}:
            standing = int(server[id]["body"]["text"]) if id in server else None
            found += self._lost(id, standing)
        if not self.restored:
            kept = {(e.id, e.stamp) for e in self.store.all_versions(self.logbook)}
            found += [f"acknowledged {version} is gone" for version in self.acknowledged - kept]
        return found

    def _lost(self, id: str, standing: int | None) -> list[str]:
        mine = {value: write for value, (of, write) in self.writes.items() if of == id}
        over = {write.upon for write in mine.values()}
        latest = [value for value in mine if value not in over]  # nobody wrote upon these
        if standing not in latest:
            return [f"{standing} stands, but {latest} came after it"]
        if not any(phone.ahead_ms for phone in self.phones):
            newest = max(mine[value].at_ms for value in latest)
            if mine[standing].at_ms < newest:
                return [f"{standing} stands, but a later one was written with a clock as good"]
        return []


def schedule(world: World, draw: random.Random, steps: int = 60) -> None:
    """A random life of so many steps."""
    for _ in range(steps):
        phone = draw.choice(world.phones)
        what = draw.choices(
            ["write", "sync", "lost", "answer lost", "delayed", "twice", "late", "tick", "offline", "backup",
             "restore"],
            [30, 22, 4, 8, 4, 3, 4, 14, 3, 4, 4],
        )[0]  # fmt: skip
        if what == "write":
            world.write(phone, draw.choice(IDS), draw.random() < 0.15)
        elif what == "tick":
            world.tick(draw.choice([0, 1, 1, 5, 400, 61_000, 7 * 60_000, 3 * HOUR]))
        elif what == "offline":
            for _ in range(draw.randint(2, 5)):
                world.write(phone, draw.choice(IDS))
                world.tick(draw.choice([0, 1, 60_000]))
        elif what == "late":
            world.arrive_late()
        elif what == "backup":
            world.back_up()
        elif what == "restore":
            world.restore(draw.randrange(8))
        else:
            meanwhile = draw.choice(IDS) if draw.random() < 0.3 else None
            world.sync(phone, "" if what == "sync" else what, meanwhile)


def clocks(draw: random.Random) -> list[int]:
    """How wrong three clocks are: now and then not at all, else up to a day behind and three days ahead."""
    if draw.random() < 0.3:
        return [0, 0, 0]
    return [draw.choice([0, 0, -25 * HOUR, -90_000, 20_000, 4 * 60_000, 20 * 60_000, 72 * HOUR]) for _ in range(3)]


def plant(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Put a fault into the server's merge, where it belongs there."""
    if fault == "clamp to now":
        monkeypatch.setattr(stamps, "AHEAD_MS", 0)
        monkeypatch.setattr(merge, "after", lambda stamp, device: "")
        monkeypatch.setattr(merge, "_stamp", lambda sent, now, now_ms: stamps.ceiling(sent, now_ms))
    elif fault == "restamps forgotten":
        monkeypatch.setattr("plytide.store.rows.moved", lambda *_: {})
    elif fault == "old epoch":  # a restored logbook that goes on as if it had never been another
        monkeypatch.setattr("plytide.store.backup._begin_epochs", lambda _: None)


def live(folder: Path, template: Path, seed: int, fault: str = "") -> list[str]:
    """One life from beginning to end; what was wrong at the end of it."""
    draw = random.Random(seed)
    ahead, corrects = clocks(draw), draw.random() < 0.5
    if fault in STAMP_FAULTS:  # these show in few lives, unless one clock is a little ahead and one far
        ahead, corrects = [4 * 60_000, 72 * HOUR, 20 * 60_000], False
    world = World(folder / f"{seed}", template, ahead, corrects, fault)
    try:
        schedule(world, draw)
        world.settle()
        return world.complaints()
    finally:
        world.close()


