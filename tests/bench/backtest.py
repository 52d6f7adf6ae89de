"""Forecasts on fresh synthetic wearers, beside naive rivals and the figures to match.

    python tests/bench/backtest.py --wearers 200 --seed 700000

The wearers are invented (tests/insight/wearers.py): the numbers say how the methods compare, nothing about people.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import fmean

sys.path.insert(0, str(Path(__file__).parents[1]))

from insight import wearers
from insight.score import LEVELS, Table, calibrated, ceilings, forecasts, pinball, records
from plytide.insight import forecast, shifts
from rival import simulated

TO_MATCH = {
    "rest of day": {"3-4": 0.390, "5-7": 0.341, "8-13": 0.336, "14-27": 0.330, "28+": 0.320},
    "all earlier days": {"3-4": 0.530, "5-7": 0.442, "8-13": 0.414, "14-27": 0.413, "28+": 0.391},
    "yesterday": {"3-4": 0.726, "5-7": 0.596, "8-13": 0.495, "14-27": 0.492, "28+": 0.456},
}
CEILING_TO_MATCH = (
    "9.2-11.1 at 5-7 days, 8.0-8.3 at 42-60; least-squares line 31.8 and 18.5; cover .92-.95, young limbs .85"
)


def main() -> None:
    parts = {"peaks": peaks, "change": after_a_change, "dates": dates, "moves": moves}
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--wearers", type=int, default=200)
    asked.add_argument("--seed", type=int, default=700_000, help="first seed; never use one that a method was tuned on")
    asked.add_argument("--parts", nargs="+", choices=parts, default=list(parts))
    given = asked.parse_args()
    print(f"{given.wearers} wearers, seeds from {given.seed}\n")
    for name in given.parts:
        parts[name](range(given.seed, given.seed + given.wearers))


def peaks(seeds: range) -> None:
    """Interval scores, PIT and hits of today's and tomorrow's peak."""
    logs = [records(wearers.draw(seed)) for seed in seeds]
    scores = forecasts(logs)
    table("Rest of the day: weighted interval score by days of history", scores.today)
    print("  to match, on other invented wearers:")
    for name, row in TO_MATCH.items():
        print(f"    {name:18}" + "".join(f"{row[bin_]:9.3f}" for bin_ in scores.today))
    print("  PIT inside the middle half {:.3f} (to match .50-.53), nine tenths {:.3f} (.88-.91)\n".format(
        *calibrated(scores.pit_today)))  # fmt: skip
    table("Tomorrow's peak: weighted interval score", scores.tomorrow)
    print("  PIT inside the middle half {:.3f}, nine tenths {:.3f}\n".format(*calibrated(scores.pit_tomorrow)))
    for name, made in (("rest of day", forecast._rest_of_day), ("tomorrow", forecast._whole_day)):
        counted = [forecast._hits(log.present, made) for log in logs]
        print(f"  likely interval, last 30 forecasts of each wearer, {name}: hit {sum(a for a, _ in counted)} of "
              f"{sum(b for _, b in counted)}")  # fmt: skip
    print()


def after_a_change(seeds: range) -> None:
    """The four weeks after a logged change: with the history cut there, and as if it had not been logged."""
    told = [wearers.draw(seed, kind="change") for seed in list(seeds)[: max(20, len(seeds) // 3)]]
    untold = [replace(w, changes=tuple((day, ply, False) for day, ply, _ in w.changes)) for w in told]
    both = []
    for group in (told, untold):
        found = []
        for wearer in group:
            log = records(wearer)
            first = wearers.START.toordinal() + wearer.changes[0][0]
            days = [day for day in log.days if day.peak is not None and not day.partial]
            found += _scores_after(days, first, cut=group is told)
        both.append(fmean(found))
    print(f"After a change of socket, weeks 1-4: {both[0]:.3f} with the cut, {both[1]:.3f} without")
    print("  to match, on other invented wearers: .331 and .431\n")


def _scores_after(days, first: int, cut: bool) -> list[float]:
    out = []
    for index, day in enumerate(days):
        earlier = [one for one in days[:index] if not cut or one.number >= first]
        if not first <= day.number < first + 28 or len(earlier) < forecast.LEAST_DAYS:
            continue
        here, seen = day.at(4.0), day.peak_from(4.0)
        if here is None or seen is None or day.last_h <= 4.0:
            continue
        rises, _ = forecast.further_rise(earlier, day.number, 4.0, here)
        out.append(2 * pinball([here + forecast.least(rises, p) for p in LEVELS], seen))
    return out


def dates(seeds: range) -> None:
    """Pinball loss and cover of the ceiling's day."""
    seen = ceilings(seeds, rival=simulated)
    print("The ceiling's day: mean pinball in days, by days of history")
    for span in sorted(seen.pinball):
        ours, line, held = fmean(seen.pinball[span]), fmean(seen.line[span]), fmean(seen.covered[span])
        print(f"  {span:3} days: plytide {ours:6.2f}   paths drawn singly {fmean(seen.rival[span]):6.2f}   "
              f"least-squares line {line:6.2f}   90 % interval holds {held:.3f}")  # fmt: skip
    print(f"  limbs in their first year: interval holds {fmean(seen.early):.3f}")
    print(f"  to match, on other invented wearers: {CEILING_TO_MATCH}\n")


