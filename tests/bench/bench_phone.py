"""The page on a phone: what the first load weighs, how long a tap takes, how it lives with ten years. Prints a table.

    .venv/bin/python tests/bench/bench_phone.py [entries]

The phone is Chromium with a quarter of this machine's speed (4x) and, where it says so, the slow mobile network that
page audits use (1.6 Mbit/s, 150 ms). Times are taken inside the page: a tap from the moment it is made to the moment
its transaction is complete, which is when the page may say "saved".
"""

from __future__ import annotations

import gzip
import json
import random
import re
import sys
import tempfile
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
import prepare
import serving
from browser.conftest import ARGS, web_build
from browser.phone import kept, pair, until
from browser.plytide_server import UNLIMITED, Server
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, sync_playwright
from plytide import stamps
from plytide.ids import uuid7
from plytide.store import iso

ENTRIES, TAPS, YEARS, BATCH = 100_000, 60, 10, 500

# Runs in every page before its own scripts: when a click was made, when the transaction it began was complete, when
# the number on the first screen came from the log.
WATCH = """
window.bench = { clicks: [], saved: [], painted: [], live: null };
addEventListener("click", () => {
  const began = performance.now();
  bench.clicks.push(began);
  requestAnimationFrame(() => setTimeout(() => bench.painted.push(performance.now() - began)));
}, true);
const begin = IDBDatabase.prototype.transaction;
IDBDatabase.prototype.transaction = function (stores, mode, options) {
  const transaction = begin.call(this, stores, mode, options);
  if (mode === "readwrite" && options?.durability === "strict" && [...transaction.objectStoreNames].includes("history"))
    transaction.addEventListener("complete", () => bench.saved.push(performance.now() - bench.clicks.at(-1)));
  return transaction;
};
new MutationObserver(() => {
  if (bench.live === null && document.querySelector(".say b")) bench.live = performance.now();
}).observe(document, { childList: true, subtree: true });
new PerformanceObserver((list) => { bench.lcp = list.getEntries().at(-1).startTime; })
  .observe({ type: "largest-contentful-paint", buffered: true });
"""

# How far the phone has come in the server's log, from its own database.
CURSOR = """new Promise((done) => {
  const open = indexedDB.open("plytide");
  open.onsuccess = () => {
    const get = open.result.transaction("meta").objectStore("meta").get("standing");
    get.onsuccess = () => { open.result.close(); done(get.result?.cursor); };
  };
})"""

# ms of single rows written and complete, with nothing else to do: the floor under a tap on this machine at this hour.
BARE = """async (n) => {
  const db = await new Promise((done) => {
    const open = indexedDB.open("bare");
    open.onupgradeneeded = () => open.result.createObjectStore("rows");
    open.onsuccess = () => done(open.result);
  });
  const taken = [];
  for (let i = 0; i < n; i++) {
    const began = performance.now();
    await new Promise((done) => {
      const tx = db.transaction("rows", "readwrite", { durability: "strict" });
      tx.objectStore("rows").put({ i }, i);
      tx.oncomplete = done;
    });
    taken.push(performance.now() - began);
    await new Promise((done) => setTimeout(done, 60));
  }
  db.close();
  return taken;
}"""


