"""Random lives of three phones with a real store: every replica ends equal, and no newest write is lost.

PLYTIDE_LIVES raises their number (3,000 by hand). The checker is shown to work by faults that it has to see.
"""

import os
from pathlib import Path

import pytest
from sync.sim import PHONE_FAULTS, SERVER_FAULTS, live, plant

LIVES = int(os.environ.get("PLYTIDE_LIVES", "40"))
SEEN_WITHIN = 80


@pytest.mark.parametrize("part", range(4))
def test_all_replicas_end_equal_and_no_newest_write_is_lost(tmp_path: Path, template: Path, part: int) -> None:
    for seed in range(part, LIVES, 4):
        assert live(tmp_path, template, seed) == [], f"seed {seed}"


@pytest.mark.parametrize("fault", SERVER_FAULTS + PHONE_FAULTS)
def test_a_planted_fault_is_seen(
    tmp_path: Path, template: Path, monkeypatch: pytest.MonkeyPatch, fault: str
) -> None:
    plant(fault, monkeypatch)
    assert any(live(tmp_path, template, seed, fault) for seed in range(SEEN_WITHIN))
