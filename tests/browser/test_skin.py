"""The skin check in a real Chromium: two taps when all is well, and what to do at once when not, with no network."""

from __future__ import annotations

import re

import pytest
from browser.conftest import NewPhone
from browser.limb_steps import axe_finds, cut_texts, entry, profile, put, show, stored, tap_limb
from browser.phone import all_sent, kept, pair, wake
from browser.plytide_server import Server
from browser.skin_steps import PHONES, acting, check, settled, tick
from playwright.sync_api import Page, expect
from plytide.entries import parse_entry
from plytide.insight.rules import met_by
from plytide.insight.skin import was_clear


def test_all_clear_is_two_taps_from_today(phone: Page) -> None:
    put(phone, [profile(), entry("doff", "left", {}, 5)])
    phone.reload()
    phone.get_by_role("link", name="Skin check").click()
    phone.get_by_role("button", name="All clear").click()
    expect(phone.get_by_role("status").filter(has_text="All clear. Saved on this phone")).to_be_visible()
    assert check(phone) == {"clear": True, "findings": [], "fever_c": None, "unwell": []}
    phone.get_by_role("button", name="Undo").click()
    expect(phone.get_by_role("status").filter(has_text="Taken back")).to_be_visible()
    assert [e["erased"] for e in stored(phone, "skin")] == [True]
    phone.get_by_role("button", name="Put back").click()
    settled(phone)
    assert check(phone)["clear"] is True


def test_a_double_tap_on_all_clear_is_one_check_and_stays_to_say_so(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "skin/left")
    phone.get_by_role("button", name="All clear").dblclick()
    expect(phone.get_by_role("status").filter(has_text="All clear. Saved")).to_be_visible()
    assert len(stored(phone, "skin")) == 1


def test_open_skin_offline_says_at_once_what_to_do_and_whom_to_call(
    new_phone: NewPhone, server: Server, logbook: str
) -> None:
    phone = new_phone()
    pair(phone, server.url, server.code(logbook))
    put(phone, [profile(**PHONES), entry("doff", "left", {}, 5)])
    kept(phone)
    phone.context.set_offline(True)
    show(phone, "skin/left")
    tick(phone, "Open skin")
    panel = acting(phone)
    expect(panel).to_be_in_viewport()
    expect(panel).to_contain_text("Same day: Open skin")
    expect(panel).to_contain_text("Take the leg off. Keep it off until you are told.")
    expect(panel).to_contain_text("You entered open skin.")
    expect(panel).to_contain_text("not a diagnosis, and nobody is watching these entries")
    call = phone.locator(".touch").get_by_role("link", name=re.compile("^Call clinic"))
    assert call.get_attribute("href") == "tel:+351210000000"
    assert phone.get_by_role("link", name="Emergency, 112").get_attribute("href") == "tel:112"
    expect(phone.get_by_role("button", name="All clear")).to_have_count(0)
    settled(phone)
    phone.reload()
    expect(panel).to_contain_text("Same day: Open skin")
    phone.context.set_offline(False)
    phone.goto(server.url)
    wake(phone)
    all_sent(phone)
    (held,) = [e for e in server.live(logbook) if e.kind == "skin"]
    assert [m.code for m in met_by("skin", held.body, {})] == ["open_skin"]


def test_an_emergency_comes_into_view_with_its_number(phone: Page) -> None:
    put(phone, [profile(**PHONES)])
    show(phone, "skin/left")
    phone.get_by_role("button", name="Something else").click()
    tick(phone, "Spreading")
    expect(acting(phone)).to_be_in_viewport()
    expect(acting(phone).get_by_role("region", name=re.compile("^Emergency"))).to_contain_text(
        "Call the emergency number (112) now."
    )
    expect(phone.locator(".touch").get_by_role("link", name=re.compile("^Call 112"))).to_have_attribute(
        "href", "tel:112"
    )


def test_without_numbers_it_still_says_whom_to_call(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "skin/left")
    phone.get_by_role("button", name="Something else").click()
    tick(phone, "Black or grey skin")
    expect(acting(phone)).to_contain_text("Call your local emergency number now.")
    expect(phone.locator(".touch").get_by_role("link", name="Add clinic number")).to_be_visible()