def phone(browser: Browser) -> tuple[BrowserContext, Page, CDPSession]:
    """A fresh phone, with a session to slow it down by."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    context.add_init_script(WATCH)
    page = context.new_page()
    return context, page, context.new_cdp_session(page)


def slow(session: CDPSession, times: int) -> None:
    session.send("Emulation.setCPUThrottlingRate", {"rate": times})


def first_load(browser: Browser, url: str) -> None:
    """What comes over the wire at a first visit, and when it is painted, on a slow network."""
    context, page, session = phone(browser)
    names: dict[str, str] = {}
    sizes: dict[str, float] = {}
    session.on("Network.responseReceived", lambda e: names.__setitem__(e["requestId"], e["response"]["url"]))
    session.on("Network.loadingFinished", lambda e: sizes.__setitem__(e["requestId"], e["encodedDataLength"] / 1024))
    session.send("Network.enable")
    network = {"offline": False, "latency": 150, "downloadThroughput": 200_000, "uploadThroughput": 93_750}
    session.send("Network.emulateNetworkConditions", network)
    slow(session, 4)
    page.goto(url)
    page.wait_for_timeout(6000)
    font = sum(size for request, size in sizes.items() if names[request].endswith("woff2"))
    row("first load: page, style and scripts, compressed", sum(sizes.values()) - font, "KB")
    row("  of them the scripts that the live screen waits for", entry_script(), "KB")
    row("  the font, after first paint", font, "KB")
    paint = "performance.getEntriesByName('first-contentful-paint')[0].startTime"
    row("first paint, slow network, 4x", page.evaluate(paint), "ms")
    row("largest paint, slow network, 4x", page.evaluate("bench.lcp"), "ms")
    row("live screen, slow network, 4x", page.evaluate("bench.live"), "ms")
    context.close()


def entry_script() -> float:
    """KB of script, compressed, before the live screen."""
    folder = Path(__file__).parents[2] / "server/plytide/page"
    page = json.loads((folder / "manifest.json").read_text())
    files = {page["first"], page["main"], *page["parts"]}
    return sum(len(gzip.compress((folder / name.lstrip("/")).read_bytes(), 9)) for name in files) / 1024


def ten_years(count: int) -> list[dict[str, Any]]:
    """`count` entries over ten years up to now, oldest first."""
    chance, end = random.Random(7), datetime.now(UTC)
    made = []
    for n in range(count):
        at = end - timedelta(days=365.25 * YEARS) * (1 - n / count) - timedelta(minutes=5)
        ms = round(at.timestamp() * 1000)
        kind = chance.choices(["ply", "don", "doff", "sore", "comfort"], [6, 2, 2, 1, 1])[0] if n < count - 1 else "don"
        body: dict[str, Any] = {
            "ply": {"total": chance.randint(3, 10)}, "don": {"total": chance.randint(2, 6)}, "doff": {},
            "sore": {"height": chance.random(), "angle": chance.randrange(360), "intensity": chance.randrange(11)},
            "comfort": {"score": chance.randrange(11)},
        }[kind]  # fmt: skip
        made.append({
            "id": uuid7(ms), "kind": kind, "limb": "right", "at": iso(at), "zone": "Europe/Lisbon",
            "stamp": stamps.make(ms, 0, "5f3a9c1e"), "erased": False, "body": body,
        })  # fmt: skip
    return made


def fill(server: Server, count: int) -> str:
    """A logbook with ten years in it."""
    logbook = server.new_logbook()
    entries = ten_years(count)
    with closing(server.store) as store:
        for start in range(0, count, BATCH):
            part = entries[start : start + BATCH]
            answer = store.sync(logbook, None, 0, part, round(time.time() * 1000), limit=1)
            assert {result["r"] for result in answer.results} == {"ok"}
    return logbook


def live(page: Page, url: str) -> float:
    """ms from opening the page to the screen made from the log."""
    page.goto(url + "/?", wait_until="commit")
    until(page, "(window.bench?.live ?? null) !== null")
    found: float = page.evaluate("bench.live")
    return found


def whole_life(browser: Browser, server: Server, count: int) -> None:
    """A new phone fetches ten years; then taps, and openings without a network, at a quarter of the speed."""
    logbook = fill(server, count)
    context, page, session = phone(browser)
    page.goto(server.url)
    kept(page)
    began = time.perf_counter()
    pair(page, server.url, server.code(logbook))
    usable = time.perf_counter() - began
    until(page, f"({CURSOR}).then((cursor) => cursor === {count})", 300)
    row(f"{count} entries on a new phone: first screen", usable * 1000, "ms")
    row(f"{count} entries on a new phone: all of them", (time.perf_counter() - began) * 1000, "ms")
    with server.down():
        slow(session, 4)
        row("reopened offline, 4x: live screen", sorted(live(page, server.url) for _ in range(7))[3], "ms")
        page.wait_for_timeout(1500)
        saved, painted = taps(page)
        bare = page.evaluate(BARE, TAPS)
        row("  a bare page's own write of one row, 4x, p50", at(bare, 0.5), "ms")
        row("  a bare page's own write of one row, 4x, p95", at(bare, 0.95), "ms")
        row("tap to saved, 4x, p50", at(saved, 0.5), "ms")
        row("tap to saved, 4x, p95", at(saved, 0.95), "ms")
        row("tap to next paint, 4x, p95", at(painted, 0.95), "ms")
        row("tap to saved / bare write, p50", at(saved, 0.5) / at(bare, 0.5), "times")
        slow(session, 1)
    context.close()


def taps(page: Page) -> tuple[list[float], list[float]]:
    """ms to saved and to painted, of separate taps up and down."""
    page.evaluate("Object.assign(bench, { clicks: [], saved: [], painted: [] })")
    for n in range(TAPS):
        page.get_by_role("button", name=re.compile("^1 ply o" + ("n" if n % 2 else "ff"))).dispatch_event("click")
        until(page, f"bench.saved.length > {n} && bench.painted.length > {n}")
        page.wait_for_timeout(60)
    return page.evaluate("bench.saved"), page.evaluate("bench.painted")


def at(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, int(len(values) * share))]


def row(name: str, value: float, unit: str) -> None:
    print(f"{name:58} {value:9.1f} {unit}", flush=True)


def main(count: int) -> None:
    """Prints the table."""
    web_build().build_page()
    UNLIMITED["worker"] = "no"  # the reading of ten years is measured elsewhere; here it would take the phone's time
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        server = Server(Path(folder) / "data", serving.COMMAND)
        browser = driver.chromium.launch(executable_path=prepare.find(), args=ARGS)
        try:
            first_load(browser, server.url)
            whole_life(browser, server, count)
        finally:
            browser.close()
            server.kill()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else ENTRIES)
