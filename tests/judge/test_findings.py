"""The same word is good for one test and bad for another."""

from __future__ import annotations

import pytest

from cleansheet.terms import FINDINGS, GOOD_FINDINGS

# test, finding, verdict
CASES = [
    ("injector.leaks", "dry", "in_spec"),
    ("fuel-return-line.flow", "dry", "out_of_spec"),
    ("fuel-pressure-regulator.vacuum-response", "rises", "in_spec"),
    ("fuel-pressure-regulator.vacuum-response", "steady", "out_of_spec"),
    ("intake-manifold.vacuum", "steady", "in_spec"),
    ("oxygen-sensor.voltage", "steady", "out_of_spec"),
    ("oxygen-sensor.voltage", "unsteady", "in_spec"),
    ("cooling-system.temperature", "rises", "out_of_spec"),
    ("coolant-temp-sensor.resistance", "falls", "in_spec"),
    (
        "ignition-coil.secondary-resistance",
        "open_circuit",
        "out_of_spec",
    ),  # rule of thumb: an open circuit is a failure
    ("spark-plug.spark", "strong", "in_spec"),  # rule of thumb: bright blue is good
    ("spark-plug.spark", "weak", "out_of_spec"),  # rule of thumb: yellow is weak
    ("thermo-time-switch.resistance", "open_circuit", "no_spec"),
    ("relay.operates", "strong", "no_spec"),
    ("cylinder-head.flatness", "loose", "out_of_spec"),  # in no list of the test, but damage is a fault
    (None, "dry", "in_spec"),
    (None, "works", "in_spec"),
    (None, "leaking", "out_of_spec"),
    (None, "open_circuit", "out_of_spec"),
    (None, "unsteady", "out_of_spec"),
    (None, "rises", "no_spec"),
    (None, "falls", "no_spec"),
]


@pytest.mark.parametrize(("test", "finding", "verdict"), CASES)
def test_finding(test, finding, verdict, reading, judged):
    found = judged(reading(None, test=test, finding=finding))[0].verdict
    assert found.word == verdict
    assert finding.replace("_", " ") in found.reason


def test_damage_is_never_called_good(catalogue):
    damage = {"faulty", "leaking", "cracked", "does_not_work", "corroded", "worn", "loose", "fouled"}
    assert {
        test.id: test.good_findings & damage for test in catalogue.tests.values() if test.good_findings & damage
    } == {}


def test_every_word_has_a_verdict_everywhere(catalogue, reading, judged):
    items = [
        reading(None, test=test, at=2 * place, finding=finding)
        for place, (test, finding) in enumerate(
            (test, finding) for test in (None, *catalogue.tests) for finding in FINDINGS
        )
    ]
    for found in judged(*items):
        assert found.verdict.word in ("in_spec", "out_of_spec", "no_spec")
        if found.test is None and found.finding not in ("rises", "falls"):
            assert (found.verdict.word == "in_spec") is (found.finding in GOOD_FINDINGS)


def test_number_and_finding_together(reading, judged):
    test = "fuel-pressure-regulator.vacuum-response"
    good = judged(reading("0.4", "bar", test, finding="rises"))[0].verdict
    bad = judged(reading("0.4", "bar", test, finding="falls"))[0].verdict
    only = judged(reading("0.2", "mm", "valve-train.clearance", finding="loose"))[0].verdict
    assert (good.word, bad.word, only.word) == ("in_spec", "out_of_spec", "out_of_spec")


def test_a_number_that_is_bad_stays_bad(reading, word):
    assert word(reading("8.7", "V", "battery.cranking-voltage", finding="ok")) == "out_of_spec"
