"""What held while measuring, said in words or as a figure that is no reading."""

import pytest

from cleansheet.read.conditions import figure_condition, find_conditions
from cleansheet.read.quantities import find_quantities
from cleansheet.read.words import words

# fmt: off
SAID = [
    ("engine off", {"engine": "off"}), ("KOEO", {"engine": "off"}), ("key on engine off", {"engine": "off"}), ("at idle", {"engine": "idle"}), ("ticking over", {"engine": "idle"}),
    ("while cranking", {"engine": "cranking"}), ("on the starter", {"engine": "cranking"}), ("with the engine running", {"engine": "running"}),
    ("stone cold", {"warm": "cold"}), ("fully warm", {"warm": "hot"}), ("vacuum line off", {"vacuum_line": "off"}), ("pulled the hose", {"vacuum_line": "off"}),
    ("hose back on", {"vacuum_line": "on"}), ("wide open throttle", {"throttle": "open"}), ("closed throttle", {"throttle": "closed"}), ("under load", {"load": "on"}),
    ("lights on", {"load": "on"}), ("everything off", {"load": "off"}), ("no load", {"load": "off"}),
]


@pytest.mark.parametrize(("text", "conditions"), SAID)
def test_said_in_words(text, conditions):
    said = {one.key: one.value for one in find_conditions(words(text))}
    assert conditions.items() <= said.items()


NOT_SAID = ["", "crank sensor", "the coil is fine", "not hot", "never mind", "it isn't cold", "offside front", "loaded question"[8:], "line of fire", "2.5 bar"]


@pytest.mark.parametrize("text", NOT_SAID)
def test_not_said(text):
    assert find_conditions(words(text)) == []


FIGURES = [
    ("at 3000 rpm", ("speed_rpm", 3000)), ("at 3000", ("speed_rpm", 3000)), ("@ 2500", ("speed_rpm", 2500)), ("after 10 minutes", ("elapsed_min", 10)),
    ("after half an hour", ("elapsed_min", 30)), ("after ten seconds", ("elapsed_min", pytest.approx(1 / 6, abs=1e-3))), ("at 20 C", ("temperature_c", 20)),
    ("at 68 F", ("temperature_c", 20)), ("two hours later", ("elapsed_min", 120)),
]


@pytest.mark.parametrize(("text", "condition"), FIGURES)
def test_figures_that_state_a_condition(text, condition):
    toks = words(text)
    (figure,) = find_quantities(toks, text)
    said = figure_condition(toks, figure)
    assert (said.key, said.value) == condition


NO_CONDITION = ["2.5 bar", "at 12.6 V", "0.7 ohms", "at 33", "at 12345", "at 3141", "gap 0.8 mm", "150 psi", "at 10 percent"]


@pytest.mark.parametrize("text", NO_CONDITION)
def test_figures_that_state_none(text):
    toks = words(text)
    (figure,) = find_quantities(toks, text)
    assert figure_condition(toks, figure) is None


SENSOR = [("at 20", 20.0, True), ("at 80", 80.0, True), ("at 20", None, False), ("at 300", None, True)]


@pytest.mark.parametrize(("text", "degrees", "wanted"), SENSOR)
def test_a_bare_number_is_a_temperature_only_where_one_is_wanted(text, degrees, wanted):
    toks = words(text)
    (figure,) = find_quantities(toks, text)
    said = figure_condition(toks, figure, wanted)
    assert (said.value if said is not None else None) == degrees
# fmt: on
