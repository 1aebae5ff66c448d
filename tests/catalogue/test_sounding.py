"""How words sound, and how far two of them are apart."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cleansheet.catalogue.sounding import distance, rough, sounds, unlikeness

ALIKE = [
    ("earth's trap", "earth strap"),
    ("tapets", "tappets"),
    ("contact strap", "contacts drop"),
    ("crank censor", "crank sensor"),
    ("carburet a", "carburettor"),
    ("rotary arm", "rotor arm"),
    ("land the sensor", "lambda sensor"),
    ("thermal stat", "thermostat"),
    ("break disk", "brake disc"),
    ("ultrometer", "alternator"),
]
OTHER = [
    ("battery", "starter motor"),
    ("the customer", "the injector"),
    ("value", "tappet"),
    ("morning", "alternator"),
    ("lovely", "plug lead"),
]


@pytest.mark.parametrize(("heard", "name"), ALIKE)
def test_words_that_sound_alike_are_near(heard, name):
    assert unlikeness(sounds(heard), sounds(name)) < 0.25


@pytest.mark.parametrize(("heard", "name"), OTHER)
def test_words_that_sound_otherwise_are_far(heard, name):
    assert unlikeness(sounds(heard), sounds(name)) > 0.4


WORDS = st.text("abcdefghilmnoprstuvwy' ", max_size=14)


@given(WORDS, WORDS)
def test_distance_is_a_distance(one, other):
    mine, its = sounds(one), sounds(other)
    assert distance(mine, mine) == 0
    assert distance(mine, its) == pytest.approx(distance(its, mine))
    assert (distance(mine, its) == 0) == (mine == its)


@given(WORDS)
def test_any_text_has_sounds(text):
    assert rough(sounds(text)) == rough(sounds(text.upper()))


def test_a_distance_above_the_limit_is_not_worked_out():
    assert distance("alternat@r", "bateri", 1.0) == 2.0
