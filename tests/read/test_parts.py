"""Which parts a note names."""

import pytest

from cleansheet.read.parts import find_parts
from cleansheet.read.words import words


@pytest.fixture
def shape(names):
    """The parts of a text as "words = component", joined by "; "."""

    def run(text):
        toks = words(text)
        return "; ".join(
            f"{text[toks[part.first].start : toks[part.last - 1].end]} = {part.id or '-'}"
            for part in find_parts(toks, names)
        )

    return run


# fmt: off
NAMED = [
    ("Crank sensor is fine", "Crank sensor = crank-sensor"),
    ("crankshaft sensor", "crankshaft sensor = crank-sensor"),
    ("CKP reads 850", "CKP = crank-sensor"),
    ("the TPS", "TPS = throttle-position-sensor"),
    ("injectors out", "injectors = injector"),
    ("fuel pump and filter", "fuel pump = fuel-pump; filter = fuel-filter"),
    ("coil pack", "coil pack = ignition-coil"),
    ("alternator belt", "alternator belt = drive-belt"),
    ("lambda sensor", "lambda sensor = oxygen-sensor"),
    ("O2 sensor", "O2 sensor = oxygen-sensor"),
    ("spark plugs", "spark plugs = spark-plug"),
    ("plugs", "plugs = spark-plug"),
    ("points", "points = contact-breaker"),
    ("earth strap", "earth strap = ground-strap"),
    ("ground strap", "ground strap = ground-strap"),
    ("servo", "servo = brake-booster"),
    ("dizzy cap", "dizzy cap = distributor-cap"),
    ("HT lead", "HT lead = ignition-lead"),
    ("battery's flat", "battery's = battery"),
    ("ECU supply", "ECU = engine-control-unit"),
    ("MAF", "MAF = air-flow-meter"),
    ("wheel bearings", "wheel bearings = wheel-bearing"),
    ("brake discs", "brake discs = brake-disc"),
    ("batteries", "batteries = battery"),
    ("rad cap", "rad cap = radiator-cap"),
    ("stat", "stat = thermostat"),
    ("fuel rail", "fuel rail = fuel-rail"),
]


@pytest.mark.parametrize(("text", "parts"), NAMED)
def test_names_synonyms_abbreviations_plurals(shape, text, parts):
    assert shape(text) == parts


OTHERS = [
    ("plug cap", "plug cap = -"), ("wheel cylinder", "wheel cylinder = -"), ("master cylinder", "master cylinder = -"), ("drive chain", "drive chain = -"),
    ("voltage regulator", "voltage regulator = -"), ("track rod end", "track rod end = -"), ("distributor cap", "distributor cap = distributor-cap"),
    ("radiator cap", "radiator cap = radiator-cap"), ("front caliper", "caliper = -"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "parts"), OTHERS)
def test_look_alikes(shape, text, parts):
    assert shape(text) == parts


NEAR = [
    ("injecter 3", "injecter = injector"), ("alternater", "alternater = alternator"), ("battary", "battary = battery"), ("thermostst", "thermostst = thermostat"),
    ("crank sensr", "crank sensr = crank-sensor"), ("distributer cap", "distributer cap = distributor-cap"), ("carburetor", "carburetor = carburettor"),
    ("crank censor", "crank censor = crank-sensor"), ("cam censor", "cam censor = cam-sensor"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "parts"), NEAR)
def test_misspelt_and_misheard(shape, text, parts):
    assert shape(text) == parts


NOT_NEAR = ["value", "values", "better", "pressed", "sense", "senator", "collect", "invented", "battle", "injured", "throttled", "fuelled", "regular", "relays on him to do it"[7:]]


@pytest.mark.parametrize("text", NOT_NEAR)
def test_a_word_of_its_own_is_no_misspelling(shape, text):
    assert shape(text) == ""


NO_PARTS = [
    "throttle wide open", "full throttle", "won't crank over", "cranked it over", "14 volts AC ripple"[:11], "return visit", "some points of order"[:10],
    "points to that", "everything points at it", "the marks line up", "ten minutes after switch-off", "left them under pressure", "16 mm socket", "oil soaked all over", "no tracking inside", "read it on the meter", "the spare", "a meaty shaft",
    "no idea", "hot and cold", "it will lead to trouble", "12.6 volts", "",
]  # fmt: skip


