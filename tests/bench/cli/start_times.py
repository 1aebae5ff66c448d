"""How long the commands take as whole processes: `python tests/bench/cli/start_times.py`; printed, never asserted.

The first run of each is left out: it fills the system's and our own caches.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SAMPLES = Path(__file__).parents[3] / "sample_notes"
SENTENCE = "Cylinder {} compression {}.4 bar with the throttle open, engine warm, nothing else out of the way here. "
COMMANDS = {
    "--help": ["--help"],
    "read, a typed note": ["read", str(SAMPLES / "visit-1-intake.txt"), "--json"],
    "read, a note of 300 words": ["read", "long.txt", "--json"],
    "take, the same note again": ["take", "long.txt"],
    "find, a part": ["find", "coil"],
    "find, a value": ["find", "above 9 kohm"],
    "review --list": ["review", "--list"],
}


def main(runs: int) -> None:
    with tempfile.TemporaryDirectory(prefix="cleansheet-times-") as folder:
        env = {**os.environ, "CLEANSHEET_JOURNAL": f"{folder}/journal.sqlite", "CLEANSHEET_SHOP": folder}
        Path(folder, "long.txt").write_text(
            "".join(SENTENCE.format(n % 4 + 1, 10 + n) for n in range(18)), encoding="utf-8"
        )
        print(f"| command ({runs} runs) | median ms | slowest ms |\n|---|---|---|")
        for name, words in COMMANDS.items():
            times = []
            for _ in range(runs + 1):
                began = time.perf_counter()
                subprocess.run(
                    [sys.executable, "-m", "cleansheet.cli", *words],
                    env=env,
                    cwd=folder,
                    capture_output=True,
                    check=False,
                )
                times.append((time.perf_counter() - began) * 1000)
            print(f"| {name} | {statistics.median(times[1:]):.0f} | {max(times[1:]):.0f} |")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10)
