"""Times `find` on journals made by grow.py: `python tests/bench/journal/find_times.py FILE...`; prints a table.

In a running process every kind of question is asked with many different words; as a whole process the command is started
anew each time, the file's pages in the system's cache.
"""

from __future__ import annotations

import os
import random
import statistics
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

from cleansheet import journal as book
from cleansheet.catalogue import load
from cleansheet.journal.names import NameIndex

TODAY = date(2026, 11, 25)
ROUNDS = 12


def questions(catalogue, chance: random.Random) -> dict[str, str]:
    """One of each kind, with other words every time."""
    part = chance.choice(list(catalogue.components.values())).name
    measured = chance.choice([test for test in catalogue.tests.values() if test.unit != "finding"])
    make, model = chance.choice(("Aldern", "Brindle", "Tolver", "Marrow")), chance.choice(("Camper", "Twin", "Estate"))
    vehicle = f"{make} {model} {chance.randrange(1, 60)}"
    name = catalogue.components[measured.component].name
    year = chance.randrange(2017, 2026)
    return {
        "a part": part,
        "a part misspelt": f"{part[:2]}{part[3:4]}{part[2:3]}{part[4:]}",
        "a part's test": f"{name} {measured.name}",
        "a part on a vehicle": f"{part} on the {vehicle}",
        "a part out of spec in a year": f"{part} out of spec in {year}",
        "a value of a part": f"{name} above {chance.uniform(0.1, 5):.2f} {measured.unit}",
        "a value of any part": f"above {chance.uniform(1, 12):.1f} kohm",
        "what a person signed in a month": f"by {chance.choice(('Sam', 'Kit', 'Pat'))} in March {year}",
        "open questions since a year": f"open questions since {year}",
        "out of spec, anything": "out of spec",
        "words as said": chance.choice(("road test", "second try", "by the book", "lights on")),
        "a rare word as said": f"{chance.randrange(100, 900)} bench",
        "words of a part, replaced": f"replaced {part}",
        "all at once": f"{part} out of spec above 1 V since {year} on the {make} by Sam",
    }


def in_process(path: Path) -> dict[str, list[float]]:
    catalogue, chance = load(), random.Random(7)
    index = NameIndex(catalogue.components)
    times: dict[str, list[float]] = {}
    with book.open_journal(path) as journal:
        for asked in questions(catalogue, chance).values():  # once, so that nothing is timed cold
            book.find(journal, asked, catalogue, today=TODAY, index=index)
        for _ in range(ROUNDS):
            for kind, asked in questions(catalogue, chance).items():
                began = time.perf_counter()
                book.find(journal, asked, catalogue, today=TODAY, index=index)
                times.setdefault(kind, []).append((time.perf_counter() - began) * 1000)
    return times


def whole_process(path: Path) -> list[float]:
    catalogue, chance = load(), random.Random(8)
    env = {**os.environ, "CLEANSHEET_JOURNAL": str(path)}
    times = []
    for asked in list(questions(catalogue, chance).values()):
        began = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "cleansheet.cli", "find", asked], env=env, stdout=subprocess.DEVNULL, check=False
        )
        times.append((time.perf_counter() - began) * 1000)
    return times


def percentile(values: list[float], share: float) -> float:
    return sorted(values)[min(int(len(values) * share), len(values) - 1)]


def main(files: list[Path]) -> None:
    columns: dict[str, list[str]] = {}
    head = "| question (ms in a running process: median / 95th percentile) |"
    for path in files:
        with book.open_journal(path) as journal:
            lines = journal.row("SELECT max(id) AS n FROM items")["n"]
        head += f" {lines:,} lines |"
        times = in_process(path)
        for kind, found in times.items():
            columns.setdefault(kind, []).append(f"{statistics.median(found):.1f} / {percentile(found, 0.95):.1f}")
        every = [one for found in times.values() for one in found]
        columns.setdefault("**all of them**", []).append(
            f"{statistics.median(every):.1f} / {percentile(every, 0.95):.1f}"
        )
        whole = whole_process(path)
        columns.setdefault("whole process: median / slowest", []).append(
            f"{statistics.median(whole):.0f} / {max(whole):.0f}"
        )
        columns.setdefault("bytes a line on disk", []).append(f"{path.stat().st_size / lines:.0f}")
    print(head)
    print("|---|" + "---|" * len(files))
    for kind, cells in columns.items():
        print(f"| {kind} | {' | '.join(cells)} |")


if __name__ == "__main__":
    main([Path(one) for one in sys.argv[1:]])