def test_a_higher_risk_goes_one_level_up(phone: Page) -> None:
    put(phone, [profile(higher_risk=["diabetes"], **PHONES)])
    show(phone, "skin/left")
    tick(phone, "Open skin")
    expect(acting(phone).get_by_role("region", name=re.compile("^Emergency"))).to_be_visible()


def test_fever_with_vomiting_is_an_emergency_and_a_mistyped_temperature_is_told(phone: Page) -> None:
    """38.0 °C with vomiting: NHS text on cellulitis."""
    put(phone, [profile(**PHONES)])
    show(phone, "skin/left")
    phone.get_by_role("button", name="Something else").click()
    heat = phone.get_by_label("Temperature, °C")
    heat.fill("380")
    expect(phone.get_by_role("alert").filter(has_text="Between 30 °C and 45 °C")).to_be_visible()
    assert stored(phone, "skin") == []
    heat.fill("37,9")
    settled(phone)
    expect(acting(phone)).to_have_count(0)
    heat.fill("38")
    expect(acting(phone)).to_contain_text("Same day: Fever")
    phone.get_by_role("button", name="Vomiting").click()
    expect(acting(phone).get_by_role("region", name=re.compile("^Emergency: Fever and feeling unwell"))).to_be_visible()
    settled(phone)
    assert (check(phone)["fever_c"], check(phone)["unwell"]) == (38, ["vomiting"])


def test_fahrenheit_is_kept_as_celsius(phone: Page) -> None:
    """100.4 °F is 38.0 °C."""
    put(phone, [profile(units="us", **PHONES)])
    show(phone, "skin/left")
    phone.get_by_role("button", name="Something else").click()
    phone.get_by_label("Temperature, °F").fill("100.4")
    expect(acting(phone)).to_contain_text("Same day: Fever")
    settled(phone)
    assert check(phone)["fever_c"] == 38


def test_the_same_place_as_before_is_recognised(phone: Page) -> None:
    earlier = {"clear": False, "findings": [{"what": "redness", "height": 0.64, "angle": 355.0, "fade_min": 12}]}
    put(phone, [profile(), entry("skin", "left", earlier, 60 * 24 * 12), entry("doff", "left", {}, 5)])
    show(phone, "skin/left")
    tick(phone, "Blister")
    phone.get_by_role("button", name="Where?").click()
    expect(phone.locator("circle.limb-earlier")).to_have_count(1)
    tap_limb(phone, (150, 204))  # the bump below the kneecap
    expect(
        phone.get_by_role(
            "button", name=re.compile("Where.*Bump below the kneecap.*Same place as .+: a mark that stays")
        )
    ).to_be_visible()
    settled(phone)
    finding = check(phone)["findings"][0]  # type: ignore[index]
    assert finding["height"] == pytest.approx(0.645, abs=0.02)
    phone.get_by_role("button", name="Where?").click()


def test_the_place_can_be_chosen_from_the_list(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "skin/left")
    tick(phone, "Swelling")
    phone.get_by_role("button", name="Where?").click()
    phone.get_by_role("radio", name="List", exact=True).check(force=True)
    phone.get_by_role("radio", name="Shin ridge").check(force=True)
    settled(phone)
    assert check(phone)["findings"][0]["angle"] == 0  # type: ignore[index]
    phone.get_by_role("button", name="No one place").click()
    phone.wait_for_timeout(200)
    assert check(phone)["findings"][0]["height"] is None  # type: ignore[index]


