"""The page behind a link in a real browser: without scripts, on a desk, on a phone, on paper."""

from __future__ import annotations

import re

import pytest
from browser.clinic_steps import filled, link_to, reading, sheets
from browser.day_steps import axe_finds
from browser.plytide_server import Server
from playwright.sync_api import Browser, Page, expect
from plytide.store import Link


@pytest.fixture(scope="module")
def demo_link(server: Server) -> Link:
    return link_to(server, filled(server))


@pytest.fixture(scope="module")
def open_page(browser: Browser, server: Server, demo_link: Link):  # type: ignore[no-untyped-def]
    """The page on a desktop, scripts off."""
    with reading(browser, server, demo_link) as page:
        yield page


def height_of(page: Page, selector: str) -> float:
    box = page.locator(selector).first.bounding_box()
    assert box is not None
    return box["y"] + box["height"]


def test_a_reader_types_the_code_and_reads_without_a_script(open_page: Page) -> None:
    expect(open_page.get_by_role("heading", level=1)).to_have_text("Maren Oddly, right leg, below the knee")
    for heading in ("What Maren asks", "Sore spots", "Through a day", "Skin", "Day by day", "How to read this"):
        expect(open_page.get_by_role("heading", level=2, name=heading, exact=True)).to_be_visible()
    assert open_page.locator("svg.limb:visible").count() == 5


def test_the_first_half_page_is_above_the_fold_of_a_clinics_desktop(open_page: Page) -> None:
    # 1366 x 768 is the commonest small desktop (common practice); less the browser's own bars about 650 are left.
    assert height_of(open_page, ".signs") < 650
    assert height_of(open_page, ".facts > div:nth-child(3)") < 800
    assert height_of(open_page, ".story .wide") < 900


def test_a_wrong_code_says_so_and_leaves_the_box(browser: Browser, server: Server, demo_link: Link) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{server.url}/s/{demo_link.token}")
    page.get_by_label("Code, 6 digits").fill("999 99")
    with page.expect_request(lambda request: request.method == "POST") as posted:
        page.get_by_label("Code, 6 digits").press("Enter")
    # All that a browser without Sec-Fetch-Site has to say of itself; under no-referrer it would be "null" (Fetch, 3.1).
    assert posted.value.all_headers()["origin"] == server.url
    expect(page.get_by_role("heading", level=1)).to_have_text("That did not open anything.")
    expect(page.get_by_label("Code, 6 digits")).to_be_editable()
    context.close()


def test_done_closes_it_and_the_way_back_shows_nothing(browser: Browser, server: Server, demo_link: Link) -> None:
    with reading(browser, server, demo_link) as page:
        page.get_by_role("button", name="Done, close this page").click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Closed")
        page.go_back()
        expect(page.get_by_text("Maren")).to_have_count(0)


def test_nothing_is_asked_of_anyone_else_and_no_script_of_anyone(
    browser: Browser, server: Server, demo_link: Link
) -> None:
    asked: list[tuple[str, str]] = []
    context = browser.new_context()  # scripts on: the page must not need them, nor have any
    context.on("request", lambda r: asked.append((r.resource_type, r.url)))
    page = context.new_page()
    page.goto(f"{server.url}/s/{demo_link.token}")
    page.get_by_label("Code, 6 digits").fill(str(demo_link.code))
    page.get_by_role("button", name="Open").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Maren")
    assert {kind for kind, _ in asked} <= {"document", "font"}
    assert all(url.startswith(server.url) for _, url in asked)
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then((found) => found.length)") == 0
    assert page.evaluate("document.fonts.check('16px \"Commissioner Variable\"')")
    context.close()


@pytest.mark.parametrize("language", ["en", "es"])
def test_four_weeks_print_on_two_sheets(browser: Browser, server: Server, demo_link: Link, language: str) -> None:
    with reading(browser, server, link_to(server, demo_link.logbook_id, language=language)) as page:
        assert page.locator("html").get_attribute("lang") == language
        for paper in ("A4", "Letter"):
            assert sheets(page.pdf(format=paper, prefer_css_page_size=False)) == 2


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1100])
def test_axe_finds_nothing(browser: Browser, server: Server, demo_link: Link, scheme: str, width: int) -> None:
    options = {"java_script_enabled": True, "color_scheme": scheme, "viewport": {"width": width, "height": 844}}
    with reading(browser, server, demo_link, **options) as page:
        assert axe_finds(page) == []
        page.get_by_role("button", name="Done, close this page").click()
        assert axe_finds(page) == []
        page.goto(f"{server.url}/s/{demo_link.token}")
        assert axe_finds(page) == []


@pytest.mark.parametrize(("width", "size"), [(390, 16), (320, 16), (390, 32), (1100, 32)])
def test_nothing_is_wider_than_the_window(
    browser: Browser, server: Server, demo_link: Link, width: int, size: int
) -> None:
    options = {"java_script_enabled": True, "viewport": {"width": width, "height": 844}}
    with reading(browser, server, demo_link, **options) as page:
        page.evaluate("(size) => { document.documentElement.style.fontSize = size }", f"{size}px")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        wide = page.evaluate(
            "[...document.querySelectorAll('main *')].filter(e => !e.closest('.scroll, svg, .vh')"
            " && e.getBoundingClientRect().right > innerWidth + 1).map(e => e.tagName + '.' + e.className)"
        )
        assert wide == []


def test_on_a_phone_the_figure_is_the_narrow_one_and_its_words_can_be_read(
    browser: Browser, server: Server, demo_link: Link
) -> None:
    options = {"java_script_enabled": True, "viewport": {"width": 390, "height": 844}}
    with reading(browser, server, demo_link, **options) as page:
        assert page.locator("svg.wide:visible").count() == 0
        assert page.locator("svg.narrow:visible").count() == 1
        heights = "[...document.querySelectorAll('.narrow text')].map((e) => e.getBoundingClientRect().height)"
        assert min(page.evaluate(heights)) >= 12


def test_the_page_is_read_in_an_order_that_makes_sense(open_page: Page) -> None:
    words = open_page.locator("body").inner_text()
    order = ["Maren Oddly", "Not verified", "Comes on", "Review.", "Peak ply", "Questions", "Place", "Through a day"]
    places = [words.index(w) for w in order]
    assert places == sorted(places)
    assert not re.search(r"nan|undefined|[{}]|None[^ ]", words)


def test_a_year_is_shown_by_the_week_and_stays_small(browser: Browser, server: Server) -> None:
    link = link_to(server, filled(server), days=365)
    with reading(browser, server, link) as page:
        expect(page.get_by_role("heading", name="Week by week")).to_be_visible()
        assert len(page.content().encode()) <= 150_000
