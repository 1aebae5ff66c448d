"""Which test a number belongs to, or none."""

import pytest

# fmt: off
BY_PART_AND_UNIT = [
    (850, "Ohm", "crank-sensor", "crank-sensor.resistance"), (0.9, "mm", "crank-sensor", "crank-sensor.gap"), (1.2, "V", "crank-sensor", "crank-sensor.signal"),
    (0.7, "Ohm", "ignition-coil", "ignition-coil.primary-resistance"), (8.1, "kOhm", "ignition-coil", "ignition-coil.secondary-resistance"), (8100, "Ohm", "ignition-coil", "ignition-coil.secondary-resistance"),
    (15.2, "Ohm", "injector", "injector.resistance"), (188, "mL/min", "injector", "injector.flow"), (2.4, "ms", "injector", "injector.pulse-width"),
    (12.6, "V", "battery", "battery.open-circuit-voltage"), (40, "mA", "battery", "battery.parasitic-draw"), (14.2, "V", "alternator", "alternator.charging-voltage"),
    (65, "A", "alternator", "alternator.output-current"), (140, "A", "starter-motor", "starter-motor.current"), (148, "[psi]", "cylinder", "cylinder.compression"),
    (12.4, "bar", "cylinder", "cylinder.compression"), (38, "%", "cylinder", "cylinder.leak-down"), (0.8, "mm", "spark-plug", "spark-plug.gap"), (35, "[mil_i]", "spark-plug", "spark-plug.gap"),
    (22.1, "mm", "brake-disc", "brake-disc.thickness"), (0.05, "mm", "brake-disc", "brake-disc.runout"), (32, "[psi]", "tyre", "tyre.pressure"), (4, "mm", "tyre", "tyre.tread-depth"),
    (160, "N.m", "wheel-nut", "wheel-nut.torque"), (118, "[ft_i].[lbf_av]", "wheel-nut", "wheel-nut.torque"), (850, "{rev}/min", "engine", "engine.idle-speed"),
    (54, "deg", "contact-breaker", "contact-breaker.dwell"), (0.4, "mm", "contact-breaker", "contact-breaker.gap"), (18, "[in_i'Hg]", "intake-manifold", "intake-manifold.vacuum"),
]


@pytest.mark.parametrize(("value", "unit", "part", "test"), BY_PART_AND_UNIT)
def test_part_and_unit_give_the_test(matched, make, value, unit, part, test):
    (item,) = matched(make(value, unit, part))
    assert (item.component, item.test) == (part, test)
    assert any(line.startswith("test ") for line in item.why)


NOTHING_FITS = [
    (850, "Ohm", "tyre"), (12.6, "V", "tyre"), (160, "N.m", "battery"), (3.9, "bar", "spark-plug"), (14, "deg", "battery"), (7, "A", "brake-disc"), (5, "kOhm", None),
    (11.2, "V", None), (3.1, "bar", None), (30, "mm", None), (9, "kg", "battery"), (42, "km/h", "engine"),
]


BY_SIZE = [
    (9.8, "bar", "cylinder.compression"), (150, "[psi]", "cylinder.compression"), (14.2, "V", "alternator.charging-voltage"), (1.6, "L/min", "fuel-pump.flow"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "unit", "test"), BY_SIZE)
def test_a_number_that_tells_its_test_by_its_size(matched, make, value, unit, test):
    (item,) = matched(make(value, unit))
    assert item.test == test


@pytest.mark.parametrize(("value", "unit", "position", "test"), [
    (32, "[psi]", "front-left", "tyre.pressure"), (2.2, "bar", "rear-right", "tyre.pressure"),
    (150, "[psi]", "front-left", "cylinder.compression"), (3.1, "bar", "2", None), (12.1, "bar", "rear-left", "cylinder.compression"),
])  # fmt: skip
def test_a_pressure_at_a_corner_is_a_tyres(matched, make, value, unit, position, test):
    (item,) = matched(make(value, unit, position=position))
    assert item.test == test


@pytest.mark.parametrize(("value", "unit", "part"), NOTHING_FITS)
def test_where_nothing_fits_there_is_no_test(matched, make, value, unit, part):
    (item,) = matched(make(value, unit, part))
    assert item.test is None


BARE = [(0.7, "ignition-coil", "ignition-coil.primary-resistance", "Ohm"), (850, "crank-sensor", "crank-sensor.resistance", "Ohm"), (14.2, "alternator", "alternator.charging-voltage", "V")]


@pytest.mark.parametrize(("value", "part", "test", "unit"), BARE)
def test_a_bare_number_takes_the_tests_unit_and_says_so(matched, make, value, part, test, unit):
    (item,) = matched(make(value, None, part))
    assert (item.test, item.quantity.unit) == (test, unit)
    assert item.flags == ("unit_assumed",)


@pytest.mark.parametrize(("value", "part"), [(1992, None), (4471, None), (2, None), (45, "water-pump")])
def test_a_bare_number_that_no_test_wants_is_left_out(matched, make, value, part):
    assert matched(make(value, None, *([part] if part else []))) == ()


