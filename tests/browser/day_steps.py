"""For the day's screens: a wearer's log in a zone where it is early afternoon, put on a server or on a phone."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import httpx
from browser.limb_steps import put
from browser.plytide_server import Server
from playwright.sync_api import Page, expect
from plytide.stamps import make

AXE = Path(__file__).parents[2] / "web/node_modules/axe-core/axe.min.js"


def afternoon() -> str:
    """A zone in which it is between 13:00 and 14:00, so that "today" is the same day whenever the tests run."""
    ahead = (13 - datetime.now(UTC).hour + 11) % 24 - 11
    return f"Etc/GMT{-ahead:+d}" if ahead else "Etc/GMT"  # the sign of these names is the other way round


class Wearer:
    """Entries by day (0 is today) and clock hour. `limb` is the limb of those that name none."""

    def __init__(self, limb: str = "right", **profile: Any) -> None:
        self.zone = afternoon()
        self.limb = limb
        self.entries: list[dict[str, Any]] = []
        limbs = profile.pop("limbs", [{"side": limb, "level": "transtibial", "fitted_by": ["socks"]}])
        self.add(-40, 9, "profile", limbs=limbs, **profile)

    @property
    def today(self) -> date:
        """The local date."""
        return datetime.now(ZoneInfo(self.zone)).date()

    def add(self, day: float, hour: float, kind: str, limb: str | None = None, **body: Any) -> str:
        """One entry; returns its id."""
        wall = datetime.combine(self.today, time(), ZoneInfo(self.zone)) + timedelta(days=day, hours=hour)
        at = wall.astimezone(UTC)
        ms = round(at.timestamp() * 1000)
        n = len(self.entries) + 1
        limbless = kind in ("profile", "sock", "note", "told", "day", "activity")
        entry = {
            "id": f"0198f2c4-0000-7000-8000-{n:012x}", "kind": kind, "limb": None if limbless else limb or self.limb,
            "at": at.strftime("%Y-%m-%dT%H:%M:%S.") + f"{ms % 1000:03d}Z", "zone": self.zone,
            "stamp": make(ms, n, "0000d1a7"), "erased": False, "body": body,
        }  # fmt: skip
        self.entries.append(entry)
        return str(entry["id"])

    def drawer(self) -> tuple[str, str, str]:
        """Two 5 ply, one 3 ply, two 1 ply: their ids."""
        return (
            self.add(-40, 9.1, "sock", name="5 ply", ply=5, count=2),
            self.add(-40, 9.2, "sock", name="3 ply", ply=3, count=1),
            self.add(-40, 9.3, "sock", name="1 ply", ply=1, count=2),
        )

    def worn(self, day: float, *steps: tuple[float, int], off: float | None = 21) -> None:
        """A day on the leg: donned with the first (hour, total), changed at the others."""
        for index, (hour, total) in enumerate(steps):
            self.add(day, hour, "ply" if index else "don", total=total)
        if off is not None:
            self.add(day, off, "doff")

    def month(self) -> None:
        """Thirty usual days: 5 from 8:00, 6 from 10:00, 7 from 12:00, 8 from 16:00."""
        for day in range(-30, 0):
            self.worn(day, (8, 5), (10, 6), (12, 7), (16, 8))
            self.add(day, 21.5, "skin", clear=True, findings=[])

    def on_server(self, server: Server, logbook: str) -> None:
        """Send them from another device of the same logbook."""
        ours = {"origin": server.url, "sec-fetch-site": "same-origin"}
        with httpx.Client(base_url=server.url, headers=ours) as tablet:
            tablet.post("/api/pair", json={"code": server.code(logbook), "name": "Tablet"}).raise_for_status()
            for start in range(0, len(self.entries), 400):
                batch = self.entries[start : start + 400]
                body = {"schema": 1, "epoch": None, "cursor": 0, "now": now_ms(), "entries": batch}
                answer = tablet.post("/api/sync", json=body).raise_for_status().json()
                assert {result["r"] for result in answer["results"]} == {"ok"}

    def on_phone(self, page: Page) -> None:
        """Put them on an unpaired phone, as if they had been tapped there."""
        put(page, self.entries)
        page.reload()
        expect(page.get_by_role("heading", level=1)).to_be_visible()


def now_ms() -> int:
    """Milliseconds since 1970."""
    return round(datetime.now(UTC).timestamp() * 1000)


def screen(page: Page, address: str, heading: str) -> None:
    """Open a screen by its address."""
    page.evaluate("(to) => { location.hash = to }", f"#/{address}")
    expect(page.get_by_role("heading", level=1, name=heading)).to_be_visible()


def axe_finds(page: Page) -> list[str]:
    """What axe-core has against the page: WCAG 2.0 to 2.2, A and AA, with target-size, and its best practices."""
    if not page.evaluate("'axe' in globalThis"):
        page.evaluate(AXE.read_text())
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    asked = "(tags) => axe.run({ runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] })"
    found = page.evaluate(asked, tags)
    return [f"{v['id']}: {n['target']} {n['failureSummary']}" for v in found["violations"] for n in v["nodes"]]
