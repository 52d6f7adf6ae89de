"""The sore spot screen in a real Chromium: a tap is an entry is a mark, and the list says the same."""

from __future__ import annotations

import math
import re

import pytest
from browser.conftest import NewPhone
from browser.limb_steps import axe_finds, cut_texts, drawn_mark, entry, profile, put, show, stored, tap_limb, turn
from browser.phone import all_sent, kept, pair
from browser.plytide_server import Server
from playwright.sync_api import Page, expect
from plytide.entries import parse_entry
from plytide.limb.geometry import LEVELS, surface_point
from plytide.limb.views import VIEWS, frame

# One spot for each view, seen squarely enough not to be turned away from.
SPOTS = {
    "front": (0.55, 15.0),
    "inner": (0.5, 280.0),
    "back": (0.45, 200.0),
    "outer": (0.62, 100.0),
    "end": (0.05, 140.0),
}


def save(page: Page, score: int) -> None:
    page.get_by_role("radio", name=str(score), exact=True).check(force=True)
    page.wait_for_timeout(550)  # closer than this two taps on Save are one
    page.get_by_role("button", name=re.compile("^Save")).click()
    expect(page.get_by_role("status").filter(has_text=re.compile(f"Saved: .+, {score},"))).to_be_visible()


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("level", LEVELS)
def test_a_tap_its_entry_and_its_mark_agree_within_two_millimetres_on_every_view(
    phone: Page, level: str, side: str
) -> None:
    put(phone, [profile(level, side)])
    show(phone, f"sore/{side}")
    pictures = frame(level, side)
    for n, view in enumerate(VIEWS, 1):
        spot = SPOTS[view]
        turn(phone, view)
        tapped = pictures.project(view, spot[0] * pictures.limb.brim, spot[1])
        tap_limb(phone, tapped)
        drawn = drawn_mark(phone, "limb-now")
        scale = pictures.end_scale if view == "end" else pictures.scale
        assert math.dist(tapped, drawn) / scale < 2, view
        save(phone, n)
        body = stored(phone, "sore")[-1]["body"]
        assert math.dist(surface_point(level, *spot), surface_point(level, body["height"], body["angle"])) < 2, view
        assert body["intensity"] == n
        assert body["phantom"] is False
        assert (round(body["height"], 6), round(body["angle"], 1)) == (body["height"], body["angle"])
    assert [parse_entry(e).limb for e in stored(phone, "sore")] == [side] * len(VIEWS)


def test_a_tap_near_the_outline_turns_the_limb_to_confirm_and_the_next_tap_moves_the_mark(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "sore/left")
    pictures = frame("transtibial", "left")
    x, y = pictures.project("front", 110, 90)  # the outline on the outer side
    tap_limb(phone, (x + 8, y))  # and a finger's width beside it
    expect(phone.get_by_role("radio", name="Outer", exact=True)).to_be_checked()
    expect(phone.get_by_role("status").filter(has_text="Right place?")).to_be_visible()
    at = pictures.from_view("outer", *drawn_mark(phone, "limb-now"))
    assert at is not None
    assert (at.angle, at.height * pictures.limb.brim) == pytest.approx((90, 110), abs=2)
    tap_limb(phone, pictures.project("outer", 147, 107))
    expect(phone.get_by_role("status").filter(has_text="Outer bump below the knee")).to_be_visible()
    save(phone, 6)
    assert stored(phone, "sore")[-1]["body"]["height"] == pytest.approx(0.7, abs=0.01)


def test_a_tap_beside_the_limb_marks_nothing(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "sore/left")
    tap_limb(phone, (20, 380))
    expect(phone.locator("circle.limb-now")).to_have_count(0)
    phone.get_by_role("button", name="Save spot").click()
    expect(phone.get_by_role("alert")).to_have_text("Tap where it hurts first.")
    tap_limb(phone, (150, 250))
    phone.wait_for_timeout(550)
    phone.get_by_role("button", name="Save spot").click()
    expect(phone.get_by_role("alert")).to_have_text("Say how sore first, 0 to 10.")
    assert stored(phone, "sore") == []


