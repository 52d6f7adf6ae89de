"""A page of another site cannot make a paired browser change anything (cross-site request forgery)."""

import pytest
from api.site import Phone, Site, entry, every_route, running
from plytide.api import door

CHANGING = {"POST", "DELETE", "PUT", "PATCH"}
# Health-record programs ask for a link's manifest from their own sites (SMART Health Links, HL7 STU 1). It changes
# nothing of the wearer's, and no cookie opens it: the passcode does.
ACROSS_SITES = ("POST", "/s/{token}/shl/{proof}")


def changing_routes() -> list[tuple[str, str]]:
    """Every route that changes something, but for the one that answers across sites."""
    found = [(method, path) for method, path in every_route() if method in CHANGING]
    found.remove(ACROSS_SITES)
    return found


def let_in(phone: Phone, headers: dict[str, str], code: str) -> list[tuple[str, str]]:
    """The changing routes that did not refuse a request with these headers, with 403 and `code`."""
    found = []
    for method, path in changing_routes():
        answer = phone.request(method, path.replace("{", "").replace("}", ""), json={"schema": 1}, headers=headers)
        told = answer.json() if answer.headers.get("content-type") == "application/json" else {}
        if (answer.status_code, told.get("code")) != (403, code):
            found.append((method, path))
    return found


def test_every_changing_route_refuses_what_comes_from_another_site(site: Site, phone: Phone) -> None:
    forged = [
        {"sec-fetch-site": "cross-site"}, {"sec-fetch-site": "same-site"}, {"sec-fetch-site": "none"},
        {"origin": "https://evil.example"}, {"origin": "null"}, {"origin": "null", "host": ""},
        {"origin": f"{site.url}.evil.example"}, {"origin": f"{site.url}/"},
        {"sec-fetch-site": "cross-site", "origin": site.url},
    ]  # fmt: skip
    assert len(changing_routes()) >= 8
    for headers in forged:
        assert let_in(phone, headers, "other_site") == [], headers
    assert phone.get("/api/devices").status_code == 200


def test_a_door_that_does_not_ask_where_a_request_is_from_is_found_out(
    phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(door, "_is_of_this_site", lambda *_: None)  # the planted fault
    assert ("POST", "/api/sync") in let_in(phone, {"sec-fetch-site": "cross-site"}, "other_site")


@pytest.mark.parametrize("says", [{"origin": "{url}"}, {"sec-fetch-site": "same-origin"}], ids=str)
def test_the_page_itself_and_programs_that_name_this_server_are_let_in(
    site: Site, phone: Phone, says: dict[str, str]
) -> None:
    headers = {name: value.format(url=site.url) for name, value in says.items()}
    del phone.headers["origin"]
    assert phone.post("/api/sync", json={"schema": 1, "entries": [entry()]}, headers=headers).status_code == 200


def test_every_changing_route_refuses_what_does_not_say_where_it_came_from(phone: Phone) -> None:
    del phone.headers["origin"]
    assert let_in(phone, {}, "no_origin") == []


def test_what_the_browser_says_of_itself_goes_before_the_origin(site: Site, phone: Phone) -> None:
    headers = {"sec-fetch-site": "same-origin", "origin": site.url}
    assert phone.post("/api/sync", json={"schema": 1}, headers=headers).status_code == 200


def test_behind_a_proxy_the_public_address_is_this_site(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder, public = tmp_path_factory.mktemp("public"), "https://leg.example.org"
    with running(folder, public_url=public) as site, site.stranger() as one:
        answer = one.post("/api/pair", json={"code": "x"}, headers={"origin": public})
        assert answer.status_code == 403
        assert answer.json()["code"] == "wrong"


def test_no_answer_lets_other_sites_read_it(site: Site, phone: Phone) -> None:
    asked = {"origin": "https://evil.example", "access-control-request-method": "POST"}
    for answer in (
        phone.options("/api/sync", headers=asked),
        phone.get("/api/summary", headers={"origin": "https://evil.example"}),
    ):
        assert not [name for name in answer.headers if name.startswith("access-control-")]
