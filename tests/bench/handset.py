"""A phone on a bad network with a wrong clock, over real HTTP: the simulation's phone in a thread of its own."""

from __future__ import annotations

import http.client
import json
import random
import threading
import time
from collections import Counter
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any

from plytide.ids import uuid7
from sync.phone import Phone

HOUR = 3_600_000
CLOCKS = [0, 0, 0, 0, -25 * HOUR, -90_000, 20_000, 20 * 60_000, 72 * HOUR]
TROUBLES = {"none": 70, "request lost": 5, "answer lost": 8, "twice": 6, "offline": 3, "late": 8}
BODIES: dict[str, list[dict[str, Any]]] = {
    "ply": [{"total": n} for n in range(3, 11)],
    "don": [{"total": 4}, {"total": 5}],
    "doff": [{}],
    "sore": [{"height": 0.4, "angle": angle, "intensity": 4, "feel": "rub", "phantom": False} for angle in (10, 95)],
    "comfort": [{"score": n} for n in range(4, 10)],
    "note": [{"text": "Long day on my feet, the socket felt loose by four."}],
}
OFTEN = {"ply": 8, "don": 2, "doff": 2, "sore": 2, "comfort": 1, "note": 1}


class Handset(threading.Thread):
    """Taps, and syncs after each tap; in about three of ten something goes wrong on the way."""

    def __init__(self, port: int, number: int, token: str, ending: threading.Event, pause_s: float) -> None:
        super().__init__(daemon=True)
        self.draw = random.Random(number)
        self.phone = Phone(f"{number + 1:08x}", self.draw.choice(CLOCKS), corrects=self.draw.random() < 0.5)
        self.port, self.ending, self.pause_s = port, ending, pause_s
        origin = f"http://127.0.0.1:{port}"
        self.headers = {"content-type": "application/json", "origin": origin, "cookie": f"plytide={token}"}
        self.wire: http.client.HTTPConnection | None = None
        self.at = datetime.now(UTC) - timedelta(days=300)  # entries are of days gone by: ten taps make a day
        self.requests = 0
        self.latency: list[tuple[float, float]] = []  # (when, milliseconds)
        self.troubles: Counter[str] = Counter()
        self.strange: Counter[int] = Counter()

    def run(self) -> None:
        offline = 0
        time.sleep(self.draw.random() * self.pause_s)
        while not self.ending.is_set():
            self.tap()
            trouble = self.draw.choices(list(TROUBLES), list(TROUBLES.values()))[0]
            offline = max(offline - 1, 0)
            if trouble == "offline":
                offline = self.draw.randint(3, 30)
            if not offline:
                self.sync(trouble)
            self.troubles[trouble] += 1
            self.ending.wait(self.pause_s * self.draw.uniform(0.5, 1.5))

    def settle(self) -> None:
        """On a good network, until there is nothing to send or to fetch."""
        while True:
            before = (self.phone.cursor, self.phone.epoch, len(self.phone.outbox))
            self.sync("none")
            if before == (self.phone.cursor, self.phone.epoch, 0):
                break
        if self.wire:
            self.wire.close()

    def tap(self) -> None:
        """A new entry; or an earlier one put right, or erased."""
        phone, now_ms = self.phone, time.time_ns() // 1_000_000
        self.at += timedelta(minutes=self.draw.uniform(30, 250))
        kind = self.draw.choices(list(OFTEN), list(OFTEN.values()))[0]
        before: dict[str, Any] = {}
        if phone.log and self.draw.random() < 0.15:
            before = self.draw.choice(list(phone.log.values()))
            phone.clock.see(before["stamp"])
            kind = before["kind"]
        entry = {
            "id": uuid7(now_ms), "limb": None if kind == "note" else "left", "zone": "Europe/Lisbon",
            "at": self.at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), **before, "kind": kind,
            "stamp": phone.clock.next(now_ms + phone.ahead_ms - phone.known_ms),
            "erased": bool(before) and self.draw.random() < 0.2, "body": self.draw.choice(BODIES[kind]),
        }  # fmt: skip
        phone.log[entry["id"]] = phone.outbox[entry["id"]] = entry

    def sync(self, trouble: str) -> None:
        """One request, and what may befall it."""
        asked = self.phone.request()
        body = json.dumps({"schema": 1, "epoch": asked.epoch, "cursor": asked.cursor, "entries": asked.entries})
        self.requests += 1
        try:
            if trouble in ("request lost", "answer lost"):
                self._send(body, len(body) // 2 if trouble == "request lost" else len(body))
                self._hang_up()
                return
            if trouble == "twice":
                self._ask(body)
            began = time.perf_counter()
            status, told = self._ask(body, self.draw.random() / 5 if trouble == "late" else 0)
            taken = (time.perf_counter() - began) * 1000
        except (OSError, http.client.HTTPException):
            self._hang_up()
            self.troubles["cut"] += 1
            return
        if status == 200:
            if trouble == "none":
                self.latency.append((time.monotonic(), taken))
            self.phone.take(SimpleNamespace(**told))  # type: ignore[arg-type]
        elif status == 409:
            self.phone.begin_anew(told["epoch"])
        else:
            self.strange[status] += 1

    def _send(self, body: str, length: int, late_s: float = 0) -> http.client.HTTPConnection:
        if self.wire is None:
            self.wire = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        self.wire.putrequest("POST", "/api/sync")
        for name, value in {**self.headers, "content-length": str(len(body))}.items():
            self.wire.putheader(name, value)
        self.wire.endheaders()
        time.sleep(late_s)
        self.wire.send(body[:length].encode())
        return self.wire

    def _ask(self, body: str, late_s: float = 0) -> tuple[int, dict[str, Any]]:
        answer = self._send(body, len(body), late_s).getresponse()
        return answer.status, json.loads(answer.read())

    def _hang_up(self) -> None:
        if self.wire is not None:
            self.wire.close()
        self.wire = None
