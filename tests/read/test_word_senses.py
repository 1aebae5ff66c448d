"""What words mean at a bench, and the classes of a statement's words."""

import pytest

from cleansheet.read.wordclass import class_features, class_of, sense_of, verb_forms

# fmt: off
SENSES = [
    ("stalls", "ILL"), ("juddering", "ILL"), ("shook", "ILL"), ("frayed", "BAD"), ("rumbly", "BAD"), ("spotless", "GOOD"), ("revved", "GO"), ("swarf", "DIRT"), ("notches", "FLAW"), ("culprit", "BLAME"),
    ("reckon", "GUESS"), ("exonerated", "ACQUIT"), ("owed", "BUY"), ("tomorrow", "NEXT"), ("recon", "NEW"), ("grommet's", "THING"), ("dentist", "SHOP"),
    ("the", None), ("and", None), ("yellowish", None), ("seven", None), ("", None),
]
# fmt: on


@pytest.mark.parametrize(("word", "sense"), SENSES)
def test_senses(word, sense):
    assert sense_of(word) == sense


@pytest.mark.parametrize(
    ("root", "past", "forms"),
    [
        ("grab", "", ("grab", "grabs", "grabbed", "grabbing")),
        ("hiss", "", ("hiss", "hisses", "hissed", "hissing")),
        ("shake", "shook", ("shake", "shakes", "shook", "shaking")),
        ("flicker", "", ("flicker", "flickers", "flickered", "flickering")),
        ("shimmy", "", ("shimmy", "shimmies", "shimmied", "shimmying")),
        ("squeal", "", ("squeal", "squeals", "squealed", "squealing")),
    ],
)
def test_verb_forms(root, past, forms):
    assert verb_forms(root, past) == forms


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("fitted", "PAST"),
        ("the", "THE"),
        ("frayed", "BAD"),
        ("linished", "-ed"),
        ("piston", "THING"),
        ("aardvark", "x"),
    ],
)
def test_classes(word, kind):
    assert class_of(word) == kind


def test_a_statement_is_also_known_without_its_small_words():
    assert {"r2=PART_BE", "r2=BE_BAD", "rw=<_PART_BE_BAD_>"} <= set(class_features(["THE", "PART", "BE", "HOW", "BAD"]))
    assert not any("THE" in one for one in class_features(["THE", "PART", "BAD"]) if one.startswith(("r2=", "rw=")))
