"""The headers of every answer: what a page may do, who may keep it, what it tells others."""

import httpx
import pytest
from api.site import Phone, Site, running

PATHS = ["/", "/sw.js", "/manifest.webmanifest", "/healthz", "/api/summary", "/api/export", "/nothing", "/api/nothing"]


def csp(answer: httpx.Response) -> dict[str, str]:
    rules = (rule.strip().partition(" ") for rule in answer.headers["content-security-policy"].split(";"))
    return {name: value for name, _, value in rules}


@pytest.mark.parametrize("path", PATHS)
def test_every_answer_keeps_to_itself(phone: Phone, path: str) -> None:
    answer = phone.get(path)
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert answer.headers["cross-origin-opener-policy"] == "same-origin"
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"
    assert "noindex" in answer.headers["x-robots-tag"]
    assert "server" not in answer.headers


def test_an_answer_of_the_api_opened_by_hand_is_saved_and_not_shown(phone: Phone) -> None:
    # OWASP ASVS 4.0, 14.4.2
    for path in ("/api/devices", "/api/nothing", "/api/summary"):
        assert phone.get(path).headers["content-disposition"] == 'attachment; filename="api.json"'
    assert "plytide-20" in phone.get("/api/export").headers["content-disposition"]
    assert "content-disposition" not in phone.get("/api/links/preview").headers


@pytest.mark.parametrize("path", PATHS)
def test_nothing_inline_and_nothing_foreign_may_run(phone: Phone, path: str) -> None:
    rules = csp(phone.get(path))
    assert rules["default-src"] == rules["base-uri"] == rules["frame-ancestors"] == "'none'"
    assert rules["script-src"] == "'self'"
    assert rules["require-trusted-types-for"] == "'script'"
    sources = " ".join(rules.values())
    assert "unsafe" not in sources
    assert "*" not in sources
    assert "http" not in sources


def test_the_clinics_page_may_run_no_script_at_all(site: Site) -> None:
    answer = site.stranger().get("/s/AAAAAAAAAAAAAAAAAAAAAA")
    assert "script-src" not in csp(answer)
    assert csp(answer)["default-src"] == "'none'"
    assert answer.headers["cache-control"] == "no-store"


@pytest.mark.parametrize("path", ["/api/summary", "/api/devices", "/api/export", "/api/nothing"])
def test_health_data_is_kept_in_no_cache(phone: Phone, path: str) -> None:
    assert phone.get(path).headers["cache-control"] == "no-store"


def test_a_refusal_has_them_too(site: Site) -> None:
    refused = site.stranger().post("/api/sync", content=b"x", headers={"content-type": "text/plain"})
    assert refused.status_code == 415
    assert refused.headers["x-content-type-options"] == "nosniff"
    assert "content-security-policy" in refused.headers
    assert refused.headers["cache-control"] == "no-store"


def test_browsers_are_bound_to_https_only_where_there_is_https(
    site: Site, tmp_path_factory: pytest.TempPathFactory
) -> None:
    assert "strict-transport-security" not in site.stranger().get("/healthz").headers
    with running(tmp_path_factory.mktemp("tls"), public_url="https://leg.example.org") as secure:
        # RFC 6797 section 7.2: the header must not be sent over plain http; a year, as common practice has it
        assert secure.stranger().get("/healthz").headers["strict-transport-security"] == "max-age=31536000"
