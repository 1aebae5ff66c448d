"""Rules of thumb that the trade lives by. Every one is common practice, no source."""

from __future__ import annotations

import pytest

from cleansheet import units
from cleansheet.judge import judge
from cleansheet.terms import Item, Note, Quantity


def answer(catalogue, test, low, high, unit, *, finding=None, **condition):
    """The judged item for one number (low == high) or a range, or for a finding alone."""
    number = None
    if low is not None:
        number = Quantity(low, low, low, unit) if low == high else Quantity(None, low, high, unit)
    item = Item("reading", 0, 1, number, finding, test.partition(".")[0], test, None, condition)
    return judge([item], Note("x"), catalogue).items[0]


# rule, test, low, high, unit, conditions, verdict
RULES = [
    ("system pressure with the engine off", "fuel-rail.static-pressure", 2.5, 2.5, "bar", {"engine": "off"}, "in_spec"),
    ("the same, said in psi", "fuel-rail.static-pressure", 36.26, 36.26, "[psi]", {"engine": "off"}, "in_spec"),
    ("after 20 minutes at least 1 bar", "fuel-rail.hold-pressure", 1.05, 1.05, "bar", {"elapsed_min": 20.0}, "in_spec"),
    ("after 20 minutes less", "fuel-rail.hold-pressure", 0.9, 0.9, "bar", {"elapsed_min": 20.0}, "out_of_spec"),
    (
        "about 2.0 bar at idle with the vacuum line on",
        "fuel-rail.running-pressure", 2.0, 2.0, "bar", {"engine": "idle", "vacuum_line": "on"}, "in_spec",
    ),
    (
        "rising when it is pulled off",
        "fuel-pressure-regulator.vacuum-response", 0.5, 0.5, "bar", {"engine": "idle", "vacuum_line": "off"}, "in_spec",
    ),
    ("coil primary from", "ignition-coil.primary-resistance", 0.4, 0.4, "Ohm", {}, "in_spec"),
    ("coil primary to", "ignition-coil.primary-resistance", 0.7, 0.7, "Ohm", {}, "in_spec"),
    ("coil secondary", "ignition-coil.secondary-resistance", 5.0, 8.7, "kOhm", {}, "in_spec"),
    ("meter leads together close to nothing", "test-meter.lead-resistance", 0.2, 0.2, "Ohm", {}, "in_spec"),
    ("meter leads worn", "test-meter.lead-resistance", 1.2, 1.2, "Ohm", {}, "out_of_spec"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "test", "low", "high", "unit", "condition", "verdict"), RULES, ids=[one[0] for one in RULES]
)
def test_rule_of_thumb(rule, test, low, high, unit, condition, verdict, catalogue):
    assert answer(catalogue, test, low, high, unit, **condition).verdict.word == verdict


def test_two_and_a_half_bar_is_thirty_six_psi():
    assert round(units.convert(2.5, "bar", "[psi]")) == 36


def test_five_to_almost_nine_ohms_is_a_slip_of_the_unit(catalogue):
    found = answer(catalogue, "ignition-coil.secondary-resistance", 5.0, 8.7, "Ohm")
    assert (found.flags, found.verdict) == (("unit_slip",), None)
    assert "kΩ" in found.proposal


# what is seen, test, finding, verdict
SEEN = [
    ("an open secondary is a failure", "ignition-coil.secondary-resistance", "open_circuit", "out_of_spec"),
    ("bright blue", "spark-plug.spark", "strong", "in_spec"),
    ("yellow", "spark-plug.spark", "weak", "out_of_spec"),
    ("pressure rises with the line off", "fuel-pressure-regulator.vacuum-response", "rises", "in_spec"),
    ("an injector that stays dry", "injector.leaks", "dry", "in_spec"),
]


@pytest.mark.parametrize(("rule", "test", "finding", "verdict"), SEEN, ids=[one[0] for one in SEEN])
def test_what_is_seen(rule, test, finding, verdict, catalogue):
    assert answer(catalogue, test, None, None, None, finding=finding).verdict.word == verdict
