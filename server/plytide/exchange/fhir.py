"""FHIR R4: entries as a Bundle of type collection, plain dicts, for a record system that takes such.

One Patient, and an Observation for each thing logged, performed by the patient and labelled as patient reported.
Where a public code exists that is free to use it is given (LOINC for a pain score and for body temperature); all else
has Plytide's own codes, whose CodeSystem comes with the bundle. No SNOMED codes. What stands is final, what was changed
later amended, what was erased entered in error. Settings, socks, trips and visits are no observations and stay out: the
lossless form is JSON Lines.
"""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from plytide import stamps
from plytide.entries import Entry
from plytide.exchange.codes import code, code_system, coding
from plytide.insight.telling import edited
from plytide.limb.geometry import region_name

Resource = dict[str, Any]

PARTS = uuid.UUID("9f7a036a-1011-512c-a2d6-4ae87bb25e89")  # names the parts of an entry that are resources themselves
UCUM = "http://unitsofmeasure.org"
LOINC = "http://loinc.org"
REPORTED = {"system": "http://terminology.hl7.org/CodeSystem/v3-ObservationValue", "code": "PATRPT",
            "display": "patient reported"}  # fmt: skip
SURVEY = {"system": "http://terminology.hl7.org/CodeSystem/observation-category", "code": "survey",
          "display": "Survey"}  # fmt: skip
PAIN = {"system": LOINC, "code": "72514-3", "display": "Pain severity - 0-10 verbal numeric rating [Score] - Reported"}
TEMPERATURE = {"system": LOINC, "code": "8310-5", "display": "Body temperature"}
# our unit: (as people write it, UCUM)
UNITS = {"ply": ("ply", "{ply}"), "score": ("{score}", "{score}"), "min": ("min", "min"), "mm": ("mm", "mm"),
         "cm": ("cm", "cm"), "Cel": ("°C", "Cel"), "1": ("1", "1"), "deg": ("°", "deg")}  # fmt: skip


def resources(
    entries: Iterable[Entry], profile: Mapping[str, Any], patient_id: str, socks: Mapping[str, int]
) -> Iterator[Resource]:
    """What the bundle holds, one by one.

    `profile` names the patient and gives each limb's level; `patient_id` is a UUID; `socks`: ply by id of sock.
    """
    making = _Making(profile, f"urn:uuid:{patient_id}", socks)
    yield code_system()
    yield _patient(profile, patient_id)
    for entry in entries:
        yield from making.of(entry)


def bundle(held: Iterable[Resource], now: datetime) -> Resource:
    """The Bundle of these resources."""
    entry = [_entry(resource) for resource in held]
    return {"resourceType": "Bundle", "type": "collection", "timestamp": _instant(now), "entry": entry}


def dump(held: Iterable[Resource], now: datetime) -> Iterator[bytes]:
    """The same as JSON, piece by piece: ten years of a log never stand in memory whole."""
    yield _json(bundle([], now)).removesuffix(b"]}")
    for i, resource in enumerate(held):
        yield (b"," if i else b"") + _json(_entry(resource))
    yield b"]}"


def patient_id(logbook_id: str) -> str:
    """The UUID that stands for a logbook's wearer outside: always the same, and not the logbook's own."""
    return str(uuid.uuid5(PARTS, logbook_id))


def plies(entries: Iterable[Entry]) -> dict[str, int]:
    """The ply of each sock, by its id."""
    return {e.id: e.body.get("ply", 0) for e in entries if e.kind == "sock"}


def _entry(resource: Resource) -> Resource:
    return {"fullUrl": f"urn:uuid:{resource['id']}", "resource": resource}


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()


def _patient(profile: Mapping[str, Any], patient_id: str) -> Resource:
    name = str(profile.get("name") or "").strip()
    return {"resourceType": "Patient", "id": patient_id, **({"name": [{"text": name}]} if name else {})}