def moves(seeds: range) -> None:
    """Sudden shifts and questions: needless ones on stable limbs, found ones where they were planted."""
    some = list(seeds)[: max(20, len(seeds) // 4)]
    needless: dict[str, int] = {}
    days = 0
    for seed in some:
        log = records(wearers.draw(seed, 150, "stable"))
        days += 150
        for code, when in as_seen(log).items():
            needless[code] = needless.get(code, 0) + len(when)
    per_year = {code: round(365 * n / days, 2) for code, n in sorted(needless.items())}
    print(f"Stable limbs, a year: {per_year} (to match: .66 needless questions)")
    found = {"limb_bigger": 0, "limb_smaller": 0, "unlogged_change": 0}
    for seed in some:
        fall = -Random(seed).uniform(3, 6)
        for code, jump in (("limb_bigger", -3.0), ("limb_smaller", 3.0), ("unlogged_change", fall)):
            wearer = wearers.draw(seed, 100, "stable")
            planted = 50 + seed % 20
            wearer = replace(wearer, level=wearer.level + max(0, -jump), changes=((planted, jump, False),))
            first = wearers.START.toordinal() + planted
            limit = 7 if code == "unlogged_change" else 5
            found[code] += any(first <= day <= first + limit for day in as_seen(records(wearer)).get(code, []))
    print(f"Planted, found: {found} of {len(some)} each (shifts of 3 ply within 5 days; falls of 3-6 ply asked about "
          "within 7; to match: 44 of 54)")  # fmt: skip


def as_seen(log) -> dict[str, list[int]]:
    """The days on which each shift would first have been said, living through the log day by day."""
    out: dict[str, list[int]] = {}
    known = [day for day in log.days if day.peak is not None and not day.partial]
    for end in range(1, len(known) + 1):
        window = known[max(0, end - shifts.LOOK_BACK) : end]
        starts, tops = ([(d.number, float(value)) for d in window for value in [pick(d)]] for pick in (_start, _peak))
        said = {
            "limb_": shifts.rested(sorted([*shifts.moves(starts), *shifts.moves(tops)])),
            "unlogged_change": shifts.rested(shifts.drops(starts, tops)),
            "wear_falling": shifts.rested(shifts.fewer_hours(window)),
        }
        for code, found in said.items():
            for day, size in found:
                name = code if code != "limb_" else "limb_smaller" if size > 0 else "limb_bigger"
                earlier = out.setdefault(name, [])
                if day == window[-1].number and (not earlier or day - earlier[-1] >= shifts.REST_DAYS):
                    earlier.append(day)
    return out


def _start(day) -> int:
    return day.start


def _peak(day) -> int:
    return day.peak


def table(title: str, rows: Table) -> None:
    """Bins across, methods down."""
    print(title)
    print(" " * 22 + "".join(f"{bin_:>9}" for bin_ in rows))
    for name in next(iter(rows.values())):
        print(f"    {name:18}" + "".join(f"{row[name]:9.3f}" for row in rows.values()))


if __name__ == "__main__":
    main()
