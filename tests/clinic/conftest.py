"""A running server for the tests of links, and one wearer's phone with a few days in its log."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from api.site import Phone, Site, running

ZONE = "Europe/Lisbon"
SECRETS = ["Philippa", "kneel at the pond", "wet kerb", "secret garden"]


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    with running(tmp_path_factory.mktemp("site")) as site:
        yield site


@pytest.fixture
def phone(site: Site) -> Iterator[Phone]:
    """A phone whose log has ten days, a name and free words."""
    with closing(site.phone()) as phone:
        sent = phone.sync(log())
        assert {r["r"] for r in sent.json()["results"]} == {"ok"}
        yield phone


def at(link: dict[str, Any]) -> str:
    """The path of a link's address; the tests reach the server by its number, not by its name."""
    return "/s/" + str(link["url"]).rsplit("/", 1)[1]


def log(now: datetime | None = None, days: int = 10) -> list[dict[str, Any]]:
    """Ten days of one leg: on, one ply more, off; a sore spot, a skin check; who it is, what is asked, a note."""
    now = now or datetime.now(UTC)
    made = [
        entry(now, "profile", {"name": SECRETS[0], "limbs": [{"side": "left", "level": "transtibial"}],
                               "clinic_phone": "555 0100"}, limb=None),
        entry(now, "need", {"text": SECRETS[1], "firm": True}, limb=None),
        entry(now - timedelta(days=2), "mishap", {"what": "stumble", "note": SECRETS[2]}),
        entry(now - timedelta(days=1), "note", {"text": SECRETS[3]}, limb=None),
    ]  # fmt: skip
    for back in range(1, days + 1):
        morning = (now - timedelta(days=back)).replace(hour=7, minute=10)
        made += [
            entry(morning, "don", {"total": 5}),
            entry(morning + timedelta(hours=3), "ply", {"total": 6}),
            entry(morning + timedelta(hours=5), "sore", {"height": 0.65, "angle": 4, "intensity": 3, "feel": "rub"}),
            entry(morning + timedelta(hours=11), "doff", {}),
            entry(morning + timedelta(hours=12), "skin", {"clear": True}),
        ]
    return made


def entry(at: datetime, kind: str, body: dict[str, Any], limb: str | None = "left") -> dict[str, Any]:
    """An entry of `at`, as a phone sends it."""
    return {
        "id": str(uuid.uuid4()), "kind": kind, "limb": limb, "at": at.strftime("%Y-%m-%dT%H:%M:%S.000Z"), "zone": ZONE,
        "stamp": f"{int(at.timestamp() * 1000):012x}-0000-0a0b0c0d", "erased": False, "body": body,
    }  # fmt: skip
