"""How many words a second the numbers and units are read at. Run it: `python tests/bench/bench_numbers.py`. Printed, never asserted."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from cleansheet.read.numbers import candidates_at  # noqa: F401 - warmed with the rest
from cleansheet.read.quantities import find_numbers, find_quantities
from cleansheet.read.words import words

NOTE = (
    "Cylinder one is a hundred and thirty six psi and number two a hundred and thirty one, so that's healthy. Coil primary "
    "nought point seven ohms, secondary eight point one kilohms, spec is four eighty to a thousand. Battery 12.6V rested, "
    "charging close to fourteen two volts, fuel 2.5 bar (36 psi), should be 2.4 to 2.6. Head gasket is fine, nothing leaks, "
    "the pump hums and the relay clicks when you turn the key, but it cuts out when it is hot and will not restart for twenty "
    "minutes. Order a crank sensor and have a look at the loom where it runs past the manifold.\n"
)


def main() -> None:
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else None
    once = path.read_text(encoding="utf-8") if path else NOTE
    for times in (1, 10, 100, 1000):
        text = once * times
        count = len(text.split())
        if count > 400_000:
            break
        find_quantities(words(once), once)
        start = time.perf_counter()
        toks = words(text)
        cut = time.perf_counter()
        figures = find_quantities(toks, text)
        found = time.perf_counter()
        numbers = find_numbers(toks, text)
        last = time.perf_counter()
        print(
            f"{count:>8} words {len(figures):>7} figures: cut {count / (cut - start):>10,.0f} words/s, "
            f"find_quantities {count / (found - cut):>10,.0f}, find_numbers {count / (last - found):>10,.0f} ({len(numbers)})"
        )


if __name__ == "__main__":
    main()
