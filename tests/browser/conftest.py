"""Browser tests: a real server process, a real Chromium, phones of 390 x 844 with a touch screen.

`server` is one process a test file, `logbook` a fresh logbook a test, `phone` an unpaired page at Today. `new_phone`
makes more of them. phone.py has what a wearer does with one.
"""

from __future__ import annotations

import fcntl
import importlib.util
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import prepare
import pytest
from browser.plytide_server import Server
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

WEB = Path(__file__).parents[2] / "web"
ARGS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--no-first-run",
]  # fmt: skip
# The browser itself reports failed requests on the console: they are what many of these tests are about.
EXPECTED = "Failed to load resource"

NewPhone = Callable[..., Page]


def web_build() -> Any:
    """web/build.py as a module."""
    spec = importlib.util.spec_from_file_location("web_build", WEB / "build.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> None:
    """The page as it is now, built once a run: several workers share the folder that servers give it out from."""
    shared = tmp_path_factory.getbasetemp() if worker_id == "master" else tmp_path_factory.getbasetemp().parent
    with (shared / "page.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        done = shared / "page.built"
        if done.exists():
            return
        try:
            web_build().build_page()
        except SystemExit as error:
            pytest.fail(str(error))
        done.touch()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Playwright's driver."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """One Chromium for all tests; each phone is a context of its own."""
    path = prepare.find()
    assert path is not None, "no Chromium: run python tests/prepare.py"
    browser = playwright.chromium.launch(executable_path=path, args=ARGS)
    yield browser
    browser.close()


@pytest.fixture(scope="module")
def server(built: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """`plytide serve` on a free port."""
    server = Server(tmp_path_factory.mktemp("server") / "data")
    yield server
    server.kill()


@pytest.fixture
def logbook(server: Server) -> str:
    """A logbook of this test's own."""
    return server.new_logbook()


@pytest.fixture
def new_phone(browser: Browser, server: Server) -> Iterator[NewPhone]:
    """Makes phones: new_phone() is a page at Today, new_phone(path) elsewhere; the rest goes to the browser context.

    What a page reports as an error fails the test.
    """
    contexts: list[BrowserContext] = []
    errors: list[str] = []

    def note(kind: str, text: str) -> None:
        if kind == "error" and EXPECTED not in text:
            errors.append(text)

    def make(path: str = "/", **options: object) -> Page:
        settings = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "locale": "en-GB"}
        context = browser.new_context(**{**settings, **options})  # type: ignore[arg-type]
        contexts.append(context)
        context.on("weberror", lambda error: errors.append(str(error.error)))
        context.on("console", lambda said: note(said.type, said.text))
        page = context.new_page()
        page.goto(path if path.startswith("http") else server.url + path)
        return page

    yield make
    for context in contexts:
        context.close()
    assert errors == []


@pytest.fixture
def phone(new_phone: NewPhone) -> Page:
    """A phone at Today, not paired."""
    return new_phone()
