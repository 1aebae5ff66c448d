"""How likely a wording is as workshop talk, and words of the trade that one may have meant."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cleansheet.catalogue import load
from cleansheet.listen.phrasing import Phrasing, packaged_phrasing
from cleansheet.listen.soundalikes import SoundAlikes, phrases_of, proposals

LIKELIER = [
    ("the earth strap drops forty millivolts", "the earth trap drops forty millivolts"),
    ("alternator ripple ninety millivolts", "ultrometer ripple ninety millivolts"),
    ("dwell is fifty two degrees", "welp is fifty two degrees"),
    ("contacts drop ninety millivolts", "contact strap ninety millivolts"),
]


@pytest.mark.parametrize(("likely", "unlikely"), LIKELIER)
def test_workshop_talk_is_likelier_than_its_mishearings(likely, unlikely):
    assert packaged_phrasing().log_probability(likely) > packaged_phrasing().log_probability(unlikely)


@given(st.integers(0, 5000), st.integers(0, 5000))
def test_no_value_is_likelier_than_another(one, other):
    """A reading out of limits must be heard as well as a good one."""
    said = packaged_phrasing().log_probability
    assert said(f"the battery sits at {one} volts") == said(f"the battery sits at {other} volts")


@given(st.sampled_from(["#", "gap", "the", "volt", "<"]), st.sampled_from(["#", "gap", "is", "nowhere"]))
def test_what_may_follow_adds_up_to_about_one(one, other):
    model = packaged_phrasing()
    whole = sum(model._chance(one, other, word) for word in model._one)
    assert 0.6 < whole <= 1.0 + 1e-9


def test_without_counts_nothing_follows():
    assert Phrasing({"< < a": 1, "< a >": 1}).log_probability("a") > Phrasing({"< < b": 1, "< b >": 1}).log_probability(
        "a"
    )


@pytest.fixture(scope="module")
def alikes():
    return SoundAlikes(phrases_of(load()))


MEANT = [
    ("Well angle is fifty two degrees.", "Dwell angle is fifty two degrees."),
    ("Wheel cut short to ninety newton metres", "wheel nuts to ninety newton metres"),
    ("Radiator and comes on at ninety degrees", "radiator fan comes on at ninety degrees"),
    ("Time of belt deflection eight millimetres", "timing belt deflection eight millimetres"),
]


@pytest.mark.parametrize(("text", "meant"), MEANT)
def test_words_that_sound_alike_are_proposed(alikes, text, meant):
    assert meant.lower() in [one.text.lower() for one in proposals(text, alikes, packaged_phrasing())]


@pytest.mark.parametrize(("text", "_"), MEANT)
def test_numbers_and_units_stay(alikes, text, _):
    number_on = text[text.rindex(" ", 0, text.rindex(" ")) :]
    assert all(one.text.endswith(number_on) for one in proposals(text, alikes, packaged_phrasing()))


def test_nothing_is_proposed_for_good_workshop_talk(alikes):
    for text in ("The battery is 12.4 volts", "Fuel pressure is two point six bar", ""):
        assert proposals(text, alikes, packaged_phrasing()) == []
