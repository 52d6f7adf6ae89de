"""The sock drawer read against the day: what makes each total, what to take along, what has been worn lately.

Only socks that are ready are counted, and with a pin lock only those with a hole for the pin. Nothing here says how
many ply to wear; it says what the socks at hand can make.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from plytide.insight.clock import HOUR_MS, Timed
from plytide.insight.log import Log
from plytide.insight.shape import Carry, Forecast, Silent, SocksPart, SockUse, Stack
from plytide.insight.stacks import carry, shortest, stacks
from plytide.insight.words import days

USED_DAYS = 28
BEYOND = 2  # totals named beyond the most that the day is likely to ask for
OTHER_WAYS = 3


@dataclass(frozen=True)
class Drawer:
    """Socks by ply. `at_hand` are ids of ready socks not on the leg, each as often as there are of it; `on` the stack
    on the leg, inner first, None where the log does not say which socks are on."""

    at_hand: Mapping[int, Sequence[str]]
    on: tuple[tuple[str, int], ...] | None

    @property
    def supply(self) -> Counter[int]:
        """How many socks there are of each ply, without those on the leg."""
        return Counter({ply: len(ids) for ply, ids in self.at_hand.items()})

    @property
    def plies_on(self) -> tuple[int, ...]:
        """The plies on the leg, inner first."""
        return tuple(ply for _, ply in self.on or ())

    def named(self, plies: Iterable[int], kept: int = 0) -> list[str]:
        """Ids for a stack of plies whose inner `kept` socks are the ones on the leg; those go before others."""
        used = [sock for sock, _ in (self.on or ())[:kept]]
        left = {ply: list(ids) for ply, ids in self.at_hand.items()}
        for sock, ply in (self.on or ())[kept:]:
            left.setdefault(ply, []).insert(0, sock)
        return used + [left[ply].pop(0) for ply in list(plies)[kept:]]


def read(log: Log, forecast: Forecast | Silent) -> SocksPart:
    """What to put on for each total, what to take along until the forecast's upper end, and what was worn lately."""
    drawer = drawer_of(log)
    sure = None if "reason" in forecast else forecast
    total = log.on["total"] if log.on else None
    top = max(log.profile["ply_ceiling"], total or 0, sure["peak"]["p95"] if sure else 0) + BEYOND
    wear = [Stack(total=total, stacks=found) for total in range(1, top + 1) if (found := put_on(log, drawer, total))]
    bag = _carry(log, drawer, sure) if sure and log.items("sock") else None
    return SocksPart(wear=wear, carry=bag, used=_used(log))


def drawer_of(log: Log) -> Drawer:
    """The drawer as it is now."""
    pin = "pin_lock" in (log.limb or {}).get("suspension", ())
    plies = {item.id: int(item.body["ply"]) for item in log.items("sock")}
    ids = log.on["socks"] if log.on else None
    # A sock on the leg that is no longer in the drawer leaves the stack unknown.
    on = tuple((sock, plies[sock]) for sock in ids) if ids is not None and all(sock in plies for sock in ids) else None
    worn = Counter(sock for sock, _ in on or ())
    at_hand: dict[int, list[str]] = {}
    for item in sorted(log.items("sock"), key=lambda item: (item.body["name"], item.id)):
        body = item.body
        if body.get("state", "ready") == "ready" and (body.get("pin_hole") or not pin):
            spare = int(body.get("count", 1)) - worn[item.id]
            at_hand.setdefault(plies[item.id], []).extend([item.id] * max(0, spare))
    return Drawer(at_hand, on)


def put_on(log: Log, drawer: Drawer, total: int) -> list[list[str]]:
    """Stacks for a total, inner first: with socks on the leg the one with fewest moves, then the fewest layers."""
    layers = int(log.profile["layers_max"])
    whole = drawer.supply + Counter(drawer.plies_on)
    found = []
    move = shortest(drawer.plies_on, total, drawer.supply, layers) if drawer.on else None
    if move is not None:
        kept = _kept(drawer.plies_on, move.stack, move.moves)
        found.append(drawer.named(move.stack, kept))
    for stack in stacks(total, whole, layers):
        ids = drawer.named(stack)
        if sorted(ids) not in [sorted(other) for other in found]:
            found.append(ids)
    return found[: 1 + OTHER_WAYS]


def _kept(on: tuple[int, ...], stack: tuple[int, ...], moves: int) -> int:
    """How many inner socks stay: moves = those taken off and those put on."""
    return (len(on) + len(stack) - moves) // 2


def _carry(log: Log, drawer: Drawer, forecast: Forecast) -> Carry:
    """Socks to take along, added to what is on; where adding cannot make a total, taking socks off may."""
    total = log.on["total"] if log.on else None
    high = forecast["peak"]["p95"]
    low = max(1, forecast["peak"]["p05"]) if total is None else total + 1
    # A stack that nobody named is one sock of its total: it can be added to, not taken apart.
    on = drawer.plies_on or ((total,) if total else ())
    layers = int(log.profile["layers_max"])
    targets = range(low, high + 1)
    load = carry(on, drawer.supply, targets, layers, swap=False)
    if load.missing and drawer.on:
        swapped = carry(on, drawer.supply, targets, layers, swap=True)
        load = min(load, swapped, key=lambda one: len(one.missing))
    return Carry(
        date=forecast["date"], socks=_spare(drawer, load.socks), covers=(min(low, high), high),
        missing=list(load.missing), rests_on=_rests_on(forecast, log, drawer),
    )  # fmt: skip


def _spare(drawer: Drawer, plies: Iterable[int]) -> list[str]:
    left = {ply: list(ids) for ply, ids in drawer.at_hand.items()}
    return [left[ply].pop(0) for ply in plies]


def _rests_on(forecast: Forecast, log: Log, drawer: Drawer) -> str:
    said = f"{days(forecast['basis_days'])} of this fit"
    if log.on and log.on["total"] and drawer.on is None:
        return f"{said}; which socks are on is not logged"
    return said


def _used(log: Log) -> list[SockUse]:
    """Hours of wear by what was worn, inner first, over the last weeks; only where the log says which socks."""
    plies = {item.id: int(item.body["ply"]) for item in log.items("sock")}
    told = sorted([*log.lately("don", USED_DAYS), *log.lately("ply", USED_DAYS)])
    worn = _worn(log)
    hours: Counter[tuple[int, ...]] = Counter()
    for index, item in enumerate(told):
        ids = item.body.get("socks")
        if ids and all(sock in plies for sock in ids):
            until = told[index + 1].ms if index + 1 < len(told) else log.ms
            hours[tuple(plies[sock] for sock in ids)] += _overlap(worn, item, until)
    return [
        SockUse(plies=list(stack), total=sum(stack), hours=round(ms / HOUR_MS, 1))
        for stack, ms in sorted(hours.items(), key=lambda one: (-one[1], one[0]))
        if ms > 0
    ]


def _worn(log: Log) -> list[tuple[float, float]]:
    """The stretches with the leg on, as instants."""
    return [
        (day.begun + a * HOUR_MS, day.begun + b * HOUR_MS)
        for day in log.last_days(USED_DAYS)
        if day.begun is not None
        for a, b in day.on
    ]


def _overlap(worn: Sequence[tuple[float, float]], item: Timed, until: int) -> int:
    return round(sum(max(0.0, min(b, until) - max(a, item.ms)) for a, b in worn))
