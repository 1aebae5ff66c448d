"""What is a limit beyond doubt, and what only looks like one; what was put on or is still to be put to."""

import pytest

# fmt: off
LIMITS = [
    ("Back pressure 3.5 psi, never more than 1.5.", "R E"), ("Earth strap 420 mV, OK up to 100.", "R E"), ("Leads five kilohms, anything up to ten will do.", "R E"),
    ("Hub end play 0.15 mm. Allowed is up to 0.05.", "R E"), ("Draw is 60 milliamps and we can live with forty.", "R E"), ("Plug drops 640 mV, I'd stand for a hundred.", "R E"),
    ("AC vents 10 C, I'd accept 8.", "R E"), ("Battery 12.2 V rested, I like to see 12.5.", "R E"), ("Pump flow 1.1 L/min, need 1.5.", "R E"), ("Battery cranking 8.1 V, should hold 9.5.", "R E"),
    ("Servo 15 inHg after five minutes, should keep seventeen.", "R - E"), ("Brake fluid boiled at 205 degrees, it only has to beat one eighty.", "R E"), ("Front discs 24.1 mm, front ones go down to 22.", "R E"),
    ("Manifold vacuum's sixteen inches, eighteen would be the least.", "R E"), ("Back pressure 4.2 psi, 2 is the most.", "R E"), ("Leak-down on two 28 percent. Twelve is my limit.", "R E"),
    ("SG one point one, and one point two two is as low as I'd go.", "R E"), ("Head's out by one thou, and three is allowed.", "R E"), ("Brake fluid four percent water and more than two is out.", "R E"),
    ("Tread one point two mil, and it's one point six by law.", "R E"), ("Compression 90 psi. Anything under 120 is no good.", "R E"),
    # stamped, rated, written
    ("Cap lets go at nought point nine bar, stamped one point one on top.", "R E"), ("Cap opens 0.9 bar, rated 1.4.", "R E"), ("Stat opens at seventy eight, says eighty seven on it.", "R E"), ("Cap popped at half a bar, it's marked nought point nine.", "R E"),
    ("Timing's at eight degrees and the plate on the engine says ten to twelve.", "R E"), ("Label inside the side panel of this bike gives 14.0 to 15.0 V, mine reads 13.7 V.", "E R"), ("The card in the box wants 0.05 to 0.08 mm.", "E"),
    ("Max is point five percent CO and two hundred HC.", "E E"), ("CO 0.3 %, HC 140 ppm. Limits on the sheet from the lane: 0.5, 200.", "R R E E"), ("Valve clearances cold, inlet 0.20 exhaust 0.30 mm by the book.", "E E"),
]


@pytest.mark.parametrize(("text", "roles"), LIMITS)
def test_what_is_a_limit(shape, text, roles):
    assert shape(text) == roles


NO_LIMITS = [
    ("Leak-down, all four come out under twelve percent.", "R"), ("Top hose never above 66 C.", "R"), ("Tightened the belt up to 10 mm.", "R"), ("Discs 24.2 mm nearside, 24.0 offside, book minimum 22.", "R R E"),
    ("Number four is scrap.", ""), ("If it reads anything over fifty millivolts I'd change it.", "-"), ("White as a sheet, gap 0.65 mm.", "R"), ("Number is stamped 4471 on the head.", "-"),
    ("Idle was 1050 rpm, should be 700 to 800, so wound the screw back, 760.", "R E R"), ("The plate was warped. Crank sensor 850 ohms.", "R"), ("The label is gone. Mine reads 13.7 V charging.", "R"),
]


@pytest.mark.parametrize(("text", "roles"), NO_LIMITS)
def test_what_is_no_limit(shape, text, roles):
    assert shape(text) == roles


ASIDE = [
    ("Servo's nineteen inches after five minutes, started from twenty.", "R - -"), ("With 12 V on the injectors all click.", "-"), ("Compressor at 7 bar.", "-"), ("Leak-down tester on 100 psi: 1 6 %, 2 7 %, 3 6 %.", "- R R R"),
    ("IAT 2.1 k, ECT 2.2 k, all at 22 C.", "R R -"), ("Coolant sensor hot at ninety it's 240 ohms.", "- R"), ("Torque the wheel nuts to 120 before it goes.", "-"), ("Torque them to 25 Nm when they go back.", "-"),
    ("Regulator 45 quid, pump 120.", "- -"), ("It'll be about two hundred and forty all in.", "-"), ("The turbo was eleven hundred pounds.", "-"), ("Tyre is a 4.00 x 18 rear.", "- -"), ("Make sure it's the low one.", "-"), ("Frayed, needs one.", "-"),
    ("Pumped the system up to one bar, and after ten minutes it's showing 0.85 bar.", "- - R"), ("A chap there had his at half a volt.", "-"),
    # and what looks like it
    ("Tyres 1.8 bar. Pumped them to 2.1 bar.", "R R"), ("Wheel nuts torqued to 160 Nm.", "R"), ("Stat started to open at 88 C.", "R"), ("Battery 12 V.", "R"), ("Coolant 88 C at the housing.", "R"),
]


@pytest.mark.parametrize(("text", "roles"), ASIDE)
def test_what_is_told_by_the_way(shape, text, roles):
    assert shape(text) == roles


ALIKE = [
    ("Tread NSF 4.4 mm, OSF 4.5, NSR 1.9, OSR 2.0.", "R R R R"), ("Earth strap 30 mV to the body, 420 to the block.", "R R"), ("Tread 6 mm on the rears, 3 on the fronts.", "R R"), ("Leak-down cyl 4 55 %, 3 9.", "R R"),
    ("Wheel nuts 160 Nm on the left, 2 bolts on the bench.", "R -"),
]


@pytest.mark.parametrize(("text", "roles"), ALIKE)
def test_what_goes_on_alike_is_alike(shape, text, roles):
    assert shape(text) == roles
# fmt: on
