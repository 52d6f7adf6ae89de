"""Pairing: one code, one device, five tries, no second chance; and the devices that came of it."""

import json
import re
import threading
from datetime import UTC, datetime, timedelta

import pytest
from api.site import Phone, Site, entry, running


def code_of(site: Site, logbook_id: str) -> str:
    return site.store.new_pair_code(logbook_id, datetime.now(UTC)).code


def wrong(code: str) -> str:
    return code[:-1] + ("0" if code[-1] != "0" else "1")


def test_a_code_looks_as_it_is_documented(site: Site) -> None:
    # Crockford's base 32 has no I, L, O, U (https://www.crockford.com/base32.html)
    assert re.fullmatch(r"[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}", code_of(site, site.store.create_logbook()))


def test_the_cookie_cannot_be_read_by_script_nor_sent_from_elsewhere(site: Site) -> None:
    code = code_of(site, site.store.create_logbook())
    cookie = site.stranger().post("/api/pair", json={"code": code}).headers["set-cookie"]
    name, *flags = cookie.split("; ")
    assert name.startswith("plytide=")
    assert len(name) >= len("plytide=") + 43  # 256 bits in base 64
    assert {"HttpOnly", "SameSite=strict", "Path=/"} <= set(flags)
    assert "Domain" not in cookie


def test_behind_https_the_cookie_is_bound_to_the_host(tmp_path_factory: pytest.TempPathFactory) -> None:
    with running(tmp_path_factory.mktemp("tls"), public_url="https://leg.example.org") as site:
        code = code_of(site, site.store.create_logbook())
        origin = {"origin": "https://leg.example.org"}
        answer = site.stranger().post("/api/pair", json={"code": code}, headers=origin)
    # RFC 6265bis: a __Host- cookie is refused by browsers without Secure and Path=/, or with Domain.
    assert answer.headers["set-cookie"].startswith("__Host-plytide=")
    assert {"Secure", "Path=/"} <= set(answer.headers["set-cookie"].split("; "))


def test_a_code_opens_once(site: Site) -> None:
    code = code_of(site, site.store.create_logbook())
    assert site.stranger().post("/api/pair", json={"code": code}).status_code == 200
    again = site.stranger().post("/api/pair", json={"code": code})
    assert (again.status_code, again.json()["code"]) == (403, "used")
    assert "set-cookie" not in again.headers


@pytest.mark.parametrize("typed", ["{code}", "{plain}", " {lower} ", "{spaced}"])
def test_a_code_may_be_typed_as_people_type(site: Site, typed: str) -> None:
    code = code_of(site, site.store.create_logbook())
    forms = {"code": code, "plain": code.replace("-", ""), "lower": code.lower(), "spaced": code.replace("-", " ")}
    assert site.stranger().post("/api/pair", json={"code": typed.format(**forms)}).status_code == 200


def test_a_code_used_by_many_at_once_lets_one_in(site: Site) -> None:
    code = code_of(site, site.store.create_logbook())
    statuses: list[int] = []

    def use() -> None:
        statuses.append(site.stranger().post("/api/pair", json={"code": code}).status_code)

    threads = [threading.Thread(target=use) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(statuses) == [200] + [403] * 7


def test_wrong_codes_count_down_and_then_even_the_right_one_is_locked(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    with running(tmp_path_factory.mktemp("guess")) as site:
        code = code_of(site, site.store.create_logbook())
        answers = [site.stranger().post("/api/pair", json={"code": wrong(code)}) for _ in range(5)]
        assert [a.status_code for a in answers] == [403] * 5
        assert [a.json()["tries_left"] for a in answers] == [4, 3, 2, 1, 0]
        right = site.stranger().post("/api/pair", json={"code": code})
        assert (right.status_code, right.json()["code"]) == (403, "locked")


def test_a_code_is_good_for_ten_minutes(site: Site) -> None:
    logbook = site.store.create_logbook()
    made = site.store.new_pair_code(logbook, datetime.now(UTC) - timedelta(minutes=10, seconds=1))
    refused = site.stranger().post("/api/pair", json={"code": made.code})
    assert (refused.status_code, refused.json()["code"]) == (403, "expired")


@pytest.mark.parametrize(
    "body",
    [
        {}, {"code": ""}, {"code": 7}, {"code": None}, {"code": "x" * 41}, {"code": "A", "name": 1},
        {"code": "A", "name": "\ud800"}, {"code": "A", "name": "x" * 121}, {"code": "\ud800"},
    ],
    ids=str,
)  # fmt: skip
def test_a_code_not_of_the_form_is_422(site: Site, body: object) -> None:
    headers = {"content-type": "application/json"}
    assert site.stranger().post("/api/pair", content=json.dumps(body), headers=headers).status_code == 422


@pytest.mark.parametrize("name", ["", "a\x00b", "x" * 120, "\u202egnp", "\U0001f9e6"])
def test_a_device_name_may_be_anything(site: Site, name: str) -> None:
    code = code_of(site, site.store.create_logbook())
    body = json.dumps({"code": code, "name": name})
    headers = {"content-type": "application/json"}
    assert site.stranger().post("/api/pair", content=body, headers=headers).status_code == 200


def test_a_phone_of_another_logbook_is_refused_and_not_let_in(site: Site, phone: Phone) -> None:
    code = code_of(site, site.store.create_logbook())
    with site.stranger() as stranger:
        refused = stranger.post("/api/pair", json={"code": code, "logbook": phone.logbook_id})
        assert (refused.status_code, refused.json()["code"]) == (409, "other_logbook")
        assert stranger.get("/api/devices").status_code == 401


def test_a_paired_phone_makes_a_code_for_another_and_both_have_the_log(site: Site, phone: Phone) -> None:
    sent = entry()
    phone.sync([sent])
    made = phone.post("/api/pair/codes").json()
    assert set(made) == {"code", "expires", "url", "squares"}
    assert made["url"] == f"{site.settings.base_url}/#/pair/{made['code']}"
    with site.stranger() as tablet:
        paired = tablet.post("/api/pair", json={"code": made["code"], "name": "tablet"})
        assert paired.json()["logbook"] == phone.logbook_id
        assert tablet.post("/api/sync", json={"schema": 1}).json()["entries"] == [sent]


def test_the_list_of_devices_says_which_one_is_asking(site: Site, phone: Phone) -> None:
    site.phone(phone.logbook_id, "tablet")
    listed = phone.get("/api/devices").json()["devices"]
    assert {(d["name"], d["this"]) for d in listed} == {("phone", True), ("tablet", False)}
    assert all(set(d) == {"id", "name", "made_at", "seen_at", "this"} for d in listed)


def test_a_phone_that_revokes_itself_loses_its_cookie_and_nothing_else(site: Site, phone: Phone) -> None:
    phone.sync([entry()])
    answer = phone.delete(f"/api/devices/{phone.device_id}")
    assert 'plytide=""' in answer.headers["set-cookie"]
    # Clear-Site-Data: "storage" would wipe the unsynced entries of the phone.
    assert "clear-site-data" not in answer.headers
    assert phone.get("/api/devices").status_code == 401
    assert len(site.phone(phone.logbook_id).pulled()) == 1
