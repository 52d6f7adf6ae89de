"""Settings: each change is saved at once, follows the wearer to other devices, and does what it says."""

from __future__ import annotations

import re

import pytest
from browser.conftest import NewPhone
from browser.day_steps import Wearer, screen
from browser.limb_steps import stored
from browser.phone import all_sent, fresh, pair, shows
from browser.plytide_server import Server
from playwright.sync_api import Page, expect


def stepper(page: Page, name: str, way: str, times: int) -> None:
    """Tap minus ("Less") or plus ("More") of a number."""
    for _ in range(times):
        page.get_by_role("group", name=name, exact=True).get_by_role("button", name=re.compile(f"^{way}")).click()


def test_what_is_set_is_kept_and_is_there_after_a_reload(phone: Page) -> None:
    screen(phone, "settings", "Settings")
    phone.get_by_label("First name").fill("Ruth")
    phone.get_by_label("Clinic", exact=True).fill("+351 21 000 0000")
    phone.get_by_label("Emergency", exact=True).fill("112")
    stepper(phone, "Ceiling", "More", 2)
    stepper(phone, "Most socks at once", "Less", 1)
    phone.get_by_role("button", name="Diabetes").click()
    stepper(phone, "Weeks to make a socket", "More", 1)
    stepper(phone, "A day starts at", "More", 1)
    phone.wait_for_timeout(200)
    phone.reload()
    expect(phone.get_by_label("First name")).to_have_value("Ruth")
    expect(phone.get_by_role("button", name="Diabetes")).to_have_attribute("aria-pressed", "true")
    (profile,) = stored(phone, "profile")
    assert profile["body"] == {
        "name": "Ruth", "clinic_phone": "+351 21 000 0000", "emergency_phone": "112", "ply_ceiling": 13,
        "layers_max": 2, "higher_risk": ["diabetes"], "weeks_to_socket": 7, "day_starts": 5,
    }  # fmt: skip


def test_settings_reach_the_other_device(new_phone: NewPhone, server: Server, logbook: str) -> None:
    one, other = new_phone(), new_phone()
    for device in (one, other):
        pair(device, server.url, server.code(logbook))
    screen(one, "settings", "Settings")
    stepper(one, "Ceiling", "Less", 1)
    screen(one, "today", "")
    all_sent(one)
    other.reload()
    screen(other, "settings", "Settings")
    expect(other.get_by_role("group", name="Ceiling", exact=True).get_by_role("status")).to_contain_text(
        "10", timeout=15_000
    )


def test_the_ceiling_set_is_the_ceiling_drawn(new_phone: NewPhone) -> None:
    wearer = Wearer(ply_ceiling=9)
    wearer.worn(0, (8, 5), (12, 8), off=None)
    phone = new_phone(timezone_id=wearer.zone)
    wearer.on_phone(phone)
    shows(phone, 8)
    expect(phone.locator(".say")).to_contain_text("1 below your ceiling of 9.")
    expect(phone.get_by_role("img", name=re.compile("Ceiling 9"))).to_be_visible()


def test_the_clinics_own_fade_limit_takes_the_place_of_the_leaflets_and_can_be_dropped(phone: Page) -> None:
    screen(phone, "settings", "Settings")
    expect(phone.get_by_text("as leaflets say: 20 min, or 15 with the conditions below")).to_be_visible()
    phone.get_by_role("button", name="Set the clinic’s own").click()
    stepper(phone, "A mark should fade within", "Less", 8)
    phone.wait_for_timeout(100)
    assert stored(phone, "profile")[0]["body"]["fade_limit_min"] == 12
    phone.get_by_role("button", name="Back to the usual").click()
    phone.wait_for_timeout(100)
    assert stored(phone, "profile")[0]["body"]["fade_limit_min"] is None


@pytest.mark.parametrize(
    ("name", "ground"), [("Light", "rgb(228, 232, 227)"), ("Dark", "rgb(14, 22, 21)"), ("Strong", "rgb(255, 255, 255)")]
)
def test_the_colours_chosen_stay_whatever_the_phone_prefers(new_phone: NewPhone, name: str, ground: str) -> None:
    phone = new_phone(color_scheme="light" if name == "Dark" else "dark")
    if name == "Strong":
        phone.emulate_media(color_scheme="light")
    screen(phone, "settings", "Settings")
    phone.get_by_role("radiogroup", name="Colours").get_by_role("radio", name=name).check(force=True)
    phone.reload()
    expect(phone.get_by_role("heading", level=1, name="Settings")).to_be_visible()
    assert phone.evaluate("getComputedStyle(document.body).backgroundColor") == ground


def test_less_motion_is_no_motion(new_phone: NewPhone) -> None:
    phone = new_phone(reduced_motion="reduce")
    fresh(phone)
    assert phone.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--m-level').trim()") == "0ms"
