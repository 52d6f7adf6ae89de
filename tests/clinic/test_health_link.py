"""The second face of a link: a SMART Health Link, opened by a plain client written from the specification (STU 1)."""

from __future__ import annotations

import base64
import json
import zlib
from datetime import datetime
from typing import Any

import httpx
import pytest
from api.site import Phone, Site
from clinic.conftest import SECRETS, at
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from fhir.resources.R4B.bundle import Bundle
from joserfc import jwe
from joserfc.jwk import OctKey


def unpadded(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


def payload(link: str) -> dict[str, Any]:
    """The link's own words."""
    assert link.startswith("shlink:/")
    told: dict[str, Any] = json.loads(unpadded(link.removeprefix("shlink:/")))
    return told


def unsealed(token: str, key: bytes) -> Any:
    """A JWE in compact form by RFC 7516 and AES-GCM alone: dir, A256GCM, raw deflate; the header is what is signed."""
    header, nothing, nonce, body, tag = token.split(".")
    told = json.loads(unpadded(header))
    assert told == {"alg": "dir", "enc": "A256GCM", "zip": "DEF", "cty": "application/fhir+json"}
    assert nothing == ""
    text = AESGCM(key).decrypt(unpadded(nonce), unpadded(body) + unpadded(tag), header.encode())
    return json.loads(zlib.decompress(text, -15))


class Client:
    """A program at another site that was given a health link."""

    def __init__(self, site: Site, link: dict[str, Any]) -> None:
        self.told = payload(link["health_link"])
        self.path = self.told["url"].removeprefix(site.settings.base_url)
        self.http = httpx.Client(base_url=site.url, headers={"origin": "https://records.example"})

    def ask(self, **body: Any) -> httpx.Response:
        return self.http.post(self.path, json={"recipient": "Dr. Example's office", **body})


@pytest.fixture
def link(phone: Phone) -> dict[str, Any]:
    made: dict[str, Any] = phone.post("/api/links", json={"days": 28, "notes": True, "label": "For the clinic"}).json()
    return made


@pytest.fixture
def client(site: Site, link: dict[str, Any]) -> Any:
    made = Client(site, link)
    yield made
    made.http.close()


def openings(phone: Phone) -> list[str]:
    return [o["result"] for link in phone.get("/api/links").json()["links"] for o in link["openings"]]


def test_the_link_says_what_the_specification_asks_for(client: Client, link: dict[str, Any]) -> None:
    told = client.told
    assert len(told["url"]) <= 128
    # The address holds a token and a proof of 128 bits each: 256 bits that nobody can guess.
    assert [len(unpadded(part)) for part in (told["url"].split("/")[-3], told["url"].split("/")[-1])] == [16, 16]
    assert len(told["key"]) == 43
    assert len(unpadded(told["key"])) == 32
    assert told["exp"] == int(datetime.fromisoformat(link["expires"]).timestamp())
    assert told["flag"] == "P"
    assert told["label"] == "For the clinic"
    assert told["v"] == 1
    assert link["code"] not in json.dumps(told)


def test_a_plain_client_reads_the_bundle(client: Client, phone: Phone, link: dict[str, Any]) -> None:
    answer = client.ask(passcode=link["code"])
    assert answer.status_code == 200
    [file] = answer.json()["files"]
    assert file["contentType"] == "application/fhir+json"
    bundle = unsealed(file["embedded"], unpadded(client.told["key"]))
    assert Bundle.model_validate(bundle).type == "collection"
    assert SECRETS[3] in json.dumps(bundle)
    assert openings(phone) == ["opened"]


def test_joserfc_reads_it_too_and_another_key_does_not(client: Client, link: dict[str, Any]) -> None:
    token = client.ask(passcode=link["code"]).json()["files"][0]["embedded"]
    opened = jwe.decrypt_compact(token, OctKey.import_key(unpadded(client.told["key"])))
    assert opened.plaintext is not None
    assert json.loads(opened.plaintext)["resourceType"] == "Bundle"
    with pytest.raises(InvalidTag):
        unsealed(token, bytes(32))


def test_two_links_have_two_keys_and_each_reading_is_sealed_anew(
    phone: Phone, client: Client, link: dict[str, Any]
) -> None:
    other = payload(phone.post("/api/links", json={"days": 28}).json()["health_link"])
    assert other["key"] != client.told["key"]
    first, second = (client.ask(passcode=link["code"]).json()["files"][0]["embedded"] for _ in range(2))
    assert first.split(".")[2] != second.split(".")[2]  # never the same nonce under one key


def test_a_wrong_passcode_counts_down_and_then_it_is_gone(client: Client, phone: Phone, link: dict[str, Any]) -> None:
    wrong = "000000" if link["code"] != "000000" else "000001"
    assert (client.ask().status_code, client.ask().json()) == (401, {"remainingAttempts": 10})
    for left in range(9, 0, -1):
        answer = client.ask(passcode=wrong)
        assert (answer.status_code, answer.json()) == (401, {"remainingAttempts": left})
    assert client.ask(passcode=wrong).status_code == 404
    assert client.ask(passcode=link["code"]).status_code == 404
    assert openings(phone).count("wrong_code") == 10
    assert phone.post(at(link), data={"code": link["code"]}).status_code == 404  # one link, two faces, one lock


def test_gone_unknown_and_half_known_are_the_same(client: Client, phone: Phone, link: dict[str, Any]) -> None:
    unticked = phone.post("/api/links", json={"days": 28, "files": False}).json()
    assert unticked["health_link"] is None
    proof = client.path.rsplit("/", 1)[1]
    phone.delete(f"/api/links/{link['id']}")
    paths = [client.path, f"/s/{'A' * 22}/shl/{proof}", f"{at(link)}/shl/{'A' * 22}", f"{at(unticked)}/shl/{proof}"]
    answers = [client.http.post(path, json={"recipient": "x", "passcode": "123456"}) for path in paths]
    assert {a.status_code for a in answers} == {404}
    assert len({a.content for a in answers}) == 1


def test_a_file_too_long_to_embed_has_an_address_for_half_an_hour(
    site: Site, client: Client, link: dict[str, Any]
) -> None:
    [file] = client.ask(passcode=link["code"], embeddedLengthMax=100).json()["files"]
    assert "embedded" not in file
    assert file["location"].startswith(client.told["url"])
    answer = client.http.get(file["location"].removeprefix(site.settings.base_url))
    assert answer.headers["content-type"] == "application/jose"
    assert unsealed(answer.text, unpadded(client.told["key"]))["resourceType"] == "Bundle"
    assert client.http.get(client.path + "/nobody").status_code == 404


def test_only_the_manifest_answers_other_sites(client: Client, phone: Phone, link: dict[str, Any]) -> None:
    asked = client.http.options(client.path, headers={"access-control-request-method": "POST"})
    assert asked.headers["access-control-allow-origin"] == "*"
    assert client.ask(passcode=link["code"]).headers["access-control-allow-origin"] == "*"
    for path in (at(link), "/", "/api/links", "/healthz"):
        assert "access-control-allow-origin" not in client.http.get(path).headers


def test_a_live_link_says_so_and_one_without_a_code_asks_for_none(phone: Phone, site: Site) -> None:
    live = phone.post("/api/links", json={"days": 28, "live": True}).json()
    assert payload(live["health_link"])["flag"] == "LP"
    open_ = phone.post("/api/links", json={"days": 28, "code": False, "hours": 24}).json()
    client = Client(site, open_)
    assert "flag" not in client.told
    assert client.ask().status_code == 200
    client.http.close()


def test_the_square_to_scan_opens_the_page_and_holds_the_link(phone: Phone, link: dict[str, Any]) -> None:
    # A camera follows the address up to the #; a program reads what comes after it.
    plain, both = (phone.get(f"/api/links/{link['id']}/qr", params={"health": h}).text for h in (False, True))
    assert plain != both
    assert len(both) > len(plain)


@pytest.mark.parametrize("body", [b"{}", b"[]", b"nonsense", b'{"recipient":""}', b'{"recipient":"x","passcode":7}'])
def test_what_is_no_request_is_refused_and_counts_nothing(client: Client, phone: Phone, body: bytes) -> None:
    answer = client.http.post(client.path, content=body, headers={"content-type": "application/json"})
    assert answer.status_code in (400, 422)
    assert phone.get("/api/links").json()["links"][0]["tries_left"] == 10
