"""Pattern: weeks and months from the summary, offline too; every day opens into its entries."""

from __future__ import annotations

import re

import pytest
from browser.conftest import NewPhone
from browser.day_steps import Wearer, screen
from browser.phone import all_sent, kept, pair
from browser.plytide_server import Server
from playwright.sync_api import Page, expect

GAP = (-11, -10)


@pytest.fixture
def month(new_phone: NewPhone, server: Server, logbook: str) -> Page:
    """A phone with thirty usual days, a gap of two, and a reading."""
    wearer = Wearer()
    for day in range(-30, 0):
        if day not in GAP:
            wearer.worn(day, (8, 5), (10, 6), (12, 7), (16, 8))
            wearer.add(day, 21.5, "skin", clear=True, findings=[])
    wearer.add(-2, 13, "sore", height=0.648, angle=0, intensity=6, feel="pressure")
    wearer.on_server(server, logbook)
    phone = new_phone(timezone_id=wearer.zone)
    pair(phone, server.url, server.code(logbook))
    all_sent(phone)
    screen(phone, "pattern", "Pattern")
    expect(phone.locator(".strip label")).to_have_count(7, timeout=15_000)
    return phone


def test_a_chosen_day_is_said_in_a_sentence_and_opens(month: Page) -> None:
    month.locator(".strip label").nth(5).click()
    said = month.locator(".strip + p")
    expect(said).to_contain_text("5 at the start, 8 at the peak")
    month.get_by_role("link", name="Open the day").click()
    expect(month.get_by_role("heading", level=1, name="Day’s log")).to_be_visible()
    expect(month.get_by_role("listitem").filter(has_text="8 ply")).to_be_visible()


def test_a_day_without_a_log_is_a_gap_and_not_a_zero(month: Page) -> None:
    figure = month.get_by_role("img", name=re.compile("Four weeks"))
    expect(figure).to_be_visible()
    label = figure.get_attribute("aria-label") or ""
    missing = int(re.search(r"(\d+) days without", label).group(1))  # type: ignore[union-attr]
    assert missing >= 2
    assert "peak 8 to 8" in label


def test_soreness_and_hours_stand_under_the_same_days(month: Page) -> None:
    expect(month.get_by_role("img", name=re.compile("^Hours on: 1[23]"))).to_be_visible()
    month.locator(".strip label").nth(4).click()
    expect(month.locator(".strip + p")).to_contain_text("sore 6")


def test_months_show_each_day_and_lead_to_it(month: Page) -> None:
    month.get_by_text("Months", exact=True).click()
    day = month.get_by_role("link", name=re.compile("8 at the peak")).first
    expect(day).to_be_visible()
    day.click()
    expect(month.get_by_role("heading", level=1, name="Day’s log")).to_be_visible()


def test_the_pattern_opens_without_a_network(month: Page, server: Server) -> None:
    kept(month)
    with server.down():
        month.reload()
        expect(month.locator(".strip label")).to_have_count(7)


def test_without_a_reading_it_says_where_readings_come_from(phone: Page) -> None:
    screen(phone, "pattern", "Pattern")
    expect(phone.get_by_text("Your pattern is worked out on a server")).to_be_visible()
