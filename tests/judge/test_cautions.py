"""What can hurt, once each, with the reminder of who has the last word."""

from __future__ import annotations

import pytest

from cleansheet.judge import caution_texts, cautions_for, vehicle_cautions


def test_cautions_of_the_tests_in_a_draft(reading, drafted, catalogue):
    found = drafted(
        reading("3.0", "bar", "fuel-rail.static-pressure"), reading("2.9", "bar", "fuel-rail.static-pressure", 5)
    ).cautions
    assert len(found) == 3
    assert found[0].startswith("Petrol under pressure")
    assert found[-1] == catalogue.authority
    assert [text for text in found if text.endswith(catalogue.authority)] == [catalogue.authority]


def test_no_test_no_caution(reading, drafted):
    assert drafted(reading("3.0", "bar")).cautions == ()


def test_every_caution_ends_with_the_reminder(catalogue):
    assert [id_ for id_, text in catalogue.cautions.items() if not text.endswith(catalogue.authority)] == []
    assert "manual" in catalogue.authority
    assert "local codes" in catalogue.authority
    assert "licensed practice" in catalogue.authority


def test_every_caution_is_used(catalogue):
    used = {id_ for test in catalogue.tests.values() for id_ in test.cautions}
    used |= {id_ for ids in catalogue.caution_by_vehicle.values() for id_ in ids}
    assert set(catalogue.cautions) == used


@pytest.mark.parametrize(
    ("words", "warned"),
    [
        ("Aldern Hybrid 1.8", True),
        ("an electric van", True),
        ("the electric fan runs", False),
        ("electric pump swapped", False),
        ("2.0 litre diesel", False),
        ("", False),
    ],
)
def test_high_voltage_vehicles(words, warned, catalogue):
    assert (vehicle_cautions(words, catalogue) == ("hybrid-high-voltage",)) is warned


def test_vehicle_sheet_brings_its_caution(reading, catalogue, sheet):
    vehicle = sheet("tyre.pressure: {low: 2, unit: bar, source: invented}", engine="1.8 litre hybrid")
    found = cautions_for([reading("2.2", "bar", "tyre.pressure")], catalogue, vehicle)
    assert any("Orange cables" in text for text in found)
    assert caution_texts([], catalogue) == ()
