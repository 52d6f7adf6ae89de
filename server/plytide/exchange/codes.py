"""Plytide's own codes, as a FHIR CodeSystem: what is observed, and every word that an entry may hold.

Made from the entry models, so that a code is there for each value that can be logged. Codes are ``<group>-<value>``,
such as ``feel-rub``; what is observed has its code without a group.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from plytide import __version__
from plytide.bodies import BODIES

SYSTEM = "urn:uuid:1d9870fb-0e45-53c0-8fd6-a757ff431ab3"

# code: (display, definition)
OBSERVED = {
    "ply-total": ("Total sock ply", "Sum of the ply of all socks worn on the residual limb, by the makers' labels."),
    "ply-reason": ("Reason for a change of ply", "Why the wearer changed the socks, as chosen from a list."),
    "socks": ("Socks worn", "Ply of each sock worn, inner first."),
    "prosthesis-on": ("Prosthesis on", "Whether the prosthesis was put on (true) or taken off (false)."),
    "pin-clicks": ("Clicks of the pin lock", "How many clicks the pin lock gave on donning; more is deeper."),
    "fit-adjustment": ("Adjustment of the fit", "Change to a socket that is fitted by other means than socks."),
    "steps": ("Steps", "Signed steps of an adjustment."),
    "reading": ("Reading", "A reading of an adjustable socket in the unit that the wearer gave."),
    "soreness": ("Soreness at a place on the residual limb", "0 none to 10 worst, as marked by the wearer."),
    "height": ("Height on the limb", "0 the tip of the limb, 1 the plane of the socket brim."),
    "angle": ("Angle on the limb", "Degrees round the limb: 0 front, 90 outer, 180 back, 270 inner."),
    "feel": ("How it feels", "The quality of the soreness."),
    "phantom": ("Phantom", "Felt where the leg no longer is."),
    "skin-check": ("Look at the skin", "Whether the wearer found the skin clear."),
    "skin-finding": ("Finding on the skin", "A sign that the wearer saw or felt; not a diagnosis."),
    "fade-time": ("Time to fade", "Minutes until a mark had faded after the prosthesis came off."),
    "still-red": ("Still there", "The mark had not faded when it was last looked at."),
    "blanches": ("Pales when pressed", "Whether the mark pales when pressed."),
    "size": ("Size", "Largest extent of the finding."),
    "unwell": ("Unwell", "What the wearer felt besides."),
    "end-unseen": ("End not seen", "The end of the limb could not be looked at; what is said is of the rest."),
    "socket-comfort": ("Socket comfort", "One question, 0 worst imaginable to 10 best; not a validated form."),
    "mishap": ("Mishap", "Something that went wrong with the prosthesis or on the way."),
    "hurt": ("Hurt", "The wearer was hurt."),
    "head": ("Head", "The head was hit."),
    "cannot-stand": ("Cannot stand", "The wearer could not stand afterwards."),
    "fit-change": ("Change to the prosthesis", "A change that begins a new period of fit."),
    "girth": ("Girth", "Tape measurement round the residual limb."),
    "from-end": ("Distance from the end", "Where the tape lay."),
    "measured-by": ("Measured by", "Who held the tape."),
    "day-kind": ("Kind of day", "What kind of day the wearer says it was."),
    "activity": ("Activity", "What was done on the prosthesis, in the words of the functional levels' descriptions."),
    "duration": ("Duration", "How long it took."),
    "need": ("Need of the next socket", "In the wearer's words."),
    "firm": ("Firm", "The need is not to be traded."),
    "question": ("Question", "For the appointment, in the wearer's words."),
    "option": ("Way to go", "An option that the wearer weighs for the next prosthesis."),
    "option-kind": ("Kind of option", "What the option would change."),
    "note": ("Note", "Free words of the wearer."),
    "limb-left": ("Left residual limb", "The left lower limb."),
    "limb-right": ("Right residual limb", "The right lower limb."),
}  # fmt: skip

# group of codes: (kind of entry, path to the words in its JSON schema)
WORDS = {
    "ply-reason": ("ply", "why"), "feel": ("sore", "feel"), "finding": ("skin", "findings.what"),
    "unwell": ("skin", "unwell"), "mishap": ("mishap", "what"), "change": ("change", "what"),
    "adjustment": ("adjust", "what"), "measured-by": ("girth", "by"), "day": ("day", "tags"),
    "activity": ("activity", "what"), "option-kind": ("option", "kind"),
}  # fmt: skip


@cache
def words_of(group: str) -> tuple[str, ...]:
    """The words that entries use in a group, in the order of their model."""
    kind, path = WORDS[group]
    schema = BODIES[kind].model_json_schema()
    node: Any = schema
    for name in path.split("."):
        node = _plain(_plain(node, schema)["properties"][name], schema)
    return tuple(node["enum"])


def code(group: str, word: str) -> str:
    """The code of a word of a group."""
    return f"{group}-{word.replace('_', '-')}"


def coding(name: str) -> dict[str, Any]:
    """A code of ours as a FHIR Coding."""
    display = OBSERVED[name][0] if name in OBSERVED else None
    return {"system": SYSTEM, "code": name, **({"display": display} if display else {})}


@cache
def code_system() -> dict[str, Any]:
    """The CodeSystem resource."""
    concepts = [{"code": c, "display": d, "definition": what} for c, (d, what) in OBSERVED.items()]
    for group in WORDS:
        concepts += [{"code": code(group, w), "display": w.replace("_", " ")} for w in words_of(group)]
    return {
        "resourceType": "CodeSystem", "id": SYSTEM.removeprefix("urn:uuid:"), "url": SYSTEM, "version": __version__,
        "name": "PlytideLog", "title": "Plytide: codes of a prosthesis wearer's log", "status": "active",
        "experimental": False, "caseSensitive": True, "content": "complete", "count": len(concepts),
        "description": "What a wearer of a leg prosthesis can log, and the words that the log uses.",
        "concept": concepts,
    }  # fmt: skip


def _plain(node: Any, schema: Any) -> Any:
    """A node of a JSON schema without references, optionality and lists round it."""
    while True:
        if "$ref" in node:
            node = schema["$defs"][node["$ref"].rsplit("/", 1)[1]]
        elif "anyOf" in node:
            node = next(part for part in node["anyOf"] if part.get("type") != "null")
        elif "items" in node:
            node = node["items"]
        else:
            return node
