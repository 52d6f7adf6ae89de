"""Bodies that web frameworks let through by default: each gets a refusal, none a 5xx, none costs its neighbours."""

import json
import socket
from typing import Any

import pytest
from api.site import Phone, Site, entry

KIND = {"content-type": "application/json"}
SECRET = "zebra-limb-note"


def nested(depth: int) -> str:
    return "[" * depth + "]" * depth


def with_body(body: str) -> str:
    """A batch of an entry with this body, as JSON text, and a good entry after it."""
    made = json.dumps(entry(kind="note", limb=None, body="BODY")).replace('"BODY"', body)
    return f'{{"schema": 1, "entries": [{made}, {json.dumps(entry())}]}}'


@pytest.mark.parametrize(
    "body",
    [
        "", " ", "{", '{"schema": 1', "[1,]", '{"a": 1} {"b": 2}', "'{}'", "\ufeff{}", "undefined",
        nested(100_000), '{"a":' * 50_000, '{"schema": ' + "9" * 5000 + "}",
    ],
    ids=lambda body: body[:12],
)  # fmt: skip
def test_what_is_not_json_is_400(phone: Phone, body: str) -> None:
    answer = phone.post("/api/sync", content=body.encode(), headers=KIND)
    assert answer.status_code == 400
    assert answer.json()["code"] in ("not_json", "too_deep")


@pytest.mark.parametrize("raw", [b"\xff\xfe{}", b'{"schema": 1, "a": "\xc3\x28"}', '{"schema": 1}'.encode("utf-16")])
def test_what_is_not_utf_8_is_400(phone: Phone, raw: bytes) -> None:
    assert phone.post("/api/sync", content=raw, headers=KIND).status_code == 400


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ('{"text": "a", "n": NaN}', "bad_number"), ('{"text": "a", "n": 1e400}', "bad_number"),
        ('{"text": "a", "n": -Infinity}', "bad_number"), ('{"text": "a", "n": 1e-400}', None),
        ('{"text": "a", "n": 99999999999999999999}', "bad_number"),
        ('{"text": "\\ud800"}', "bad_text"), ('{"text": "\\u0000"}', "bad_text"), ('{"\\ud800": 1}', "bad_text"),
        (f'{{"text": "a", "n": {nested(9)}}}', "too_deep"), (f'{{"text": "{"x" * 2001}"}}', "bad_body"),
        ('{"text": 7}', "bad_body"), ('{"text": ["a"]}', "bad_body"), ("{}", "bad_body"), ("[]", "bad_form"),
        ('"x"', "bad_form"), ("null", "bad_form"),
    ],
    ids=lambda value: str(value)[:30],
)  # fmt: skip
def test_a_hostile_entry_is_refused_alone(phone: Phone, body: str, code: str | None) -> None:
    answer = phone.post("/api/sync", content=with_body(body), headers=KIND)
    assert answer.status_code == 200
    first, second = answer.json()["results"]
    assert (first["r"], first.get("code")) == (("refused", code) if code else ("ok", None))
    assert second["r"] == "ok"


@pytest.mark.parametrize(
    "over",
    [
        {"id": "NOT-AN-ID"}, {"id": None}, {"id": 7}, {"id": ["x"]}, {"id": "0" * 9999}, {"kind": "Ply"}, {"kind": ""},
        {"kind": None}, {"kind": {"a": 1}}, {"limb": "middle"}, {"limb": 1}, {"at": "2031-02-30T00:00:00Z"},
        {"at": "2031-03-02"}, {"at": "2031-03-02T07:00:00"}, {"at": "yesterday"}, {"at": 1_900_000_000},
        {"at": "9999-12-31T23:59:59Z"}, {"at": "0001-01-01T00:00:00+14:00"}, {"at": "٢٠٣١-03-02T07:00:00Z"},
        {"zone": "Mars/Olympus"}, {"zone": "../../etc/passwd"}, {"zone": "/etc/localtime"}, {"zone": ""},
        {"stamp": "zz"}, {"stamp": None}, {"stamp": "f" * 12 + "-0000-" + "G" * 8}, {"erased": "yes"}, {"erased": 1},
        {"body": None}, {"body": {"score": "7"}}, {"body": {"score": True}}, {"body": {"score": 7.5}},
    ],
    ids=str,
)  # fmt: skip
def test_an_envelope_out_of_form_is_refused_alone(phone: Phone, over: dict[str, Any]) -> None:
    good = entry()
    answer = phone.sync([entry(**over), good])
    assert answer.status_code == 200
    assert [result["r"] for result in answer.json()["results"]] == ["refused", "ok"]
    assert set(phone.pulled()) == {good["id"]}


