"""/api/links: what a wearer can make, see and stop, and what a link never becomes."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime, timedelta
from xml.etree import ElementTree

import pytest
import segno
from api.site import Phone, Site
from clinic.conftest import SECRETS, at


def test_a_link_comes_with_its_address_and_a_code_told_apart(site: Site, phone: Phone) -> None:
    made = phone.post("/api/links", json={"days": 28}).json()
    # 22 characters of base64url are 132 bits: not to be guessed (trust-notes: /s/<22 characters>).
    assert re.fullmatch(re.escape(site.settings.base_url) + r"/s/[A-Za-z0-9_-]{22}", made["url"])
    assert re.fullmatch(r"\d{6}", made["code"])
    assert made["code"] not in made["url"]
    stands = datetime.fromisoformat(made["expires"]) - datetime.now(UTC)
    assert timedelta(days=6, hours=23) < stands <= timedelta(days=7)
    assert made["state"] == "open"
    assert made["openings"] == []


@pytest.mark.parametrize("hours", [24, 168, 720, 2160])
def test_a_link_stands_as_long_as_was_asked(phone: Phone, hours: int) -> None:
    made = phone.post("/api/links", json={"hours": hours}).json()
    stands = datetime.fromisoformat(made["expires"]) - datetime.fromisoformat(made["made_at"])
    assert stands == timedelta(hours=hours)


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ({"hours": 2161}, "bad_form"), ({"hours": 0}, "bad_form"), ({"days": 0}, "bad_form"),
        ({"days": "7"}, "bad_form"),
        ({"kinds": []}, "no_kinds"), ({"kinds": ["ply", "shoes"]}, "bad_kinds"), ({"kinds": ["profile"]}, "bad_kinds"),
        ({"days": 7, "from": "2031-01-01"}, "two_periods"), ({"from": "2031-02-01", "to": "2031-01-01"}, "bad_period"),
        ({"language": "tlh"}, "bad_form"), ({"from": "yesterday"}, "bad_form"), ({"from": "2031-02-30"}, "bad_date"),
        ({"code": False, "hours": 25}, "code_needed"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_a_reason_and_makes_no_link(phone: Phone, body: object, code: str) -> None:
    answer = phone.post("/api/links", json=body)
    assert answer.status_code == 422
    assert answer.json()["code"] == code
    assert len(answer.json()["why"]) > 15
    assert phone.get("/api/links").json() == {"links": []}


def test_several_links_stand_side_by_side_and_are_listed_newest_first(phone: Phone) -> None:
    made = [phone.post("/api/links", json={"days": d}).json()["id"] for d in (7, 14, 28)]
    assert [link["id"] for link in phone.get("/api/links").json()["links"]] == made[::-1]


def test_a_stopped_link_is_closed_at_once_and_stays_in_the_list(phone: Phone) -> None:
    made = phone.post("/api/links", json={"days": 7}).json()
    assert phone.post(at(made), data={"code": made["code"]}).status_code == 303
    assert SECRETS[0] in phone.get(at(made)).text
    assert phone.delete(f"/api/links/{made['id']}").status_code == 200
    assert SECRETS[0] not in phone.get(at(made)).text
    assert phone.post(at(made), data={"code": made["code"]}).status_code == 404
    [link] = phone.get("/api/links").json()["links"]
    assert link["state"] == "revoked"
    assert [o["result"] for o in link["openings"]] == ["opened", "revoked"]


def test_the_qr_code_is_the_address_alone(phone: Phone) -> None:
    made = phone.post("/api/links", json={"days": 7}).json()
    answer = phone.get(f"/api/links/{made['id']}/qr")
    assert answer.headers["content-type"] == "image/svg+xml"
    ElementTree.fromstring(answer.text)
    expected = io.BytesIO()
    segno.make(made["url"], error="m").save(
        expected, kind="svg", border=4, dark="#000", light="#fff", xmldecl=False, omitsize=True
    )
    assert answer.content == expected.getvalue()


def test_a_preview_shows_the_page_and_makes_no_link(phone: Phone) -> None:
    seen = phone.get("/api/links/preview", params={"days": 7, "kinds": "ply,don,doff", "notes": "false"})
    assert seen.status_code == 200
    assert SECRETS[0] in seen.text
    assert "Peak ply" in seen.text
    assert not any(secret in seen.text for secret in SECRETS[1:])
    assert 'href="/#/link"' in seen.text
    assert "<form" not in seen.text
    assert phone.get("/api/links").json() == {"links": []}


def test_what_was_done_with_links_is_in_the_audit_list(phone: Phone) -> None:
    made = phone.post("/api/links", json={"days": 7}).json()
    phone.post(at(made), data={"code": made["code"]})
    phone.delete(f"/api/links/{made['id']}")
    assert [line["code"] for line in phone.get("/api/audit").json()["lines"]][:3] == [
        "link_stopped", "link_opened", "link_made",
    ]  # fmt: skip
