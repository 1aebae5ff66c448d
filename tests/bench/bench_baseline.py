"""quantulum3, a well-kept reader of quantities in prose, beside ours on the labelled notes: values with units found, and speed.

usage: python tests/bench/bench_baseline.py

A label (a reading or a limit with a number) is found where a quantity shares its place and says the same number in any
unit of the same kind, to half a per cent. quantulum3 tells no reading from a tool's size, so its precision is also shown
beside our mentions, which tell as little. Printed, never asserted.
"""

from __future__ import annotations

import importlib.util
import json
import sys
import time
import warnings
from pathlib import Path

from cleansheet.catalogue import load, load_sheet
from cleansheet.flow import draft
from cleansheet.read import mentions
from cleansheet.terms import Note
from cleansheet.terms.draft_json import draft_to_json

TESTS = Path(__file__).parents[1]
_spec = importlib.util.spec_from_file_location("measure", TESTS / "measure.py")
measure = importlib.util.module_from_spec(_spec)
sys.modules["measure"] = measure
_spec.loader.exec_module(measure)

# quantulum3's unit names -> UCUM; what does not stand here is counted as wrong only if a label wanted a unit
NAMES = {
    "bar": "bar", "pound per square inch": "[psi]", "pound-force per square inch": "[psi]", "kilopascal": "kPa", "megapascal": "MPa", "millibar": "mbar", "ohm": "Ohm", "kiloohm": "kOhm", "kilohm": "kOhm",
    "megaohm": "MOhm", "milliohm": "mOhm", "volt": "V", "millivolt": "mV", "kilovolt": "kV", "ampere": "A", "milliampere": "mA", "microampere": "uA", "watt": "W",
    "degree celsius": "Cel", "degree fahrenheit": "[degF]", "kelvin": "K", "millimetre": "mm", "centimetre": "cm", "metre": "m", "inch": "[in_i]", "thou": "[mil_i]", "mil": "[mil_i]", "inch of mercury": "[in_i'Hg]",
    "millimetre of mercury": "mm[Hg]", "millilitre per minute": "mL/min", "litre per minute": "L/min", "cubic centimetre per minute": "mL/min", "gram per second": "g/s", "millisecond": "ms",
    "revolutions per minute": "{rev}/min", "revolution per minute": "{rev}/min", "degree angle": "deg", "degree": "deg", "newton metre": "N.m", "foot pound": "[ft_i].[lbf_av]", "pound foot": "[ft_i].[lbf_av]",
    "degree Celsius": "Cel", "standard litre per minute": "L/min", "pound-mass foot": "[ft_i].[lbf_av]", "foot pound-mass": "[ft_i].[lbf_av]",
    "percentage": "%", "part per million": "[ppm]", "parts per million": "[ppm]", "dimensionless": None,
}  # fmt: skip


def theirs(text: str) -> list[dict]:
    from quantulum3 import parser

    out = []
    for found in parser.parse(text):
        unit = NAMES.get(found.unit.name, f"?{found.unit.name}")
        ranged = bool(found.uncertainty)
        low, high = (found.value - found.uncertainty, found.value + found.uncertainty) if ranged else (None, None)
        quantity = {"value": None if ranged else found.value, "low": low, "high": high, "unit": unit, "comparator": "="}
        out.append({"start": found.span[0], "end": found.span[1], "quantity": quantity})
    return out


def ours_all(text: str) -> list[dict]:
    out = []
    for found in mentions(text):
        quantity = {key: found[key] for key in ("value", "low", "high", "unit")} | {"comparator": "="}
        out.append({"start": found["start"], "end": found["end"], "quantity": quantity})
    return out


def same(label: dict, quantity: dict) -> bool:
    """The label's number, or a one-sided label's one number said plainly: a bound's sign is no part of value and unit."""
    one = label.get("low") if label.get("high") is None else label.get("high") if label.get("low") is None else None
    plain = {"value": one, "unit": label.get("unit")} if label.get("value") is None and one is not None else label
    return measure.same_number(plain, quantity) or measure.same_number(label, quantity)


def figures(notes: list[dict], found: list[list[dict]]) -> tuple[float, float, float, int]:
    """Precision, recall, F1 and how many were found."""
    hits = labels = items = 0
    for note, quantities in zip(notes, found, strict=True):
        free = list(quantities)
        items += len(free)
        for label in note["items"]:
            if label["kind"] not in {"reading", "expected"} or not measure.has_number(label):
                continue
            labels += 1
            start, end = measure.place(note["text"], label)
            for one in free:
                if one["start"] < end and start < one["end"] and same(label, one["quantity"]):
                    free.remove(one)
                    hits += 1
                    break
    return hits / items, hits / labels, 2 * hits / (items + labels), items


def main() -> None:
    warnings.simplefilter("ignore")
    catalogue = load()
    sheets = {path.stem: load_sheet(path, catalogue) for path in sorted((TESTS / "data" / "sheets").glob("*.yaml"))}
    notes = [json.loads(line) for line in (TESTS / "data" / "dev.jsonl").read_text("utf-8").splitlines()]
    words = sum(len(note["text"].split()) for note in notes)

    def drafted(note: dict) -> list[dict]:
        made = draft(Note(note["text"], recorded_at=f"{note['date']}T12:00:00"), catalogue, sheets.get(note["sheet"]))
        items = draft_to_json(made)["items"]
        return [item for item in items if item["kind"] in {"reading", "expected"} and item["quantity"] is not None]

    ways = {
        "quantulum3": lambda note: theirs(note["text"]),
        "quantulum3, with a unit only": lambda note: [
            one for one in theirs(note["text"]) if one["quantity"]["unit"] is not None
        ],
        "ours, every number": lambda note: ours_all(note["text"]),
        "ours, with a unit only": lambda note: [
            one for one in ours_all(note["text"]) if one["quantity"]["unit"] is not None
        ],
        "ours, the whole draft": drafted,
    }
    print(f"{len(notes)} notes, {words} words")
    for name, way in ways.items():
        for note in notes[:3]:
            way(note)
        start = time.process_time()
        found = [way(note) for note in notes]
        took = time.process_time() - start
        precision, recall, f1, count = figures(notes, found)
        print(
            f"{name:30} P {precision:.3f}  R {recall:.3f}  F1 {f1:.3f}  ({count} found)  {words / took:>8,.0f} words/s"
        )


if __name__ == "__main__":
    main()
