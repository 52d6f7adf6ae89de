"""/s/<token>/csv, fhir, jsonl, dictionary: what is shown can be taken along, if that was ticked, and nothing more."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from api.site import Phone, Site
from clinic.conftest import SECRETS, at
from fhir.resources.R4B.bundle import Bundle

FORMS = ["csv", "dictionary", "fhir", "jsonl"]


@pytest.fixture
def reader(site: Site) -> Iterator[httpx.Client]:
    with site.stranger() as reader:
        yield reader


def opened(phone: Phone, reader: httpx.Client, **asked: Any) -> str:
    """The path of a link that the reader has opened."""
    made = phone.post("/api/links", json={"days": 28, "notes": True, **asked}).json()
    assert reader.post(at(made), data={"code": made["code"]}).status_code == 303
    return at(made)


def test_the_files_hold_what_the_page_shows(phone: Phone, reader: httpx.Client) -> None:
    link = opened(phone, reader)
    rows = list(csv.DictReader(io.StringIO(reader.get(f"{link}/csv").content.decode("utf-8-sig"))))
    lines = [json.loads(line) for line in reader.get(f"{link}/jsonl").text.splitlines()]
    bundle = reader.get(f"{link}/fhir").json()
    assert {row["id"] for row in rows} == {line["id"] for line in lines}
    assert {line["kind"] for line in lines} == {"don", "doff", "ply", "sore", "skin", "mishap", "need", "note"}
    observations = [e["resource"] for e in bundle["entry"] if e["resource"]["resourceType"] == "Observation"]
    assert {o["id"] for o in observations} == {line["id"] for line in lines}
    assert Bundle.model_validate(bundle).timestamp is not None
    assert SECRETS[3] in json.dumps(observations)


def test_the_page_names_the_files_and_they_come_as_files(phone: Phone, reader: httpx.Client) -> None:
    link = opened(phone, reader)
    page = reader.get(link).text
    for form in FORMS:
        assert f'href="{link.removeprefix("/s/")}/{form}"' in page
        answer = reader.get(f"{link}/{form}")
        assert answer.headers["content-disposition"].startswith('attachment; filename="prosthesis-log')
        assert answer.headers["cache-control"] == "no-store"


def test_what_was_not_ticked_is_in_no_file(phone: Phone, reader: httpx.Client) -> None:
    link = opened(phone, reader, kinds=["skin"], notes=False)
    for form in ("csv", "fhir", "jsonl"):
        text = reader.get(f"{link}/{form}").text
        assert "skin" in text
        assert not [secret for secret in (*SECRETS[1:], '"sore"', "72514-3", "555 0100") if secret in text]


@pytest.mark.parametrize("form", [*FORMS, "summary", "xlsx"])
def test_nobody_else_gets_a_file_but_the_box(phone: Phone, reader: httpx.Client, form: str, site: Site) -> None:
    link = opened(phone, reader)
    unticked = opened(phone, reader, files=False)
    assert "download" not in reader.get(unticked).text
    box = reader.get("/s/nobody")
    with site.stranger() as stranger:
        for who, path in ((stranger, link), (reader, unticked), (reader, "/s/nobody")):
            answer = who.get(f"{path}/{form}")
            assert (answer.status_code, answer.content) == (200, box.content)


def test_the_wearers_own_export_has_the_same_forms(phone: Phone) -> None:
    for form in FORMS:
        answer = phone.get("/api/export", params={"format": form})
        assert answer.status_code == 200
        assert answer.headers["content-disposition"].startswith('attachment; filename="plytide-20')
    bundle = phone.get("/api/export", params={"format": "fhir"}).json()
    assert [e["resource"]["name"] for e in bundle["entry"] if e["resource"]["resourceType"] == "Patient"] == [
        [{"text": SECRETS[0]}]
    ]