def test_the_list_reaches_the_same_places_by_keyboard_alone(phone: Page) -> None:
    put(phone, [profile(), entry("sore", "left", {"height": 0.65, "angle": 2.0, "intensity": 3, "feel": "rub"}, 4000)])
    show(phone, "sore/left")
    phone.get_by_role("radio", name="List", exact=True).focus()
    phone.keyboard.press("Space")
    places = phone.get_by_role("radiogroup", name="Choose where it hurts.")
    expect(places.get_by_role("radio", name=re.compile("^Bump below the kneecap.*3, rubs"))).to_be_visible()
    places.get_by_role("radio", name=re.compile("^Kneecap")).focus()
    phone.keyboard.press("Space")
    phone.keyboard.press("ArrowDown")
    expect(places.get_by_role("radio", name="Lower edge of kneecap")).to_be_checked()
    phone.get_by_role("radio", name="7", exact=True).focus()
    phone.keyboard.press("Space")
    phone.get_by_role("button", name="Burns").press("Enter")
    phone.get_by_role("button", name="Save spot").press("Enter")
    expect(phone.get_by_role("status").filter(has_text="Saved: Lower edge of kneecap, 7")).to_be_visible()
    body = stored(phone, "sore")[-1]["body"]
    assert (body["height"], body["angle"], body["feel"]) == (0.8285, 0, "burn")


def test_what_is_chosen_in_the_list_is_marked_on_the_drawing_and_the_other_way_round(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "sore/left")
    phone.get_by_role("radio", name="List", exact=True).check(force=True)
    phone.get_by_role("radio", name="Shin ridge").check(force=True)
    phone.get_by_role("radio", name="Drawing", exact=True).check(force=True)
    x, y = drawn_mark(phone, "limb-now")
    pictures = frame("transtibial", "left")
    assert math.dist((x, y), pictures.to_view("front", (0.229 + 0.6) / 2, 0) or (0, 0)) < 0.2
    tap_limb(phone, pictures.to_view("front", 0.65, 0) or (0, 0))
    phone.get_by_role("radio", name="List", exact=True).check(force=True)
    expect(phone.get_by_role("radio", name="Bump below the kneecap")).to_be_checked()


def test_same_as_last_is_one_tap_and_undo_is_in_place(phone: Page) -> None:
    last = {"height": 0.62, "angle": 340.0, "intensity": 3, "feel": "rub", "phantom": False}
    put(phone, [profile(), entry("sore", "left", {**last, "intensity": 8}, 9000), entry("sore", "left", last, 1500)])
    show(phone, "sore/left")
    phone.get_by_role("button", name="Same as last").click()
    expect(phone.get_by_role("status").filter(has_text="Saved:")).to_be_visible()
    written = stored(phone, "sore")[-1]
    assert written["body"] == last
    assert not written["erased"]
    phone.wait_for_timeout(550)  # closer than this two taps are one
    phone.get_by_role("button", name="Undo").click()
    expect(phone.get_by_role("status").filter(has_text="Taken back:")).to_be_visible()
    assert next(e for e in stored(phone, "sore") if e["id"] == written["id"])["erased"]
    phone.wait_for_timeout(550)
    phone.get_by_role("button", name="Put back").click()
    expect(phone.get_by_role("status").filter(has_text="Saved:")).to_be_visible()
    assert not next(e for e in stored(phone, "sore") if e["id"] == written["id"])["erased"]


def test_a_double_tap_on_save_is_one_spot(phone: Page) -> None:
    put(phone, [profile(), entry("sore", "left", {"height": 0.5, "angle": 10.0, "intensity": 4}, 1500)])
    show(phone, "sore/left")
    phone.get_by_role("button", name="Same as last").dblclick()
    expect(phone.get_by_role("status").filter(has_text="Saved:")).to_be_visible()
    assert len(stored(phone, "sore")) == 2


def test_earlier_marks_are_open_rings_with_their_number_and_the_rest_are_counted(phone: Page) -> None:
    put(phone, [
        profile(),
        entry("sore", "left", {"height": 0.5, "angle": 10.0, "intensity": 4}, 1500),
        entry("sore", "left", {"height": 0.5, "angle": 190.0, "intensity": 9}, 1400),
        entry("sore", "left", {"height": 0.5, "angle": 200.0, "intensity": 2, "phantom": True}, 1300),
    ])  # fmt: skip
    show(phone, "sore/left")
    expect(phone.locator("text.limb-earlier-text")).to_have_text(["4"])
    expect(phone.get_by_text("1 more elsewhere")).to_be_visible()
    expect(
        phone.get_by_role("img", name=re.compile("Left limb, seen from the front. 1 earlier mark. 1 more elsewhere."))
    ).to_be_visible()
    turn(phone, "back")
    expect(phone.locator("text.limb-earlier-text")).to_have_text(["9"])


