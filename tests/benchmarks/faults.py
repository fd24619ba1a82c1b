"""The crash tests of the store, deeper than a test run has time for.

``python tests/benchmarks/faults.py [--minutes 1] [--seed 1] [--scripts N]`` plays chance scripts
(taps, undos, restarts, failures, kills) until the time is up or so many were played, looks at
every crash of each far more closely than the tests do, and prints what it went through. A fault
is printed with the seed of its script and ends with exit code 1.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.store.crash_checks import Examiner, quick_folder
from tests.store.crash_scripts import Player, chance_script
from tests.store.crash_states import Depth
from tests.store.fault_counts import Counts

DEPTH = Depth(cuts=40, mixtures=20)


def faults_of(seed: int, counts: Counts) -> list[str]:
    """What goes wrong in the crashes of one chance script."""
    with quick_folder() as root:
        (root / "played").mkdir()
        played = Player(root / "played").play(chance_script(seed))
        return Examiner(root / "crashes", counts, DEPTH).examine(played)


def main() -> int:
    """Play until the time is up; the exit code."""
    asked = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    asked.add_argument("--minutes", type=float, default=1.0)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--scripts", type=int, default=10**9)
    given = asked.parse_args()
    counts, wrong = Counts(), 0
    ends = time.monotonic() + given.minutes * 60
    for seed in range(given.seed, given.seed + given.scripts):
        if time.monotonic() > ends:
            break
        for fault in faults_of(seed, counts):
            wrong += 1
            print(f"seed {seed}: {fault}", flush=True)
    print(counts)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
