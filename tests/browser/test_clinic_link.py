"""Making, sending, watching and stopping a clinic link on the phone."""

from __future__ import annotations

import json
import re

import pytest
from browser.conftest import NewPhone
from browser.day_steps import screen
from browser.limb_steps import axe_finds
from browser.phone import all_sent, pair, tap
from browser.plytide_server import Server
from playwright.sync_api import Browser, Page, Request, expect

TITLE = "Link for your clinic"


@pytest.fixture
def paired(phone: Page, server: Server, logbook: str) -> Page:
    """A paired phone at Today that has logged something."""
    pair(phone, server.url, server.code(logbook))
    tap(phone)
    all_sent(phone)
    return phone


def make(phone: Page) -> str:
    """Make a link with what stands there; answers its address."""
    screen(phone, "link", TITLE)
    phone.get_by_role("button", name="Make the link").click()
    address = phone.locator(".address")
    expect(address).to_be_visible()
    return address.inner_text()


def shown_code(phone: Page) -> str:
    return phone.locator(".code-large").inner_text().replace(" ", "")


def test_three_taps_from_today_make_a_link(paired: Page) -> None:
    paired.get_by_role("link", name="More").click()
    paired.get_by_role("link", name=TITLE).click()
    paired.get_by_role("button", name="Make the link").click()
    expect(paired.locator(".code-large")).to_have_text(re.compile(r"^\d{3} \d{3}$"))
    expect(paired.get_by_text("4 weeks to")).to_be_visible()


def test_the_clinic_reads_it_and_the_wearer_sees_that_somebody_did(paired: Page, browser: Browser) -> None:
    address, code = make(paired), shown_code(paired)
    expect(paired.get_by_role("heading", name="Not opened yet")).to_be_visible()
    clinic = browser.new_context(java_script_enabled=False).new_page()
    clinic.goto(re.sub("//localhost", "//127.0.0.1", address))
    clinic.get_by_label("Code, 6 digits").fill("000000" if code != "000000" else "000001")
    clinic.get_by_role("button", name="Open").click()
    clinic.get_by_label("Code, 6 digits").fill(code)
    clinic.get_by_role("button", name="Open").click()
    expect(clinic.get_by_text("Peak ply").first).to_be_visible()
    paired.reload()
    expect(paired.get_by_role("heading", name="Opened once")).to_be_visible()
    rows = paired.locator(".rows li").all_inner_texts()
    assert [row.split()[-1] for row in rows] == ["read", "code"]  # the latest first; "wrong code" before it
    expect(paired.get_by_text("We do not know who opened it.")).to_be_visible()
    # And once stopped, it is gone for the reader as well.
    paired.get_by_role("button", name="Stop link").click()
    paired.get_by_role("button", name="Yes, stop it").click()
    expect(paired.get_by_text("You stopped this link.")).to_be_visible()
    clinic.reload()
    expect(clinic.get_by_text("Peak ply")).to_have_count(0)
    clinic.context.close()


def test_what_is_ticked_is_what_is_asked_for(paired: Page) -> None:
    screen(paired, "link", TITLE)
    paired.get_by_text("2 weeks", exact=True).click()
    for name in ("Sore spots", "Your notes", "Mishaps"):
        paired.get_by_role("checkbox", name=re.compile(f"^{name}")).click()
    paired.get_by_text("Goes on", exact=True).click()
    paired.get_by_text("1 day", exact=True).click()
    expect(paired.get_by_role("radio", name="English")).to_be_checked()  # the wearer's own language stands there
    paired.get_by_text("Español", exact=True).click()
    sent: list[Request] = []
    paired.on("request", lambda r: sent.append(r) if r.method == "POST" and r.url.endswith("/api/links") else None)
    paired.get_by_role("button", name="Make the link").click()
    expect(paired.locator(".code-large")).to_be_visible()
    body = json.loads(sent[0].post_data or "")
    assert (body["days"], body["live"], body["hours"], body["notes"]) == (14, True, 24, True)
    assert body["language"] == "es"
    assert {"ply", "skin", "note"} <= set(body["kinds"])
    assert not {"sore", "mishap"} & set(body["kinds"])
    assert len(sent) == 1


