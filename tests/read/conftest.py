"""What is needed to read a note in a test: the catalogue, the example sheets, and a draft written down in short."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

from cleansheet.catalogue import load, load_sheet
from cleansheet.flow import draft
from cleansheet.read.parts import part_names
from cleansheet.read.pipeline import read_doc
from cleansheet.terms import Note

SHEETS = Path(__file__).parents[1] / "data" / "sheets"

settings.register_profile("read", deadline=None)  # a busy machine is no fault
settings.load_profile("read")


@pytest.fixture(scope="session")
def catalogue():
    return load()


@pytest.fixture(scope="session")
def names(catalogue):
    return part_names(catalogue)


@pytest.fixture(scope="session")
def found(catalogue):
    """All that is found on a text, as the Doc's attributes."""
    return lambda text: read_doc(Note(text), catalogue)._


@pytest.fixture(scope="session")
def shape(found):
    """The numbers' roles in order: R reading, E expected, - neither."""

    def run(text):
        own = found(text)
        return " ".join({"reading": "R", "expected": "E"}.get(choice.label, "-") for choice in own.roles)

    return run


@pytest.fixture(scope="session")
def drafted(catalogue):
    """The items of a text's draft; `sheet` is the name of an example sheet."""
    sheets = {path.stem: load_sheet(path, catalogue) for path in sorted(SHEETS.glob("*.yaml"))}
    return lambda text, sheet=None: (
        draft(Note(text, recorded_at="2026-03-14T16:20:00"), catalogue, sheets.get(sheet)).items
    )


def amount(quantity):
    """A quantity in short: "2.5 bar", "~12 V", ">=20 mm", "5..9 Ohm", "3 -" without a unit."""
    if quantity.value is not None:
        sign = "" if quantity.comparator == "=" else quantity.comparator
        number = f"{sign}{quantity.value:g}"
    else:
        number = f"{quantity.low:g}..{quantity.high:g}"
    return f"{'~' if quantity.approximate else ''}{number} {quantity.unit or '-'}"


def in_short(item):
    """A number or a finding in short: what, the test (or the component, or "-"), "@" its place, "!" each flag."""
    words = [] if item.kind == "reading" else [item.kind]
    words.append(amount(item.quantity) if item.quantity is not None else item.finding or "")
    words.append(item.test or item.component or "-")
    if item.position is not None:
        words.append(f"@{item.position}")
    return " ".join([*words, *(f"!{flag}" for flag in sorted(item.flags))])


@pytest.fixture(scope="session")
def said(drafted):
    """A text's readings and limits in short, joined by "; " in the order they stand."""

    def run(text, sheet=None):
        return "; ".join(in_short(item) for item in drafted(text, sheet) if item.kind in {"reading", "expected"})

    return run


@pytest.fixture(scope="session")
def remarked(drafted):
    """What a text says beside readings and limits: "kind: the clause", joined by "; "."""

    def run(text):
        return "; ".join(
            f"{item.kind}: {text[item.start : item.end]}"
            for item in drafted(text)
            if item.kind not in {"reading", "expected"}
        )

    return run


@pytest.fixture(scope="session")
def judged(drafted):
    """The verdicts of a text's readings in order, joined by blanks; "-" where one has none."""

    def run(text, sheet=None):
        readings = (item for item in drafted(text, sheet) if item.kind == "reading")
        return " ".join(item.verdict.word if item.verdict is not None else "-" for item in readings)

    return run
