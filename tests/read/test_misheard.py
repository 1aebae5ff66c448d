"""Parts whose names were written as other words, found by their sound."""

import pytest

from cleansheet.catalogue import load
from cleansheet.flow import draft, typed_note
from cleansheet.read.misheard import find_misheard
from cleansheet.read.parts import find_parts
from cleansheet.read.words import words

MISHEARD = [
    ("The alter nater gives fourteen point two volts", "alter nater", "alternator"),
    ("Thermos that opens at eighty eight degrees", "Thermos that", "thermostat"),
    ("Fuel pomp pulls 6 amps", "Fuel pomp", "fuel-pump"),
    ("the roader arm is 5 kilohms", "roader arm", "rotor-arm"),
    ("erth stratt drops 40 millivolts", "stratt", "ground-strap"),
]
NOT_MISHEARD = [
    "The alter nater is broken",  # no reading
    "The alter nater opens at 15 psi",  # an alternator is not measured in psi
    "Alter nater beside the battery, 12.4 volts",  # a part is named
    "Brunmoor estate, 12 volts",  # a place, sounds like no part
    "saw Mr Alterman at 12 volts",  # a name, by its capital
    "the meter shows 12 volts",  # words of the talk
    "it sounded mournful at 12 volts",  # near nothing
]


def misheard(text, names):
    toks = words(text)
    return list(find_misheard(toks, {i for p in find_parts(toks, names) if p.how != "heard" for i in range(p.first, p.last)},
                              names.words, names.sounding))  # fmt: skip


@pytest.mark.parametrize(("text", "said", "part"), MISHEARD)
def test_a_part_is_found_by_its_sound(names, text, said, part):
    toks = words(text)
    (found,) = misheard(text, names)
    assert found.id == part
    assert text[toks[found.first].start : toks[found.last - 1].end] == said


@pytest.mark.parametrize("text", NOT_MISHEARD)
def test_no_part_is_made_of_other_words(names, text):
    assert misheard(text, names) == []


def test_a_part_found_by_its_sound_is_flagged_and_says_why():
    (item,) = draft(typed_note("The alter nater gives fourteen point two volts"), load()).items
    assert item.component == "alternator"
    assert "low_confidence_words" in item.flags
    assert any("misheard" in reason for reason in item.why)
