"""The measure measured: labels fed back are perfect, and each sort of mistake costs what it should."""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
_spec = importlib.util.spec_from_file_location("measure", HERE / "measure.py")
measure = importlib.util.module_from_spec(_spec)
sys.modules["measure"] = measure  # dataclasses look their own module up
_spec.loader.exec_module(measure)

NOTES = [
    json.loads(line)
    for path in sorted((HERE / "data").glob("*.jsonl"))
    for line in path.read_text("utf-8").splitlines()
]
TEXT = "Rail 2.5 bar. Injectors all dry, coil 0.7 ohms. Rail 2.5 bar."
READING = {
    "kind": "reading",
    "quote": "2.5 bar",
    "value": 2.5,
    "unit": "bar",
    "component": "fuel-rail",
    "verdict": "out_of_spec",
}


def note(*labels):
    return {"text": TEXT, "items": list(labels)}


def item(label, **changes):
    return measure.as_items(note(label))[0] | changes


def quantity(value=None, low=None, high=None, unit="bar", comparator="="):
    return {"value": value, "low": low, "high": high, "unit": unit, "comparator": comparator}


def test_labels_fed_back_score_one():
    figures = measure.measure((labelled, measure.as_items(labelled)) for labelled in NOTES)
    assert figures.labels["reading"] > 300
    assert all(figures.f1(kind) == 1.0 for kind in figures.labels)
    assert figures.whole_f1 == 1.0
    assert figures.right == figures.asked
    assert (figures.failed_called_good, figures.good_called_failed, figures.alarms) == (0, 0, 0)


def test_nothing_drafted_scores_nothing():
    figures = measure.measure((labelled, []) for labelled in NOTES)
    assert figures.f1("reading") == figures.whole_f1 == figures.f1("todo") == 0.0


def test_two_empty_sides_agree():
    assert measure.measure([(note(), [])]).f1("reading") == 1.0


@pytest.mark.parametrize(
    ("said", "meets"),
    [
        (quantity(2.5), True),
        (quantity(250, unit="kPa"), True),
        (quantity(36.26, unit="[psi]"), True),
        (quantity(2.512), True),  # within half a per cent
        (quantity(None, 2.5, 2.5), True),  # a range without width is its one number
        (quantity(2.52), False),
        (quantity(25), False),
        (quantity(2.5, unit="V"), False),
        (quantity(2.5, unit=None), False),
        (quantity(None, 2.4, 2.6), False),
        (None, False),
    ],
)
def test_a_number_meets_its_label_in_any_unit(said, meets):
    assert measure.same_number(READING, said) is meets


@pytest.mark.parametrize(
    ("label", "said", "meets"),
    [
        ({"low": 2.4, "high": 2.6, "unit": "bar"}, quantity(None, 2.4, 2.6), True),
        ({"low": 2.4, "high": 2.6, "unit": "bar"}, quantity(None, 2.4, 2.7), False),
        ({"low": 2.4, "high": 2.6, "unit": "bar"}, quantity(2.5, 2.45, 2.55), False),
        ({"high": 50, "unit": "mA"}, quantity(50, None, 50, "mA", "<"), True),
        ({"high": 50, "unit": "mA"}, quantity(50, 49.5, 50.5, "mA", "<="), True),
        ({"high": 50, "unit": "mA"}, quantity(50, 49.5, 50.5, "mA"), False),
        ({"high": 50, "unit": "mA"}, quantity(50, 50, None, "mA", ">="), False),
        ({"low": 3, "unit": "mm"}, quantity(3, 3, None, "mm", ">="), True),
        ({"value": 20, "unit": "Cel"}, quantity(68, unit="[degF]"), True),
        ({"value": 20, "unit": "Cel"}, quantity(21, unit="Cel"), False),
        ({"value": 3, "unit": "%"}, quantity(0.03, unit="1"), True),
        ({"value": 900, "unit": "{rev}/min"}, quantity(15, unit="Hz"), False),
    ],
)
def test_ends_of_ranges_and_one_sided_limits(label, said, meets):
    assert measure.same_number(label, said) is meets


@pytest.mark.parametrize(
    ("label", "found", "same"),
    [
        ("dry", "dry", True), ("ok", "dry", True), ("works", "ok", True), ("faulty", "leaking", True), ("worn", "faulty", True),
        ("dry", "leaking", False), ("ok", "faulty", False), ("worn", "cracked", False), ("dry", "works", False), ("worn", None, False),
    ],
)  # fmt: skip
def test_findings_meet_when_equal_or_plainly_alike(label, found, same):
    assert measure.same_finding(label, found) is same


def test_every_item_and_label_is_used_once():
    twice = [READING, {**READING, "nth": 1}]
    met = measure.pairs(TEXT, twice, [item(READING)])
    assert met == [(0, 0)]


def test_the_pair_with_more_equal_fields_goes_first():
    other = item(READING, component=None)
    assert measure.pairs(TEXT, [READING], [other, item(READING)]) == [(0, 1)]


@pytest.mark.parametrize("change", [{"kind": "expected"}, {"start": 30, "end": 37}])
def test_another_kind_or_place_meets_nothing(change):
    assert measure.pairs(TEXT, [READING], [item(READING, **change)]) == []


def test_a_wrong_field_costs_the_whole_reading_and_not_the_reading():
    figures = measure.measure([(note(READING), [item(READING, component="fuel-pump")])])
    assert figures.f1("reading") == 1.0
    assert figures.whole_f1 == 0.0
    assert figures.share("reading", "component") == 0.0


def test_a_key_left_out_is_not_measured_and_none_is():
    bare = {key: value for key, value in READING.items() if key != "component"}
    assert measure.measure([(note(bare), [item(READING)])]).whole_f1 == 1.0
    assert (
        measure.measure([(note({**bare, "test": None}), [item(READING, test="fuel-rail.hold-pressure")])]).whole_f1
        == 0.0
    )


def test_a_failed_part_called_good_is_counted():
    figures = measure.measure([(note(READING), [item(READING, verdict="in_spec")])])
    assert (figures.failed_called_good, figures.good_called_failed) == (1, 0)


def test_flags_in_vain_are_counted_and_wanted_ones_are_not():
    slip = {**READING, "flags": ["unit_slip"]}
    assert measure.measure([(note(READING), [item(READING, flags=["unit_slip"])])]).alarms == 1
    assert measure.measure([(note(READING), [item(READING, flags=["implausible", "unit_assumed"])])]).alarms == 0
    wanted = measure.measure([(note(slip), [item(slip)])])
    assert (wanted.alarms, wanted.share("flag", "unit_slip")) == (0, 1.0)


def test_a_quote_that_is_not_there_is_an_error():
    with pytest.raises(ValueError, match="not found"):
        measure.place(TEXT, {"quote": "3.5 bar"})
    assert measure.place(TEXT, {"quote": "2.5 bar", "nth": 1}) == (53, 60)
