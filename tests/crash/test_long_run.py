"""The long run in small: fifty phones with every trouble for some seconds, and what its checker must catch.

The whole of it: python tests/bench/long_run.py --minutes 60 --phones 50
"""

import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from bench.handset import TROUBLES
from bench.long_run import Figures, complaints, run, table

SECONDS = 7


def test_fifty_phones_with_every_trouble_lose_nothing_and_cost_no_more_with_time(tmp_path: Path) -> None:
    figures = run(tmp_path, 50, SECONDS, pause_s=0.6)
    assert complaints(figures) == [], table(figures, SECONDS)
    # The run was a real one.
    assert figures.requests > 150
    assert all(figures.troubles[trouble] for trouble in TROUBLES), figures.troubles


def test_a_server_that_remembers_every_request_is_caught(tmp_path: Path) -> None:
    leaky = (sys.executable, str(Path(__file__).with_name("leaky.py")))
    assert "memory grew" in " ".join(complaints(run(tmp_path, 20, 4, pause_s=0.1, command=leaky)))


FLAT: dict[str, Any] = {
    "requests": 100_000, "versions": 90_000, "database": 60_000_000, "memory": [100.0, 150, 150, 160],
    "latency": [5.0] * 8,
}  # fmt: skip


@pytest.mark.parametrize(
    ("wrong", "word"),
    [
        ({"latency": [5.0] * 6 + [300.0] * 2}, "ms in the first quarter"),
        ({"database": 400_000_000}, "bytes a version"),
        ({"memory": [100.0, 200, 1200, 1900]}, "memory grew"),
        ({"lost": ["phone 1 differs"]}, "phone 1 differs"),
        ({"strange": Counter({500: 2})}, "2 answers of 500"),
    ],
)
def test_every_kind_of_growth_has_a_limit(wrong: dict[str, Any], word: str) -> None:
    assert complaints(Figures(**FLAT)) == []
    assert word in " ".join(complaints(Figures(**FLAT | wrong)))