def test_marks_at_one_place_are_one_double_ring_and_near_ones_make_room(phone: Page) -> None:
    at = {"intensity": 4, "feel": "rub"}
    put(phone, [
        profile(),
        entry("sore", "left", {"height": 0.5, "angle": 10.0, **at}, 1500),
        entry("sore", "left", {"height": 0.501, "angle": 11.0, **at}, 1400),
        entry("sore", "left", {"height": 0.55, "angle": 10.0, **at}, 1300),
    ])  # fmt: skip
    show(phone, "sore/left")
    expect(phone.locator("circle.limb-earlier")).to_have_count(2)
    expect(phone.locator("circle.limb-again")).to_have_count(1)
    expect(phone.get_by_text("double: more than once")).to_be_visible()
    (a, b) = [(float(r.get_attribute("cx") or 0), float(r.get_attribute("cy") or 0))
              for r in phone.locator("circle.limb-earlier").all()]  # fmt: skip
    assert math.dist(a, b) > 24  # two rings of 12 do not touch


def test_phantom_pain_is_kept_apart_from_the_limb(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "sore/left")
    phone.get_by_role("button", name="Phantom").click()
    expect(phone.get_by_role("heading", name="Phantom pain")).to_be_visible()
    expect(phone.get_by_role("img")).to_have_count(0)
    save(phone, 5)
    body = stored(phone, "sore")[-1]["body"]
    assert (body["phantom"], body["intensity"]) == (True, 5)
    expect(phone.locator("circle.limb-earlier")).to_have_count(0)


def test_a_spot_is_kept_offline(phone: Page) -> None:
    put(phone, [profile()])
    kept(phone)
    phone.context.set_offline(True)
    show(phone, "sore/left")
    tap_limb(phone, (150, 250))
    save(phone, 4)
    phone.reload()
    assert len(stored(phone, "sore")) == 1
    expect(phone.locator("circle.limb-earlier")).to_have_count(1)


def test_four_weeks_of_marks_are_shown_as_heat(new_phone: NewPhone, server: Server, logbook: str) -> None:
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    marks = [entry("sore", "left", {"height": 0.6, "angle": 3.0 * n, "intensity": 6}, 1500.0 * n) for n in (1, 2, 3)]
    put(phone, [profile(), *marks])
    phone.reload()
    all_sent(phone)
    show(phone, "sore/left")
    expect(phone.locator("circle.limb-earlier").first).to_be_visible()
    phone.get_by_role("button", name="Show where it hurt over 4 weeks").click(timeout=20_000)
    expect(phone.locator("path.limb-heat").first).to_be_attached()
    expect(phone.locator("circle.limb-earlier")).to_have_count(0)
    assert axe_finds(phone) == []
    phone.get_by_role("button", name="Show single marks again").click()
    expect(phone.locator("path.limb-heat")).to_have_count(0)


def test_with_two_limbs_the_side_is_chosen_and_each_has_its_own_marks(phone: Page) -> None:
    both = {"limbs": [{"side": "left", "level": "transtibial"}, {"side": "right", "level": "transfemoral"}]}
    put(
        phone,
        [
            entry("profile", None, both, 9999),
            entry("sore", "right", {"height": 0.5, "angle": 10.0, "intensity": 4}, 99),
        ],
    )
    show(phone, "sore/left")
    expect(phone.locator("circle.limb-earlier")).to_have_count(0)
    phone.get_by_role("radio", name="Right", exact=True).check(force=True)
    expect(phone.locator("circle.limb-earlier")).to_have_count(1)
    tap_limb(phone, (150, 250))
    save(phone, 2)
    assert [e["limb"] for e in stored(phone, "sore")] == ["right", "right"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 320])
def test_axe_finds_nothing_in_any_state(new_phone: NewPhone, scheme: str, width: int) -> None:
    phone = new_phone(color_scheme=scheme, viewport={"width": width, "height": 844 if width > 320 else 640})
    put(phone, [profile(), entry("sore", "left", {"height": 0.5, "angle": 10.0, "intensity": 4}, 1500)])
    show(phone, "sore/left")
    assert axe_finds(phone) == []
    tap_limb(phone, (150, 280))
    save(phone, 4)
    assert axe_finds(phone) == []
    phone.get_by_role("radio", name="List", exact=True).check(force=True)
    assert axe_finds(phone) == []
    phone.get_by_role("button", name="Phantom").click()
    assert axe_finds(phone) == []


def test_no_text_is_cut_at_twice_the_size(new_phone: NewPhone) -> None:
    phone = new_phone()
    put(phone, [profile(), entry("sore", "left", {"height": 0.5, "angle": 10.0, "intensity": 4}, 1500)])
    show(phone, "sore/left")
    phone.evaluate("document.documentElement.style.fontSize = '200%'")
    assert cut_texts(phone) == []
    phone.get_by_role("radio", name="List", exact=True).check(force=True)
    assert cut_texts(phone) == []
