"""Requests made up from the OpenAPI description: no answer is a 5xx, and the logbook still answers afterwards.

PLYTIDE_FUZZ_CASES is how many in all (300 unless told; 2,000 before a release).
"""

import os

import pytest
import schemathesis
from api.site import Phone, Site, entry
from hypothesis import HealthCheck, settings
from plytide.app import create_app
from plytide.config import Settings

CASES = int(os.environ.get("PLYTIDE_FUZZ_CASES", "300"))
DESCRIBED = create_app(Settings(), None, None).openapi()  # type: ignore[arg-type]
OPERATIONS = sum(len(methods) for methods in DESCRIBED["paths"].values())
schema = schemathesis.openapi.from_dict(DESCRIBED)


@pytest.fixture(scope="module")
def phones(site: Site) -> list[Phone]:
    """The paired phone at the end; a new one takes over when a case has shut it out or erased its logbook."""
    return [site.phone()]


@schema.parametrize()
@settings(
    max_examples=max(5, CASES // OPERATIONS), deadline=None, derandomize=True, database=None,
    suppress_health_check=list(HealthCheck),
)  # fmt: skip
def test_no_request_makes_the_server_fail(case: schemathesis.Case, site: Site, phones: list[Phone]) -> None:
    phone = phones[-1]
    answer = case.call(
        base_url=site.url, headers={**(case.headers or {}), "origin": site.url}, cookies=dict(phone.cookies)
    )
    assert answer.status_code < 500
    if phone.get("/api/devices").status_code == 401:
        phones.append(site.phone())


def test_the_logbook_still_answers(site: Site) -> None:
    with site.phone() as phone:
        sent = entry()
        assert phone.sync([sent]).json()["results"][0]["r"] == "ok"
        assert phone.pulled() == {sent["id"]: sent}


def test_the_description_covers_every_route_of_the_api() -> None:
    assert {"/api/sync", "/api/pair", "/api/devices/{device_id}", "/api/export", "/healthz"} <= set(DESCRIBED["paths"])
    body = DESCRIBED["paths"]["/api/sync"]["post"]["requestBody"]["content"]["application/json"]["schema"]
    assert {"schema", "epoch", "cursor", "entries"} <= set(body["properties"])
