"""For the limb's screens: a log put on the phone, taps in the picture's own units, entries read back."""

from __future__ import annotations

import itertools
import re
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

AXE = Path(__file__).parents[2] / "web/node_modules/axe-core/axe.min.js"
_count = itertools.count(1)

_PUT = """(rows) => new Promise((done, failed) => {
  const opening = indexedDB.open('plytide');
  opening.onerror = () => failed(opening.error);
  opening.onsuccess = () => {
    const db = opening.result, work = db.transaction('outbox', 'readwrite');
    for (const entry of rows) work.objectStore('outbox').put({ entry, refused: null });
    work.oncomplete = () => { db.close(); done(true); };
    work.onerror = () => failed(work.error);
  };
})"""

# A write that a tap began is asked of the database before this reads from it: the page has been idle in between.
_READ = """async () => {
  for (let turn = 0; turn < 3; turn++) {
    await new Promise((drawn) => setTimeout(drawn, 20));
    await new Promise((idle) => requestIdleCallback(idle, { timeout: 5000 }));
  }
  return new Promise((done, failed) => {
  const opening = indexedDB.open('plytide');
  opening.onsuccess = () => {
    const db = opening.result, asked = db.transaction('outbox').objectStore('outbox').getAll();
    asked.onsuccess = () => { db.close(); done(asked.result.map((row) => row.entry)); };
    asked.onerror = () => failed(asked.error);
  };
  });
}"""

_CLIENT = """(svg, [x, y]) => {
  const at = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM());
  return [at.x, at.y];
}"""


def entry(kind: str, limb: str | None, body: dict[str, Any], minutes_ago: float = 0.0) -> dict[str, Any]:
    """An entry as another screen, or another day, would have written it."""
    ms = round((time.time() - 60 * minutes_ago) * 1000)
    n = next(_count)
    at = datetime.fromtimestamp(ms / 1000, UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{ms % 1000:03d}Z"
    return {
        "id": f"0198f2c3-0000-7000-8000-{n:012x}", "kind": kind, "limb": limb, "at": at, "zone": "Europe/Lisbon",
        "stamp": f"{ms:012x}-{n:04x}-5f3a9c1e", "erased": False, "body": body,
    }  # fmt: skip


def profile(level: str = "transtibial", side: str = "left", **more: Any) -> dict[str, Any]:
    """The wearer's settings, entered long ago."""
    limb = {"side": side, "level": level, "fitted_by": ["socks"]}
    return entry("profile", None, {"limbs": [limb], **more}, minutes_ago=60 * 24 * 30)


def put(page: Page, entries: list[dict[str, Any]]) -> None:
    """Put entries on the phone, behind the page's back."""
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.evaluate(_PUT, entries)


def stored(page: Page, kind: str) -> list[dict[str, Any]]:
    """The phone's own entries of a kind, in the order they happened."""
    return sorted((e for e in page.evaluate(_READ) if e["kind"] == kind), key=lambda e: e["at"])


def show(page: Page, screen: str) -> None:
    """Open a screen from a fresh page, as after the phone was put away."""
    page.goto(page.url.split("#")[0] + f"#/{screen}")
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text(re.compile("Sore spot|Skin check"))


def turn(page: Page, view: str) -> None:
    """Choose a view."""
    page.get_by_role("radio", name=view.capitalize(), exact=True).check(force=True)


def tap_limb(page: Page, at: tuple[float, float]) -> None:
    """Tap the picture at a point in its own units."""
    x, y = page.locator("svg.limb").evaluate(_CLIENT, list(at))
    page.touchscreen.tap(x, y)


def drawn_mark(page: Page, name: str) -> tuple[float, float]:
    """Where the only mark of a class stands, in the picture's own units."""
    mark = page.locator(f"circle.{name}")
    expect(mark).to_have_count(1)
    return float(mark.get_attribute("cx") or "nan"), float(mark.get_attribute("cy") or "nan")


def axe_finds(page: Page) -> list[str]:
    """What axe-core has against the page: WCAG 2.0 to 2.2, A and AA, target sizes included."""
    page.evaluate(AXE.read_text())
    found = page.evaluate(
        "axe.run({ runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] } })"
    )
    return [f"{v['id']}: {n['target']} {n['failureSummary']}" for v in found["violations"] for n in v["nodes"]]


_CUT = """() => [...document.querySelectorAll('button, label, a, p, h1, h2, span, small, b')].filter((e) => {
  const box = e.getBoundingClientRect();
  if (!e.textContent.trim() || e.closest('.unseen, svg') || !box.width) return false;
  const clipped = getComputedStyle(e).overflow !== 'visible' && e.scrollWidth > e.clientWidth + 1;
  return clipped || box.right > document.documentElement.clientWidth + 1 || box.left < -1;
}).map((e) => e.textContent)"""


def cut_texts(page: Page) -> list[str]:
    """Texts that run out of their box or of the screen."""
    found: list[str] = page.evaluate(_CUT)
    if page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth"):
        found.append("the page scrolls sideways")
    return found
