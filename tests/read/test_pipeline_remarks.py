"""Whole notes: symptoms, deeds, suspects, parts ruled out, questions, next steps and codes, each at its shortest clause."""

import pytest

# fmt: off
REMARKS = [
    # deeds
    ("Replaced the crank sensor.", "action: Replaced the crank sensor"),
    ("Fitted a new fuel filter.", "action: Fitted a new fuel filter"),
    ("Cleaned the earth strap.", "action: Cleaned the earth strap"),
    ("Adjusted the points.", "action: Adjusted the points"),
    ("Removed the inlet manifold.", "action: Removed the inlet manifold"),
    ("I swapped the coil.", "action: swapped the coil"),
    ("Unplugged the air flow meter.", "action: Unplugged the air flow meter"),
    ("New plugs fitted.", "action: New plugs fitted"),
    ("Replaced the plugs and cleaned the throttle body.", "action: Replaced the plugs; action: cleaned the throttle body"),
    # symptoms
    ("Won't start when hot.", "symptom: Won't start when hot"),
    ("Customer says it cuts out at junctions.", "symptom: Customer says it cuts out at junctions"),
    ("It stalls when hot.", "symptom: It stalls when hot"),
    ("Misfires under load.", "symptom: Misfires under load"),
    ("Hard to start in the morning.", "symptom: Hard to start in the morning"),
    ("Pulls to the left under braking.", "symptom: Pulls to the left under braking"),
    ("Overheats in traffic.", "symptom: Overheats in traffic"),
    ("Hunting at idle.", "symptom: Hunting at idle"),
    ("Engine light comes on.", "symptom: Engine light comes on"),
    # suspects
    ("I suspect the crank sensor.", "suspect: suspect the crank sensor"),
    ("Probably the coil.", "suspect: Probably the coil"),
    ("I reckon it's the fuel pump.", "suspect: reckon it's the fuel pump"),
    ("Could be the idle valve.", "suspect: Could be the idle valve"),
    ("My money is on the coolant sensor.", "suspect: My money is on the coolant sensor"),
    # ruled out
    ("So it's not the coil.", "cleared: it's not the coil"),
    ("That rules out the fuel pump.", "cleared: That rules out the fuel pump"),
    ("Not the injectors then.", "cleared: Not the injectors"),
    ("Crank sensor is in the clear.", "cleared: Crank sensor is in the clear"),
    ("Nothing wrong with the battery.", "cleared: Nothing wrong with the battery"),
    # questions
    ("Why does it only do it hot?", "question: Why does it only do it hot?"),
    ("What is draining the battery?", "question: What is draining the battery?"),
    ("Don't know why the pump keeps running.", "question: Don't know why the pump keeps running"),
    ("No idea where the water goes.", "question: No idea where the water goes"),
    ("Is the gauge right?", "question: Is the gauge right?"),
    # next steps
    ("Order a crank sensor.", "todo: Order a crank sensor"),
    ("Check the fuel pump next.", "todo: Check the fuel pump next"),
    ("Need to check the earth strap.", "todo: Need to check the earth strap"),
    ("Fit new pads tomorrow.", "todo: Fit new pads tomorrow"),
    ("Next test the pump relay.", "todo: Next test the pump relay"),
    ("Order a coil and a set of leads.", "todo: Order a coil; todo: a set of leads"),
    # codes
    ("Number on it is KS-2207-4.", "marking: KS-2207-4"),
    ("Part number 4RD-118.", "marking: 4RD-118"),
    ("Stamped T4-88120.", "marking: T4-88120"),
    ("Date code 2304.", "marking: 2304"),
    ("Serial number AB12345.", "marking: AB12345"),
    ("The old coil is marked BX44-119.", "marking: BX44-119"),
]


@pytest.mark.parametrize(("text", "remarks"), REMARKS)
def test_remarks(remarked, text, remarks):
    assert remarked(text) == remarks


KIND_ONLY = [
    ("Replaced the crank sensor.", "action", "crank-sensor"),
    ("Cleaned the earth strap.", "action", "ground-strap"),
    ("Fitted new front pads.", "action", "brake-pad"),
    ("Swapped injector 3.", "action", "injector"),
    ("I suspect the crank sensor.", "suspect", "crank-sensor"),
    ("Probably the coil.", "suspect", "ignition-coil"),
    ("So it's not the coil.", "cleared", "ignition-coil"),
    ("That rules out the fuel pump.", "cleared", "fuel-pump"),
    ("Order a crank sensor.", "todo", "crank-sensor"),
    ("Check the fuel pump next.", "todo", "fuel-pump"),
    ("Replaced the wheel cylinder.", "action", None),
    ("Order a plug cap.", "todo", None),
]