class _Making:
    """Makes the resources of one bundle."""

    def __init__(self, profile: Mapping[str, Any], patient: str, socks: Mapping[str, Any]) -> None:
        self.patient, self.socks = patient, socks
        self.levels = {limb["side"]: limb["level"] for limb in profile.get("limbs") or []}

    def of(self, entry: Entry) -> list[Resource]:
        """The observations of an entry, its own first."""
        make = _KINDS.get(entry.kind)
        if make is None:
            return []
        if entry.erased:
            return [self.observation(entry, coding(_MAIN[entry.kind]))]
        return make(self, entry, entry.body)

    def observation(self, entry: Entry, what: Resource, part: int | None = None, **more: Any) -> Resource:
        """What all observations have in common. `part` numbers those of one entry beyond its own."""
        status = "entered-in-error" if entry.erased else "amended" if edited(entry) else "final"
        local = datetime.fromisoformat(entry.at).astimezone(ZoneInfo(entry.zone))
        found: Resource = {
            "resourceType": "Observation",
            "id": entry.id if part is None else str(uuid.uuid5(PARTS, f"{entry.id}/{part}")),
            "meta": {"security": [REPORTED]}, "status": status, "category": [{"coding": [SURVEY]}],
            "code": {"coding": [what]}, "subject": {"reference": self.patient},
            "effectiveDateTime": local.isoformat(timespec="milliseconds"),
            "issued": _instant(datetime.fromtimestamp(stamps.ms_of(entry.stamp) / 1000, UTC)),
            "performer": [{"reference": self.patient}],
        }  # fmt: skip
        if entry.limb:
            found["bodySite"] = {"coding": [coding(f"limb-{entry.limb}")], "text": f"{entry.limb} residual limb"}
        note = str(more.pop("note", "") or "").strip()
        if note:
            found["note"] = [{"text": note}]
        return found | {name: value for name, value in more.items() if value not in (None, [])}

    def place(self, entry: Entry, body: Mapping[str, Any]) -> Resource:
        """The place of a body with height and angle, in words; the limb alone where there is none."""
        if body.get("height") is None or body.get("angle") is None or not entry.limb:
            return {}
        _, plain, trade = region_name(self.levels.get(entry.limb, "transtibial"), body["height"], body["angle"])
        text = f"{entry.limb} residual limb: {plain} ({trade})"
        return {"bodySite": {"coding": [coding(f"limb-{entry.limb}")], "text": text}}

    def ply(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        parts = [*self.worn(body), *_choice("ply-reason", "ply-reason", body.get("why"))]
        value = _quantity(body["total"], "ply")
        return [self.observation(entry, coding("ply-total"), valueQuantity=value, component=parts)]

    def don(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        parts = [*_number("ply-total", body.get("total"), "ply"), *self.worn(body),
                 *_number("pin-clicks", body.get("clicks"), "1")]  # fmt: skip
        return [self.observation(entry, coding("prosthesis-on"), valueBoolean=True, component=parts)]

    def doff(self, entry: Entry, _body: Mapping[str, Any]) -> list[Resource]:
        return [self.observation(entry, coding("prosthesis-on"), valueBoolean=False)]

    def worn(self, body: Mapping[str, Any]) -> list[Resource]:
        plies = [self.socks.get(sock) for sock in body.get("socks") or []]
        if not plies or None in plies:
            return []
        return [{"code": {"coding": [coding("socks")]}, "valueString": " + ".join(map(str, plies))}]

    def adjust(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        parts = _number("steps", body.get("by"), "1")
        if body.get("reading") is not None:
            unit = str(body.get("unit") or "").strip()
            quantity = {"value": body["reading"], **({"unit": unit} if unit else {})}
            parts.append({"code": {"coding": [coding("reading")]}, "valueQuantity": quantity})
        value = _concept("adjustment", body["what"])
        return [self.observation(entry, coding("fit-adjustment"), valueCodeableConcept=value, component=parts)]

    def sore(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        parts = [*_spot(body), *_choice("feel", "feel", body.get("feel")), *_truth("phantom", body.get("phantom"))]
        made = self.observation(entry, PAIN, valueQuantity=_quantity(body["intensity"], "score"), component=parts)
        made["code"]["coding"].append(coding("soreness"))
        return [made if body.get("phantom") else made | self.place(entry, body)]

    def skin(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        found = []
        for i, finding in enumerate(body.get("findings") or []):
            # fmt: off
            parts = [*_spot(finding), *_number("fade-time", finding.get("fade_min"), "min"),
                     *_truth("still-red", finding.get("still_red") or None),
                     *_truth("blanches", finding.get("blanches")), *_number("size", finding.get("size_mm"), "mm")]
            # fmt: on
            value = _concept("finding", finding["what"])
            one = self.observation(entry, coding("skin-finding"), i, valueCodeableConcept=value, component=parts)
            found.append(one | self.place(entry, finding))
        if body.get("fever_c") is not None:
            heat = self.observation(entry, TEMPERATURE, len(found), valueQuantity=_quantity(body["fever_c"], "Cel"))
            heat.pop("bodySite", None)
            found.append(heat)
        parts = [part for word in body.get("unwell") or [] for part in _choice("unwell", "unwell", word)]
        parts += _truth("end-unseen", body.get("end_unseen") or None)
        members = [{"reference": f"urn:uuid:{one['id']}"} for one in found]
        return [self.observation(entry, coding("skin-check"), valueBoolean=body["clear"], component=parts,
                                 hasMember=members), *found]  # fmt: skip

    def comfort(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        return [self.observation(entry, coding("socket-comfort"), valueQuantity=_quantity(body["score"], "score"))]

    def mishap(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        parts = [part for name in ("hurt", "head", "cannot_stand")
                 for part in _truth(name.replace("_", "-"), body.get(name) or None)]  # fmt: skip
        return [self.observation(entry, coding("mishap"), valueCodeableConcept=_concept("mishap", body["what"]),
                                 component=parts, note=body.get("note"))]  # fmt: skip

    def change(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        value = _concept("change", body["what"])
        made = self.observation(entry, coding("fit-change"), valueCodeableConcept=value, component=_spot(body),
                                note=body.get("note"))  # fmt: skip
        return [made | self.place(entry, body)]

    def girth(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        by = _choice("measured-by", "measured-by", body["by"])
        return [
            self.observation(entry, coding("girth"), i or None, valueQuantity=_quantity(mark["girth_cm"], "cm"),
                             component=[*_number("from-end", mark["from_end_cm"], "cm"), *by])
            for i, mark in enumerate(body["marks"])
        ]  # fmt: skip

    def day(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        parts = [part for tag in body.get("tags") or [] for part in _choice("day-kind", "day", tag)]
        return [self.observation(entry, coding("day-kind"), component=parts)] if parts else []

    def activity(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        value, parts = _concept("activity", body["what"]), _number("duration", body.get("minutes"), "min")
        return [self.observation(entry, coding("activity"), valueCodeableConcept=value, component=parts)]

    def words(self, entry: Entry, body: Mapping[str, Any]) -> list[Resource]:
        """Kinds whose value is the wearer's own words; nothing where there are none."""
        text = str(body.get("text") or body.get("name") or "").strip()
        parts = _truth("firm", body.get("firm") or None) + _choice("option-kind", "option-kind", body.get("kind"))
        made = self.observation(entry, coding(_MAIN[entry.kind]), valueString=text, component=parts,
                                note=body.get("note"))  # fmt: skip
        return [made] if text else []


_KINDS: dict[str, Callable[[_Making, Entry, Mapping[str, Any]], list[Resource]]] = {
    "ply": _Making.ply, "don": _Making.don, "doff": _Making.doff, "adjust": _Making.adjust, "sore": _Making.sore,
    "skin": _Making.skin, "comfort": _Making.comfort, "mishap": _Making.mishap, "change": _Making.change,
    "girth": _Making.girth, "day": _Making.day, "activity": _Making.activity, "need": _Making.words,
    "question": _Making.words, "option": _Making.words, "note": _Making.words,
}  # fmt: skip
_MAIN = {
    "ply": "ply-total", "don": "prosthesis-on", "doff": "prosthesis-on", "adjust": "fit-adjustment", "sore": "soreness",
    "skin": "skin-check", "comfort": "socket-comfort", "mishap": "mishap", "change": "fit-change", "girth": "girth",
    "day": "day-kind", "activity": "activity", "need": "need", "question": "question", "option": "option",
    "note": "note",
}  # fmt: skip


def _instant(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _quantity(value: float, unit: str) -> Resource:
    written, ucum = UNITS[unit]
    return {"value": value, "unit": written, "system": UCUM, "code": ucum}


def _concept(group: str, word: str) -> Resource:
    return {"coding": [coding(code(group, word))], "text": word.replace("_", " ")}


def _choice(name: str, group: str, word: str | None) -> list[Resource]:
    if word is None:
        return []
    return [{"code": {"coding": [coding(name)]}, "valueCodeableConcept": _concept(group, word)}]


def _number(name: str, value: float | None, unit: str) -> list[Resource]:
    if value is None:
        return []
    return [{"code": {"coding": [coding(name)]}, "valueQuantity": _quantity(value, unit)}]


def _truth(name: str, value: bool | None) -> list[Resource]:
    return [] if value is None else [{"code": {"coding": [coding(name)]}, "valueBoolean": value}]


def _spot(body: Mapping[str, Any]) -> list[Resource]:
    return _number("height", body.get("height"), "1") + _number("angle", body.get("angle"), "deg")