def test_a_blister_that_burst_and_its_size_are_asked_and_unticking_takes_the_check_back(phone: Page) -> None:
    put(phone, [profile(**PHONES)])
    show(phone, "skin/left")
    tick(phone, "Blister")
    expect(acting(phone)).to_contain_text("Take the leg off. Keep it off until you have asked your clinic")
    phone.get_by_role("radio", name="Burst").check(force=True)
    expect(acting(phone)).to_contain_text("Same day: Open skin")
    phone.get_by_role("radio", name="a fingertip", exact=True).check(force=True)
    settled(phone)
    (written,) = stored(phone, "skin")
    assert (written["body"]["findings"][0]["what"], written["body"]["findings"][0]["size_mm"]) == ("broken_blister", 15)
    parse_entry(written)
    phone.get_by_role("checkbox", name="Blister").uncheck(force=True)
    expect(acting(phone)).to_have_count(0)
    expect(phone.get_by_role("button", name="All clear")).to_be_visible()
    phone.wait_for_timeout(200)
    assert [e["erased"] for e in stored(phone, "skin")] == [True]


def test_a_call_is_noted(phone: Page) -> None:
    put(phone, [profile(**PHONES)])
    show(phone, "skin/left")
    tick(phone, "Open skin")
    phone.get_by_role("button", name="I have called").click()
    expect(phone.get_by_role("status").filter(has_text="Noted: called")).to_be_visible()
    (told,) = stored(phone, "told")
    assert (told["limb"], told["body"]["code"]) == ("left", "open_skin")


def test_what_was_found_since_doffing_still_stands_when_the_screen_is_opened_again(phone: Page) -> None:
    put(phone, [profile(**PHONES)])
    show(phone, "skin/left")
    tick(phone, "Open skin")
    settled(phone)
    phone.goto(phone.url.split("#")[0] + "#/today")
    phone.get_by_role("link", name="Skin check").click()
    expect(acting(phone)).to_contain_text("Same day: Open skin")
    expect(phone.get_by_role("button", name="All clear")).to_have_count(0)


def test_what_cannot_be_seen_has_ways_to_be_seen(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "skin/left")
    phone.get_by_role("button", name="Can’t see the end").click()
    expect(phone.get_by_text("A mirror on the floor")).to_be_visible()
    assert stored(phone, "skin") == []


def test_an_end_that_was_not_seen_is_logged_and_is_not_clear(phone: Page) -> None:
    put(phone, [profile()])
    show(phone, "skin/left")
    phone.get_by_role("button", name="Can’t see the end").click()
    tick(phone, "The end was not seen")
    expect(phone.get_by_role("status").filter(has_text="End not seen. Saved")).to_be_visible()
    phone.get_by_role("button", name="The rest is clear").click()
    expect(phone.get_by_role("button", name="Done")).to_be_visible()
    phone.wait_for_timeout(100)
    assert check(phone) == {"clear": True, "findings": [], "fever_c": None, "unwell": [], "end_unseen": True}
    assert not was_clear(check(phone))
    parse_entry(stored(phone, "skin")[-1])


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 320])
def test_axe_finds_nothing_in_any_state(new_phone: NewPhone, scheme: str, width: int) -> None:
    phone = new_phone(color_scheme=scheme, viewport={"width": width, "height": 844 if width > 320 else 640})
    put(phone, [profile(**PHONES), entry("doff", "left", {}, 25)])
    show(phone, "skin/left")
    # The thumb zone covers what can be scrolled from under it; axe would take that for too small.
    phone.evaluate("document.querySelector('.touch').style.position = 'relative'")
    assert axe_finds(phone) == []
    phone.get_by_role("button", name="Something else").click()
    assert axe_finds(phone) == []
    tick(phone, "A mark that stays")
    phone.get_by_role("radio", name="Gone later").check(force=True)
    assert axe_finds(phone) == []
    phone.get_by_role("button", name="Where?").click()
    assert axe_finds(phone) == []
    tick(phone, "Open skin")
    assert axe_finds(phone) == []
    tick(phone, "Spreading")
    assert axe_finds(phone) == []


def test_no_text_is_cut_at_twice_the_size(new_phone: NewPhone) -> None:
    phone = new_phone()
    put(phone, [profile(**PHONES), entry("doff", "left", {}, 5)])
    show(phone, "skin/left")
    phone.evaluate("document.documentElement.style.fontSize = '200%'")
    assert cut_texts(phone) == []
    tick(phone, "Open skin")
    assert cut_texts(phone) == []
