"""Signs that one skin check or mishap shows at once, and how long they go on standing.

A sign about the skin stands until someone has looked again on a later day: one clear check ends it, or two days'
checks that mention other things but not this; a look that could not see the end ends nothing. What is entered later on
the same day never ends it, for a second look within hours proves little and an ordinary entry proves nothing. Where
nobody looks, it stands for the days of the table and then leaves the list, for by then the entry is history; that
nobody looked is a sign of its own (`no_check`). The phone judges what it alone has by the same rule
(web/src/signs/stand.ts); tests/vectors/signs.json holds both to it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from plytide.data import table
from plytide.insight.clock import Timed, number
from plytide.insight.log import Log
from plytide.insight.rules import Rule, at_level, meets, rules, what_was_entered
from plytide.insight.signs.found import Found, ids, ply_rises
from plytide.insight.skin import was_clear

SWELL_HOURS = 24.0  # socks added this long before swelling was seen
LOOK_BACK = 60


def stand(log: Log) -> list[Found]:
    """The immediate rules that stand now."""
    skin, mishaps = log.lately("skin", LOOK_BACK), log.lately("mishap", LOOK_BACK)
    found = []
    for code, rule in rules().items():
        kinds = {clause["kind"] for clause in rule.get("when", ())}
        if not kinds:
            continue
        keep = int(rule.get("stands") or table("signs")["stands"][at_level(rule, log.profile).level])
        if kinds == {"skin"}:
            items = _looked(log, skin, partial(_meets, log, rule), keep)
        else:
            items = _lately(log, [item for item in mishaps if _meets(log, rule, item)], keep)
            if items and any(later.ms > items[-1].ms for kind in rule.get("ended_by", ()) for later in log.items(kind)):
                items = []  # something on the leg was changed since: the part is taken as put right
        if items:
            found.append(_found(log, code, items))
    return [*found, *_after_socks(log, skin)]


def _meets(log: Log, rule: Rule, item: Timed) -> bool:
    if item.entry.kind == "skin" and was_clear(item.body):
        return False
    return meets(rule, item.entry.kind, item.body, log.profile)


def _looked(log: Log, checks: Sequence[Timed], shows: Callable[[Timed], bool], keep: int) -> list[Timed]:
    """The checks that meet a rule and have not been followed by a look that ends it."""
    items: list[Timed] = []
    missed: set[str] = set()
    for check in checks:
        if shows(check):
            items.append(check)
            missed.clear()
        elif items and check.date > items[-1].date and not check.body.get("end_unseen"):
            missed.add(check.date)
            if was_clear(check.body) or len(missed) >= table("signs")["missed_looks"]:
                items.clear()
                missed.clear()
    return _lately(log, items, keep)


def _lately(log: Log, items: list[Timed], keep: int) -> list[Timed]:
    """The entries of one run, if its last one is no older than `keep` days."""
    if not items or number(log.today) - number(items[-1].date) > keep:
        return []
    start = len(items) - 1
    while start and number(items[start].date) - number(items[start - 1].date) <= max(keep, 1):
        start -= 1
    return items[start:]


def _found(log: Log, code: str, items: Sequence[Timed]) -> Found:
    what = what_was_entered(items[-1].entry.kind, items[-1].body)
    return Found(code, items[0].ms, ids(items), {"what": what}, table("signs")["words"]["entered"])


def _after_socks(log: Log, skin: Sequence[Timed]) -> list[Found]:
    """Swelling, or a cold wet end, seen within a day after socks were added."""

    def shows(item: Timed) -> bool:
        swollen = any(f["what"] in ("swollen", "cold_wet_end") for f in item.body.get("findings") or ())
        return swollen and ply_rises(log, item.ms, SWELL_HOURS) > 0

    items = _looked(log, skin, shows, table("signs")["stands"]["same_day"])
    if not items:
        return []
    added = ply_rises(log, items[-1].ms, SWELL_HOURS)
    return [Found("swelling_after_socks", items[0].ms, ids(items), {"added": added})]
