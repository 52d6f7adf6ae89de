"""Writes the TypeScript types of what the server defines: log/kinds.ts (entries) and log/summary.ts (the summary).

Run it after a change to server/plytide/bodies.py or server/plytide/insight/shape.py; tests/test_types.py fails when
it was forgotten. The same input gives the same bytes.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from plytide import bodies
from plytide.insight import shape
from pydantic import TypeAdapter
from pydantic.json_schema import models_json_schema

LOG = Path(__file__).resolve().parent / "src" / "log"
HEAD = "// Made by web/make_types.py from server/plytide/{source}; not edited by hand.\n\n"

ENVELOPE = """\
/** What a body has, by kind. */
export interface Bodies {
%(bodies)s
}

export type Kind = keyof Bodies;
export type Limb = "left" | "right";

/** An entry as it is kept and travels, unknown fields and all. `at` UTC, `zone` IANA, `stamp` see stamp.ts. */
export interface EntryOf<K extends Kind> {
  id: string;
  kind: K;
  limb: Limb | null;
  at: string;
  zone: string;
  stamp: string;
  erased: boolean;
  body: Bodies[K];
}

/** Any entry; `kind` tells which. */
export type Entry = { [K in Kind]: EntryOf<K> }[Kind];

/** Kinds that are about one limb: their entries name it. */
export const LIMB_KINDS: ReadonlySet<string> = new Set(%(limb_kinds)s);

/** The longest free text, in characters, and the greatest sock total. */
export const TEXT_MAX = %(text_max)d;
export const PLY_MAX = %(ply_max)d;

/** The wearer's settings before any were made. */
export const PROFILE_DEFAULTS: Required<ProfileBody> = %(profile)s;
"""


def kinds_ts() -> str:
    """log/kinds.ts whole."""
    models = list(bodies.BODIES.values())
    schema = models_json_schema([(model, "validation") for model in models])[1]
    names = {kind: _name(model.__name__) for kind, model in bodies.BODIES.items()}
    fields = "\n".join(f"  {kind}: {name};" for kind, name in names.items())
    envelope = ENVELOPE % {
        "bodies": fields,
        "limb_kinds": json.dumps(sorted(bodies.LIMB_KINDS)),
        "text_max": bodies.TEXT_MAX,
        "ply_max": bodies.PLY_MAX,
        "profile": json.dumps(bodies.Profile().model_dump()),
    }
    return HEAD.format(source="bodies.py") + _interfaces(schema["$defs"]) + "\n" + envelope


def summary_ts() -> str:
    """log/summary.ts whole."""
    schema = TypeAdapter(shape.Summary).json_schema()
    definitions = {**schema.pop("$defs"), "Summary": schema}
    silent = (
        "\n/** Whether a part of the summary says nothing; it then says why. */\n"
        "export const isSilent = (part: object): part is Silent => \"reason\" in part;\n"
    )
    return HEAD.format(source="insight/shape.py") + _interfaces(definitions) + silent


def _interfaces(definitions: dict[str, Any]) -> str:
    return "\n".join(_interface(name, definitions[name]) for name in sorted(definitions))


def _interface(name: str, schema: dict[str, Any]) -> str:
    lines = [f"/** {' '.join(schema['description'].split())} */"] if schema.get("description") else []
    required = schema.get("required", [])
    fields = schema.get("properties", {}).items()
    if not fields:
        return "\n".join([*lines, f"export type {_name(name)} = Record<never, never>;", ""])
    lines.append(f"export interface {_name(name)} {{")
    lines += [f"  {field}{'' if field in required else '?'}: {_type(part)};" for field, part in fields]
    return "\n".join([*lines, "}", ""])


def _name(model: str) -> str:
    """Bodies are named for their kind and Body, so that a screen's Ply or Day cannot be mistaken for them."""
    bare = model.rstrip("_")
    return f"{bare}Body" if model in {body.__name__ for body in bodies.BODIES.values()} else bare


def _type(schema: dict[str, Any]) -> str:
    """The TypeScript type of a JSON Schema as pydantic writes it. Raises on a form it does not know."""
    if "$ref" in schema:
        return _name(schema["$ref"].rsplit("/", 1)[1])
    if "enum" in schema:
        return " | ".join(json.dumps(value) for value in schema["enum"])
    if "const" in schema:
        return json.dumps(schema["const"])
    if "anyOf" in schema:
        return " | ".join(_type(part) for part in schema["anyOf"])
    match schema.get("type"):
        case "string":
            return "string"
        case "integer" | "number":
            return "number"
        case "boolean" | "null" as word:
            return str(word)
        case "array" if "prefixItems" in schema:
            return f"[{', '.join(_type(part) for part in schema['prefixItems'])}]"
        case "array":
            item = _type(schema["items"])
            return f"({item})[]" if " | " in item else f"{item}[]"
        case "object" if isinstance(schema.get("additionalProperties"), dict):
            return f"Record<string, {_type(schema['additionalProperties'])}>"
        case "object" if "patternProperties" in schema:
            return f"Record<string, {_type(next(iter(schema['patternProperties'].values())))}>"
    raise ValueError(f"no TypeScript form for {schema}")


def main() -> None:
    """Write both files."""
    (LOG / "kinds.ts").write_text(kinds_ts())
    (LOG / "summary.ts").write_text(summary_ts())


if __name__ == "__main__":
    main()
