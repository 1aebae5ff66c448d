#!/usr/bin/env python3
"""What judging costs: one invented job of forty items, sheet and limits in the note among them.

usage: python tests/bench/judge_speed.py
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from cleansheet import units
from cleansheet.catalogue import load, load_sheet
from cleansheet.judge import judge
from cleansheet.terms import Item, Note, Quantity

SHEET = Path(__file__).parents[2] / "sample_notes" / "aldern-camper.yaml"
SAID = [
    ("fuel-rail.static-pressure", "2.9", "bar"), ("fuel-rail.running-pressure", "2.45", "bar"),
    ("ignition-coil.primary-resistance", "0.7", "Ohm"), ("ignition-coil.secondary-resistance", "8.1", "kOhm"),
    ("crank-sensor.gap", "1.1", "mm"), ("battery.open-circuit-voltage", "12.5", "V"),
    ("alternator.charging-voltage", "14.2", "V"), ("brake-pad.thickness", "7", "mm"), ("tyre.pressure", "3.2", "bar"),
    ("wheel-nut.torque", "118", "[ft_i].[lbf_av]"), ("cylinder.leak-down", "38", "%"), ("exhaust.lambda", "0.998", "1"),
]  # fmt: skip


def job() -> list[Item]:
    items = []
    for place in range(36):
        test, text, unit = SAID[place % len(SAID)]
        low, high = units.rounding(text)
        position = str(place % 4 + 1)
        quantity = Quantity(float(text), low, high, unit)
        items.append(
            Item("reading", 10 * place, 10 * place + 4, quantity, None, test.partition(".")[0], test, position)
        )
    items += [
        Item(kind, 370 + place, 371 + place) for place, kind in enumerate(("symptom", "todo", "action", "suspect"))
    ]
    return items


def main() -> int:
    catalogue, items = load(), job()
    sheet = load_sheet(SHEET, catalogue)
    note = Note("word " * 80)
    for name, vehicle in (("without a sheet", None), ("with a sheet", sheet)):
        times = []
        for _ in range(200):
            start = time.perf_counter()
            judge(items, note, catalogue, vehicle)
            times.append(time.perf_counter() - start)
        best = min(times) * 1e6
        print(f"{name}: {best:.0f} µs a note of {len(items)} items, {best / len(items):.1f} µs an item (best of 200)")
    return 0


if __name__ == "__main__":
    sys.exit(main())
