"""Check value 11: engine speed and frequency. Source: definitions (1 rpm = 1/60 per s). P+C."""

from __future__ import annotations

import pytest

from cleansheet.judge import derived

CASES = [
    ("60 teeth, 850 rpm", derived.tooth_frequency(60, 850), 850.0),
    ("36 teeth, 3000 rpm", derived.tooth_frequency(36, 3000), 1800.0),
    ("58 pulses a turn of a 60-minus-2 wheel", derived.tooth_frequency(58, 850), 821.67),
    ("116 teeth, 1740 Hz", derived.speed_from_teeth(1740, 116), 900.0),
    ("4 cylinders, 3000 rpm", derived.firings_per_second(4, 3000), 100.0),
    ("one turn at 900 rpm", derived.turn_ms(900), 66.667),
    ("one four-stroke cycle at 900 rpm", derived.cycle_ms(900), 133.333),
    ("3.0 ms at 900 rpm", derived.injector_duty_percent(3.0, 900), 2.25),
    ("12 ms at 6000 rpm", derived.injector_duty_percent(12, 6000), 60.0),
    ("54 degrees, 4 lobes", derived.duty_percent(54, 4), 60.0),
    ("36 degrees, 6 lobes", derived.duty_percent(36, 6), 60.0),
    ("60 %, 4 lobes", derived.dwell_degrees(60, 4), 54.0),
    ("2.0 ms at 1000 rpm", derived.crank_degrees(2.0, 1000), 12.0),
]


@pytest.mark.parametrize(("what", "found", "value"), CASES, ids=[case[0] for case in CASES])
def test_rotation(what, found, value):
    assert found == pytest.approx(value, abs=0.005)


def test_a_units_library_counts_a_revolution_as_two_pi():
    """The trap of section 3: 60 rpm became 6.28 Hz there; one tooth at 60 rpm passes once a second."""
    import pint

    by_library = pint.UnitRegistry().Quantity(60, "rpm").to("Hz").magnitude
    assert by_library == pytest.approx(6.283185, rel=1e-6)
    assert derived.tooth_frequency(1, 60) == 1.0
