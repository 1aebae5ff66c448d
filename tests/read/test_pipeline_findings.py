"""Whole notes: what is seen, heard and felt, as one of the finding words, at its part and place."""

import pytest

# fmt: off
FINDINGS = [
    ("All four injectors are dry.", "dry injector.leaks @all"),
    ("Distributor cap looks fine.", "ok distributor-cap.condition"),
    ("Carbon track inside the distributor cap.", "faulty distributor-cap.condition"),
    ("Crank sensor plug has gone green.", "corroded connector.condition"),
    ("Main relay clicks.", "works main-relay.operates"),
    ("Main relay does not click.", "does_not_work main-relay.operates"),
    ("Plugs are light brown.", "ok spark-plug.condition"),
    ("Plug 2 is wet and black.", "fouled spark-plug.condition @2"),
    ("Spark is fat and blue.", "strong spark-plug.spark"),
    ("Spark is weak and yellow.", "weak spark-plug.spark"),
    ("No spark on number three.", "does_not_work spark-plug.spark @3"),
    ("Front left wheel bearing is rumbling.", "worn wheel-bearing @front-left"),
    ("Rear pads worn down to the rivets.", "worn brake-pad"),
    ("Drive belt is cracked.", "cracked drive-belt"),
    ("Fuse is blown.", "faulty fuse"),
    ("Idle valve is stuck open.", "stuck_open idle-valve"),
    ("Injector 3 reads open circuit.", "open_circuit injector.resistance @3"),
    ("Throttle body is gummed up.", "fouled throttle-body"),
    ("Injector 4 has a nice cone.", "ok injector.spray @4"),
]


@pytest.mark.parametrize(("text", "items"), FINDINGS)
def test_findings(said, text, items):
    assert said(text) == items


NEGATED = [
    ("The pump doesn't run.", "does_not_work fuel-pump.runs"),
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
]


@pytest.mark.parametrize(("text", "verdicts"), VERDICTS)
def test_a_finding_is_judged(judged, text, verdicts):
    assert judged(text) == verdicts
# fmt: on
