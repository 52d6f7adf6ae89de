"""Spanish on the phone, help at the same place on every screen, and tender places marked on the limb."""

from __future__ import annotations

import re

import pytest
from browser.conftest import NewPhone
from browser.day_steps import Wearer, axe_finds
from browser.limb_steps import cut_texts, profile, put, stored, tap_limb
from browser.phone import all_sent, kept, pair, tap
from browser.plytide_server import Server
from browser.test_access import PATHS
from playwright.sync_api import Page, expect

PLACE_OF_HELP = """() => {
  const main = document.querySelector('main'), help = main.querySelector('.help'), box = help.getBoundingClientRect();
  return [main.lastElementChild === help, Math.round(innerWidth - box.right), help.getAttribute('href')];
}"""


def to(page: Page, address: str) -> None:
    """Go to a screen, whatever it is called."""
    page.evaluate("(to) => { location.hash = to }", f"#/{address}")
    expect(page.get_by_role("heading", level=1)).not_to_have_text(re.compile("Opening|Abriendo"))
    page.wait_for_timeout(150)


def test_a_phone_in_spanish_speaks_spanish_from_the_first_screen(new_phone: NewPhone) -> None:
    phone = new_phone(locale="es-ES")
    expect(phone.get_by_text("Aún no hay nada anotado.")).to_be_visible()
    assert phone.evaluate("document.documentElement.lang") == "es"
    tap(phone, 5, name="1 ply más")
    expect(phone.locator(".level .number")).to_have_text("5")
    phone.get_by_role("link", name="Dolor").click()
    expect(phone.get_by_role("heading", level=1, name="Punto de dolor")).to_be_visible()
    phone.get_by_role("radio", name="Lista").check(force=True)
    expect(phone.get_by_text("Rótula", exact=True)).to_be_visible()


def test_the_language_is_chosen_in_settings_kept_and_there_without_a_network(new_phone: NewPhone) -> None:
    phone = new_phone()
    assert phone.evaluate("document.documentElement.lang") == "en"
    kept(phone)
    to(phone, "settings")
    phone.get_by_role("radio", name="Español").check(force=True)
    expect(phone.get_by_role("heading", level=1, name="Ajustes")).to_be_visible()
    expect(phone.get_by_role("radio", name="Español")).to_be_focused()
    phone.context.set_offline(True)
    phone.reload()
    expect(phone.get_by_role("heading", level=1, name="Ajustes")).to_be_visible()
    assert phone.evaluate("document.documentElement.lang") == "es"
    phone.get_by_role("radio", name="English").check(force=True)
    expect(phone.get_by_role("heading", level=1, name="Settings")).to_be_visible()


def test_the_servers_reading_and_signs_are_told_in_spanish(new_phone: NewPhone, server: Server, logbook: str) -> None:
    wearer = Wearer(ply_ceiling=12, clinic_phone="+351 21 000 0000")
    wearer.month()
    for day in (-9, -6, -3, -1):
        wearer.add(day, 15, "sore", height=0.62, angle=8, intensity=4)
    wearer.add(0, 8, "don", total=5)
    wearer.on_server(server, logbook)
    phone = new_phone(timezone_id=wearer.zone)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    phone.evaluate("localStorage.setItem('plytide-look', JSON.stringify({ language: 'es' }))")
    phone.reload()
    peak = re.compile(r"Hoy el máximo será probablemente .*, (unos \d días de cada \d|casi todos los días)\.")
    expect(phone.get_by_text(peak)).to_be_visible(timeout=20_000)
    to(phone, "signs")
    sign = phone.locator(".whole-sign").filter(has_text="Dolor en el mismo lugar")
    expect(sign).to_contain_text(re.compile(r"Marcaste dolor en bulto bajo la rótula en \d+ días,"))
    expect(sign).to_contain_text("Mira la piel de ese lugar antes y después de llevar la prótesis.")
    expect(sign).to_contain_text("Práctica común")
    to(phone, "pattern")
    expect(phone.get_by_role("img", name=re.compile("Bulto bajo la rótula: dolor en"))).to_be_attached()
    for address in ("signs", "pattern"):
        to(phone, address)
        words = set(phone.inner_text("body").lower().split())
        assert not words & {"the", "you", "your", "days", "with"}, address