def test_an_answer_never_repeats_what_came_in(phone: Phone) -> None:
    bodies = [
        {"schema": SECRET}, {"schema": 1, "entries": SECRET}, {"schema": 1, "cursor": SECRET}, {SECRET: 1},
        {"schema": 1, "entries": [SECRET, {"id": SECRET}, entry(kind="note", limb=None, body={"text": {SECRET: 1}})]},
        {"schema": 1, "entries": [entry(body={"score": SECRET}), entry(limb=SECRET), entry(zone=SECRET)]},
    ]  # fmt: skip
    for body in bodies:
        assert SECRET not in phone.post("/api/sync", json=body).text
    assert SECRET not in phone.post("/api/pair", json={"code": SECRET, "name": [SECRET]}).text
    assert SECRET not in phone.get(f"/api/{SECRET}", params={SECRET: SECRET}).text
    assert SECRET not in phone.get("/api/export", params={"format": SECRET}).text


def test_a_body_announced_too_large_is_413_before_it_is_sent(site: Site, phone: Phone) -> None:
    with socket.create_connection(("127.0.0.1", site.settings.port)) as raw:
        raw.sendall((
            "POST /api/sync HTTP/1.1\r\nHost: x\r\nSec-Fetch-Site: same-origin\r\nContent-Type: application/json\r\n"
            f"Content-Length: {1024 * 1024 + 1}\r\n\r\n"
        ).encode())  # fmt: skip
        raw.settimeout(5)
        assert raw.recv(4096).startswith(b"HTTP/1.1 413")


def test_a_body_that_grows_too_large_on_the_way_is_413(phone: Phone) -> None:
    def drip() -> Any:
        for _ in range(40):
            yield b" " * 65536

    assert phone.post("/api/sync", content=drip(), headers=KIND).status_code == 413
    assert phone.sync([entry()]).json()["results"][0]["r"] == "ok"


def test_a_body_of_exactly_one_mebibyte_is_read(phone: Phone) -> None:
    text = '{"schema": 1}'
    assert phone.post("/api/sync", content=text + " " * (1024 * 1024 - len(text)), headers=KIND).status_code == 200


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "", "text/json"]
)
def test_anything_but_json_is_415(phone: Phone, kind: str) -> None:
    answer = phone.post("/api/sync", content=b'{"schema": 1}', headers={"content-type": kind})
    assert (answer.status_code, answer.json()["code"]) == (415, "not_json")


@pytest.mark.parametrize("length", ["-1", "1e3", "x", "1, 2"])
def test_a_length_that_is_no_number_does_not_reach_the_routes(site: Site, length: str) -> None:
    with socket.create_connection(("127.0.0.1", site.settings.port)) as raw:
        raw.sendall(f"POST /api/sync HTTP/1.1\r\nHost: x\r\nContent-Length: {length}\r\n\r\n".encode())
        raw.settimeout(5)
        assert raw.recv(4096)[:12] in (b"HTTP/1.1 400", b"HTTP/1.1 413")


@pytest.mark.parametrize(
    "path",
    [
        "/assets/../manifest.json", "/assets/..%2fmanifest.json", "/assets/%2e%2e/%2e%2e/app.py", "//etc/passwd",
        "/assets/%00", "/api/devices/%F0%9F", "/api/sync/", "/%0d%0aset-cookie:%20a=b", "/sw.js/",
    ],
)  # fmt: skip
def test_odd_paths_are_404_and_never_redirect(site: Site, phone: Phone, path: str) -> None:
    for method in ("GET", "DELETE"):
        answer = phone.request(method, path)
        assert answer.status_code in (400, 404, 405)
        assert "location" not in answer.headers
        assert answer.json().keys() == {"code", "why"}
