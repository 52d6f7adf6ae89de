"""Tape measurements: volume by truncated cones, and the change against the same measurer's earlier tape.

Two people's tapes differ by more than 5 in 100 of the girth (Seminati et al. 2019), so a tape is only ever set
against one by the same measurer, and a change counts only when it is large and seen on two days.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import NamedTuple

from plytide.insight.clock import Timed
from plytide.insight.log import Log
from plytide.insight.shape import GirthPart
from plytide.insight.words import on_day

SAME_LEVEL_CM = 0.5
LARGE_CM = 1.5
LARGE_SHARE = 0.05

Tape = Mapping[float, float]  # girth in cm by distance from the limb's end in cm


class Changed(NamedTuple):
    """A level whose girth changed largely and lastingly; `items` are the tapes, the one compared with first."""

    from_end_cm: float
    change_cm: float
    items: tuple[Timed, ...]


def volume(tape: Tape) -> float:
    """Millilitres between the lowest and the highest level: V = h / 12 pi (C1^2 + C1 C2 + C2^2) a segment."""
    levels = sorted(tape.items())
    return sum((b - a) / (12 * math.pi) * (c * c + c * d + d * d) for (a, c), (b, d) in pairwise(levels))


def read(log: Log) -> GirthPart | None:
    """The latest tape with its volume; None where no tape has been logged."""
    items = log.items("girth")
    if not items:
        return None
    last, tape = items[-1], _tape(items[-1])
    earlier = [item for item in items if item.body["by"] == last.body["by"] and item.date < last.date]
    before = earlier[-1] if earlier else None
    shared = _matched(_tape(before), tape) if before else {}
    change = None
    if len(shared) > 1:
        old, new = ({level: girths[k] for level, girths in shared.items()} for k in (0, 1))
        change = 100 * (volume(new) / volume(old) - 1)
    moves = {level: new - old for level, (old, new) in shared.items()}
    whole = volume(tape) if len(tape) > 1 else None
    return GirthPart(
        at=last.date, by=last.body["by"], volume_ml=None if whole is None else round(whole, 2),
        against=before.date if before and shared else None, change_pct=None if change is None else round(change, 2),
        marks=[
            (level, girth, round(moves[level], 2) if level in moves else None) for level, girth in sorted(tape.items())
        ],
        words=_words(tape, whole, before.date if before and shared else None, change, moves),
    )  # fmt: skip


def changed(log: Log) -> Changed | None:
    """The level with the largest girth change that the last two measuring days of one measurer both show.

    They are set against that measurer's first tape of the present fit period.
    """
    found: list[Changed] = []
    for by in ("self", "clinic"):
        ours = [item for item in log.items("girth") if item.body["by"] == by and item.date >= log.periods[-1].since]
        days = list({item.date: item for item in ours}.values())
        if len(days) < 3:
            continue
        first, before, last = days[0], days[-2], days[-1]
        for level, (old, middle, new) in _matched(_tape(first), _tape(before), _tape(last)).items():
            one, two = middle - old, new - old
            if is_large(one, old) and is_large(two, old) and one * two > 0:
                found.append(Changed(level, two, (first, before, last)))
    return max(found, key=lambda change: abs(change.change_cm), default=None)


def is_large(change_cm: float, girth_cm: float) -> bool:
    """Whether a change of girth is worth showing: 1.5 cm, or 5 in 100 of the girth."""
    return abs(change_cm) >= LARGE_CM - 1e-9 or abs(change_cm) >= LARGE_SHARE * girth_cm - 1e-9


def _tape(item: Timed) -> dict[float, float]:
    return {float(mark["from_end_cm"]): float(mark["girth_cm"]) for mark in item.body["marks"]}


def _matched(first: Tape, *others: Tape) -> dict[float, list[float]]:
    """The girths of all tapes at each level of the last one that every tape has, within half a centimetre."""
    *before, last = first, *others
    found = {}
    for level, girth in last.items():
        near = [min(tape, key=lambda other: abs(other - level)) for tape in before]
        if all(abs(other - level) <= SAME_LEVEL_CM for other in near):
            found[level] = [*(tape[other] for tape, other in zip(before, near, strict=True)), girth]
    return found


def _words(
    tape: Tape, whole: float | None, against: str | None, change: float | None, moves: Mapping[float, float]
) -> str:
    said = [f"{whole:.0f} mL between {min(tape):g} and {max(tape):g} cm from the end." if whole is not None else ""]
    if against is None:
        said.append("No earlier tape by the same measurer at these levels.")
    elif change is not None:
        share = abs(change)
        size = f"{share:.0f} in 100 {'more' if change > 0 else 'less'} than on" if share >= 0.5 else "the same as on"
        said.append(f"Volume is about {size} {on_day(against)}.")
    largest = max(moves.items(), key=lambda move: abs(move[1]), default=None)
    if largest is not None:
        level, move = largest
        said.append(f"Largest change of girth: {move:+.1f} cm at {level:g} cm." if round(move, 1) else "")
    return " ".join(part for part in said if part)
