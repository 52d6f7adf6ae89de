"""The table of signs, and the rules that one entry alone can meet.

The phone does the same offline from the same table (data/signs.json, which explains its own grammar);
tests/vectors/signs.json holds both to the same answers.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from plytide.data import table
from plytide.insight.shape import Level

LEVELS: tuple[Level, ...] = ("emergency", "same_day", "review", "watch")  # the most urgent first

Rule = Mapping[str, Any]


class Met(NamedTuple):
    """A rule that is met: its code, the level for this wearer, and whether the leg stays off."""

    code: str
    level: Level
    keep_off: bool


@cache
def rules() -> dict[str, Rule]:
    """The rules by code, in the table's order: the most urgent first."""
    return {rule["code"]: rule for rule in table("signs")["rules"]}


rules()  # comes with the module: the first reading of a process need not wait for the table


def fade_limit(profile: Mapping[str, Any]) -> float:
    """Minutes a mark may take to fade: the profile's own number, or the default for the wearer's risks."""
    own = profile.get("fade_limit_min")
    if own is not None:
        return float(own)
    limit = table("limits")["fade_limit_min"]
    risks = profile.get("higher_risk") or []
    return float(limit["higher" if any(risk in limit["risks"] for risk in risks) else "default"])


def met_by(kind: str, body: Mapping[str, Any], profile: Mapping[str, Any]) -> list[Met]:
    """The rules that one skin or mishap entry meets, the most urgent first."""
    found = [rule for rule in rules().values() if meets(rule, kind, body, profile)]
    covered = {code for rule in found for code in rule.get("covers", [])}
    met = [at_level(rule, profile) for rule in found if rule["code"] not in covered]
    return sorted(without_comfort(met), key=lambda m: LEVELS.index(m.level))


def meets(rule: Rule, kind: str, body: Mapping[str, Any], profile: Mapping[str, Any]) -> bool:
    """Whether one entry meets an immediate rule: any one of its clauses holds."""
    return any(clause_holds(clause, kind, body, profile) for clause in rule.get("when", ()))


def without_comfort(met: Sequence[Met]) -> list[Met]:
    """Without the rules that are said only alone, where anything above `watch` is met: nothing reassures beside it."""
    graver = any(m.level != "watch" for m in met)
    return [m for m in met if not (graver and rules()[m.code].get("alone"))]


def at_level(rule: Rule, profile: Mapping[str, Any]) -> Met:
    """The rule at this wearer's level: one up for those whose skin or blood supply forgives less."""
    up = bool(rule["higher_risk"] and profile.get("higher_risk"))
    level = LEVELS[max(0, LEVELS.index(rule["level"]) - up)]
    return Met(rule["code"], level, bool(rule["keep_off"] or up))


def clause_holds(clause: Rule, kind: str, body: Mapping[str, Any], profile: Mapping[str, Any]) -> bool:
    """Whether every key of a clause holds. A key this version does not know never holds."""
    if clause["kind"] != kind:
        return False
    findings = body.get("findings") or []
    tests: dict[str, Callable[[], bool]] = {
        "kind": lambda: True,
        "what": lambda: body.get("what") in clause["what"],
        "any_flag": lambda: any(body.get(flag) is True for flag in clause["any_flag"]),
        "risk": lambda: any(risk in clause["risk"] for risk in profile.get("higher_risk") or []),
        "any_unwell": lambda: any(word in clause["any_unwell"] for word in body.get("unwell") or []),
        "fever_at_least": lambda: (body.get("fever_c") or 0) >= clause["fever_at_least"],
        "also": lambda: any(f["what"] in clause["also"] for f in findings),
        "finding": lambda: any(_is(f, clause, fade_limit(profile)) for f in findings),
        "over_limit": lambda: "finding" in clause,  # the two that narrow `finding` are read with it
        "blanches": lambda: "finding" in clause,
    }
    return all(key in tests and tests[key]() for key in clause)


def _is(finding: Mapping[str, Any], clause: Rule, limit: float) -> bool:
    """Whether one finding is what the clause asks for. 20 minutes are within a limit of 20; 21 are not."""
    fade = finding.get("fade_min")
    over = bool(finding.get("still_red")) or (fade is not None and fade > limit)
    return (
        finding["what"] in clause["finding"]
        and ("over_limit" not in clause or over == clause["over_limit"])
        and ("blanches" not in clause or finding.get("blanches") in clause["blanches"])
    )


def what_was_entered(kind: str, body: Mapping[str, Any]) -> str:
    """One skin or mishap entry in words: "a blister and a temperature of 38.2 °C"."""
    words = table("signs")["words"]
    if kind == "mishap":
        said = [words["mishap"][body["what"]]] if body.get("what") in words["mishap"] else []
        return _listed([*said, *(words["flag"][flag] for flag in words["flag"] if body.get(flag) is True)])
    said = [_finding(f, words) for f in body.get("findings") or [] if f["what"] in words["finding"]]
    if body.get("fever_c") is not None:
        said.append(words["fever"].format(value=f"{body['fever_c']:g}"))
    return _listed([*said, *(words["unwell"][w] for w in body.get("unwell") or [] if w in words["unwell"])])


def _finding(finding: Mapping[str, Any], words: Mapping[str, Any]) -> str:
    more = []
    if finding.get("still_red"):
        more.append(words["still_red"])
    elif finding.get("fade_min") is not None:
        more.append(words["fade"].format(minutes=f"{finding['fade_min']:g}"))
    if finding.get("blanches") is False:
        more.append(words["no_blanch"])
    name = str(words["finding"][finding["what"]])
    return f"{name} ({', '.join(more)})" if more else name


def _listed(said: Sequence[str]) -> str:
    """Things in a row, each once: "a, b and c"."""
    once = list(dict.fromkeys(said))
    join = f" {table('signs')['words']['and']} "
    return join.join([", ".join(once[:-1]), once[-1]]) if len(once) > 1 else "".join(once)


def steps(met: Met, profile: Mapping[str, Any]) -> list[str]:
    """What to do, in order: the level's own lines, then the rule's, with the wearer's own telephone numbers."""
    own = table("signs")["levels"][met.level]["off" if met.keep_off else "on"]
    return [filled(line, profile) for line in [*own, *rules()[met.code]["do"]]]


def filled(text: str, profile: Mapping[str, Any], **facts: object) -> str:
    """A text of the table with its blanks filled: whom to call, the fade limit, and the facts given."""
    whom = table("signs")["whom"]
    people = {}
    for name in ("clinic", "emergency"):
        number = profile.get(f"{name}_phone")
        people[name] = whom[f"{name}_number"].format(number=number) if number else whom[name]
    blanks: dict[str, object] = {**people, "limit": f"{fade_limit(profile):g}", **facts}
    for name, value in blanks.items():
        text = text.replace("{" + name + "}", str(value))
    return text


def level_of(code: str, profile: Mapping[str, Any]) -> Met:
    """A pattern's rule, met: its level for this wearer."""
    return at_level(rules()[code], profile)
