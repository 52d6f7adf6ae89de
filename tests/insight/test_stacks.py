"""Sums of socks against worked examples, brute force and an integer-programming solver."""

import json
import random
from collections import Counter, deque
from itertools import combinations, product
from pathlib import Path

import pytest
from ortools.sat.python import cp_model
from plytide.insight.stacks import carry, shortest, stacks

ORACLES = {o["id"]: o for o in json.loads((Path(__file__).parent / "oracles.json").read_text())}


def off_the_leg(owned, on):
    return Counter(owned) - Counter(on)


@pytest.mark.parametrize("mode", ["add_only", "swap_allowed"])
@pytest.mark.parametrize("layers", [2, 3, 4])
def test_what_to_carry_in_the_worked_example(mode, layers):
    # exact search = brute force = OR-tools CP-SAT 9.15, worked example "socks".
    given = ORACLES["socks"]["input"]
    socks, missing = ORACLES["socks"]["expected"][mode][f"K={layers}"]
    on = tuple(given["on_leg"])
    load = carry(on, off_the_leg(given["owned"], on), range(4, given["peak"] + 1), layers, mode == "swap_allowed")
    assert (sorted(load.socks), list(load.missing)) == (socks, missing)


def test_the_moves_of_the_worked_example():
    # exact = breadth-first search over stacks, worked example "swaps".
    cases = ORACLES["swaps"]["input"]["cases"]
    found = [shortest(tuple(c["layers"]), c["target"], Counter(c["avail"]), c["K"]) for c in cases]
    assert [move.moves for move in found] == ORACLES["swaps"]["expected"]["moves"]
    for case, move in zip(cases, found, strict=True):
        assert sum(move.stack) == case["target"]
        assert len(move.stack) <= case["K"]


def test_the_fewest_layers_come_first_then_the_thickest_sock():
    # One 5 rather than 3+1+1: fewer wrinkles (handouts, read).
    assert stacks(5, Counter([1, 1, 2, 3, 5]), 3)[0] == (5,)
    assert stacks(8, Counter([1, 1, 3, 3, 5, 4, 4]), 3) == [(5, 3), (4, 4), (4, 3, 1)]
    assert stacks(0, Counter([1, 3]), 3) == [()]
    assert stacks(4, Counter([3, 3]), 3) == []
    assert stacks(6, Counter([3, 3, 3]), 1) == []


def test_equal_totals_are_told_apart_by_what_they_are_made_of():
    # A 3-ply is not three 1-plies: 1.2 mm against 3 x 0.7 mm under load (Sanders, Cagle et al. 2012, Prosthet Orthot
    # Int 36(1):77-86, read), and single socks add to 0.94-1.04 of their sum (Jasken & Hall 2018, J Prosthet Orthot
    # 30(3):140-144: 1+2 ply 11.68 % of 5.188 + 7.15; 2+3 ply 18.33 % of 7.15 + 10.42, read; ratios derived).
    as_one_ply = 1.2 / 0.7
    assert as_one_ply == pytest.approx(1.71, abs=0.005), "and not 3"
    ratios = [11.68 / (5.188 + 7.15), 18.33 / (7.15 + 10.42)]
    assert ratios == pytest.approx([0.947, 1.043], abs=5e-4)
    assert stacks(3, Counter([1, 1, 1, 2, 3]), 3) == [(3,), (2, 1), (1, 1, 1)]


def random_drawer(rng):
    owned = [rng.choice((1, 1, 2, 3, 3, 5, 5, 6)) for _ in range(rng.randint(3, 11))]
    on = tuple(owned[: rng.randint(0, 2)])
    return owned, on, rng.randint(len(on), len(on) + 3), sum(on) + rng.randint(1, 9), rng.random() < 0.5


def makes(on, carried, layers, swap):
    """All totals that can be made, by trying every choice."""
    if swap:
        pool = [*on, *carried]
        return {sum(c) for n in range(min(layers, len(pool)) + 1) for c in combinations(pool, n)}
    free = layers - len(on)
    return {sum(on) + sum(c) for n in range(min(free, len(carried)) + 1) for c in combinations(carried, n)}


