"""Two logbooks: no route gives one of them anything of the other, by whatever id it is asked."""

from dataclasses import dataclass

import httpx
import pytest
from api.site import Phone, Site, entry, every_route

# Routes that anybody may call: they show nothing of a logbook, or ask for a code of their own.
OPEN = {
    "/", "/sw.js", "/manifest.webmanifest", "/assets/{name}", "/robots.txt", "/healthz", "/api/pair",
    "/calendar/{token}.ics",
}  # fmt: skip


@dataclass
class Two:
    mine: Phone
    theirs: Phone
    ids: list[str]


@pytest.fixture
def two(site: Site) -> Two:
    """Two wearers, and every id that the other one's answers hold."""
    mine, theirs = site.phone(), site.phone(name="theirs")
    sent = entry(kind="note", limb=None, body={"text": "theirs alone"})
    theirs.sync([sent])
    link = theirs.post("/api/links", json={"days": 7}).json()
    devices = [d["id"] for d in theirs.get("/api/devices").json()["devices"]]
    return Two(mine, theirs, [theirs.logbook_id, sent["id"], link["id"], *devices])


def test_every_route_but_the_open_ones_asks_who_it_is(site: Site) -> None:
    asked = 0
    with site.stranger() as stranger:
        for method, path in every_route():
            if path in OPEN or path.startswith("/s/"):
                continue
            answer = stranger.request(method, path.replace("{", "").replace("}", ""), json={"schema": 1})
            assert answer.status_code == 401, (method, path)
            assert set(answer.json()) == {"code", "why"}
            asked += 1
    assert asked >= 10


def answered(two: Two) -> dict[tuple[str, str], int]:
    """What each route with an id said to every id of the other one, where it was not 404; and that some were asked."""
    named = [(m, p) for m, p in every_route() if "{" in p and p not in OPEN and not p.startswith("/s/")]
    assert len(named) >= 3
    found = {}
    for method, path in named:
        for id in two.ids:
            answer = two.mine.request(method, path[: path.index("{")] + id + path[path.index("}") + 1 :], json={})
            if answer.status_code != 404:
                found[method, path] = answer.status_code
    return found


def test_no_route_answers_to_an_id_of_another_logbook(two: Two) -> None:
    assert answered(two) == {}
    # and the other one noticed nothing
    assert len(two.theirs.get("/api/devices").json()["devices"]) == 1
    assert [link["state"] for link in two.theirs.get("/api/links").json()["links"]] == ["open"]


def test_a_route_that_forgets_whose_link_it_is_is_found_out(
    site: Site, two: Two, monkeypatch: pytest.MonkeyPatch
) -> None:
    links = site.store.links
    monkeypatch.setattr(site.store, "links", lambda _mine, *rest: links(two.theirs.logbook_id, *rest))  # planted
    assert answered(two) == {("GET", "/api/links/{link_id}/qr"): 200, ("DELETE", "/api/links/{link_id}"): 200}


@pytest.mark.parametrize("where", ["query", "body", "header"])
def test_a_logbook_named_in_the_request_is_not_read(two: Two, where: str) -> None:
    named = {"logbook": two.theirs.logbook_id, "logbook_id": two.theirs.logbook_id}
    query = named if where == "query" else {}
    body = {"schema": 1, **(named if where == "body" else {})}
    headers = {"x-logbook": two.theirs.logbook_id} if where == "header" else {}
    answer: httpx.Response = two.mine.post("/api/sync", json=body, params=query, headers=headers)
    assert answer.json()["entries"] == []
    assert "theirs alone" not in two.mine.get("/api/export", params=query, headers=headers).text


def test_the_same_entry_id_in_two_logbooks_is_two_entries(two: Two) -> None:
    sent = entry()
    two.mine.sync([sent])
    other = {**sent, "body": {"score": 1}}
    assert two.theirs.sync([other]).json()["results"][0]["r"] == "ok"
    assert two.mine.pulled()[sent["id"]]["body"] == {"score": 7}


def test_erasing_one_logbook_leaves_the_other_whole(two: Two) -> None:
    two.mine.sync([entry()])
    before = two.theirs.pulled()
    assert two.mine.delete("/api/logbook").status_code == 200
    assert two.theirs.pulled() == before
    assert len(before) == 1