def test_nothing_ticked_makes_no_link(paired: Page) -> None:
    screen(paired, "link", TITLE)
    for box in paired.get_by_role("checkbox").all():
        if box.is_checked():
            box.click()
    expect(paired.get_by_role("button", name="Make the link")).to_be_disabled()
    expect(paired.get_by_role("alert")).to_have_text("Tick at least one thing.")


def test_a_look_beforehand_and_back(paired: Page) -> None:
    screen(paired, "link", TITLE)
    paired.get_by_role("link", name="See what they will see").click()
    expect(paired.get_by_text("Not verified, not measured, not a diagnosis").first).to_be_visible()
    paired.get_by_role("link", name="Back to your log").click()
    expect(paired.get_by_role("heading", level=1, name=TITLE)).to_be_visible()
    expect(paired.get_by_text("Links you have made")).to_have_count(0)


def test_copy_puts_the_address_without_the_code_on_the_clipboard(paired: Page) -> None:
    paired.context.grant_permissions(["clipboard-read", "clipboard-write"])
    address = make(paired)
    paired.get_by_role("button", name="Copy link").click()
    expect(paired.get_by_role("status").filter(has_text="Copied.")).to_be_visible()
    assert paired.evaluate("navigator.clipboard.readText()") == address
    assert shown_code(paired) not in address


def test_the_share_sheet_gets_the_address_and_not_the_code(paired: Page) -> None:
    address = make(paired)
    paired.evaluate("navigator.share = (what) => { window.shared = what; return Promise.resolve(); }")
    paired.get_by_role("button", name="Send the link").click()
    shared = paired.evaluate("window.shared")
    assert shared["url"] == address
    assert shown_code(paired) not in json.dumps(shared)


def test_the_qr_code_comes_from_the_server_and_is_seen(paired: Page) -> None:
    make(paired)
    paired.get_by_role("button", name="Show QR code").click()
    picture = paired.get_by_role("img", name=re.compile("QR code of the link"))
    expect(picture).to_be_visible()
    assert picture.evaluate("(e) => e.decode().then(() => e.naturalWidth)") > 0


def test_a_records_program_gets_its_own_square_and_link(paired: Page) -> None:
    paired.context.grant_permissions(["clipboard-read", "clipboard-write"])
    make(paired)
    paired.get_by_role("button", name="For a records program").click()
    picture = paired.get_by_role("img", name=re.compile("SMART Health Link"))
    assert picture.evaluate("(e) => e.decode().then(() => e.naturalWidth)") > 0
    paired.get_by_role("button", name="Copy SMART Health Link").click()
    expect(paired.get_by_role("status").filter(has_text="Copied.")).to_be_visible()
    assert paired.evaluate("navigator.clipboard.readText()").startswith("shlink:/")


def test_without_a_server_the_screen_says_what_to_do(phone: Page) -> None:
    screen(phone, "link", TITLE)
    expect(phone.get_by_text("A link needs a server.")).to_be_visible()
    expect(phone.get_by_role("link", name="Pair with a server")).to_be_visible()


def test_without_a_connection_nothing_is_made_and_it_is_said(paired: Page) -> None:
    screen(paired, "link", TITLE)
    paired.context.set_offline(True)
    paired.get_by_role("button", name="Make the link").click()
    expect(paired.get_by_role("alert")).to_contain_text("The server did not answer. Nothing was made.", timeout=30_000)
    paired.context.set_offline(False)
    expect(paired.get_by_role("button", name="Make the link")).to_be_enabled()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 390])
def test_axe_finds_nothing(new_phone: NewPhone, server: Server, logbook: str, scheme: str, width: int) -> None:
    phone = new_phone(color_scheme=scheme, viewport={"width": width, "height": 844})
    screen(phone, "link", TITLE)
    assert axe_finds(phone) == []
    pair(phone, server.url, server.code(logbook))
    screen(phone, "link", TITLE)
    assert axe_finds(phone) == []
    phone.get_by_role("button", name="Make the link").click()
    expect(phone.locator(".code-large")).to_be_visible()
    phone.get_by_role("button", name="Show QR code").click()
    assert axe_finds(phone) == []
    assert phone.evaluate("document.documentElement.scrollWidth") <= width
