"""What can be logged: one model a kind (bodies.py), one envelope round them all.

This is the only definition. TypeScript types are generated from it (web/make_types.py), the phone sends it, the
store keeps it, insight reads it. Fields and kinds this version does not know are kept and given back untouched,
so that an older server never costs a newer phone anything.

Times are RFC 3339 in UTC with milliseconds; `zone` is the IANA zone that the wearer was in.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import available_timezones

from pydantic import TypeAdapter, ValidationError
from pydantic_core import from_json, to_json

from plytide.bodies import (
    BODIES,
    LIMB_KINDS,
    PLY_MAX,
    TEXT_MAX,
    FindingKind,
    Limb,
    LimbProfile,
    Mishap,
    Profile,
    Unwell,
)
from plytide.stamps import is_stamp

__all__ = [
    "BODIES", "DEPTH_MAX", "LIMB_KINDS", "PLY_MAX", "SIZE_MAX", "TEXT_MAX", "Entry", "FindingKind", "Limb",
    "LimbProfile", "Mishap", "Profile", "Refusal", "Unwell", "is_id", "parse_entry",
]  # fmt: skip

DEPTH_MAX = 8
SIZE_MAX = 64 * 1024  # bytes of one entry as JSON
# Only says whether a body fits, which takes half as long as making the model of it.
_FITS = {kind: TypeAdapter(model).validator.isinstance_python for kind, model in BODIES.items()}


@dataclass(slots=True)  # frozen, it would take three times as long to make
class Entry:
    """One version of one entry, never changed once made.

    `body` is plain data that has passed its model; `extra` are unknown envelope fields.
    """

    id: str
    kind: str
    limb: str | None
    at: str
    zone: str
    stamp: str
    erased: bool
    body: dict[str, Any]
    extra: dict[str, Any] = field(default_factory=dict)

    def as_dict(self) -> dict[str, Any]:
        """The entry as it travels."""
        return {
            **self.extra,
            "id": self.id, "kind": self.kind, "limb": self.limb, "at": self.at, "zone": self.zone,
            "stamp": self.stamp, "erased": self.erased, "body": self.body,
        }  # fmt: skip

    def as_json(self) -> str:
        """The entry as it is kept; refused when it is larger than any entry has reason to be."""
        text = to_json(self.as_dict())
        if len(text) > SIZE_MAX:
            raise Refusal("too_large", "This entry is too large to be kept.")
        return text.decode()

    @classmethod
    def from_json(cls, text: str) -> Entry:
        """An entry from what `as_json` wrote: checked when it came, not checked again.

        `from_json` gives entries that say the same the same string, which halves the memory of a log.
        """
        return cls.from_dict(from_json(text))

    @classmethod
    def from_dict(cls, data: dict[str, Any]) -> Entry:
        """An entry from what `as_dict` gave."""
        return cls(data["id"], data["kind"], data["limb"], data["at"], data["zone"], data["stamp"], data["erased"],
                   data["body"], _extra(data) if len(data) > len(_ENVELOPE) else {})  # fmt: skip


class Refusal(ValueError):
    """An entry that cannot be kept as it is. `code` is for programs, `why` for the person who typed it."""

    def __init__(self, code: str, why: str) -> None:
        super().__init__(f"{code}: {why}")
        self.code = code
        self.why = why


_ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\Z")
_KIND = re.compile(r"[a-z][a-z_]{0,39}\Z")
_AT = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,6})?(Z|[+-]\d{2}:\d{2})\Z")
_KEPT_AT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z\Z")
_WITH_DATES = frozenset({"trip", "visit", "profile"})
_ENVELOPE = frozenset({"id", "kind", "limb", "at", "zone", "stamp", "erased", "body"})
_UNKEPT = re.compile("[\x00\ud800-\udfff]")  # NUL, and halves of a pair that have lost the other half
_ZONES = frozenset(available_timezones())


def is_id(text: object) -> bool:
    """Whether `text` is a UUID in lower case."""
    return isinstance(text, str) and _ID.match(text) is not None


def parse_entry(raw: object) -> Entry:
    """An entry from what came over the wire, or a `Refusal` that says what to put right.

    Text is normalised to NFC; nothing else is changed. An erased entry keeps whatever body it has: it is a
    tombstone, and is never refused for its content.
    """
    if not isinstance(raw, dict):
        raise Refusal("not_an_object", "This entry is not an object.")
    known = raw.keys() <= _ENVELOPE
    data = raw if (known or _plain(raw, 1)) and _plain(raw.values(), 1) else _clean(raw)
    if not is_id(data.get("id")):
        raise Refusal("bad_id", "The entry's id is not a UUID in lower case.")
    if not is_stamp(data.get("stamp")):
        raise Refusal("bad_stamp", "The entry's stamp is not well formed.")
    kind = data.get("kind")
    if not isinstance(kind, str) or not (kind in BODIES or _KIND.match(kind)):
        raise Refusal("bad_kind", "The kind of the entry is missing or not a plain word.")
    limb = data.get("limb")
    if limb not in (None, "left", "right"):
        raise Refusal("bad_limb", "The limb has to be left, right or none.")
    zone = data.get("zone")
    if not isinstance(zone, str) or zone not in _ZONES:
        raise Refusal("bad_zone", "The time zone is not one of the known names, such as Europe/Lisbon.")
    erased = data.get("erased", False)
    body = data.get("body", {})
    if not isinstance(erased, bool) or not isinstance(body, dict):
        raise Refusal("bad_form", "The entry's parts are not of the form they should be.")
    at = _utc(data.get("at"))
    model = BODIES.get(kind)
    if model is not None and not erased:
        if kind in LIMB_KINDS and limb is None:
            raise Refusal("no_limb", "This entry needs to say which limb it is about: left or right.")
        if not _FITS[kind](body):
            try:
                model.model_validate(body)
            except ValidationError as error:
                raise Refusal("bad_body", _in_words(error)) from None
        if kind in _WITH_DATES:
            _check_dates(body)
    return Entry(data["id"], kind, limb, at, zone, data["stamp"], erased, body, {} if known else _extra(data))


def _extra(data: dict[str, Any]) -> dict[str, Any]:
    """What stands in an envelope that this version does not know."""
    return {name: value for name, value in data.items() if name not in _ENVELOPE}


def _plain(values: Iterable[Any], depth: int) -> bool:
    """Whether nothing in it needs the closer look of `_clean`, as is so of nearly every entry."""
    for value in values:
        kind = type(value)
        if kind is str:
            if not value.isascii() or "\x00" in value:
                return False
        elif kind is dict:
            if depth >= DEPTH_MAX or not _plain(value, depth + 1) or not _plain(value.values(), depth + 1):
                return False
        elif kind is list:
            if depth >= DEPTH_MAX or not _plain(value, depth + 1):
                return False
        elif kind is int:
            if not -(2**53) <= value <= 2**53:
                return False
        elif kind is float:
            if not -math.inf < value < math.inf:
                return False
        elif value is not None and kind is not bool:
            return False
    return True


def _clean(value: Any, depth: int = 0) -> Any:
    """Plain JSON with text in NFC; refuses what a database or a screen cannot carry."""
    if depth > DEPTH_MAX:
        raise Refusal("too_deep", "This entry is nested too deeply.")
    if isinstance(value, str):
        if _UNKEPT.search(value):
            raise Refusal("bad_text", "The text has a character that cannot be kept.")
        return unicodedata.normalize("NFC", value)
    if isinstance(value, dict):
        return {_clean(k, depth + 1): _clean(v, depth + 1) for k, v in value.items()}
    if isinstance(value, list):
        return [_clean(v, depth + 1) for v in value]
    if isinstance(value, float) and not math.isfinite(value):
        raise Refusal("bad_number", "A number in it cannot be kept.")
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) > 2**53:
        raise Refusal("bad_number", "A number in it is too large.")
    return value


def _utc(at: object) -> str:
    """`at` in UTC with milliseconds, from any RFC 3339 instant."""
    kept = isinstance(at, str) and _KEPT_AT.match(at) is not None
    if not isinstance(at, str) or not (kept or _AT.match(at)):
        raise Refusal("bad_time", "The time of the entry is missing or not a date and time with its zone.")
    try:
        moment = datetime.fromisoformat(at)
        if kept and 1970 <= moment.year <= 2200:
            return at
        moment = moment.astimezone(UTC)
    except (ValueError, OverflowError):
        raise Refusal("bad_time", "The time of the entry does not exist in the calendar.") from None
    if not 1970 <= moment.year <= 2200:
        raise Refusal("bad_time", "The time of the entry is outside 1970 to 2200.")
    return moment.strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


def _check_dates(body: dict[str, Any]) -> None:
    for name in ("date", "on", "amputated_on"):
        value = body.get(name)
        if isinstance(value, str):
            try:
                date.fromisoformat(value)
            except ValueError:
                raise Refusal("bad_date", f"The date ({name}) is not a day in the calendar.") from None
    for limb in body.get("limbs") or []:
        if isinstance(limb, dict):
            _check_dates(limb)


def _in_words(error: ValidationError) -> str:
    """The first complaint of a model as a sentence; the value itself is not repeated."""
    first = error.errors(include_input=False, include_url=False, include_context=False)[0]
    where = ".".join(str(part) for part in first["loc"]) or "the entry"
    return f"{where}: {first['msg'][0].lower()}{first['msg'][1:]}."