@pytest.mark.parametrize("text", NO_PARTS)
def test_words_that_are_no_part_here(shape, text):
    assert shape(text) == ""


PLUGGED = [
    ("spark plug", "spark-plug", None), ("crank sensor", "crank-sensor", None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "component", "plugged"), PLUGGED)
def test_a_parts_plug_is_a_connector_of_that_part(names, text, component, plugged):
    (part,) = find_parts(words(text), names)
    assert (part.id, part.plugged) == (component, plugged)


SHARED = [
    ("The crank sensor is old. The sensor reads 850.", "crank-sensor"),
    ("The coolant temp sensor is old. That sensor reads 850.", "coolant-temp-sensor"),
    ("The oxygen sensor is old. The sensor reads low.", "oxygen-sensor"),
    ("The radiator is fine. The cap leaks.", "radiator-cap"),
    ("The distributor is fine. The cap is cracked.", "distributor-cap"),
    ("The timing belt is new. The belt is tight.", "timing-belt"),
    ("The water pump leaks. The pump is old.", "water-pump"),
    ("The pump is old.", "fuel-pump"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "component"), SHARED)
def test_a_shared_name_is_the_part_talked_of(names, text, component):
    assert find_parts(words(text), names)[-1].id == component
COMPOUNDS = [
    # a part outside the catalogue, whatever its last word is by itself
    ("the kill switch", "kill switch = -"), ("park neutral switch", "neutral switch = -"), ("step light door switch", "door switch = -"),
    ("input bearing rough", "input bearing = -"), ("wiper motor", "wiper motor = -"), ("washer pump", "washer pump = -"), ("drain plug", "drain plug = -"),
    ("egr valve", "egr valve = -"), ("breather hose", "breather hose = -"), ("hub seal", "hub seal = -"), ("wheel speed sensors", "wheel speed sensors = -"),
    # a part of the catalogue by what it is put together of
    ("clutch springs", "clutch springs = clutch"), ("driven plate", "driven plate = clutch"), ("starter brushes", "starter brushes = starter-motor"), ("wiper relay", "wiper relay = relay"),
    ("horn fuse", "horn fuse = fuse"), ("turbo shaft", "turbo shaft = turbocharger"), ("pick-up coil", "pick-up coil = distributor"), ("servo hose", "servo hose = vacuum-hose"),
    ("brake servo hose", "brake servo hose = vacuum-hose"), ("MAP pipe", "MAP pipe = vacuum-hose"), ("condenser fan", "condenser fan = radiator-fan"), ("inlet hose", "inlet hose = -"),
    ("steering gaiter", "steering gaiter = -"), ("gearbox mounting", "gearbox mounting = -"), ("relay base", "relay base = connector"), ("gearbox strap", "gearbox strap = ground-strap"),
    ("earth tag", "earth tag = ground-strap"), ("ECU earth", "ECU earth = ground-strap"), ("rod bearing", "rod bearing = crankshaft"), ("OSR bearing", "OSR bearing = wheel-bearing"),
    ("charge cable", "charge cable = connector"), ("horn wire", "horn wire = wiring-harness"), ("expansion valve", "expansion valve = air-conditioning"),
    ("brake lamp switch", "brake lamp switch = -"), ("tail light dim", "tail light = -"), ("rear brake lights", "brake lights = -"), ("number plate bulb", "plate bulb = -"),
    ("synchro ring", "synchro ring = -"), ("cover gasket hard", "cover gasket = -"), ("inlet rubber split", "inlet rubber = -"), ("cooling fins", "cooling fins = -"), ("evaporator blower", "evaporator blower = -"),
    ("fuel pump fuse", "fuel pump fuse = fuse"), ("main relay fuse", "main relay fuse = fuse"), ("pump, fuse", "pump = fuel-pump; fuse = fuse"), ("egr solenoid", "egr solenoid = -"), ("solenoid", "solenoid = starter-motor"),
    ("hydraulic pressure", "hydraulic pressure = -"), ("fuel pressure", "fuel pressure = fuel-rail"),
    ("exhaust seat burnt", "exhaust seat = valve-train"), ("inlet guide worn", "inlet guide = valve-train"), ("basket fingers", "basket fingers = clutch"),
    ("relief valve stuck", "relief valve = oil-system"), ("leak-off test", "leak-off test = injector"), ("leak off pipe", "leak off pipe = fuel-return-line"), ("align it", "align it = wheel-alignment"),
    # names that are no compounds of that sort stay
    ("exhaust blowing", "exhaust = exhaust"), ("inlet manifold", "inlet manifold = intake-manifold"), ("carb rubber", "carb rubber = carburettor"), ("ring gaps", "ring gaps = cylinder"),
    ("ignition switch", "ignition switch = ignition-switch"), ("water pump", "water pump = water-pump"), ("spark plug", "spark plug = spark-plug"), ("wheel bearing", "wheel bearing = wheel-bearing"),
    ("crank sensor", "crank sensor = crank-sensor"), ("idle valve", "idle valve = idle-valve"), ("vacuum hose", "vacuum hose = vacuum-hose"), ("the switch", "switch = -"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "parts"), COMPOUNDS)
