"""A full disk: what cannot be kept is refused whole with 507, and the server goes on by itself once there is room."""

import sys
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from crash.compiled import library
from crash.kill import UNLIMITED, entry, paired
from serving import COMMAND, Server

HERE = Path(__file__).parent


class Site:
    """A server whose disk can be filled, and one paired phone."""

    def __init__(self, folder: Path, command: tuple[str, ...] = COMMAND) -> None:
        self.flag = folder / "full"
        data = folder / "data"
        data.mkdir()
        preload = str(library(HERE / "full.c", folder))
        self.server = Server(
            data,
            ("env", f"LD_PRELOAD={preload}", f"PLYTIDE_FULL={self.flag}", f"PLYTIDE_WATCH={data}", *command),
            UNLIMITED,
        )
        self.server.start()
        self.http = httpx.Client(
            base_url=self.server.url, headers={"origin": self.server.url}, timeout=30,
            cookies={"plytide": paired(self.server)[0]},
        )  # fmt: skip

    def end(self) -> None:
        self.flag.unlink(missing_ok=True)
        self.http.close()
        self.server.kill()

    def push(self, *entries: dict[str, object]) -> httpx.Response:
        return self.http.post("/api/sync", json={"schema": 1, "epoch": None, "cursor": 0, "entries": list(entries)})

    def lost(self) -> set[str]:
        """Of a batch sent to a full disk, what was acknowledged and is not there."""
        sent = [entry(1, n) for n in range(100, 150)]
        self.flag.touch()
        answer = self.push(*sent)
        told = answer.json()["results"] if answer.status_code == 200 else []
        return {result["id"] for result in told} - self.held()

    def held(self) -> set[str]:
        return {one["id"] for one in self.push().json()["entries"]}


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    site = Site(tmp_path)
    yield site
    site.end()


def test_a_full_disk_refuses_whole_and_recovers_without_a_restart(site: Site) -> None:
    before = [entry(1, n) for n in range(20)]
    assert site.push(*before).status_code == 200
    site.flag.touch()
    refused = [entry(1, n) for n in range(100, 150)]
    answer = site.push(*refused)
    assert answer.status_code in (503, 507), answer.text
    assert answer.json()["why"], "it says what to do"
    assert site.lost() == set()
    assert site.held() == {one["id"] for one in before}, "nothing of the batch is there, and reading goes on"
    site.flag.unlink()
    deadline = time.monotonic() + 30
    while site.push(*refused).status_code != 200:
        assert time.monotonic() < deadline
        time.sleep(0.2)
    assert site.held() == {one["id"] for one in before + refused}


def test_the_same_check_catches_a_server_that_hopes_for_the_best(tmp_path: Path) -> None:
    site = Site(tmp_path, (sys.executable, str(HERE / "hopeful.py")))
    assert site.push(entry(1, 1)).status_code == 200
    assert len(site.lost()) == 50
    site.end()


def test_a_server_killed_on_a_full_disk_still_has_what_it_acknowledged(site: Site) -> None:
    before = [entry(1, n) for n in range(20)]
    assert site.push(*before).status_code == 200
    site.flag.touch()
    assert site.push(entry(1, 99)).status_code in (503, 507)
    site.server.kill()
    site.flag.unlink()
    site.server.start()
    assert site.held() == {one["id"] for one in before}
