"""Makes stacks.json: what brute force over every choice of socks finds, for both languages to agree with.

Nothing of Plytide is used here: each answer is the best among all subsets or all reachable stacks.
"""

import json
from collections import deque
from itertools import combinations
from pathlib import Path
from random import Random


def totals(set_: tuple[int, ...], room: int) -> set[int]:
    return {sum(c) for n in range(room + 1) for c in combinations(set_, n)}


def carry(on: list[int], free: list[int], targets: list[int], layers: int) -> dict[str, object]:
    room = layers - len(on)
    possible = [t for t in targets if t - sum(on) in totals(tuple(free), room)]
    for size in range(len(free) + 1):
        good = [c for c in combinations(sorted(free), size) if all(t - sum(on) in totals(c, room) for t in possible)]
        if good:
            least = min(sum(c) for c in good)
            return {"size": size, "ply": least, "missing": [t for t in targets if t not in possible]}
    raise AssertionError("the whole drawer makes what the whole drawer makes")


def moves(on: list[int], free: list[int], total: int, layers: int) -> int | None:
    """Breadth first over stacks: take the outer one off, or put a free one on."""
    everything = sorted(on + free)
    seen, queue = {tuple(on)}, deque([(tuple(on), 0)])
    while queue:
        stack, n = queue.popleft()
        if sum(stack) == total and len(stack) <= layers:
            return n
        left = list(everything)
        for ply in stack:
            left.remove(ply)
        steps = [stack[:-1]] if stack else []
        if len(stack) < max(layers, len(on)):
            steps += [(*stack, ply) for ply in sorted(set(left))]
        for step in steps:
            if step not in seen:
                seen.add(step)
                queue.append((step, n + 1))
    return None


def main() -> None:
    rng, out = Random(11), []
    while len(out) < 120:
        free = [rng.choice([1, 1, 2, 3, 3, 5, 5, 6]) for _ in range(rng.randrange(1, 7))]
        on = [rng.choice([1, 3, 5]) for _ in range(rng.randrange(3))]
        layers = rng.randrange(max(1, len(on)), 5)
        low = sum(on) + 1
        targets = list(range(low, low + rng.randrange(1, 6)))
        total = rng.randrange(1, 13)
        made = {tuple(sorted(c)) for n in range(1, layers + 1) for c in combinations(free, n) if sum(c) == total}
        out.append({
            "on": on, "free": free, "layers": layers, "targets": targets, "total": total,
            "fewest_layers": min(map(len, made), default=None),
            "moves": moves(on, free, total, layers), "carry": carry(on, free, targets, layers),
        })  # fmt: skip
    lines = ",\n".join(json.dumps(case, separators=(",", ":")) for case in out)
    Path(__file__).with_name("stacks.json").write_text(f"[\n{lines}\n]\n")


if __name__ == "__main__":
    main()
