"""`plytide check` asks at the address that phones use, and says what it finds there."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest
from cli.run import plytide
from plytide.store import Store
from serving import Server, free_port


class Answers(BaseHTTPRequestHandler):
    """Says `body` to every question."""

    body = b""

    def do_GET(self) -> None:
        self.send_response(200)
        self.end_headers()
        self.wfile.write(self.body)

    def log_message(self, format: str, *args: object) -> None:
        """Nothing: the test's own output stays clean."""


@pytest.fixture
def stranger() -> Iterator[str]:
    """The address of something that is not this server."""
    with HTTPServer(("127.0.0.1", 0), Answers) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


def said(data: Path, url: str) -> str:
    done = plytide("check", "--data", data, "--json", public_url=url)
    assert done.code == 0
    return " ".join(done.json["notes"])


def test_a_server_that_phones_reach_is_nothing_to_speak_of(tmp_path: Path) -> None:
    server = Server(tmp_path)
    server.start()
    try:
        assert said(tmp_path, server.url) == ""
    finally:
        server.stop()
    assert said(tmp_path, server.url).startswith(f"Nothing answers at {server.url} (")


def test_nothing_a_stranger_and_another_version_are_told_apart(
    tmp_path: Path, stranger: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    Store.open(f"sqlite:///{tmp_path / 'plytide.db'}").close()
    assert said(tmp_path, f"http://127.0.0.1:{free_port()}").startswith("Nothing answers")
    for body, words in (
        (b"<h1>It works</h1>", "is not Plytide"), (b"[]", "is not Plytide"), (b"{}", "is not Plytide"),
        (b'{"ok":false,"database":"failing","version":"0"}', "its database is failing"),
        (b'{"ok":true,"database":"ok","version":"0.0.1"}', "runs version 0.0.1"),
    ):  # fmt: skip
        monkeypatch.setattr(Answers, "body", body)
        assert words in said(tmp_path, stranger)
