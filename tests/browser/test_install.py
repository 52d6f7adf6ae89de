"""The page as an app: installable, there without a network, renewed only when the wearer says so."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from browser.conftest import WEB, NewPhone, web_build
from browser.limb_steps import stored
from browser.phone import kept, shows, tap
from browser.plytide_server import Server
from playwright.sync_api import Locator, Page, expect


def ask(page: Page, method: str) -> Any:
    """An answer of the browser's own developer protocol."""
    return page.context.new_cdp_session(page).send(method)


def test_the_browser_finds_nothing_that_keeps_it_from_being_installed(phone: Page) -> None:
    kept(phone)
    found = [error["errorId"] for error in ask(phone, "Page.getInstallabilityErrors")["installabilityErrors"]]
    # A context of the test browser is a private window, which Chromium never installs from; nothing else may be wrong.
    assert set(found) <= {"in-incognito"}


def test_the_manifest_is_read_without_a_complaint_and_has_what_an_app_needs(phone: Page, server: Server) -> None:
    answer = ask(phone, "Page.getAppManifest")
    assert answer["errors"] == []
    manifest = json.loads(answer["data"])
    assert (manifest["id"], manifest["start_url"], manifest["display"]) == ("/", "/", "standalone")
    # 192 and 512 px are what Chromium asks for, as plain and as maskable icons
    shapes = {(icon["sizes"], icon.get("purpose", "any")) for icon in manifest["icons"]}
    assert shapes >= {(f"{n}x{n}", purpose) for n in (192, 512) for purpose in ("any", "maskable")}
    for icon in manifest["icons"]:
        data = httpx.get(server.url + icon["src"]).raise_for_status().content
        if icon["type"] == "image/png":  # width and height stand at bytes 16 to 24 (W3C PNG, 11.2.1)
            side = int(icon["sizes"].split("x")[0])
            assert [int.from_bytes(data[at : at + 4], "big") for at in (16, 20)] == [side, side]
    assert {shortcut["url"] for shortcut in manifest["shortcuts"]} == {
        "/?log=up", "/?log=down", "/?log=sore", "/?log=skin"
    }  # fmt: skip


def test_every_screen_opens_without_a_network(phone: Page, server: Server) -> None:
    kept(phone)
    with server.down():
        for name in ("more", "day", "settings", "pair", "about", "pattern", "sore", "skin", "attention"):
            phone.goto(f"{server.url}/#/{name}")
            phone.reload()
            expect(phone.locator("h1")).to_be_visible()
            expect(phone.get_by_text("could not be fetched")).to_be_hidden()


def test_the_worker_leaves_everything_but_the_page_alone(phone: Page, server: Server) -> None:
    kept(phone)
    for path in ("/api/devices", "/s/aaaaaaaaaaaaaaaaaaaaaa", "/healthz", "/calendar/x.ics"):
        phone.evaluate("(path) => fetch(path).then((answer) => answer.text())", path)
    stored = phone.evaluate("""async () => {
        const kept = await Promise.all((await caches.keys()).map(async (name) => (await caches.open(name)).keys()));
        return kept.flat().map((request) => new URL(request.url).pathname);
    }""")
    assert {path for path in stored if not path.startswith("/assets/")} == {"/", "/manifest.webmanifest"}


@pytest.fixture
def own_server(built: None, tmp_path: Path) -> Iterator[Server]:
    """A server of this test's own, which it can replace."""
    server = Server(tmp_path / "data")
    yield server
    server.kill()


@pytest.fixture
def renew(own_server: Server, tmp_path: Path) -> Callable[[], None]:
    """Puts the next version in the server's place: the same code, built with another word in a screen fetched late."""
    ignored = shutil.ignore_patterns("node_modules", "__pycache__", "page", "page.new-*")
    shutil.copytree(WEB, tmp_path / "web", ignore=ignored)
    shutil.copytree(WEB.parent / "server", tmp_path / "server", ignore=ignored)
    (tmp_path / "web/node_modules").symlink_to(WEB / "node_modules")
    words = tmp_path / "web/src/words/en/about.ts"
    text = words.read_text()
    assert 'title: "' in text
    words.write_text(text.replace('title: "', 'title: "New: ', 1))
    web_build().build_page(tmp_path / "web")

    def now() -> None:
        own_server.kill()
        path = f"PYTHONPATH={tmp_path / 'server'}"
        own_server.process.command = ("env", path, sys.executable, "-m", "plytide")
        own_server.start()

    return now


def check(page: Page) -> None:
    """What the browser does by itself when a page is opened, and at least once a day."""
    page.evaluate("navigator.serviceWorker.getRegistration().then((registration) => registration.update())")


def about(page: Page) -> Locator:
    """The heading of a screen that is fetched when first wanted."""
    page.evaluate("location.hash = '#/about'")
    return page.locator("h1")


def test_a_new_version_waits_until_the_wearer_takes_it(
    new_phone: NewPhone, own_server: Server, renew: Callable[[], None]
) -> None:
    phone = new_phone(own_server.url)
    kept(phone)
    tap(phone, 2)
    renew()
    check(phone)
    expect(phone.get_by_text("A new version is ready.")).to_be_visible()
    # The open page is still the old one, whole: this part of it is not on the server any more.
    expect(about(phone)).to_contain_text("About")
    expect(about(phone)).not_to_contain_text("New:")
    phone.evaluate("location.hash = '#/today'")
    phone.get_by_role("button", name="Reload").click()
    expect(phone.get_by_text("A new version is ready.")).to_be_hidden()
    shows(phone, 2)
    expect(about(phone)).to_contain_text("New:")


def test_taking_a_new_version_in_one_tab_brings_the_others_along_when_nothing_typed_would_be_lost(
    new_phone: NewPhone, own_server: Server, renew: Callable[[], None]
) -> None:
    phone = new_phone(own_server.url)
    kept(phone)
    renew()
    writing, other = phone.context.new_page(), phone.context.new_page()
    writing.goto(own_server.url + "/#/log/note")
    writing.get_by_role("textbox").fill("A long walk, and")
    other.goto(own_server.url)
    check(other)
    other.get_by_role("button", name="Reload").click()
    expect(other.get_by_text("A new version is ready.")).to_be_hidden()
    expect(about(phone)).to_contain_text("New:")
    writing.get_by_role("textbox").press_sequentially(" two hours at a table")
    with writing.expect_event("load"):  # once it is saved and left, this page too is a new one
        writing.get_by_role("button", name="Save").click()
    expect(about(writing)).to_contain_text("New:")
    assert [note["body"]["text"] for note in stored(writing, "note")] == ["A long walk, and two hours at a table"]
    assert len(other.evaluate("caches.keys()")) == 2  # the files of the build before stay for a page that still has it


def test_an_open_page_without_a_worker_of_the_new_version_works_on(
    new_phone: NewPhone, own_server: Server, renew: Callable[[], None]
) -> None:
    phone = new_phone(own_server.url)
    kept(phone)
    renew()
    phone.reload()
    expect(about(phone)).not_to_contain_text("New:")
