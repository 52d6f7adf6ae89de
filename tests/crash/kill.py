"""A server that is killed again and again under four clients, and the checker that counts what that cost.

The oracle stands outside the server: the entries for which a client has read a complete 200. Whatever the server
says about itself afterwards is held against that.
"""

from __future__ import annotations

import random
import threading
import time
import uuid
from dataclasses import dataclass
from typing import Any

import httpx
from serving import Server

CLIENTS = 4
UNLIMITED = {"device_rate": "0", "address_rate": "0"}


def entry(client: int, n: int) -> dict[str, Any]:
    """One entry that can be told from every other."""
    stamp = f"{time.time_ns() // 1_000_000:012x}-{n % 0x10000:04x}-{client:08x}"
    return {
        "id": str(uuid.uuid4()), "kind": "note", "limb": None, "at": "2026-03-02T07:10:00.000Z",
        "zone": "Europe/Lisbon", "stamp": stamp, "erased": False, "body": {"text": f"client {client}, {n}"},
    }  # fmt: skip


class Client(threading.Thread):
    """A phone that sends batches, and each of them again until it has read the whole answer."""

    def __init__(self, server: Server, number: int, token: str, ending: threading.Event) -> None:
        super().__init__(daemon=True)  # a test that has failed does not wait for it
        self.server = server
        self.number = number
        self.token = token
        self.ending = ending
        self.acknowledged: dict[str, dict[str, Any]] = {}
        self.standing: dict[str, Any] = {"epoch": None, "cursor": 0}
        self.repeats = 0
        self.strange: list[int] = []

    def run(self) -> None:
        draw, n = random.Random(self.number), 0
        while not self.ending.is_set():
            batch = [entry(self.number, n + k) for k in range(draw.choice([1, 1, 2, 5, 20]))]
            n += len(batch)
            while not self._sent(batch):
                self.repeats += 1
                time.sleep(0.05)

    def _sent(self, batch: list[dict[str, Any]]) -> bool:
        cookies, body = {"plytide": self.token}, {"schema": 1, "entries": batch, **self.standing}
        url = self.server.url
        try:
            with httpx.Client(base_url=url, cookies=cookies, timeout=10) as http:
                answer = http.post("/api/sync", json=body, headers={"origin": url})
                told = answer.json() if answer.status_code == 200 else {}
        except (httpx.HTTPError, ValueError):
            return False
        if answer.status_code != 200:
            self.strange.append(answer.status_code)
            if answer.status_code == 409:  # the server has lost something, and says so
                self.standing = {"epoch": answer.json()["epoch"], "cursor": 0}
            return False
        self.standing = {"epoch": told["epoch"], "cursor": told["cursor"]}
        for result, sent in zip(told["results"], batch, strict=True):
            assert result["id"] == sent["id"]
            assert result["r"] in ("ok", "dup"), result
            self.acknowledged[sent["id"]] = sent
        return True


@dataclass
class Outcome:
    """What the killing cost."""

    rounds: int
    acknowledged: int
    held: int
    repeats: int
    lost: list[str]
    changed: list[str]
    doubled: int
    gaps: int
    strange: list[int]


def paired(server: Server) -> list[str]:
    """Tokens for the clients: the first by the server's own code, the others by codes of the first."""
    code, tokens = server.code, []
    for number in range(CLIENTS):
        with httpx.Client(base_url=server.url, headers={"origin": server.url}, timeout=20) as http:
            answer = http.post("/api/pair", json={"code": code, "name": f"client {number}"})
            assert answer.status_code == 200, answer.text
            tokens.append(http.cookies["plytide"])
            if number < CLIENTS - 1:
                code = http.post("/api/pair/codes").json()["code"]
    return tokens


def killing(server: Server, rounds: int, seed: int) -> Outcome:
    """Start, kill and start again `rounds` times while the clients push; then compare."""
    draw, ending = random.Random(seed), threading.Event()
    server.start()
    clients = [Client(server, number, token, ending) for number, token in enumerate(paired(server))]
    for client in clients:
        client.start()
    for _ in range(rounds):
        time.sleep(draw.uniform(0.2, 0.8))
        server.kill()
        server.start()
    ending.set()
    for client in clients:
        client.join(120)
    outcome = compare(server, clients, rounds)
    server.stop()
    return outcome


def compare(server: Server, clients: list[Client], rounds: int) -> Outcome:
    """The oracle against what the server gives out."""
    acknowledged = {id: sent for client in clients for id, sent in client.acknowledged.items()}
    found: list[dict[str, Any]] = []
    state: dict[str, Any] = {"epoch": None, "cursor": 0}
    with httpx.Client(base_url=server.url, cookies={"plytide": clients[0].token}, timeout=30) as http:
        more = True
        while more:
            body = {"schema": 1, "entries": [], **state}
            answer = http.post("/api/sync", json=body, headers={"origin": server.url}).json()
            found += answer["entries"]
            state, more = {"epoch": answer["epoch"], "cursor": answer["cursor"]}, answer["more"]
    by_id = {entry["id"]: entry for entry in found}
    return Outcome(
        rounds=rounds,
        acknowledged=len(acknowledged),
        held=len(by_id),
        repeats=sum(client.repeats for client in clients),
        lost=[id for id in acknowledged if id not in by_id],
        changed=[id for id, sent in acknowledged.items() if id in by_id and by_id[id] != sent],
        doubled=len(found) - len(by_id),
        gaps=state["cursor"] - len(by_id),  # each entry took one number, so the last number is their count
        strange=[status for client in clients for status in client.strange],
    )
