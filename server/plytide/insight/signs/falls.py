"""Falls and near falls. They are the person's, whichever leg they were entered for, and are added up over both."""

from __future__ import annotations

from collections.abc import Sequence

from plytide.insight.clock import Timed, number
from plytide.insight.log import Log
from plytide.insight.signs.found import Found, ids, run_of, within

WEEK = 7
STUMBLES = 2  # near falls, in the plural
NEAR_FALLS_STAND = 30  # days: they come weeks apart, and are one matter to bring to the clinic
FALLS = 2
YEAR = 365
FALLS_STAND = 90  # days after the last of them: long enough for the next appointment


def stand(logs: Sequence[Log]) -> list[Found]:
    """The patterns of falls that stand now. `logs` are the person's limbs, the one with the latest day first."""
    found = [_near_falls(logs), _falls(logs)]
    return [one for one in found if one is not None]


def _of(logs: Sequence[Log], what: str) -> list[Timed]:
    return sorted(item for log in logs for item in log.lately("mishap", YEAR) if item.body["what"] == what)


def _near_falls(logs: Sequence[Log]) -> Found | None:
    stumbles = _of(logs, "stumble")
    run = run_of(logs[0].today, stumbles, WEEK, lambda items: len(items) >= STUMBLES, NEAR_FALLS_STAND)
    return run and Found("near_falls", run.since, ids(run.items), {"times": len(run.items), "window": WEEK})


def _falls(logs: Sequence[Log]) -> Found | None:
    items = within(logs[0], _of(logs, "fall"), YEAR)
    if len(items) < FALLS or number(logs[0].today) - number(items[-1].date) > FALLS_STAND:
        return None
    return Found("falls_year", items[FALLS - 1].ms, ids(items), {"times": len(items)})
