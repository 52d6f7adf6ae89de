"""Every screen, light and dark, 390 and 320 wide and on its side, at normal and double text: axe-core finds nothing,
nothing runs out of the side, no text is cut, and everything to tap is at least 48 px high.

The screens are read from the page's own table, so that a new one cannot be left out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import pytest
from browser.conftest import NewPhone
from browser.day_steps import Wearer, axe_finds
from browser.phone import all_sent, fresh, pair
from browser.plytide_server import Server
from playwright.sync_api import Page, expect

TABLE = Path(__file__).parents[2] / "web" / "src" / "screens" / "table.ts"
PATHS = re.findall(r'path: "(\w+)"', TABLE.read_text(encoding="utf-8"))

CUT = Path(__file__).with_name("cut.js").read_text(encoding="utf-8")
SMALL = """() => [...document.querySelectorAll('button, a[href], .row, .seg label, .score label, .pick label')]
  .filter((e) => e.checkVisibility() && !e.closest('p, .prose') && e.getBoundingClientRect().height < 47.5)
  .map((e) => `${e.tagName} ${e.className} ${e.textContent.slice(0, 30)}: ${e.getBoundingClientRect().height}`)"""


@pytest.fixture
def wearer() -> Wearer:
    """A log that fills every screen: a month of days, sore spots, findings of several levels, a mishap, notes."""
    wearer = Wearer(ply_ceiling=12, clinic_phone="+351 21 000 0000", emergency_phone="112", name="Ruth")
    five, three, one = wearer.drawer()
    wearer.month()
    for day in (-9, -6, -3, -1):
        wearer.add(day, 15, "sore", height=0.62, angle=8, intensity=4, feel="rub")
        wearer.add(day, 21, "comfort", score=6)
    wearer.add(-20, 9, "change", what="padding", note="At the front.")
    wearer.add(-5, 17, "mishap", what="stumble", hurt=True)
    wearer.add(-4, 20, "note", text="A long walk by the river, then two hours at a table.")
    wearer.add(-2, 22, "skin", clear=False, findings=[{"what": "redness", "height": 0.6, "angle": 10, "fade_min": 32}])
    wearer.add(0, 8, "don", total=5, socks=[five])
    wearer.add(0, 10, "ply", total=8, socks=[five, three])
    wearer.add(0, 12, "ply", total=9, socks=[five, three, one])
    wearer.add(
        0, 12.5, "skin", clear=False, findings=[{"what": "open", "height": 0.6, "angle": 0}], unwell=["chest_pain"]
    )
    return wearer


def addresses(wearer: Wearer) -> list[str]:
    """Every screen of the table, and the further faces of some."""
    entry = next(e["id"] for e in reversed(wearer.entries) if e["kind"] == "ply")
    named = {"entry": f"entry/{entry}", "stack": "stack/right", "day": f"day/{wearer.today}"}
    return ["today", *(named.get(path, path) for path in PATHS), "first/2", "first/3", "pair/K7QM4XTD"]


# What is read from the database or the server has come: nothing has changed on the screen for a tenth of a second.
STILL = """new Promise((still) => {
  const watch = new MutationObserver(() => { clearTimeout(timer); timer = setTimeout(done, 100); });
  const done = () => { watch.disconnect(); still(); };
  let timer = setTimeout(done, 100);
  watch.observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
})"""
# As prefs.ts sets strong contrast and the hand on the page, and the phone its size of text; then it is drawn.
TURN = """({ text, strong }) => new Promise((drawn) => {
  const root = document.documentElement;
  root.style.fontSize = text;
  if (strong) root.dataset.contrast = "more"; else delete root.dataset.contrast;
  root.dataset.hand = strong ? "left" : "right";
  requestAnimationFrame(() => requestAnimationFrame(drawn));
})"""


@dataclass(frozen=True)
class Look:
    """How a screen is looked at: colours, size in CSS pixels, size of text; `strong` contrast, for the left hand."""

    scheme: Literal["light", "dark"]
    width: int
    height: int
    text: str
    strong: bool = False

    def take(self, page: Page) -> None:
        """Turn the page to it, and wait until it is drawn."""
        page.emulate_media(color_scheme=self.scheme)
        page.set_viewport_size({"width": self.width, "height": self.height})
        page.evaluate(TURN, {"text": self.text, "strong": self.strong})


# Contrast goes by scheme, what is cut by width and text: the first five meet every pair of them; then the phone on its
# side, and strong contrast with the left hand.
LOOKS = [
    Look("light", 390, 844, "100%"), Look("dark", 390, 844, "100%"), Look("light", 320, 640, "100%"),
    Look("light", 390, 844, "200%"), Look("dark", 320, 640, "200%"), Look("light", 844, 390, "100%"),
    Look("light", 844, 390, "200%"), Look("light", 390, 844, "100%", strong=True),
]  # fmt: skip


def wrong(page: Page, look: Look) -> list[str]:
    """What is wrong with the screen that is open, in this look, as a list of lines."""
    look.take(page)
    return [*page.evaluate(CUT), *page.evaluate(SMALL), *axe_finds(page)]


def clean(page: Page, screens: list[str], looks: list[Look]) -> None:
    """Nothing is wrong with any of the screens in any of these looks; else all of it is told at once."""
    lines = []
    for address in screens:
        page.evaluate("(to) => { location.hash = to }", f"#/{address}")
        expect(page.get_by_role("heading", level=1)).not_to_have_text("Opening…")
        page.evaluate(STILL)
        # The thumb zone covers what can be scrolled from under it; axe would take that for too small.
        page.evaluate("document.querySelector('.touch')?.style.setProperty('position', 'relative')")
        lines += [f"{address}, {look}: {line}" for look in looks for line in wrong(page, look)]
    assert not lines, "\n".join(lines)


PARTS = 3


@pytest.mark.parametrize("part", range(PARTS))
def test_every_screen(new_phone: NewPhone, server: Server, logbook: str, wearer: Wearer, part: int) -> None:
    wearer.on_server(server, logbook)
    phone = new_phone(timezone_id=wearer.zone)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    expect(phone.get_by_role("region", name=re.compile("^Emergency"))).to_be_visible(timeout=20_000)
    clean(phone, addresses(wearer)[part::PARTS], LOOKS)


def test_an_empty_logbook_on_this_phone_alone(phone: Page) -> None:
    clean(phone, ["today", *PATHS], [Look("light", 320, 640, "200%"), Look("dark", 320, 640, "100%")])


def test_a_button_that_is_small_faint_and_half_off_the_screen_is_found_out(phone: Page) -> None:
    fresh(phone)
    phone.evaluate("""() => {
        const main = document.querySelector("main");
        const plant = (kind, style) => {
            main.prepend(Object.assign(document.createElement(kind), { textContent: "planted", style }));
        };
        plant("button", "position: absolute; left: 350px; height: 20px");
        plant("p", "color: #999; background: #888");
    }""")
    lines = "\n".join(wrong(phone, LOOKS[0]))
    for sign in ('beside the screen: button. "planted"', "BUTTON  planted: 20", "color-contrast"):
        assert sign in lines


def test_at_320_by_640_the_number_and_both_buttons_are_in_view(new_phone: NewPhone, wearer: Wearer) -> None:
    wearer.entries = [e for e in wearer.entries if e["kind"] != "skin"]
    phone = new_phone(timezone_id=wearer.zone, viewport={"width": 320, "height": 640})
    wearer.on_phone(phone)
    for part in (".level .number", "[data-tap=up]", "[data-tap=down]"):
        box = phone.locator(part).bounding_box()
        assert box is not None
        assert box["y"] >= 0, part
        assert box["y"] + box["height"] <= 640, part


@pytest.mark.parametrize("part", ["[data-tap=up]", "[data-tap=down]"])
def test_the_big_buttons_are_at_least_88_px_high_in_the_lower_half(phone: Page, part: str) -> None:
    fresh(phone)
    box = phone.locator(part).bounding_box()
    assert box is not None
    assert box["height"] >= 88
    assert box["y"] >= 844 / 2
