"""Whole notes: numbers that are neither a reading nor a limit, and words that are no part of the catalogue."""

import pytest

# fmt: off
NEITHER = [
    "Used a 13 mm spanner on the bracket.",
    "Need a 17mm socket for that.",
    "Fitted a 10 amp fuse.",
    "The gauge goes to 10 bar.",
    "Meter on the 20 volt scale.",
    "142,000 miles on the clock.",
    "Mileage 142300.",
    "She has done 98k miles.",
    "Paid 45 quid for the pump.",
    "The pump is £45 plus VAT.",
    "A new one costs 120 euros.",
    "It's a 1992 with the two litre engine.",
    "Registered in March 2004.",
    "The battery is six years old.",
    "Customer is back at half past four.",
    "Picked up at 16:30.",
    "Back on the 12th of May.",
    "Booked in for 2026-03-14.",
    "Ring the owner on 0555 0142.",
    "Phone 555-0142 when done.",
    "Took two hours.",
    "Let it sit for twenty minutes.",
    "Job number 4471.",
    "Bay 3 is free.",
    "Two bolts missing.",
    "Replaced all four plugs.",
    "Ordered 2 injectors.",
    "Undid the 5 screws on the cover.",
    "Engine is a 2.0 litre.",
    "If it's under 1 bar it's the check valve.",
    "If the coil is over 10 kilohms it's had it.",
    "The last shop got 2.1 bar fuel pressure.",
    "Previous garage measured 90 psi compression on number two.",
    "Customer says it showed 14.9 volts last week.",
    "Last year it had 148 psi on cylinder two.",
    "No numbers here at all.",
    "He told me the battery was 11.8 volts.",
    "His mate measured 12.1 volts at the battery.",
]


@pytest.mark.parametrize("text", NEITHER)
def test_numbers_that_are_neither(drafted, text):
    assert [item.quantity for item in drafted(text) if item.quantity is not None and item.kind == "reading"] == []


BESIDE = [
    ("The gauge goes to 10 bar. Static fuel pressure 2.9 bar, engine off.", "2.9 bar fuel-rail.static-pressure"),
    ("142,000 miles. Battery 12.6 volts rested.", "12.6 V battery.open-circuit-voltage"),
    ("Last shop got 2.1 bar. I get 2.9 bar static fuel pressure.", "2.9 bar fuel-rail.static-pressure"),
    ("13 mm spanner for the bracket, then crank sensor 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("With the meter on the 2k range the crank sensor reads 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Crank sensor is 850 ohms, the new one costs 38 quid.", "850 Ohm crank-sensor.resistance"),
    ("After twenty minutes the battery is 12.5 volts.", "12.5 V battery.open-circuit-voltage"),
    ("At 11 o'clock the battery was 12.5 volts.", "12.5 V battery.open-circuit-voltage"),
    ("Owner says 11.8 volts, I measured 12.6 volts at the battery.", "12.6 V battery.open-circuit-voltage"),
    ("If it was under 1 bar I'd blame the pump but it's 2.9 bar static, engine off.", "2.9 bar fuel-rail.static-pressure"),
]


@pytest.mark.parametrize(("text", "items"), BESIDE)
def test_beside_a_reading(said, text, items):
    assert said(text) == items


LOOK_ALIKES = [
    # not in the vocabulary: the number stays, without a test; a wrong match is worse than none
    ("Rectifier 0.55 V across each diode.", "0.55 V -"),
    ("Horn draws 6 amps.", "6 A -"),
    ("Glow plug 0.8 ohms.", "0.8 Ohm -"),
    ("Gearbox oil is 1.9 litres low.", "faulty -"),
    ("Plug cap 5 kilohms.", "5 kOhm -"),
    ("Voltage regulator puts out 14.2 volts.", "14.2 V -"),
    ("Drive chain slack 30 mm.", "30 mm -"),
    ("Wiper motor pulls 4 amps.", "4 A -"),
    ("Fork oil level 110 mm.", "110 mm -"),
]


@pytest.mark.parametrize(("text", "items"), LOOK_ALIKES)
def test_look_alikes_stay_without_a_test(said, text, items):
    assert said(text) == items


NO_PART = ["plug cap", "wheel cylinder", "master cylinder", "track rod end", "voltage regulator", "drive chain", "caliper", "rectifier"]


@pytest.mark.parametrize("name", NO_PART)
@pytest.mark.parametrize("form", ["The {} is cracked.", "Offside {} leaking.", "Replaced the {}."])
def test_parts_outside_the_catalogue_have_no_component(drafted, form, name):
    assert {item.component for item in drafted(form.format(name)) if item.kind in {"reading", "action"}} <= {None}
# fmt: on
