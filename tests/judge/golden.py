"""Rows of limits.csv against a catalogue. Used by the test and by the mutation bench."""

from __future__ import annotations

import csv
from pathlib import Path

from cleansheet.judge import judge
from cleansheet.terms import Item, Note, Quantity

ROWS = Path(__file__).with_name("limits.csv")


def rows():
    with ROWS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def condition(text):
    pairs = (part.split("=") for part in text.split(";") if part)
    return {key: float(value) if value.replace(".", "").isdigit() else value for key, value in pairs}


def verdict(row, catalogue):
    """The verdict word on the row's number, exactly that number; "" for none."""
    value = float(row["value"])
    quantity = Quantity(value, value, value, row["unit"])
    component = row["test"].partition(".")[0]
    text = f"{row['words']}: {row['value']} {row['unit']}"
    item = Item(
        "reading", len(text) - 1, len(text), quantity, None, component, row["test"], None, condition(row["condition"])
    )
    judged = judge([item], Note(text), catalogue).items[0]
    return judged.verdict.word if judged.verdict is not None else ""
