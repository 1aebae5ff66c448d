"""Whose a finding without a subject is, and whose a test's name is."""

import pytest

from cleansheet.read.parts import find_parts
from cleansheet.read.row import Row
from cleansheet.read.testnames import find_test_names, without_test_words
from cleansheet.read.unnamed import unnamed_subject
from cleansheet.read.words import words

# fmt: off
SUBJECTS = [
    # what was named before, the finding, the component
    ("crank sensor", "fires up", "engine"), ("crank sensor", "it starts now", "engine"), ("fuel pump", "starts first time", "engine"), ("crank sensor", "no fire", "engine"),
    ("plugs", "and it never missed", "engine"), ("plugs", "runs sweet", "engine"), ("plugs", "it runs right", "engine"), ("carb", "ticks over nicely", "engine"), ("carb", "revs clean", "engine"),
    ("battery", "she spins", "starter-motor"), ("earth strap", "it cranks now", "starter-motor"), ("battery", "turns over", "starter-motor"),
    # what turns by itself is said of itself, and other words say nothing
    ("fuel pump", "runs", None), ("fuel pump", "it runs fine", None), ("radiator fan", "spins", None), ("wiper motor", "runs", None), ("carb", "revs climb when I spray it", None),
    ("battery", "leaks", None), ("injector", "dry", None), ("injector", "is good", None), ("injector", "", None), ("hub", "the runner is cracked", None),
]


@pytest.mark.parametrize(("before", "text", "component"), SUBJECTS)
def test_what_starts_or_cranks_is_the_engine_or_the_starter(names, before, text, component):
    toks = words(text)
    named = find_parts(words(before), names)[-1]
    assert unnamed_subject(toks, 0, len(toks), named) == component


TESTS = [
    ("mainshaft end float", []), ("wiper motor draw", []), ("crank end float", ["crank end float"]), ("draw 40 mA", ["draw"]), ("negative post to the block", ["negative post to the block"]),
    ("case to block", ["case to block"]), ("+ cable drop", ["+ cable drop"]), ("headlamp shell to battery", ["shell to battery"]), ("pump earths", ["pump earths"]), ("no test at all here", []),
    ("fuel, idle", ["fuel , idle"]), ("he is to block the road", []),
]


@pytest.mark.parametrize(("text", "said"), TESTS)
def test_a_test_is_named_with_its_part_and_not_of_another(names, text, said):
    toks = words(text)
    found = find_test_names(toks, find_parts(toks, names))
    assert [" ".join(tok.low for tok in toks[one.first : one.last]) for one in found] == said


@pytest.mark.parametrize(("text", "left"), [("pressure test 1.1 bar", []), ("pressure 2.9 bar", ["pressure"]), ("fuel pressure 2.9 bar", ["fuel pressure"]), ("system pressure", ["system", "pressure"])])
def test_the_word_of_another_parts_test_is_no_part(names, text, left):
    toks = words(text)
    parts = Row(find_parts(toks, names))
    assert [part.name for part in without_test_words(parts, Row(find_test_names(toks, parts)))] == left
# fmt: on
