#!/usr/bin/env python3
"""How well verdicts agree with labelled notes when reading and matching are perfect: the labels themselves are judged.

usage: python tests/bench/judge_labels.py LABELS.jsonl --specs DIR [--misses]

A label has no condition and no rounding interval; both are taken from what `read` finds at its place (and from the
label's own digits where it finds nothing). Verdicts, expected limits and flags of the labels are never shown to `judge`.
"""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections import Counter
from pathlib import Path
from typing import Any

from cleansheet import units
from cleansheet.catalogue import Catalogue, load, load_sheet
from cleansheet.judge import judge
from cleansheet.read import read
from cleansheet.terms import Item, Mention, Note, Quantity

OURS = ("unit_slip", "spec_conflict", "units_disagree", "implausible")


def place(text: str, label: dict[str, Any]) -> tuple[int, int]:
    at = -1
    for _ in range(label.get("nth", 0) + 1):
        at = text.index(label["quote"], at + 1)
    return at, at + len(label["quote"])


def number(label: dict[str, Any], seen: Mention | None) -> Quantity | None:
    """The label's number with the interval that was read at its place, or that its own digits leave open."""
    value, unit, sign = label.get("value"), label.get("unit"), label.get("comparator", "=")
    about = seen is not None and seen.quantity is not None and seen.quantity.approximate
    if value is None:
        low, high = label.get("low"), label.get("high")
        bound = (low if low is not None else high) if sign != "=" else None
        return None if low is None and high is None else Quantity(bound, low, high, unit, sign, about)
    if (
        seen is not None
        and seen.quantity is not None
        and seen.quantity.value == value
        and seen.quantity.low is not None
    ):
        return Quantity(value, seen.quantity.low, seen.quantity.high, unit, "=", about)
    digits = re.fullmatch(r"-?\d*[.,]?\d+", label["quote"].split()[0].replace(",", "."))
    low, high = units.rounding(digits.group() if digits and float(digits.group()) == value else repr(value))
    return Quantity(value, low, high, unit, "=", about)


def items_of(line: dict[str, Any], catalogue: Catalogue) -> list[tuple[Item, dict[str, Any]]]:
    text = line["text"]
    mentions = [one for one in read(Note(text), catalogue) if one.kind in ("reading", "expected")]
    found = []
    for label in line["items"]:
        start, end = place(text, label)
        near = [one for one in mentions if one.start < end and start < one.end and one.kind == label["kind"]]
        seen = near[0] if near else None
        item = Item(
            label["kind"],
            start,
            end,
            number(label, seen),
            label.get("finding"),
            label.get("component"),
            label.get("test"),
            label.get("position"),
            seen.condition if seen is not None else {},
            second=seen.second if seen is not None else None,
            group=seen.group if seen is not None else None,
        )
        found.append((item, label))
    return sorted(found, key=lambda pair: pair[0].start)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("labels", type=Path)
    parser.add_argument("--specs", type=Path, required=True)
    parser.add_argument("--misses", action="store_true")
    given = parser.parse_args()
    catalogue = load()
    count: Counter[str] = Counter()
    for raw in given.labels.read_text("utf-8").splitlines():
        line = json.loads(raw)
        sheet = load_sheet(given.specs / f"{line['sheet']}.yaml", catalogue) if line.get("sheet") else None
        pairs = items_of(line, catalogue)
        draft = judge([item for item, _ in pairs], Note(line["text"]), catalogue, sheet)
        for item, (_, label) in zip(draft.items, pairs, strict=True):
            if item.kind == "reading":
                tally(line["id"], item, label, count, misses=given.misses)
    print(f"verdict right {count['right']} of {count['verdicts']} labelled ({count['right'] / count['verdicts']:.3f})")
    print(f"failed part called good {count['wrong pass']}, good part called failed {count['wrong fail']}")
    for flag in OURS:
        print(f"{flag}: {count[flag, 'hit']} of {count[flag, 'gold']} found, {count[flag, 'false']} without cause")  # type: ignore[index]
    return 0


def tally(note: str, item: Item, label: dict[str, Any], count: Counter[Any], *, misses: bool) -> None:
    word = item.verdict.word if item.verdict is not None else None
    if "verdict" in label:
        want = label["verdict"]
        count["verdicts"] += 1
        count["right"] += word == want
        count["wrong pass"] += (want, word) == ("out_of_spec", "in_spec")
        count["wrong fail"] += (want, word) == ("in_spec", "out_of_spec")
        if misses and word != want:
            print(
                f"{note}: {label['quote']!r} {label.get('test')}: {word}, label {want}; {item.verdict and item.verdict.reason}"
            )
    for flag in OURS:
        wanted, raised = flag in label.get("flags", ()), flag in item.flags
        count[flag, "gold"] += wanted
        count[flag, "hit"] += wanted and raised
        count[flag, "false"] += raised and not wanted
        if misses and wanted != raised:
            print(f"{note}: {label['quote']!r}: {flag} {'missed' if wanted else 'raised'}; {item.proposal or ''}")


if __name__ == "__main__":
    sys.exit(main())
