"""Your data: files that leave and come back, the calendar, what was done, erasing here and on the server."""

from __future__ import annotations

import json
import re
from pathlib import Path

import httpx
import pytest
from browser.conftest import NewPhone
from browser.day_steps import screen
from browser.limb_steps import axe_finds
from browser.phone import all_sent, fresh, pair, shows, tap
from browser.plytide_server import Server
from playwright.sync_api import Locator, Page, expect

TITLE = "Your data"


@pytest.fixture
def paired(phone: Page, server: Server, logbook: str) -> Page:
    pair(phone, server.url, server.code(logbook))
    tap(phone, 2)
    all_sent(phone)
    screen(phone, "data", TITLE)
    return phone


def row(page: Page, name: str) -> Locator:
    """A row of the screen by its first words."""
    return page.locator(".row").filter(has_text=re.compile(f"^{name}"))


def saved(page: Page, name: str) -> list[dict[str, object]]:
    """The lines of a file that a row of the screen hands over."""
    with page.expect_download() as download:
        row(page, name).click()
    return [json.loads(line) for line in Path(download.value.path()).read_text("utf-8-sig").splitlines()]


def test_the_servers_file_has_every_version_and_the_phones_what_stands(paired: Page) -> None:
    whole = saved(paired, "Everything, to bring in again")
    here = saved(paired, "What is on this phone")
    assert {e["id"] for e in whole} == {e["id"] for e in here}
    assert len(here) == len({e["id"] for e in here})
    assert len(whole) >= len(here) >= 1


def test_a_phone_without_a_server_can_save_what_it_holds(phone: Page) -> None:
    tap(phone, 3)
    screen(phone, "data", TITLE)
    [entry] = saved(phone, "What is on this phone")
    assert entry["body"]["total"] == 3  # type: ignore[index]
    expect(phone.get_by_text("Choose a file")).to_have_count(0)


def test_a_file_is_brought_in_line_by_line_and_says_what_became_of_it(paired: Page, tmp_path: Path) -> None:
    lines = [json.dumps(e) for e in saved(paired, "What is on this phone")]
    fresh = json.loads(lines[0]) | {"id": "01978000-0000-7000-8000-00000000abcd"}
    file = tmp_path / "log.jsonl"
    file.write_text("\n".join([*lines, json.dumps(fresh), '{"cut": sho']) + "\n")
    paired.get_by_label("Choose a file").set_input_files(file)
    expect(paired.get_by_text("1 entry taken.")).to_be_visible()
    expect(paired.get_by_text(re.compile(r"were? here already|was here already"))).to_be_visible()
    expect(paired.get_by_text(re.compile(rf"Line {len(lines) + 2}: This line is not a whole entry"))).to_be_visible()


def test_the_calendars_address_reads_as_a_calendar_until_it_is_ended(paired: Page) -> None:
    paired.get_by_role("button", name="Show the address").click()
    address = paired.locator(".address").inner_text()
    assert httpx.get(address).text.startswith("BEGIN:VCALENDAR")
    paired.get_by_role("button", name="End this address").click()
    expect(paired.get_by_text("Ended. Calendars that have it get nothing more.")).to_be_visible()
    assert httpx.get(address).status_code == 404


def test_what_was_done_is_listed_in_words(paired: Page) -> None:
    rows = paired.get_by_role("list", name="What was done").get_by_role("listitem")
    expect(rows.first).to_be_visible()
    assert "was paired" in " ".join(rows.all_inner_texts())


def test_erasing_on_the_server_leaves_nothing_there_and_all_of_it_here(
    paired: Page, server: Server, logbook: str
) -> None:
    row(paired, "Erase on the server").click()
    paired.get_by_role("button", name="Yes, erase").click()
    expect(paired.get_by_text("The server has erased it")).to_be_visible()
    assert logbook not in [row.id for row in server.store.logbooks()]
    paired.goto(f"{server.url}/#/today")
    shows(paired, 2)


def test_erasing_here_asks_first_and_then_the_phone_is_new(phone: Page, server: Server) -> None:
    tap(phone, 4)
    shows(phone, 4)
    screen(phone, "data", TITLE)
    row(phone, "Erase on this phone").click()
    expect(phone.get_by_text("would be lost")).to_be_visible()
    phone.get_by_role("button", name="Cancel").click()
    phone.goto(f"{server.url}/#/today")
    shows(phone, 4)
    screen(phone, "data", TITLE)
    row(phone, "Erase on this phone").click()
    phone.get_by_role("button", name="Yes, erase").click()
    fresh(phone)
    assert phone.evaluate("indexedDB.databases().then((all) => all.length)") <= 1
    phone.reload()
    fresh(phone)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 390])
def test_axe_finds_nothing(new_phone: NewPhone, server: Server, logbook: str, scheme: str, width: int) -> None:
    phone = new_phone(color_scheme=scheme, viewport={"width": width, "height": 844})
    screen(phone, "data", TITLE)
    assert axe_finds(phone) == []
    pair(phone, server.url, server.code(logbook))
    screen(phone, "data", TITLE)
    phone.get_by_role("button", name="Show the address").click()
    row(phone, "Erase on this phone").click()
    expect(phone.locator(".address")).to_be_visible()
    assert axe_finds(phone) == []
    assert phone.evaluate("document.documentElement.scrollWidth") <= width
