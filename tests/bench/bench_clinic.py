"""The page behind a link, over HTTP: time and size for four weeks, a year and ten years; and the export of ten years.

    .venv/bin/python tests/bench/bench_clinic.py

The log is the demo's four months over and over, moved back in time: about 28,000 entries in ten years. "Typed" is the
first look of a reader who has the box before them and types the code, which takes 2 seconds here: the page is made
meanwhile. "Cold" is a first look without that, as where the log changes between the code and the page. "Again" is a
page that was looked at before. The export is read piece by piece; its memory is what the server's grew by at most.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
from plytide import demo
from plytide.exchange.lines import keep
from plytide.ids import uuid7
from plytide.store import LinkSpec, Store
from serving import Server

YEARS, LOOKS, SPAN = 10, 3, timedelta(days=120)
TYPING_S = 2.0
SPANS = {"4 weeks": 28, "a year": 365, "ten years": 3650}
BUDGET_MS = {"4 weeks": 150, "a year": 150, "ten years": 500}
BUDGET_BYTES = 150_000
STANDING = {"profile", "sock", "visit", "need", "question", "option"}  # told once, not again every four months


def ten_years(now: datetime) -> list[dict[str, Any]]:
    """The demo's days repeated back in time; ids new, so that no entry replaces another."""
    once = demo.scenario(now, "Europe/Lisbon")
    told: list[dict[str, Any]] = []
    for back in range(int(YEARS * 365 / SPAN.days)):
        for line in once if back == 0 else [e for e in once if e["kind"] not in STANDING]:
            at = datetime.fromisoformat(line["at"]) - back * SPAN
            ms = int(at.timestamp() * 1000)
            moved = {"id": uuid7(ms), "at": at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), "stamp": f"{ms:012x}-0000-0a0b0c0d"}
            told.append(line if back == 0 else {**line, **moved})
    return told


def call(server: Server, method: str, path: str, body: str = "", **headers: str) -> tuple[HTTPResponse, bytes]:
    """One request with a connection of its own."""
    with closing(HTTPConnection("127.0.0.1", server.port, timeout=60)) as connection:
        connection.request(method, path, body, {"origin": server.url, **headers})
        answer = connection.getresponse()
        return answer, answer.read()


def look(server: Server, token: str, session: str) -> tuple[float, int]:
    """Milliseconds until the page is here, and its bytes."""
    began = time.perf_counter()
    answer, text = call(server, "GET", f"/s/{token}", cookie=f"plytide-view={session}")
    spent = (time.perf_counter() - began) * 1000
    assert answer.status == 200
    assert b"Day by day" in text or b"Week by week" in text or b"Month by month" in text, "the page did not open"
    return spent, len(text)


def typed(server: Server, token: str, code: str) -> float:
    """Milliseconds for the page after the code, of a reader who had the box first."""
    call(server, "GET", f"/s/{token}")
    time.sleep(TYPING_S)
    form = {"content-type": "application/x-www-form-urlencoded"}
    answer, _ = call(server, "POST", f"/s/{token}", f"code={code}", **form)
    assert answer.status == 303, answer.status
    return look(server, token, str(answer.headers["set-cookie"]).split("=")[1].split(";")[0])[0]


def looks(
    server: Server, store: Store, logbook: str, spec: LinkSpec, now: datetime
) -> tuple[list[float], list[float], list[float], int]:
    """(times of looks after typing, of cold ones, of looks after them, bytes): a link for each, for pages are kept."""
    prepared, cold, again, size = [], [], [], 0
    for _ in range(LOOKS):
        link = store.make_link(logbook, spec, now)
        prepared.append(typed(server, link.token, str(link.code)))
        link = store.make_link(logbook, spec, now)
        session = store.open_link(link.token, link.code, now).session
        spent, size = look(server, link.token, session)
        cold.append(spent)
        again.append(look(server, link.token, session)[0])
    return prepared, cold, again, size


def memory(server: Server, name: str) -> int:
    """A line of the server's own account of its memory, in KiB: VmRSS now, VmHWM the most since it was last reset."""
    status = Path(f"/proc/{server.process.pid}/status").read_text()
    return int(next(line for line in status.splitlines() if line.startswith(name)).split()[1])


def export(server: Server, store: Store, logbook: str, now: datetime) -> None:
    """The log as each of its files: bytes, seconds, and how much the server's memory grew meanwhile."""
    code = store.new_pair_code(logbook, now).code
    answer, _ = call(server, "POST", "/api/pair", f'{{"code": "{code}"}}', **{"content-type": "application/json"})
    cookie = str(answer.headers["set-cookie"]).split(";")[0]
    print(f"{'export of ten years':22}{'bytes':>12}{'seconds':>9}{'grew by KiB':>13}")
    for form in ("jsonl", "csv", "fhir"):
        Path(f"/proc/{server.process.pid}/clear_refs").write_text("5")
        before, began, size = memory(server, "VmRSS"), time.perf_counter(), 0
        with closing(HTTPConnection("127.0.0.1", server.port, timeout=60)) as connection:
            connection.request("GET", f"/api/export?format={form}", headers={"cookie": cookie})
            answer = connection.getresponse()
            while piece := answer.read(1 << 16):
                size += len(piece)
        took = time.perf_counter() - began
        print(f"{form:22}{size:12,}{took:9.1f}{memory(server, 'VmHWM') - before:13,}")


def main() -> None:
    now = datetime.now(UTC)
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder) / "data", settings={"address_rate": "0", "guess_rate": "0"})
        server.start()
        with closing(Store.open(f"sqlite:///{Path(folder) / 'data' / 'plytide.db'}")) as store:
            logbook, told = store.create_logbook(), ten_years(now)
            keep(store, logbook, told, now)
            print(f"{len(told):,} entries in {YEARS} years")
            print(f"{'':22}{'typed ms':>10}{'worst':>7}{'cold ms':>9}{'worst':>7}{'again':>7}{'budget':>8}{'bytes':>9}")
            colds = {}
            for kind, live in (("live", True), ("snapshot", False)):
                for name, days in SPANS.items():
                    first, cold, again, size = looks(server, store, logbook, LinkSpec(days=days, live=live), now)
                    colds[name, kind] = statistics.median(cold)
                    row = f"{statistics.median(first):10.0f}{max(first):7.0f}{colds[name, kind]:9.0f}{max(cold):7.0f}"
                    row += f"{statistics.median(again):7.0f}{BUDGET_MS[name]:8}{size:9,}"
                    print(f"{name + ', ' + kind:22}{row}" + ("" if size <= BUDGET_BYTES else "  over"))
            print(f"ten years take {colds['ten years', 'live'] / colds['a year', 'live']:.1f} times a year")
            export(server, store, logbook, now)
        server.kill()


if __name__ == "__main__":
    main()
