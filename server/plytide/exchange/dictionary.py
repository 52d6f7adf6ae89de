"""The data dictionary of the CSV: every field that an entry may have, what it holds, in which unit.

Made from the entry models, so that it cannot lag behind them.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from plytide.bodies import BODIES
from plytide.exchange.table import COLUMNS

HEAD = ("kind", "field", "type", "values", "unit", "meaning")
ENVELOPE = {
    "id": "UUID of the entry; all rows of one entry share it.",
    "kind": "What kind of entry it is; its fields are listed below.",
    "limb": "left, right, or empty where it is about no limb.",
    "at": "When it happened: RFC 3339, UTC.",
    "zone": "IANA time zone that the wearer was in.",
    "local": "The same moment on the wearer's clock.",
    "field": "Name of the value, with dots into lists and groups; a number is a place in a list, from 0.",
    "value": "The value. Text that a spreadsheet would run as a formula has a quote before it.",
}
UNITS = (("_min", "minutes"), ("minutes", "minutes"), ("_mm", "mm"), ("_cm", "cm"), ("_c", "degrees Celsius"),
         ("hours", "hours"), ("total", "ply"), ("ply", "ply"), ("height", "0 tip of the limb to 1 socket brim"),
         ("angle", "degrees: 0 front, 90 outer, 180 back, 270 inner"), ("intensity", "0 none to 10 worst"),
         ("score", "0 worst to 10 best"), ("clicks", "clicks"))  # fmt: skip


def rows() -> Iterator[tuple[str, ...]]:
    """The rows, those of the columns first."""
    for name in COLUMNS:
        yield "", name, "text", "", "", ENVELOPE[name]
    for kind, model in BODIES.items():
        schema = model.model_json_schema()
        meaning = " ".join((model.__doc__ or "").split())
        yield from _fields(kind, schema, schema, "", meaning)


def dump() -> Iterator[bytes]:
    """The dictionary as CSV, in the same form as the table."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEAD)
    writer.writerows(rows())
    yield b"\xef\xbb\xbf" + out.getvalue().encode()


def _fields(kind: str, node: Any, schema: Any, before: str, meaning: str) -> Iterator[tuple[str, ...]]:
    """The fields below an object; a kind without any has one row all the same."""
    properties = node.get("properties", {})
    if not properties and not before:
        yield kind, "", "", "", "", meaning
    for name, inner in properties.items():
        place, many, found = f"{before}{name}", "", inner
        while "properties" not in found and ("type" not in found or found["type"] in ("array", "object")):
            if "$ref" in found:
                found = schema["$defs"][found["$ref"].rsplit("/", 1)[1]]
            elif "anyOf" in found:
                found = next(part for part in found["anyOf"] if part.get("type") != "null")
            elif found.get("type") == "array":
                found, many = found["items"], f"{many}.*"
            else:
                found, many = next(iter(found["patternProperties"].values())), f"{many}.*"
        if "properties" in found:
            yield from _fields(kind, found, schema, f"{place}{many}.", meaning)
        else:
            values = "; ".join(map(str, found.get("enum", []))) or _range(found)
            yield kind, place + many, found.get("type", "text"), values, _unit(name), meaning


def _range(found: Any) -> str:
    low = found.get("minimum", found.get("exclusiveMinimum"))
    high = found.get("maximum", found.get("exclusiveMaximum"))
    return "" if low is None and high is None else f"{low} to {high}"


def _unit(name: str) -> str:
    return next((unit for ending, unit in UNITS if name.endswith(ending)), "")
