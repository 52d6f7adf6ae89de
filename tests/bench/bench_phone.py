"""The page on a phone: what the first load weighs, how long taps and screens take, how it lives with ten years.

    .venv/bin/python tests/bench/bench_phone.py [--entries 100000] [machine first arrive open taps screens]

Prints a table; with names only those parts. The phone is Chromium with a quarter of this machine's speed (4x) and, for
the first load, the slow mobile network that page audits use (1.6 Mbit/s, 150 ms). The same at the machine's own speed
(1x) stands beside it, and `machine` times a fixed piece of work: a phone that does it as fast as 1x here is as fast as
1x here. Times are taken inside the page (phone_probe.js): a tap from the moment it is made.
"""

from __future__ import annotations

import argparse
import gzip
import json
import re
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
import prepare
import serving
from bench.ten_years import fill
from browser.conftest import ARGS, web_build
from browser.phone import kept, until
from browser.plytide_server import UNLIMITED, Server
from playwright.sync_api import Browser, BrowserContext, CDPSession, Locator, Page, sync_playwright

ENTRIES, TAPS, OPENINGS, ROUNDS = 100_000, 40, 11, 3
RATES = (4, 1)
PROBE = (Path(__file__).parent / "phone_probe.js").read_text(encoding="utf-8")
SETTLE_MS = 400  # after a tap, until the browser has told of its paint


class Phone:
    """A fresh phone at `server`, which can be slowed down."""

    def __init__(self, browser: Browser, server: Server) -> None:
        self.server = server
        self.context: BrowserContext = browser.new_context(
            viewport={"width": 390, "height": 844},
            has_touch=True,
            is_mobile=True,
            locale="en-GB",
            timezone_id="Europe/Lisbon",  # where the ten years were logged
        )
        self.context.add_init_script(PROBE)
        self.page: Page = self.context.new_page()
        self.session: CDPSession = self.context.new_cdp_session(self.page)

    def slow(self, times: int) -> None:
        self.session.send("Emulation.setCPUThrottlingRate", {"rate": times})

    def open(self) -> float:
        """ms from opening the page, with its worker asleep, to the screen made from the log."""
        self.page.goto("about:blank")
        self.session.send("ServiceWorker.enable")
        self.session.send("ServiceWorker.stopAllWorkers")
        self.page.goto(self.server.url + "/", wait_until="commit")
        return float(self.page.evaluate("bench.shown('.sync', 0)"))

    def tap(self, what: Locator, shows: str | None = None) -> dict[str, float | None]:
        """Taps; answers ms until {saved, painted, shown}: see phone_probe.js; `shows` is a selector."""
        what.scroll_into_view_if_needed()
        box = what.bounding_box()
        assert box is not None, what
        self.page.evaluate("(shows) => bench.begin(shows)", shows)
        self.page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        self.page.wait_for_timeout(SETTLE_MS)
        told: dict[str, float | None] = self.page.evaluate("bench.told()")
        return told

    def go(self, screen: str) -> None:
        """To another screen, untimed."""
        self.page.evaluate(f"location.hash = '#/{screen}'; 0")
        self.page.wait_for_timeout(SETTLE_MS)

    def close(self) -> None:
        self.context.close()

    def button(self, name: str) -> Locator:
        return self.page.get_by_role("button", name=re.compile(f"^{name}")).first

    def link(self, name: str) -> Locator:
        return self.page.get_by_role("link", name=re.compile(f"^{name}")).first


def machine(phone: Phone, rate: int) -> None:
    """What the machine does at this hour: work, and a write of one row with nothing else to do."""
    phone.page.goto(phone.server.url)
    phone.page.wait_for_timeout(2000)
    phone.slow(rate)
    row(f"{rate}x  a fixed piece of work", [phone.page.evaluate("bench.work()")])
    row(f"{rate}x  a bare page's own write of one row", phone.page.evaluate(f"bench.bare({TAPS})"))