@pytest.mark.parametrize(("text", "kind", "component"), KIND_ONLY)
def test_what_a_remark_is_of(drafted, text, kind, component):
    (item,) = [item for item in drafted(text) if item.kind != "reading"]
    assert (item.kind, item.component) == (kind, component)


# what a note opens with, what is joined to it, and sentences that only name a part; a remark's kind and quote, or none
PLACED = [
    ("Tolver estate, cranks but no spark. Battery 12.5 V. Coil feed 12.2 V.", "symptom: no spark"),
    ("Camper, rev counter doesn't move. Crank sensor 650 ohms. Gap 0.9 mm.", "symptom: rev counter doesn't move"),
    ("Marrick, the dash is dead. Battery 12.4 V. Main fuse 0.1 ohm.", "symptom: the dash is dead"),
    ("Coil feed 12.2 V. Points 0.4 mm. No spark on 2.", ""),
    ("Turns over slow and clicks. Battery 11.9 V. Earth 40 mV.", "symptom: Turns over slow; symptom: clicks"),
    ("Idle hot 910 rpm, hunts a bit. Idle valve 9 ohm. Throttle switch closes.", "symptom: hunts a bit"),
    ("Pump draws 5 A and it hunts. Fuel 2.5 bar. Relay clicks.", "symptom: it hunts"),
    ("CTS 9.8k at 20, book 2.2-2.8k. Rail 2.7 bar. Coolant sensor. Fitted a new one.", "suspect: Coolant sensor; action: Fitted a new one"),
    ("Crank sensor 0 ohm. Gap 0.9 mm. Crank sensor.", "suspect: Crank sensor"),
    ("Stat opens 95 C. Cap lifts at 0.6 bar. So stat and cap.", "suspect: stat; suspect: cap"),
    ("Rail 2.0 bar. Delivery 0.8 L/min. Then gas test.", "todo: gas test"),
    ("Coolant sensor. 2.3k at 20.", ""),
    ("Front disc 16.2 mm, pads 2 mm. Runout 0.1 mm. Pads.", "todo: Pads"),
    ("Belt 9 mm. Order a belt. Pump.", "todo: Order a belt; todo: Pump"),
    ("Boost 0.7 bar. Maybe the wastegate isn't closing.", "suspect: Maybe the wastegate isn't closing"),
    ("What melted the cat, that's what I'd like to know.", "question: that's what I'd like to know"),
    ("I'd like to know why the pump failed.", "question: I'd like to know why the pump failed"),
    ("The rail is at 2.5 bar and I'd like to keep it.", ""),
    ("The new lad starts on the first. Tell her the week after next.", ""),
    ("Swept the yard. Get the man to come before the weekend.", ""),
]


@pytest.mark.parametrize(("text", "remarks"), PLACED)
def test_remarks_by_their_place(remarked, text, remarks):
    kinds = ("symptom", "suspect", "todo", "question", "action")
    assert [one for one in remarked(text).split("; ") if one.startswith(kinds)] == [one for one in remarks.split("; ") if one]


NEGATIVES = [
    ("Didn't replace the crank sensor.", "action"),
    ("Not replaced yet.", "action"),
    ("The pump has never been replaced.", "action"),
    ("The last shop replaced the coil.", "action"),
    ("Crank sensor 850 ohms.", "action"),
    ("The coil is new.", "suspect"),
    ("Coil primary 0.7 ohms.", "suspect"),
    ("It's the coil that reads 0.7 ohms.", "cleared"),
    ("Not measured yet.", "cleared"),
    ("What a day.", "question"),
    ("Check valve holds.", "todo"),
    ("Ordered the coil already.", "todo"),
    ("Runs fine.", "symptom"),
    ("Tyre is a 215/70 R15.", "marking"),
    ("Gap 0.8-0.9.", "marking"),
    ("Oil is 15W-40.", "marking"),
    ("Fluid is DOT4.", "marking"),
    ("Compression 150/148/152/120.", "marking"),
    ("Ring 0555 0142.", "marking"),
    ("Dated tyres all round.", "marking"),
]


@pytest.mark.parametrize(("text", "kind"), NEGATIVES)
def test_what_is_no_such_remark(drafted, text, kind):
    assert kind not in {item.kind for item in drafted(text)}
# fmt: on
