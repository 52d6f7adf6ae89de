"""Skin checks over time: how often, when last, what was found at which place, and how long marks took to fade."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

from plytide.insight.clock import Timed
from plytide.insight.cluster import Point, cluster
from plytide.insight.log import Log
from plytide.insight.rules import fade_limit, met_by
from plytide.insight.shape import SkinPart, SkinPlace
from plytide.insight.spots import WINDOW_DAYS, groups
from plytide.insight.surface import SAME_PLACE_MM, Surface, middle


class Seen(NamedTuple):
    """One finding of one check; `point` is None where it is about the whole limb."""

    item: Timed
    finding: dict[str, Any]
    point: Point | None


def read(log: Log) -> SkinPart:
    """The checks of the last half year; places with findings, the latest first."""
    checks = log.lately("skin", WINDOW_DAYS)
    last = log.items("skin")[-1] if log.items("skin") else None
    surface = Surface(log.limb)
    sore = [mark.point for marks in groups(log) for mark in marks]
    tender = [surface.point(place["height"], place["angle"]) for place in (log.limb or {}).get("tender", ())]
    found = [_place(log, surface, seen, sore, tender) for seen in places(log, WINDOW_DAYS)]
    return SkinPart(
        checks=len(checks), last=last.date if last else None, last_clear=was_clear(last.body) if last else None,
        limit_min=fade_limit(log.profile),
        places=sorted(found, key=lambda place: (place["last"], place["days"]), reverse=True),
    )  # fmt: skip


def was_clear(body: dict[str, Any]) -> bool:
    """Whether someone looked at all of the limb and found nothing, whatever button was pressed."""
    fever = body.get("fever_c")
    whole = bool(body["clear"]) and not body.get("end_unseen")
    quiet = whole and not body.get("findings") and not body.get("unwell")
    return quiet and (fever is None or not met_by("skin", body, {}))


def places(log: Log, days: int) -> list[list[Seen]]:
    """The findings of the last `days` local days by place, oldest first within each; the whole limb is one of them."""
    surface = Surface(log.limb)
    seen = []
    for item in log.lately("skin", days):
        for finding in item.body.get("findings") or []:
            height, angle = finding.get("height"), finding.get("angle")
            somewhere = height is not None and angle is not None
            seen.append(Seen(item, finding, surface.point(height, angle) if somewhere else None))
    whole = [one for one in seen if one.point is None]
    here = [one for one in seen if one.point is not None]
    labels = cluster(tuple(one.point for one in here if one.point is not None), SAME_PLACE_MM, 1)
    found: dict[int, list[Seen]] = {}
    for one, label in zip(here, labels, strict=True):
        found.setdefault(label, []).append(one)
    return [*found.values(), *([whole] if whole else [])]


def _place(
    log: Log, surface: Surface, seen: Sequence[Seen], sore: Sequence[Point], tender: Sequence[Point]
) -> SkinPlace:
    points = [one.point for one in seen if one.point is not None]
    height = angle = None
    region, plain, trade = "whole", "The whole limb", "Residual limb"
    if points:
        height, angle = middle([(one.finding["height"], one.finding["angle"]) for one in seen], points)
        region, plain, trade = surface.name(height, angle)
    fades: dict[str, float] = {}
    for one in seen:
        minutes = one.finding.get("fade_min")
        if minutes is not None:
            fades[one.item.date] = max(minutes, fades.get(one.item.date, 0.0))
    dates = sorted({one.item.date for one in seen})
    return SkinPlace(
        region=region, plain=plain, trade=trade, height=height, angle=angle,
        what=list(dict.fromkeys(one.finding["what"] for one in seen)), days=len(dates), first=dates[0], last=dates[-1],
        fades=sorted(fades.items()), at_sore=_meets(points, sore), at_tender=_meets(points, tender),
    )  # fmt: skip


def _meets(points: Sequence[Point], others: Sequence[Point]) -> bool:
    return any(math.dist(a, b) <= SAME_PLACE_MM for a in points for b in others)
