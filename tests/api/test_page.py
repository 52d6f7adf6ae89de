"""The page's files: each kept by browsers as long as it may be, and not a moment longer."""

import gzip
import json
import re

import pytest
from api.site import Phone, Site
from plytide.api import page

page.built()  # kept in memory from here on, so that a build while the tests run is not seen half
MANIFEST = json.loads((page.PAGE / "manifest.json").read_text())


@pytest.mark.parametrize("path", ["/", "/sw.js", "/manifest.webmanifest"])
def test_what_has_no_hash_in_its_name_is_asked_for_each_time(site: Site, path: str) -> None:
    first = site.stranger().get(path)
    assert first.status_code == 200
    assert first.headers["cache-control"] == "no-cache"
    again = site.stranger().get(path, headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_the_web_manifest_is_in_the_language_asked_for_and_else_the_same(site: Site) -> None:
    given = {tag: site.stranger().get("/manifest.webmanifest", headers={"accept-language": tag})
             for tag in ("en-GB,en", "es-MX,es;q=0.9,en;q=0.8", "de, es")}  # fmt: skip
    english, spanish, other = (answer.json() for answer in given.values())
    assert (english["lang"], spanish["lang"], other) == ("en", "es", english)
    assert [s["url"] for s in spanish["shortcuts"]] == [s["url"] for s in english["shortcuts"]]
    assert {s["name"] for s in spanish["shortcuts"]}.isdisjoint(s["name"] for s in english["shortcuts"])
    assert {"accept-language" in answer.headers["vary"] for answer in given.values()} == {True}


@pytest.mark.parametrize("path", sorted(MANIFEST["files"]))
def test_what_has_a_hash_in_its_name_is_kept_for_ever_and_is_whole(site: Site, path: str) -> None:
    answer = site.stranger().get(path)
    assert answer.status_code == 200
    assert "immutable" in answer.headers["cache-control"]
    assert len(answer.content) == MANIFEST["files"][path]
    assert answer.headers["content-type"] != "application/octet-stream"


def test_the_shell_is_the_same_for_everyone_and_names_only_files_that_there_are(site: Site, phone: Phone) -> None:
    shell = site.stranger().get("/")
    assert shell.headers["content-type"] == "text/html; charset=utf-8"
    assert shell.content == phone.get("/").content
    named = re.findall(r'(?:src|href)="([^"#]+)"', shell.text)
    assert len(named) >= 4
    for path in named:
        assert path.startswith("/"), "own files only"
        assert site.stranger().get(path).status_code == 200
    assert not re.search(r"<style|<script(?![^>]*\bsrc=)|\son[a-z]+=|\sstyle=", shell.text), "nothing inline"


def test_everything_the_worker_keeps_can_be_had_without_a_redirect(site: Site) -> None:
    assert "/" in MANIFEST["precache"]
    for path in MANIFEST["precache"]:
        assert site.stranger().get(path).status_code == 200


def test_the_worker_is_script_and_covers_the_whole_site(site: Site) -> None:
    answer = site.stranger().get("/sw.js")
    assert answer.headers["content-type"].startswith("text/javascript")
    assert MANIFEST["build"] in answer.text


def test_text_travels_packed_and_what_is_packed_already_does_not(site: Site) -> None:
    script = next(path for path in MANIFEST["files"] if path.endswith(".js"))
    with site.stranger().stream("GET", script) as answer:
        raw = b"".join(answer.iter_raw())
    assert answer.headers["content-encoding"] == "gzip"
    assert answer.headers["vary"] == "accept-encoding"
    assert len(gzip.decompress(raw)) == MANIFEST["files"][script]
    plain = site.stranger().get(script, headers={"accept-encoding": "identity"})
    assert "content-encoding" not in plain.headers
    font = next(path for path in MANIFEST["files"] if path.endswith((".woff2", ".png")))
    assert "content-encoding" not in site.stranger().get(font).headers


def test_a_head_request_has_the_headers_and_no_body(site: Site) -> None:
    answer = site.stranger().head("/")
    assert (answer.status_code, answer.content) == (200, b"")
    assert "etag" in answer.headers


def test_no_search_engine_is_asked_in(site: Site) -> None:
    assert site.stranger().get("/robots.txt").text == "User-agent: *\nDisallow: /\n"


def test_the_layout_of_the_code_is_not_published(site: Site) -> None:
    for path in ("/docs", "/redoc", "/openapi.json", "/manifest.json", "/shell.html.jinja", "/assets/"):
        assert site.stranger().get(path).status_code == 404