@pytest.mark.parametrize("text", ["100%", "200%"])
def test_every_screen_in_spanish_at_320_px(new_phone: NewPhone, text: str) -> None:
    wearer = Wearer()
    wearer.drawer()
    wearer.worn(0, (8, 5), (10, 6), off=None)
    phone = new_phone(locale="es-MX", timezone_id=wearer.zone, viewport={"width": 320, "height": 640})
    wearer.on_phone(phone)
    phone.evaluate("(size) => { document.documentElement.style.fontSize = size }", text)
    wrong = []
    for address in ["today", *PATHS]:
        to(phone, address)
        assert not re.search(r"\{\w+\}", phone.inner_text("body")), address
        wrong += [f"{address}: {line}" for line in cut_texts(phone)]
        if text == "200%" and address in ("today", "sore", "skin", "more", "help", "tender"):
            wrong += [f"{address}: {line}" for line in axe_finds(phone)]
    assert wrong == []


def test_help_is_the_last_thing_to_read_at_the_same_edge_of_every_screen_and_is_about_it(phone: Page) -> None:
    places = {}
    for path in ["today", *PATHS]:
        to(phone, path)
        last, right, address = phone.evaluate(PLACE_OF_HELP)
        assert last, path
        assert address == f"#/help/{path}"
        places[path] = right
    assert len(set(places.values())) == 1, places
    told = set()
    for path in ["today", *PATHS]:
        to(phone, f"help/{path}")
        expect(phone.get_by_role("heading", level=1, name="Help")).to_be_visible()
        told.add(phone.locator("main p").first.inner_text())
    assert len(told) == len(PATHS) + 1
    to(phone, "skin")
    phone.get_by_role("link", name="Help", exact=True).click()
    expect(phone.get_by_text("Nobody is watching what you enter.")).to_be_visible()
    expect(phone.get_by_role("link", name="Enter the numbers")).to_be_visible()
    phone.get_by_role("link", name="Back to Skin check").click()
    expect(phone.get_by_role("heading", level=1, name="Skin check")).to_be_visible()


def test_a_tender_place_is_marked_shows_on_the_limb_and_is_taken_out(new_phone: NewPhone) -> None:
    phone = new_phone()
    to(phone, "tender")
    expect(phone.get_by_role("link", name="Say which leg")).to_be_visible()
    put(phone, [profile()])
    phone.reload()
    phone.get_by_role("button", name="Mark this place").click()
    expect(phone.get_by_role("alert")).to_have_text("Tap a place first.")
    tap_limb(phone, (150, 200))
    phone.get_by_role("radio", name="Relief").check(force=True)
    phone.wait_for_timeout(600)  # two taps within half a second would be one
    phone.get_by_role("button", name="Mark this place").click()
    expect(phone.locator("ellipse.limb-tender")).to_have_count(1)
    to(phone, "sore")
    expect(phone.locator("ellipse.limb-tender")).to_have_count(1)
    phone.reload()  # from what was saved
    expect(phone.locator("ellipse.limb-tender")).to_have_count(1)
    (place,) = stored(phone, "profile")[-1]["body"]["limbs"][0]["tender"]
    assert place["name"] == "Relief"
    assert 0 < place["height"] < 1
    to(phone, "tender")
    phone.get_by_role("button", name=re.compile("^Take out: .*, Relief$")).click()
    expect(phone.get_by_text("None marked yet.")).to_be_visible()
    expect(phone.locator("ellipse.limb-tender")).to_have_count(0)
    phone.get_by_role("button", name="Undo").click()
    expect(phone.get_by_role("status").filter(has_text=re.compile("^Marked: .*, Relief"))).to_be_visible()
    expect(phone.locator("ellipse.limb-tender")).to_have_count(1)
