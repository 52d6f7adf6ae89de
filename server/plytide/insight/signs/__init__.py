"""Warning signs: what was entered, which rule it meets, what to do, where the rule comes from.

The table (data/signs.json) has the words and the rules one entry can meet; the modules here say how long those go on
standing and find the patterns over days. Nothing here diagnoses, and nothing reassures: a sign that has ended simply
leaves the list.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence

from typing_extensions import TypedDict

from plytide.insight.clock import written
from plytide.insight.log import Log
from plytide.insight.rules import LEVELS, filled, level_of, rules, steps
from plytide.insight.shape import Fitting, Shift, Sign, Silent, SkinPart, Usual
from plytide.insight.signs import falls, felt, fit, mishaps, quiet, seen
from plytide.insight.signs.found import Found

# A quieter sign says nothing new beside a graver one about the same thing.
GRAVER = {
    "comfort_possible": ("comfort_down",),
    "ply_watch": ("ply_review",),
    "cannot_don": ("cannot_don_again", "cannot_don_unwell"),
}


class Parts(TypedDict):
    """The parts of the limb's summary that signs rest on."""

    usual: Usual | Silent
    shifts: list[Shift]
    skin: SkinPart
    fittings: list[Fitting]


def standing(log: Log, parts: Parts) -> list[Sign]:
    """The limb's signs that stand at the log's moment, the most urgent first, then the latest."""
    found = [
        *seen.stand(log), *mishaps.stand(log), *felt.stand(log),
        *fit.stand(log, parts["shifts"], parts["fittings"]),
        *quiet.stand(log, parts["skin"], parts["usual"]),
    ]  # fmt: skip
    return _ordered([_sign(log, one, (None, log.side)) for one in _plain(found)])


def of_person(logs: Sequence[Log]) -> list[Sign]:
    """The signs of no limb in particular; `logs` are those of the limbs."""
    latest = sorted(logs, key=lambda log: log.today, reverse=True)
    return _ordered([_sign(latest[0], one, (None, "left", "right")) for one in falls.stand(latest)]) if logs else []


def sober(limb: Sequence[Sign], everywhere: Iterable[Sign]) -> list[Sign]:
    """A limb's signs without those that only call something ordinary, while a graver one stands `everywhere`.

    Nothing reassures beside a sign, not even beside one of the other limb or of a fall.
    """
    grave = any(sign["level"] != "watch" for sign in everywhere)
    return [sign for sign in limb if not (grave and rules()[sign["code"]].get("alone"))]


def _ordered(signs: Iterable[Sign]) -> list[Sign]:
    latest_first = sorted(signs, key=lambda sign: (sign["since"], sign["code"]), reverse=True)
    return sorted(latest_first, key=lambda sign: LEVELS.index(sign["level"]))


def _plain(found: Sequence[Found]) -> list[Found]:
    """Without those that a graver sign says already: a pattern's, or the rule that covers it in the same entries."""
    by_code = {one.code: one for one in found}

    def said(one: Found) -> bool:
        covering = [other for code, other in by_code.items() if one.code in rules()[code].get("covers", ())]
        return any(set(one.evidence) <= set(other.evidence) for other in covering)

    return [one for one in found if not said(one) and not by_code.keys() & set(GRAVER.get(one.code, ()))]


def _sign(log: Log, found: Found, limbs: Container[str | None]) -> Sign:
    rule, met = rules()[found.code], level_of(found.code, log.profile)
    entered = found.entered if found.entered is not None else rule["entered"]
    said = [filled(text, log.profile, **found.facts) for text in (entered, rule["rule"])]
    return Sign(
        code=found.code, level=met.level, since=written(found.since), evidence=list(found.evidence),
        title=rule["title"], entered=" ".join(said), do=steps(met, log.profile), keep_off=met.keep_off,
        source=rule["source"], told=_told(log, found, limbs),
    )  # fmt: skip


def _told(log: Log, found: Found, limbs: Container[str | None]) -> str | None:
    """When the clinic was last told of this sign since it stands, in an entry about one of these limbs."""
    told = [
        item
        for item in log.items("told")
        if item.body["code"] == found.code and item.ms >= found.since and item.entry.limb in limbs
    ]
    return told[-1].entry.at if told else None