TEXTS = [
    # words beside the number tell one test of a part from another
    ("Battery 12.6 volts at rest.", "battery.open-circuit-voltage"), ("Battery 9.8 volts cranking.", "battery.cranking-voltage"), ("Static fuel pressure 2.9 bar, engine off.", "fuel-rail.static-pressure"),
    ("Fuel pressure at idle 2.4 bar.", "fuel-rail.running-pressure"), ("Fuel pressure held 2.2 bar after ten minutes.", "fuel-rail.hold-pressure"), ("AC high side 14 bar.", "air-conditioning.high-side-pressure"),
    ("AC low side 2 bar.", "air-conditioning.low-side-pressure"), ("Coil primary 0.7 ohms.", "ignition-coil.primary-resistance"), ("Coil secondary 8.1 kilohms.", "ignition-coil.secondary-resistance"),
    ("Rail pressure 2.9 bar with the pump jumpered.", "fuel-rail.static-pressure"), ("Wheel alignment camber -0.5 degrees.", "wheel-alignment.camber"), ("Coil supply 11.8 volts.", "ignition-coil.supply-voltage"),
    ("Earth strap drop 40 mV.", "ground-strap.voltage-drop"), ("Connector drop 12 mV.", "connector.voltage-drop"),
]


@pytest.mark.parametrize(("text", "test"), TEXTS)
def test_words_tell_the_tests_of_a_part_apart(tied, text, test):
    (item,) = [item for item in tied(text) if item.quantity is not None]
    assert item.test == test


FINDINGS = [
    ("leaking", "injector", "injector.leaks"), ("dry", "injector", "injector.leaks"), ("dry", "fuel-rail", "fuel-rail.leaks"), ("works", "main-relay", "main-relay.operates"),
    ("does_not_work", "fuel-pump", "fuel-pump.runs"), ("strong", "spark-plug", "spark-plug.spark"), ("weak", "spark-plug", "spark-plug.spark"), ("fouled", "spark-plug", "spark-plug.condition"),
    ("corroded", "connector", "connector.condition"), ("cracked", "distributor-cap", "distributor-cap.condition"), ("ok", "fuse", "fuse.continuity"), ("rises", "fuel-pressure-regulator", "fuel-pressure-regulator.vacuum-response"),
    ("cracked", "tyre", None), ("worn", "clutch", None), ("leaking", "water-pump", None), ("dry", None, None), ("faulty", None, None),
]


@pytest.mark.parametrize(("finding", "part", "test"), FINDINGS)
def test_a_finding_goes_to_the_parts_own_test(matched, make, finding, part, test):
    (item,) = matched(make(None, None, *([part] if part else []), finding=finding))
    assert (item.component, item.test) == (part, test)
# fmt: on


def test_runners_up_are_kept_with_reasons_and_worse_than_the_choice(tied):
    (item,) = tied("Fuel pressure 2.5 bar.")
    assert item.runners_up
    assert all(other.score <= 0 for other in item.runners_up)
    assert all(other.test != item.test or other.component != item.component for other in item.runners_up)


def test_two_tests_that_fit_as_well_are_flagged_and_one_that_fits_is_not(tied):
    (open_,) = tied("The last shop was wrong. I get 2.6 bar at the fuel rail.")
    (said,) = tied("Static fuel pressure 2.6 bar, engine off.")
    assert "two_tests_fit" not in said.flags
    assert open_.test in {"fuel-rail.static-pressure", "fuel-rail.running-pressure"}


def test_a_list_goes_where_its_first_member_went(matched, make):
    items = matched(
        *(
            make(value, unit, "cylinder", group=1, at=at)
            for at, (value, unit) in enumerate([(150, "[psi]"), (148, None), (152, None)])
        )
    )
    assert [item.test for item in items] == ["cylinder.compression"] * 3
    assert [item.quantity.unit for item in items] == ["[psi]"] * 3
    assert [item.position for item in items] == ["1", "2", "3"]
    assert not any("unit_assumed" in item.flags for item in items)


def test_two_units_that_do_not_agree_are_flagged(matched, make):
    from cleansheet.terms import Quantity

    fine, wrong = (Quantity(value, value - 0.5, value + 0.5, "[psi]") for value in (36, 60))
    (good,) = matched(make(2.5, "bar", "fuel-rail", second=fine))
    (bad,) = matched(make(2.5, "bar", "fuel-rail", second=wrong))
    assert "units_disagree" not in good.flags
    assert "units_disagree" in bad.flags


@pytest.mark.parametrize("kind", ["symptom", "action", "suspect", "cleared", "question", "todo", "marking"])
def test_a_remark_passes_through_with_its_part(matched, make, kind):
    (item,) = matched(make(None, None, "fuel-pump", kind=kind))
    assert (item.kind, item.component, item.test) == (kind, "fuel-pump", None)


def test_nothing_comes_of_nothing(matched):
    assert matched() == ()


def test_matching_again_gives_the_same(tied):
    text = "Battery 12.6 rested, 9.8 cranking. Coil primary 0.7 ohms, secondary 8.1k. Compression 150, 148, 152, 120."
    assert tied(text) == tied(text)