def by_brute_force(owned, on, layers, targets, swap):
    spare = sorted(off_the_leg(owned, on).elements())
    possible = makes(on, spare, layers, swap)
    wanted = {t for t in targets if t in possible}
    for n in range(len(spare) + 1):
        sets = [c for c in set(combinations(spare, n)) if wanted <= makes(on, c, layers, swap)]
        if sets:
            return n, min(map(sum, sets)), [t for t in targets if t not in possible]
    raise AssertionError("the whole drawer makes what can be made")


@pytest.mark.parametrize("seed", range(10))
def test_what_to_carry_agrees_with_brute_force_on_a_thousand_drawers(seed):
    rng = random.Random(seed)
    for _ in range(100):
        owned, on, layers, top, swap = random_drawer(rng)
        targets = range(sum(on) + 1, top + 1)
        load = carry(on, off_the_leg(owned, on), targets, layers, swap)
        found = (len(load.socks), sum(load.socks), list(load.missing))
        assert found == by_brute_force(owned, on, layers, targets, swap), (owned, on, layers, top, swap)
        made = makes(on, load.socks, layers, swap)
        assert all(t in made for t in targets if t not in load.missing)


def by_solver(owned, on, layers, targets, swap):
    """The same question to CP-SAT: count of each ply to carry, and for each target the socks that make it."""
    spare, worn = off_the_leg(owned, on), Counter(on)

    def model(wanted, take):
        m = cp_model.CpModel()
        x = {p: m.new_int_var(n if take else 0, n, f"x{p}") for p, n in spare.items()}
        for t in wanted:
            y = {p: m.new_int_var(0, 99, f"y{t},{p}") for p in {*spare, *(worn if swap else ())}}
            for p, v in y.items():
                m.add(v <= x.get(p, 0) + (worn[p] if swap else 0))
            m.add(sum(p * v for p, v in y.items()) == t - (0 if swap else sum(on)))
            m.add(sum(y.values()) <= layers - (0 if swap else len(on)))
        m.minimize(sum((1000 + p) * v for p, v in x.items()))
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        done = solver.solve(m)
        return round(solver.objective_value) if done == cp_model.OPTIMAL else None

    missing = [t for t in targets if model([t], True) is None]
    best = model([t for t in targets if t not in missing], False)
    return best // 1000, best % 1000, missing


def test_what_to_carry_agrees_with_an_integer_programming_solver():
    rng = random.Random(77)
    for _ in range(1000):
        owned, on, layers, top, swap = random_drawer(rng)
        targets = list(range(sum(on) + 1, top + 1))
        load = carry(on, off_the_leg(owned, on), targets, layers, swap)
        assert (len(load.socks), sum(load.socks), list(load.missing)) == by_solver(owned, on, layers, targets, swap)


def by_search(on, total, spare, layers):
    """Fewest single moves, breadth first: the outer sock off, or one more on."""
    todo, seen = deque([(on, tuple(sorted(spare)), 0)]), set()
    while todo:
        stack, left, moves = todo.popleft()
        if sum(stack) == total and len(stack) <= layers:
            return moves
        if (stack, left) in seen:
            continue
        seen.add((stack, left))
        if stack:
            todo.append((stack[:-1], tuple(sorted([*left, stack[-1]])), moves + 1))
        if len(stack) < layers:
            for ply in set(left):
                rest = list(left)
                rest.remove(ply)
                todo.append(((*stack, ply), tuple(rest), moves + 1))
    return None


def test_the_fewest_moves_agree_with_a_search_over_all_stacks():
    rng = random.Random(5)
    for _ in range(300):
        owned, on, layers, top, _ = random_drawer(rng)
        spare = off_the_leg(owned, on)
        move = shortest(on, top, spare, layers)
        assert (move and move.moves) == by_search(on, top, list(spare.elements()), layers), (owned, on, layers, top)


def test_a_full_drawer_is_searched_in_a_few_thousand_steps_not_millions():
    drawer = Counter(dict(product([1, 2, 3, 5, 6], [5])))
    load = carry((3,), drawer, range(4, 16), 4, True)
    assert load.missing == ()
    assert len(load.socks) <= 4