def first(phone: Phone) -> None:
    """What comes over the wire at a first visit, and when it is painted, on a slow network."""
    heads: dict[str, dict[str, Any]] = {}
    sizes: dict[str, float] = {}
    on, page = phone.session.on, phone.page
    on("Network.responseReceived", lambda e: heads.__setitem__(e["requestId"], e["response"]))
    on("Network.loadingFinished", lambda e: sizes.__setitem__(e["requestId"], e["encodedDataLength"] / 1024))
    phone.session.send("Network.enable")
    network = {"offline": False, "latency": 150, "downloadThroughput": 200_000, "uploadThroughput": 93_750}
    phone.session.send("Network.emulateNetworkConditions", network)
    phone.slow(4)
    page.goto(phone.server.url)
    page.wait_for_timeout(6000)
    head = {request: answer["encodedDataLength"] / 1024 for request, answer in heads.items()}
    font = sum(size for request, size in sizes.items() if heads[request]["url"].endswith("woff2"))
    body = sum(size - head[request] for request, size in sizes.items())
    row("    first load: page, style and scripts, compressed", [body - font], 60, "KB")
    row("    of them the scripts that the live screen waits for", [entry_script()], 25, "KB")
    row("    the font, after first paint", [font], unit="KB")
    row("    all headers, which HTTP/1.1 does not compress", [sum(head.values())], unit="KB")
    paint = "performance.getEntriesByName('first-contentful-paint')[0].startTime"
    row("4x  first paint, slow network", [page.evaluate(paint)])
    row("4x  largest paint, slow network", [page.evaluate("bench.lcp")], 1200)
    row("4x  live screen, slow network", [page.evaluate("bench.live")])


def entry_script() -> float:
    """KB of script, compressed, before the live screen."""
    folder = Path(__file__).parents[2] / "server/plytide/page"
    page = json.loads((folder / "manifest.json").read_text())
    files = {page["first"], page["main"], *page["parts"]}
    return sum(len(gzip.compress((folder / name.lstrip("/")).read_bytes(), 9)) for name in files) / 1024


def arrive(phone: Phone, code: str, count: int) -> None:
    """A new phone is paired and fetches ten years."""
    page = phone.page
    page.goto(phone.server.url + "/#/pair")
    kept(page)
    page.get_by_label("Pairing code").fill(code)
    began = time.perf_counter()
    phone.button("Pair").click()
    page.get_by_text("Devices of this logbook").first.wait_for()
    phone.link("Today").click()
    page.locator("[data-tap]").first.wait_for()
    row("1x  a new phone: first screen after pairing", [(time.perf_counter() - began) * 1000], 1500)
    until(page, f"bench.cursor().then((cursor) => cursor === {count})", 300)
    row(f"1x  a new phone: all {count} entries", [(time.perf_counter() - began) * 1000], 8000)


def reopen(phone: Phone, rate: int) -> None:
    """The page opened without a network."""
    phone.slow(rate)
    opened = [phone.open() for _ in range(OPENINGS)]
    row(f"{rate}x  reopened offline: live screen", opened, 500)


def taps(phone: Phone, rate: int) -> None:
    """Taps on the big buttons, up and down, each after the last has settled."""
    phone.slow(1)
    phone.open()
    phone.page.wait_for_timeout(1500)
    phone.slow(rate)
    told = [phone.tap(phone.button("1 ply o" + ("n" if n % 2 else "ff"))) for n in range(TAPS)]
    row(f"{rate}x  tap to saved", [one["saved"] for one in told], 50)
    row(f"{rate}x  tap to next paint", [one["painted"] for one in told], 100)


