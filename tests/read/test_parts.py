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
# fmt: on
