"""The battery at full length: kills, power cuts, bad networks, killed databases, random lives. One command:

    .venv/bin/python tests/crash/long.py            # all of it: about an hour
    .venv/bin/python tests/crash/long.py --share 0.05 --only kill,power

`--share`: how much of the full length; each part prints what it ran and how it ended.
"""

import argparse
import os
import subprocess
import sys
import time
from pathlib import Path

TESTS = Path(__file__).parents[1]
# part: where it is, and its length as the tests know it
PARTS = {
    "kill": ("crash/test_kill.py", {"PLYTIDE_CRASH_ROUNDS": 1000}),
    "power": ("crash/test_power_cut.py", {"PLYTIDE_POWER_CUTS": 2000}),
    "network": ("crash/test_network.py", {"PLYTIDE_NETWORK_SEEDS": 5, "PLYTIDE_NETWORK_BATCHES": 1200}),
    "disk": ("crash/test_disk_full.py", {}),
    "database": ("growth/test_database_killed.py", {"PLYTIDE_DATABASE_KILLS": 50}),
    "order": ("growth/test_order.py", {"PLYTIDE_ORDER_SECONDS": 60}),
    "lives": ("sync/test_lives.py", {"PLYTIDE_LIVES": 3000}),
    "restore": ("store/test_backup.py", {}),
    "released": ("store/test_migrations.py", {}),
}


def main() -> int:
    asked = argparse.ArgumentParser()
    asked.add_argument("--share", type=float, default=1.0, help="of the full length; 1 is all of it")
    asked.add_argument("--only", default=",".join(PARTS), help="parts, with commas between them")
    words = asked.parse_args()
    bad = 0
    for name in words.only.split(","):
        path, full = PARTS[name]
        lengths = {variable: str(max(1, round(length * words.share))) for variable, length in full.items()}
        began = time.monotonic()
        done = subprocess.run(
            [sys.executable, "-m", "pytest", "-q", str(TESTS / path)], env=os.environ | lengths, capture_output=True,
            text=True, check=False,
        )  # fmt: skip
        bad += done.returncode != 0
        told = " ".join(f"{variable.removeprefix('PLYTIDE_').lower()} {length}" for variable, length in lengths.items())
        print(f"{name:9} {told:40} {time.monotonic() - began:6.0f} s   {done.stdout.splitlines()[-1]}", flush=True)
        if done.returncode:
            print(done.stdout)
    return min(bad, 1)


if __name__ == "__main__":
    sys.exit(main())