# Taps through the page: from which screen (None: where the last one led), what is tapped, and the selector that shows
# that a screen has opened.
Way = tuple[str, str | None, Callable[[Phone], Locator], str | None]
WAYS: tuple[Way, ...] = (
    ("Today, 1 ply on", "today", lambda p: p.button("1 ply on"), None),
    ("Today, undo", None, lambda p: p.button("Undo"), None),
    ("Today, take off", None, lambda p: p.button("Take off"), None),
    ("Today, put on", None, lambda p: p.button("Put on"), None),
    ("Sore spot opens", None, lambda p: p.link("Sore spot"), ".head h1"),
    ("Sore spot, a place", None, lambda p: p.page.locator("svg.limb"), None),
    ("Sore spot, how sore", None, lambda p: p.page.locator(".score label").nth(4), None),
    ("Sore spot, save", None, lambda p: p.button("Save"), None),
    ("Skin check opens", "today", lambda p: p.link("Skin check"), ".head h1"),
    ("More opens", "today", lambda p: p.link("More"), ".head h1"),
    ("Pattern opens", None, lambda p: p.link("Pattern"), ".strip"),
    ("Pattern, months", None, lambda p: p.page.locator(".seg label").nth(1), ".cells"),
    ("Day's log opens", "more", lambda p: p.page.locator("a[href='#/day']"), ".read time"),
)


def screens(phone: Phone, rate: int) -> None:
    """Taps through the page: the next paint after each, and when the screen they open is there."""
    told: dict[str, list[float]] = {}
    for _ in range(ROUNDS):
        phone.slow(1)
        phone.open()
        phone.page.wait_for_timeout(1500)
        phone.slow(rate)
        cold = phone.page.evaluate(
            "new Promise((done) => { const from = performance.now(); bench.shown('.strip', from).then(done);"
            " location.hash = '#/pattern'; })"
        )
        told.setdefault("Pattern opens, the first screen after Today", []).append(cold)
        for name, start, what, shows in WAYS:
            if start:
                phone.go(start)
            ms = phone.tap(what(phone), shows)
            told.setdefault(f"{name}: next paint", []).append(ms["painted"] or 0)
            if shows:
                told.setdefault(f"{name}: there", []).append(ms["shown"] or float("nan"))
    for name, values in told.items():
        limit = 300 if "Pattern opens" in name and "paint" not in name else 100 if "paint" in name else None
        row(f"{rate}x  {name}", values, limit)


def row(name: str, values: list[float], limit: float | None = None, unit: str = "ms") -> None:
    p50, p95 = (f"{at(values, share):8.1f}" for share in (0.5, 0.95))
    print(f"{name:56} {p50} {p95 if len(values) > 1 else '':>8} {limit or '':>6} {unit}", flush=True)


def at(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(len(values) * share))]


PARTS = ("machine", "first", "arrive", "open", "taps", "screens")


def main(parts: list[str], count: int) -> None:
    """Prints the table."""
    web_build().build_page()
    UNLIMITED["worker"] = "no"  # the reading of ten years is measured elsewhere; here it would take the phone's time
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        server = Server(Path(folder) / "data", serving.COMMAND)
        browser = driver.chromium.launch(executable_path=prepare.find(), args=ARGS)
        try:
            print(f"{'':56} {'p50':>8} {'p95':>8} {'limit':>6}")
            if "machine" in parts:
                for rate in RATES:
                    with closing(Phone(browser, server)) as phone:
                        machine(phone, rate)
            if "first" in parts:
                with closing(Phone(browser, server)) as phone:
                    first(phone)
            if {"arrive", "open", "taps", "screens"} & set(parts):
                with closing(Phone(browser, server)) as phone:
                    long_life(phone, parts, count)
        finally:
            browser.close()
            server.kill()


def long_life(phone: Phone, parts: list[str], count: int) -> None:
    """What is asked of a phone with ten years in it."""
    arrive(phone, phone.server.code(fill(phone.server, count)), count)
    with phone.server.down():
        for part, measured in (("open", reopen), ("taps", taps), ("screens", screens)):
            for rate in RATES if part in parts else ():
                measured(phone, rate)


if __name__ == "__main__":
    asked = argparse.ArgumentParser()
    asked.add_argument("parts", nargs="*", metavar="part", help=" ".join(PARTS))
    asked.add_argument("--entries", type=int, default=ENTRIES)
    given = asked.parse_args()
    main(given.parts or list(PARTS), given.entries)
