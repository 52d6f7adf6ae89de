"""Every screen, light and dark, 390 and 320 wide, at normal and double text: axe-core finds nothing, nothing runs out
of the side, and no text is cut.

The screens are read from the page's own table, so that a new one cannot be left out.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from browser.conftest import NewPhone
from browser.day_steps import Wearer, axe_finds
from browser.phone import all_sent, pair
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


def found(page: Page, address: str) -> list[str]:
    """What is wrong with a screen, as a list of lines."""
    page.evaluate("(to) => { location.hash = to }", f"#/{address}")
    expect(page.get_by_role("heading", level=1)).not_to_have_text("Opening…")
    page.wait_for_timeout(250)  # what is read from the database or the server has come
    # The thumb zone covers what can be scrolled from under it; axe would take that for too small.
    page.evaluate("document.querySelector('.touch')?.style.setProperty('position', 'relative')")
    return [f"{address}: {line}" for line in [*page.evaluate(CUT), *axe_finds(page)]]


def clean(page: Page, screens: list[str]) -> None:
    """Nothing is wrong with any of the screens; else all of it is told at once."""
    lines = [line for address in screens for line in found(page, address)]
    assert not lines, "\n".join(lines)


# Contrast goes by scheme, what is cut by width and text: these five meet every pair of them.
@pytest.mark.parametrize(
    ("scheme", "width", "text"),
    [
        ("light", 390, "100%"),
        ("dark", 390, "100%"),
        ("light", 320, "100%"),
        ("light", 390, "200%"),
        ("dark", 320, "200%"),
    ],
)
def test_every_screen(
    new_phone: NewPhone, server: Server, logbook: str, wearer: Wearer, scheme: str, width: int, text: str
) -> None:
    wearer.on_server(server, logbook)
    size = {"width": width, "height": 844 if width == 390 else 640}
    phone = new_phone(timezone_id=wearer.zone, color_scheme=scheme, viewport=size)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    expect(phone.get_by_role("region", name=re.compile("^Emergency"))).to_be_visible(timeout=20_000)
    phone.evaluate("(size) => { document.documentElement.style.fontSize = size }", text)
    clean(phone, addresses(wearer))


@pytest.mark.parametrize(("scheme", "text"), [("light", "200%"), ("dark", "100%")])
def test_an_empty_logbook_on_this_phone_alone(new_phone: NewPhone, scheme: str, text: str) -> None:
    phone = new_phone(color_scheme=scheme, viewport={"width": 320, "height": 640})
    phone.evaluate("(size) => { document.documentElement.style.fontSize = size }", text)
    clean(phone, ["today", *PATHS])


@pytest.mark.parametrize("text", ["100%", "200%"])
def test_a_phone_on_its_side(new_phone: NewPhone, wearer: Wearer, text: str) -> None:
    phone = new_phone(timezone_id=wearer.zone, viewport={"width": 844, "height": 390})
    wearer.on_phone(phone)
    phone.evaluate("(size) => { document.documentElement.style.fontSize = size }", text)
    clean(phone, addresses(wearer))


def test_strong_contrast_and_the_left_hand(new_phone: NewPhone, wearer: Wearer) -> None:
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    phone.evaluate("localStorage.setItem('plytide-look', JSON.stringify({ theme: 'contrast', hand: 'left' }))")
    phone.reload()
    clean(phone, addresses(wearer))


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
    expect(phone.get_by_text("Nothing logged yet.")).to_be_visible()
    box = phone.locator(part).bounding_box()
    assert box is not None
    assert box["height"] >= 88
    assert box["y"] >= 844 / 2


def test_everything_to_tap_is_at_least_48_px_high(new_phone: NewPhone, wearer: Wearer) -> None:
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    small = []
    for address in addresses(wearer):
        found(phone, address)
        small += [f"{address}: {line}" for line in phone.evaluate(SMALL)]
    assert small == []
