"""What is seen, heard or felt, at the words that say it."""

import pytest


@pytest.fixture(scope="session")
def shape(found):
    """The findings of a text as "word: phrase", joined by "; "."""
    return lambda text: "; ".join(f"{one.word}: {one.phrase}" for one in found(text).findings)


# fmt: off
SEEN = [
    ("it is weeping", "leaking: weeping"), ("bone dry", "dry: bone dry"), ("gone green", "corroded: gone green"), ("rock steady", "steady: rock steady"), ("split", "cracked: split"),
    ("perished", "cracked: perished"), ("seized solid", "does_not_work: seized solid"), ("open circuit", "open_circuit: open circuit"), ("dead short", "short_circuit: dead short"),
    ("stuck open", "stuck_open: stuck open"), ("stuck closed", "stuck_closed: stuck closed"), ("sooted up", "fouled: sooted up"), ("worn through", "worn: worn through"), ("working loose", "loose: working loose"),
    ("fat and blue", "strong: fat and blue"), ("no leaks", "dry: no leaks"), ("not running", "does_not_work: not running"), ("in good nick", "ok: in good nick"), ("flickers", "unsteady: flickers"),
    ("blocked", "fouled: blocked"), ("glazed", "worn: glazed"), ("did not run", "does_not_work: did not run"), ("hand tight", "loose: hand tight"), ("a bead on the tip", "leaking: a bead on"),
    ("fires first time", "works: fires first time"), ("like a champ", "works: like a champ"), ("drops to nothing", "falls: drops to nothing"), ("it never squirts", "does_not_work: never squirts"),
    ("flat as paper", "worn: flat as paper"), ("the whistle gone", "ok: whistle gone"), ("wide open", "stuck_open: wide open"), ("no movement", "does_not_work: no movement"), ("soaked in grease", "fouled: soaked in grease"),
    ("feels notchy", "worn: feels notchy"), ("down to two strands", "worn: down to two strands"), ("turned to dust", "corroded: turned to dust"),
    ("full of transmission fluid", "fouled: full of transmission fluid"), ("came out all froth", "faulty: came out all froth"), ("slight blow", "leaking: slight blow"), ("never missed", "ok: never missed"),
    ("not a cough", "ok: not a cough"), ("no buzz", "does_not_work: no buzz"), ("straight down to frame", "short_circuit: straight down to frame"), ("a little flick in the needle", "unsteady: little flick"),
    ("turned by hand", "loose: turned by hand"), ("glowing red", "faulty: glowing red"), ("fires up", "works: fires up"), ("lost nothing", "ok: lost nothing"), ("unsoldered", "faulty: unsoldered"),
    ("no continuity", "open_circuit: no continuity"), ("hairline crack", "cracked: hairline crack"), ("clicks in", "works: clicks in"), ("spot on", "ok: spot on"),
    ("it's hanging slack", "loose: hanging slack"), ("flicking", "unsteady: flicking"), ("radio stays awake", "faulty: stays awake"), ("never goes to sleep", "faulty: never goes to sleep"),
    ("diode passes both ways", "short_circuit: passes both ways"), ("coolant is brown", "fouled: is brown"), ("the wire is brown", "corroded: is brown"), ("steels flat", "ok: flat"), ("basket notched", "worn: notched"),
    ("rack boot full of fluid", "leaking: full of fluid"), ("stays lit", "works: stays lit"), ("open line", "open_circuit: open line"),
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


THINGS = [
    ("the fuse is blown", "open_circuit"), ("fuse holds", "ok"), ("stop bulb blown", "does_not_work"), ("air filter was like a doormat", "fouled"), ("the oil was like coffee", "fouled"),
    ("gearbox oil is way low", "faulty"), ("gearbox oil was bang on level", "ok"), ("wiper motor runs", "works"), ("ball joint has play", "loose"), ("ball joint has none", "ok"), ("distributor shaft has play", "worn"),
    ("strap hanging by three strands", "worn"), ("loom chafed through", "worn"), ("hub silent", "ok"), ("pump silent", "does_not_work"), ("caliper piston is free", "works"), ("head's dead flat", "ok"),
    ("pedal firm now", "ok"), ("belt is slipping", "loose"), ("the idle switch makes", "works"), ("the heater winding is open", "open_circuit"), ("spark thin and red", "weak"), ("boost hose had blown off", "loose"),
]


@pytest.mark.parametrize(("text", "word"), THINGS)
def test_a_word_means_what_it_means_on_that_thing(found, text, word):
    assert [one.word for one in found(text).findings][-1] == word


ONLY_TOLD = [
    ("the wire is open", "open_circuit"), ("turbo's okay", "ok"), ("clutch cable slack", "loose"), ("the relay is hot", "faulty"), ("the loom's weak", "weak"), ("tank is full", "ok"),
    ("it never stops dripping", "leaking"), ("damper has oil all down it", "leaking"), ("tip furred up with swarf", "fouled"), ("shaft play next to none", "ok"), ("float's heavy", "faulty"),
    ("impeller has lost two vanes", "faulty"), ("throttle body's spotless", "ok"), ("one pin loose in the shell", "loose"),
]


@pytest.mark.parametrize(("text", "word"), ONLY_TOLD)
def test_a_word_told_of_a_part(found, text, word):
    assert [one.word for one in found(text).findings][-1:] == [word]


NOT_TOLD = [
    "okay, the camper", "open 4.5 V, shut 0.5", "pulled the fuse", "plugged it back in", "stat opens at 82", "fan comes on at 94", "it made no odds", "no difference either way", "back on the brakes",
    "run the pump", "scrap at 141.0", "hard to say", "drop on the earth lead 20 mV", "third time this month", "the alternator's knackered", "pump is on its way out", "coil's finished", "at full lock",
    "close to fourteen volts", "straight six",
]


@pytest.mark.parametrize("text", NOT_TOLD)
def test_words_that_tell_nothing_of_a_part(found, text):
    assert not found(text).findings


NO_NEGATION = [("no 2 is black and oily plug", "fouled"), ("no. 1 plug is oily", "fouled"), ("no one plug is tan", "ok")]


@pytest.mark.parametrize(("text", "word"), NO_NEGATION)
def test_the_no_of_a_number_turns_nothing(found, text, word):
    assert next(one.word for one in found(text).findings) == word


NEGATED = [
    ("it is not leaking", "dry"), ("never leaks", "dry"), ("not cracked", "ok"), ("isn't worn", "ok"), ("not steady", "unsteady"), ("doesn't leak", "dry"),
    ("not working", "does_not_work"), ("no corrosion", "ok"), ("not dry", "leaking"), ("not loose", "ok"),
]


@pytest.mark.parametrize(("text", "word"), NEGATED)
def test_negation_turns_a_finding(found, text, word):
    assert [one.word for one in found(text).findings] == [word]


NONE_SEEN = ["leak down on four", "good morning", "smoke test", "a good half hour", "the works manual", "open the road", "even though", "fine thread", "the short block", "checked by the book", "turn the key", "came in on Monday", "comes back Friday", "one of us", "it was going home", "won't say",
    "crank sensor 850 ohms", "replaced the pump", "12.6 volts", "ring the owner", "see you tomorrow", "", "a b c", "order a belt"]


@pytest.mark.parametrize("text", NONE_SEEN)
def test_nothing_seen(shape, text):
    assert shape(text) == ""
# fmt: on