def test_words_put_together_are_one_part(shape, text, parts):
    assert shape(text) == parts


SPOKEN_OF = [
    # each text, then what its last part is: None outside the catalogue
    ("fan relay, coil 79 ohms", "relay"), ("ignition coil out. The coil 0.8 ohms", "ignition-coil"), ("relay clicks. Coil primary 0.8", "ignition-coil"), ("horn: 1.4 ohm across its coil", None),
    ("clutch slips. Springs 36.8", "clutch"), ("springs on the advance unit", "distributor"), ("front springs", None), ("the alternator off, rotor 3.4 ohms", "alternator"),
    ("brakes: disc 22, rotor 21", "brake-disc"), ("distributor cap fine, rotor cracked", "rotor-arm"), ("relay pulls in, contacts burnt", "relay"), ("points pitted. The contacts are blue", "contact-breaker"),
    ("points. Gap 0.4", "contact-breaker"), ("crank sensor. Gap 1.2", "crank-sensor"), ("plugs. Gap 0.8", "spark-plug"), ("cam belt job. The belt is cracked", "timing-belt"),
    ("gearbox noise. Bearing rough", None), ("hub noise. Bearing rough", "wheel-bearing"), ("the vacuum hose. Hose split", "vacuum-hose"), ("caliper stuck. Hose swollen", None),
    ("power steering heavy, the pump whines", None), ("tyre flat, the valve leaks", "tyre"), ("temp gauge dead. Sensor 2.5k", "coolant-temp-sensor"), ("clutch: the pedal", "clutch"),
    ("wiper stops, the motor", None), ("starter off. The motor", "starter-motor"), ("engine mounts, the motor", "engine"), ("airflow meter 1.2 V. The meter", "air-flow-meter"),
    ("coil 0.8 ohms, read with my good meter", "test-meter"), ("servo holds. Pipe to it", "vacuum-hose"), ("MAP 1.2 V, hose to it", "vacuum-hose"), ("pipe to the MAP", "map-sensor"),
    ("gearbox whines, the oil is low", None), ("sump off, the oil is black", "oil-system"), ("engine off at 2.9 bar. So the pump's good", "fuel-pump"), ("oil pressure low. So the pump's gone", "oil-system"),
    ("Valves cold. No 1 inlet 0.12", "valve-train"), ("Fitted the valves and seals all round. The exhaust", "exhaust"), ("neutral switch wire", "wiring-harness"), ("clutch drags, the adjuster", "clutch"),
    ("cap lifts at 0.6", "radiator-cap"), ("cap clean inside", "distributor-cap"), ("crank sensor tight, order the coil", "ignition-coil"), ("crank sensor, the coil 900 ohms", "crank-sensor"),
    ("clean the plug. Battery fine. Plug black", "spark-plug"), ("lead 6 k. Its plug", "spark-plug"), ("crank sensor's plug is fine but the bracket", "crank-sensor"), ("the thermo-time switch. Order the switch", "thermo-time-switch"),
    ("tappets: inlet 0.2. Set the inlet to 0.12", "valve-train"), ("tappets: exhaust 0.2. The exhaust blows", "exhaust"), ("Fan dead. Jumped it at the plug", "connector"), ("Fan dead. Pulled the plug", "spark-plug"),
    ("power steering heavy. The fluid is low", None), ("caliper off. The fluid is black", "brake-fluid"), ("the fluid is black", "brake-fluid"), ("head off. The gasket blown", None),
    ("exhaust blowing. New gasket", "exhaust"), ("gearbox drained. Sump", None), ("the sump", "oil-system"), ("AC low. Put the valve core", "air-conditioning"), ("tyre soft. The valve core", "tyre"),
    ("AC low on the gauge, recover the charge", "air-conditioning"), ("glow plug relay clicks, 11 V at the plugs", None), ("glow relay clicks. 11 V at the plugs", None), ("fan relay clicks. The plugs", "spark-plug"),
    ("leisure battery flat. The water pump", None), ("overheats, thermostat fine, the water pump", "water-pump"), ("solar dead. The panel", None), ("earth strap loose. The crimp", "ground-strap"),
    ("injectors out. The tip", "injector"), ("crank sensor out. The tip", "crank-sensor"), ("clutch drags. Filed the fingers", "clutch"), ("wheel bearing. The races", "wheel-bearing"),
    ("charging 13.1, the regulator", None), ("rail pressure high, the regulator", "fuel-pressure-regulator"), ("inlet 0.20, exhaust 0.25", "valve-train"), ("inlet 15 inHg, exhaust 2 psi", "exhaust"),
    ("battery flat. The ground", "ground-strap"), ("rail and hoses", "fuel-rail"), ("relay cooked. The base", "connector"), ("headlamp dim. The holder", None),
    ("crank sensor, its plug", "connector"), ("glow plugs, then plugs: 0.7", None), ("AC: the clutch", "air-conditioning"), ("tappets: inlet 0.2, exhaust 0.3", "valve-train"), ("CO high, exhaust blowing", "exhaust"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "component"), SPOKEN_OF)
