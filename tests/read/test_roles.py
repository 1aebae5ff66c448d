"""What each number of a text is there for."""

import pytest

# fmt: off
ROLES = [
    ("Crank sensor 850 ohms, book says 480 to 1000.", "R E"),
    ("Coil primary 0.7 ohms, should be 0.5 to 0.9 ohms.", "R E"),
    ("Looking for 2.8 to 3.2 bar, got 2.9 bar static.", "E R"),
    ("Front left disc 22.1 mm, minimum 20 mm.", "R E"),
    ("Runout 0.05 mm, max 0.10.", "R E"),
    ("The last shop got 2.1 bar, I get 2.9 bar static fuel pressure.", "- R"),
    ("Gauge goes to 10 bar, static fuel pressure 2.9 bar.", "- R"),
    ("Used a 13 mm spanner.", "-"),
    ("142,000 miles on it.", "-"),
    ("Paid £45 for the pump.", "-"),
    ("Back at 16:30.", "-"),
    ("If it's under 1 bar it's the check valve.", "-"),
    ("Fuel pressure at idle 2.1 bar, no, make that 2.3 bar.", "- R"),
    ("Oil pressure 3.9 bar at 3000 rpm.", "R -"),
    ("Fuel pressure held at 2.2 bar after ten minutes.", "R -"),
    ("Coolant temp sensor 2.5 kilohms at 20 C.", "R -"),
    ("Compression 150, 148, 152, 120 psi.", "R R R R"),
    ("Fitted a 10 amp fuse.", "-"),
    ("Battery 12.6 V rested, 9.8 V cranking.", "R R"),
    ("New 15A fuse in and a fresh 20 A.", "- -"), ("Cut 10 mm off the end.", "-"), ("Pilot screw 1.5 turns out.", "-"), ("Turned the engine half a turn.", "-"), ("The balancer weighs 120 kg.", "-"), ("Six feet of cable.", "-"),
    ("Coolant sensor, twenty degrees, two and a half K.", "- R"), ("Charging, three thousand revs fourteen point one.", "- R"), ("Charging 3000, 14.1 volts.", "- R"),
    ("He says 0.05 mm is the most you'd want.", "E"), ("He says the last one had 0.05 mm.", "-"),
    ("Charging 14.2 volts, we want 13.8 to 14.6.", "R E"),
    ("Wheel nuts torqued to 160 Nm.", "R"),
    ("CO 3.9 %, HC 420 ppm, limits 3.5 and 1200.", "R R E E"), ("Point two ohms or less, that's the rule.", "E"), ("He charged him 180 for it.", "-"), ("Servo 18 inHg applied, fell to 17.5.", "- R"),
    ("He's done three track days, a hundred and ninety pounds a go.", "- -"), ("Order a pump with the valve in it, about 95.", "-"), ("It's on 131k now.", "-"), ("Relay clicks, fuse 20 A ok.", "-"),
    ("Spliced in 20 cm of new wire.", "-"), ("Nitrogen in, lost 3 bar in half an hour.", "- -"), ("Unplugged it and the revs dropped two hundred.", "-"), ("Still slips at 40 hp.", "-"),
    ("Runout OSF 0.17 mm. Cleaned the hub, went from 0.17 to 0.07.", "R - R"), ("Main relay drops 0.9 volts.", "R"), ("Starter draws 180 A.", "R"), ("Secondary at 25k.", "R"), ("Chain has 20 mm of slack.", "R"),
    ("Compression came up from 98 to 140 psi.", "R R"), ("Cap rated 0.9 bar.", "-"), ("Old plug stamped GP-66 12V.", "-"), ("Battery 12 V.", "R"),
]


@pytest.mark.parametrize(("text", "roles"), ROLES)
def test_roles(shape, text, roles):
    assert shape(text) == roles


def test_every_role_has_its_reason(found):
    for text, _ in ROLES:
        for choice in found(text).roles:
            assert choice.label in {"reading", "expected", "neither"}
            assert 0 < choice.probability <= 1
# fmt: on
