"""Readings built by hand: no note is read here, only judged."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest
from hypothesis import settings

from cleansheet import units
from cleansheet.catalogue import load
from cleansheet.judge import judge
from cleansheet.terms import Item, Note, Quantity

settings.register_profile("judge", deadline=None)  # a busy machine is no fault
settings.load_profile("judge")


@pytest.fixture(scope="session")
def catalogue():
    return load()


@pytest.fixture(scope="session")
def golden():
    spec = importlib.util.spec_from_file_location("golden", Path(__file__).with_name("golden.py"))
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def quantity(text, unit, *, sign="=", about=False):
    """A number as said: "2.5" with its rounding, "14-17" as a range, with a sign as one side."""
    if isinstance(text, Quantity):
        return text
    text = str(text)
    if "-" in text[1:]:
        low, high = text[0] + text[1:].partition("-")[0], text[1:].partition("-")[2]
        return Quantity(None, float(low), float(high), unit, "=", about)
    value = float(text)
    if sign[0] == "<":
        return Quantity(value, None, value, unit, sign, about)
    if sign[0] == ">":
        return Quantity(value, value, None, unit, sign, about)
    low, high = units.rounding(text)
    return Quantity(value, low, high, unit, "=", about)


def item(kind, text, unit=None, test=None, at=0, *, sign="=", about=False, component=None, **more):
    """One item at a place of the note; its text only matters where a test gives the note's words."""
    number = quantity(text, unit, sign=sign, about=about) if text is not None else None
    component = component or (test.partition(".")[0] if test else None)
    return Item(kind, at, at + 1, number, component=component, test=test, **more)


@pytest.fixture
def reading():
    def make(text, unit=None, test=None, at=0, **more):
        return item("reading", text, unit, test, at, **more)

    return make


@pytest.fixture
def expected():
    def make(text, unit=None, test=None, at=10, **more):
        return item("expected", text, unit, test, at, **more)

    return make


@pytest.fixture
def judged(catalogue):
    """Judge these items; gives the judged readings. `words` is the note's text (padded to hold the items)."""

    def run(*items, words="", sheet=None, **options):
        longest = max((one.end for one in items), default=0)
        note = Note(words.ljust(longest))
        draft = judge(sorted(items, key=lambda one: one.start), note, catalogue, sheet, **options)
        return [one for one in draft.items if one.kind == "reading"]

    return run


@pytest.fixture
def word(judged):
    """The verdict's word on the first reading, None for none."""

    def run(*items, **options):
        verdict = judged(*items, **options)[0].verdict
        return verdict.word if verdict is not None else None

    return run


@pytest.fixture
def drafted(catalogue):
    def run(*items, words="", sheet=None):
        longest = max((one.end for one in items), default=0)
        return judge(sorted(items, key=lambda one: one.start), Note(words.ljust(longest)), catalogue, sheet)

    return run


@pytest.fixture
def sheet(tmp_path, catalogue):
    """A vehicle sheet from its `specs` lines."""
    from cleansheet.catalogue import load_sheet

    def make(*specs, engine="2.0 litre four", cylinders=4, name="Aldern Camper"):
        text = f"vehicle: {{name: {name}, engine: {engine}, cylinders: {cylinders}}}\nspecs:\n"
        path = tmp_path / "sheet.yaml"
        path.write_text(text + "".join(f"  {line}\n" for line in specs), "utf-8")
        return load_sheet(path, catalogue)

    return make