def test_a_bare_word_is_told_by_the_part_that_is_spoken_of(names, text, component):
    assert find_parts(words(text), names)[-1].id == component


@pytest.mark.parametrize("text", ["in the spring", "next spring", "wire brushed it", "cranks at 10 volts", "the end float", "he lets it drop", "put it on my plate", "three weights", "the actual clamp",
     "sat on the ground", "to be ground", "no short to earth", "open to ground", "three wires, 0.7", "at my fingers", "no charge for it", "at the base", "in the panel", "a magnet"])
def test_a_word_that_is_a_part_only_in_talk_of_another_is_none_by_itself(shape, text):
    assert shape(text) == ""


OWN_PLUG = [
    ("crank sensor, 5 volts at its plug", "connector", "crank-sensor"), ("Beacon dead, 24 V at its plug", "connector", ""), ("crank sensor plug pins", "connector", "crank-sensor"), ("fuel pump socket", "connector", "fuel-pump"),
    ("rectifier plug", "connector", ""), ("fan plug's melted", "connector", "radiator-fan"), ("crank sensor 900 ohms. Plug on it", "connector", "crank-sensor"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "component", "plugged"), OWN_PLUG)
def test_its_plug_is_a_connector_of_the_part_before(names, text, component, plugged):
    part = find_parts(words(text), names)[-1]
    assert (part.id, part.plugged) == (component, plugged)


@pytest.mark.parametrize("text", ["sump plug", "gearbox drain plug", "points at 0.4", "set the points to 15", "that strap", "the spare wheel"])
def test_what_stays_a_part_of_its_own(names, text):
    assert all(part.id != "connector" for part in find_parts(words(text), names))
    assert find_parts(words(text), names)


@pytest.mark.parametrize("text", ["still", "stuck", "sticky", "calls", "making", "tested", "crisp", "smells", "thinking"])
def test_everyday_words_are_no_misspelt_names(names, text):
    assert names.near(text) is None
# fmt: on
