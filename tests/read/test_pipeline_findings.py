"""Whole notes: what is seen, heard and felt, as one of the finding words, at its part and place."""

import pytest

# fmt: off
FINDINGS = [
    ("Distributor cap is cracked, split right through.", "cracked distributor-cap.condition"),
    ("Injector 2 is leaking.", "leaking injector.leaks @2"),
    ("All four injectors are dry.", "dry injector.leaks @all"),
    ("No leaks at the fuel rail.", "dry fuel-rail.leaks"),
    ("The fuel rail is weeping.", "leaking fuel-rail.leaks"),
    ("Vacuum hose is split.", "cracked vacuum-hose"),
    ("Vacuum hose hissing.", "leaking vacuum-hose.leaks"),
    ("Distributor cap is cracked.", "cracked distributor-cap.condition"),
    ("Distributor cap looks fine.", "ok distributor-cap.condition"),
    ("Carbon track inside the distributor cap.", "faulty distributor-cap.condition"),
    ("Crank sensor plug has gone green.", "corroded connector.condition"),
    ("Connector is clean.", "ok connector.condition"),
    ("Connector pins are corroded.", "corroded connector.condition"),
    ("Earth strap is corroded.", "corroded ground-strap"),
    ("Earth strap is loose.", "loose ground-strap"),
    ("Main relay clicks.", "works main-relay.operates"),
    ("Main relay does not click.", "does_not_work main-relay.operates"),
    ("Fuel pump runs.", "works fuel-pump.runs"),
    ("Fuel pump is not running.", "does_not_work fuel-pump.runs"),
    ("Fuel pump is dead.", "does_not_work fuel-pump.runs"),
    ("Fuel pump relay works.", "works fuel-pump-relay.operates"),
    ("Spark plug 3 is fouled.", "fouled spark-plug.condition @3"),
    ("Plugs are light brown.", "ok spark-plug.condition"),
    ("Plug 2 is wet and black.", "fouled spark-plug.condition @2"),
    ("Spark is fat and blue.", "strong spark-plug.spark"),
    ("Spark is weak and yellow.", "weak spark-plug.spark"),
    ("No spark on number three.", "does_not_work spark-plug.spark @3"),
    ("Front left wheel bearing is rumbling.", "worn wheel-bearing @front-left"),
    ("Rear pads worn down to the rivets.", "worn brake-pad"),
    ("Drive belt is cracked.", "cracked drive-belt"),
    ("Drive belt is slack.", "loose drive-belt"),
    ("Coil secondary 8.8 k on one, 9.1 k on two, nothing at all on three.", "8.8 kOhm ignition-coil.secondary-resistance @1; 9.1 kOhm ignition-coil.secondary-resistance @2; open_circuit ignition-coil.secondary-resistance @3"),
    ("Injector 3: OL.", "open_circuit injector.resistance @3"),
    ("Fuse is good.", "ok fuse.continuity"),
    ("Fuse is blown.", "open_circuit fuse.continuity"),
    ("Fuel filter is clean.", "ok fuel-filter.condition"),
    ("Idle valve is stuck open.", "stuck_open idle-valve"),
    ("Injector 3 reads open circuit.", "open_circuit injector.resistance @3"),
    ("Throttle body is gummed up.", "fouled throttle-body"),
    ("Injector 4 has a nice cone.", "ok injector.spray @4"),
    ("Cold start valve is dry.", "dry cold-start-valve.leaks"),
    ("Radiator fan does not run.", "does_not_work radiator-fan"),
]


@pytest.mark.parametrize(("text", "items"), FINDINGS)
def test_findings(said, text, items):
    assert said(text) == items


NEGATED = [
    ("Injector 2 is not leaking.", "dry injector.leaks @2"),
    ("No leaks on the rail.", "dry fuel-rail.leaks"),
    ("No cracks in the distributor cap.", "ok distributor-cap.condition"),
    ("Distributor cap isn't cracked.", "ok distributor-cap.condition"),
    ("No corrosion on the connector.", "ok connector.condition"),
    ("The pump doesn't run.", "does_not_work fuel-pump.runs"),
    ("Earth strap is not tight.", "loose ground-strap"),
    ("No play in the front left wheel bearing.", "ok wheel-bearing.end-play @front-left"),
]


@pytest.mark.parametrize(("text", "items"), NEGATED)
def test_negated_findings(said, text, items):
    assert said(text) == items


NO_FINDING = [
    "Pulled the fuel pump relay.",
    "Fine, see you tomorrow.",
    "Good morning, on to the next one.",
    "OK.",
    "Right, next job.",
    "Replaced the leaking injector.",
    "Cleaned the corroded connector.",
    "Fitted a new belt.",
    "Order a dry joint kit.",
    "Check the injectors for leaks.",
    "Is the rail leaking?",
    "Look for cracks in the cap tomorrow.",
    "Customer says the fuel pump is dead.",
    "If the hose is split, order one.",
]


@pytest.mark.parametrize("text", NO_FINDING)
def test_what_is_no_finding(said, text):
    assert said(text) == ""


VERDICTS = [
    ("All four injectors are dry.", "in_spec"), ("Injector 2 is leaking.", "out_of_spec"), ("Main relay clicks.", "in_spec"),
    ("Main relay does not click.", "out_of_spec"), ("Distributor cap is cracked.", "out_of_spec"), ("Distributor cap looks fine.", "in_spec"),
    ("Spark is fat and blue.", "in_spec"), ("Spark is weak and yellow.", "out_of_spec"), ("Fuse is good.", "in_spec"),
    ("Connector pins are corroded.", "out_of_spec"), ("No leaks at the fuel rail.", "in_spec"), ("Fuel pump is not running.", "out_of_spec"),
]


@pytest.mark.parametrize(("text", "verdicts"), VERDICTS)
def test_a_finding_is_judged(judged, text, verdicts):
    assert judged(text) == verdicts
# fmt: on
