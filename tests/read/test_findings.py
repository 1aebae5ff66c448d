"""What is seen, heard or felt, at the words that say it."""

import pytest


@pytest.fixture(scope="session")
def shape(found):
    """The findings of a text as "word: phrase", joined by "; "."""
    return lambda text: "; ".join(f"{one.word}: {one.phrase}" for one in found(text).findings)


# fmt: off
SEEN = [
    ("it is weeping", "leaking: weeping"), ("bone dry", "dry: bone dry"), ("gone green", "corroded: gone green"), ("rock steady", "steady: rock steady"), ("split", "cracked: split"),
    ("perished", "cracked: perished"), ("seized solid", "does_not_work: seized"), ("open circuit", "open_circuit: open circuit"), ("dead short", "short_circuit: dead short"),
    ("stuck open", "stuck_open: stuck open"), ("stuck closed", "stuck_closed: stuck closed"), ("sooted up", "fouled: sooted up"), ("worn out", "worn: worn out"), ("working loose", "loose: working loose"),
    ("fat and blue", "strong: fat and blue"), ("no leaks", "dry: no leaks"), ("not running", "does_not_work: not running"), ("in good nick", "ok: in good nick"), ("flickers", "unsteady: flickers"),
    ("no continuity", "open_circuit: no continuity"), ("hairline crack", "cracked: hairline crack"), ("clicks in", "works: clicks in"), ("spot on", "ok: spot on"),
]


@pytest.mark.parametrize(("text", "findings"), SEEN)
def test_phrases(shape, text, findings):
    assert shape(text) == findings


OF_A_PART = [
    ("the plugs are light brown", "ok"), ("the connector is green", "corroded"), ("plug 3 is black", "fouled"), ("spark is blue and fat", "strong"), ("injector 2 has a nice cone", "ok"),
    ("wheel bearing rumbles", "worn"), ("distributor cap is damp inside", "fouled"),
]


@pytest.mark.parametrize(("text", "word"), OF_A_PART)
def test_a_colour_means_what_it_means_on_that_part(found, text, word):
    assert word in {one.word for one in found(text).findings}


NEGATED = [
    ("it is not leaking", "dry"), ("never leaks", "dry"), ("not cracked", "ok"), ("isn't worn", "ok"), ("not steady", "unsteady"), ("doesn't leak", "dry"),
    ("not working", "does_not_work"), ("no corrosion", "ok"), ("not dry", "leaking"), ("not loose", "ok"),
]


@pytest.mark.parametrize(("text", "word"), NEGATED)
def test_negation_turns_a_finding(found, text, word):
    assert [one.word for one in found(text).findings] == [word]


NONE_SEEN = ["crank sensor 850 ohms", "replaced the pump", "12.6 volts", "ring the owner", "see you tomorrow", "", "a b c", "order a belt"]


@pytest.mark.parametrize("text", NONE_SEEN)
def test_nothing_seen(shape, text):
    assert shape(text) == ""
# fmt: on
