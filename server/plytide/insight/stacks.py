"""Sums of socks: which stacks make a total, the shortest way from one stack to another, the fewest socks to carry.

Everything is exact. A stack is a tuple of plies, inner first; a supply says how many socks there are of each ply.
Equal totals are not equal fits (a 3-ply is not three 1-plies thick), so callers always show the stack.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

Stack = tuple[int, ...]
Supply = Mapping[int, int]

LISTED = 3  # stacks to name for one total


class Move(NamedTuple):
    """The stack after the fewest moves, and how many socks that takes off and puts on."""

    moves: int
    stack: Stack


class Load(NamedTuple):
    """Plies to carry, thickest first, and the totals that nothing owned can make."""

    socks: Stack
    missing: tuple[int, ...]


def stacks(total: int, supply: Supply, layers: int) -> list[Stack]:
    """Stacks that make a total: the fewest layers first, then the thickest sock inside; LISTED or a few more."""
    found: list[Stack] = []
    for count in range(layers + 1):
        found += _sums(total, count, sorted((ply for ply in supply if ply > 0), reverse=True), supply)
        if len(found) >= LISTED or (total == 0 and found):
            break
    return found[: max(LISTED, 1)]


def _sums(total: int, count: int, plies: Sequence[int], supply: Supply) -> list[Stack]:
    """All ways to make a total with exactly `count` socks, thickest first within each and among them."""
    if count == 0:
        return [()] if total == 0 else []
    out: list[Stack] = []
    for index, ply in enumerate(plies):
        if ply * count < total:
            break  # even the thickest left are too thin
        for n in range(min(supply.get(ply, 0), count, total // ply), 0, -1):
            rest = _sums(total - n * ply, count - n, plies[index + 1 :], supply)
            out += [(ply,) * n + tail for tail in rest]
    return out


def shortest(on: Stack, total: int, supply: Supply, layers: int) -> Move | None:
    """The fewest moves from the stack on the leg to a total, None where none leads there.

    Only the outer sock comes off: an inner part stays, the rest comes off and may be used again, and socks go on.
    `supply` is without the socks on the leg.
    """
    best: Move | None = None
    for keep in range(len(on), -1, -1):
        stays = on[:keep]
        spare = Counter(supply)
        spare.update(on[keep:])
        for added in stacks(total - sum(stays), spare, layers - keep) if total >= sum(stays) and keep <= layers else []:
            move = Move(len(on) - keep + len(added), stays + added)
            if best is None or (move.moves, len(move.stack)) < (best.moves, len(best.stack)):
                best = move
    return best


def carry(on: Stack, supply: Supply, targets: Iterable[int], layers: int, swap: bool) -> Load:
    """The fewest socks, and of those the least total ply, that make every target there is a way to make.

    With `swap` the socks on the leg may come off and be mixed with those carried; else they stay and socks are added.
    `layers` counts those on the leg too. `supply` is without the socks on the leg.
    """
    wanted = sorted(set(targets))
    if not wanted:
        return Load((), ())
    base = _start(on, layers, swap)
    free = layers if swap else layers - len(on)
    top = wanted[-1] - (0 if swap else sum(on))
    plies = [ply for ply in sorted(supply, reverse=True) if 0 < ply <= top]
    most = {ply: max(0, min(supply[ply], free, top // ply)) for ply in plies}
    whole = base
    for ply in plies:
        whole = _with(whole, ply, most[ply])
    possible = _union(whole)
    missing = tuple(total for total in wanted if not possible >> total & 1)
    need = sum(1 << total for total in wanted if possible >> total & 1)
    for size in range(sum(most.values()) + 1):
        found = _smallest(base, plies, most, size, need, None)
        if found is not None:
            return Load(tuple(found), missing)
    return Load((), missing)


# Sums that can be made, by number of layers: bit t of bits[j] says that j socks can make t.
Bits = tuple[int, ...]


def _start(on: Stack, layers: int, swap: bool) -> Bits:
    bits = [0] * (layers + 1)
    if not swap:
        if len(on) <= layers:
            bits[len(on)] = 1 << sum(on)
        return tuple(bits)
    bits[0] = 1
    out: Bits = tuple(bits)
    for ply in on:
        out = _with(out, ply, 1)
    return out


def _with(bits: Bits, ply: int, count: int) -> Bits:
    """The sums that `count` more socks of a ply allow."""
    for _ in range(count):
        bits = (bits[0], *(bits[j] | bits[j - 1] << ply for j in range(1, len(bits))))
    return bits


def _union(bits: Bits) -> int:
    out = 0
    for layer in bits:
        out |= layer
    return out


def _smallest(
    bits: Bits, plies: Sequence[int], most: Supply, size: int, need: int, best: list[int] | None
) -> list[int] | None:
    """Of the sets of exactly `size` socks that make all of `need`, the one with the least ply; None without any."""
    if size == 0:
        return [] if _union(bits) & need == need else None
    for index, ply in enumerate(plies):
        rest = plies[index + 1 :]
        for n in range(1, min(most[ply], size) + 1):
            if size - n > sum(most[other] for other in rest):
                continue
            tail = _smallest(_with(bits, ply, n), rest, most, size - n, need, None)
            if tail is not None and (best is None or n * ply + sum(tail) < sum(best)):
                best = [ply] * n + tail
    return best
