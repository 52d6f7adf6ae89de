"""Quiet signs, all of them `watch`: the same place on the skin, skin where it is sore, no check, an ordinary swing."""

from __future__ import annotations

from plytide.data import table
from plytide.insight.clock import day_begins, number
from plytide.insight.log import Log
from plytide.insight.rules import filled, rules
from plytide.insight.shape import Silent, SkinPart, Usual
from plytide.insight.signs.found import Found, ids, in_use
from plytide.insight.skin import places
from plytide.insight.surface import Surface
from plytide.insight.words import on_day

WEEK = 7
AGAIN_DAYS = 3
AT_SORE_DAYS = 3  # how lately the skin there was entered
CHECK_DAYS = 3  # "for days"
IN_USE_DAYS = 14  # a limb with no entry for longer is not in use as far as the log goes


def stand(log: Log, skin: SkinPart, usual: Usual | Silent) -> list[Found]:
    """The quiet signs that stand now."""
    return [*_again(log), *_at_sore(log, skin), *_no_check(log), *_swing(log, usual)]


def _again(log: Log) -> list[Found]:
    """A place on the skin with something on it on several days of a week."""
    for seen in places(log, WEEK):
        days = len({one.item.date for one in seen})
        last = seen[-1].finding
        if days >= AGAIN_DAYS and seen[-1].point is not None:
            place = Surface(log.limb).name(last["height"], last["angle"])[1].lower()
            facts = {"place": place, "days": days, "window": WEEK}
            return [Found("skin_again", seen[0].item.ms, ids(one.item for one in seen), facts)]
    return []


def _at_sore(log: Log, skin: SkinPart) -> list[Found]:
    today = number(log.today)
    for place in skin["places"]:
        if (place["at_sore"] or place["at_tender"]) and today - number(place["last"]) < AT_SORE_DAYS:
            items = [item for item in log.lately("skin", AT_SORE_DAYS) if item.body.get("findings")]
            return [Found("skin_at_sore", items[0].ms, ids(items), {"place": place["plain"].lower()})] if items else []
    return []


def _no_check(log: Log) -> list[Found]:
    """Nobody has looked at the skin for days, while the limb is in use."""
    today = number(log.today)
    used = [day for day in log.last_days(IN_USE_DAYS) if day.logged]
    checks = log.items("skin")
    if not used:
        return []
    if checks:
        if today - number(checks[-1].date) < CHECK_DAYS:
            return []
        return [Found("no_check", checks[-1].ms, ids([checks[-1], in_use(log)]), {"date": on_day(checks[-1].date)})]
    if today - log.days[0].number < CHECK_DAYS:
        return []
    since = day_begins(log.days[0].date, log.days[0].zone, log.profile["day_starts"])
    return [Found("no_check", since, ids([in_use(log)]), {}, rules()["no_check"]["entered_never"])]


def _swing(log: Log, usual: Usual | Silent) -> list[Found]:
    """Today's ply a step off the usual, or a day that moves most limbs: what is said is only that this is ordinary."""
    since = day_begins(log.today, log.zone, log.profile["day_starts"])
    texts, evidence = [], []
    rule = rules()["swing"]
    now = None if "reason" in usual else usual.get("now")
    if now and now["above"]:
        texts.append(filled(rule["entered"], log.profile, total=now["total"], usual=f"{now['usual']:g}"))
        evidence += sorted(item for kind in ("don", "ply") for item in log.lately(kind, 1))[-1:]
    words = table("signs")["words"]["tag"]
    days = [item for item in log.lately("day", 1) if any(tag in words for tag in item.body["tags"])]
    tags = dict.fromkeys(words[tag] for item in days for tag in item.body["tags"] if tag in words)
    if tags:
        texts.append(filled(rule["entered_also"], log.profile, tags=", ".join(tags)))
        evidence += days
    return [Found("swing", since, ids(evidence), {}, " ".join(texts))] if texts else []
