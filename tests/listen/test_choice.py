"""Weighing wordings by the trade, and the signs of invented text."""

import pytest

from cleansheet.catalogue import load
from cleansheet.listen.choice import ranked, strange_units, trade, worth
from cleansheet.listen.doubt import doubt, needs_second_look, unsupported
from cleansheet.listen.ear import Context, Guess
from cleansheet.listen.hints import listed, packaged_hints, tellings


@pytest.fixture(scope="module")
def known():
    return trade(load())


def guess(text, score=-0.3, no_speech=0.0, tokens=10):
    return Guess(tuple(range(tokens)), text, score, no_speech)


BETTER = [
    ("coil secondary eight point four kilohms", "coil secondary eight point four kilombs"),
    ("earth strap drop sixty millivolts", "earth's trap drop sixty millivolts"),
    ("alternator output fifty five amps", "alternator output fifty five ohms"),
    ("spark plug gap thirty five thou", "spark plug gap thirty five ohms"),
    ("valve clearance twelve thou", "valve clearance twelve"),
]


@pytest.mark.parametrize(("better", "worse"), BETTER)
def test_what_the_trade_says_is_worth_more(known, better, worse):
    assert worth(better, known) > worth(worse, known)


def test_a_reading_out_of_range_is_worth_no_less(known):
    """Only the kind of unit counts, never the value: a failed part must not be heard as a good one."""
    assert worth("crank sensor nine thousand ohms", known) == worth("crank sensor seven hundred ohms", known)


def test_the_likelier_sound_wins_where_the_trade_has_no_say(known):
    rivals = ranked([[guess("it was raining", -0.2)], [guess("it was training", -0.4)]], known)
    assert [one.guess.text for one in rivals] == ["it was raining", "it was training"]
    assert sum(one.weight for one in rivals) == pytest.approx(1)


def test_no_guess_is_no_rival(known):
    assert ranked([[], []], known) == []


STRANGE = [
    ("alternator output fifty five ohms", [("55", "ohm")]),
    ("alternator output fifty five amps", []),
    ("valve clearance twelve now", [("12", "now")]),
    ("valve clearance twelve", [("12", None)]),
    ("oil pressure four bar at three thousand rpm", []),
    ("compression one forty five, one fifty psi", []),
    ("it rained for ten gallons", []),
    ("valve clearance is eight minutes", [("8", "minute")]),
    ("after ten minutes the fuel rail holds", []),
    ("fuel rail 2.5 bar then 2.4 bar 10 minutes on", []),
    ("dwell angle fifty two ohms", [("52", "ohm")]),
    ("injector six measures two point four ohms", []),
    ("number two injector reads fifteen ohms, number four sixteen ohms", []),
    ("injector six", [("6", None)]),
    ("injector fifteen flows two ohms", [("15", "flows")]),
    ("spark plug number three amps", [("3", "amp")]),
]


@pytest.mark.parametrize(("text", "expected"), STRANGE)
def test_units_that_do_not_belong_to_the_named_part_are_found(known, text, expected):
    found = [(number.form, after.form if after else None) for number, after, _ in strange_units(text, known)]
    assert found == expected


def test_units_to_try_are_those_of_the_named_part(known):
    ((_, _, units),) = strange_units("valve clearance twelve now", known)
    assert "thou" in units
    assert "millimetres" in units
    assert "volts" not in units


TOLD = (Context(hotwords="fuel rail, injector", prompt=packaged_hints()["tellings"][0]["sentences"]),)
DOUBTS = [
    (guess("coil primary point seven ohms"), 3.0, None),
    (guess(""), 3.0, None),
    (guess("bar bar bar bar bar bar bar bar bar bar bar bar bar bar bar bar bar bar bar bar"), 9.0, "circles"),
    (guess("ten millivolts", -1.2), 3.0, "hardly"),
    (guess("ten millivolts", -0.7, 0.8), 3.0, "nobody"),
    (guess("ten millivolts", -0.3, 0.8), 3.0, None),
    (guess("one two three four five six seven eight nine ten eleven"), 1.0, "fit into the time"),
    (guess("The earth strap drops one hundred and seventy millivolts."), 5.0, "told"),
    (guess("the earth strap drops forty millivolts"), 5.0, None),
    (guess("There are still tickets for the concert on Friday, but you will have to be quick."), 6.0, "other talk"),
    (guess("The library wants its books back before the end of the month, said the mayor."), 6.0, "other talk"),
    (guess("Customer says it dies at the lights when it is hot and starts again after ten minutes."), 6.0, None),
    (guess("Idle speed settles at eight hundred and forty and the radio is off."), 6.0, None),
    (guess("library tickets"), 6.0, None),
]


@pytest.mark.parametrize(("heard", "seconds", "reason"), DOUBTS)
def test_signs_of_invented_text(heard, seconds, reason):
    found = doubt(heard, TOLD, seconds)
    assert found is None if reason is None else reason in found


def test_a_second_look_is_taken_only_where_the_sound_is_poor():
    assert not needs_second_look(guess("three bar", -0.3))
    assert needs_second_look(guess("three bar", -0.8))
    assert unsupported(guess("compression one fifty five psi"), guess("tshh"))
    assert not unsupported(guess("compression one fifty five psi"), guess("impression one fifty five"))


def test_what_is_told_stays_within_the_window_and_puts_the_shops_names_first():
    def count(text):
        return len(text.split())

    told = tellings(count, catalogue=load(), names=["big black box", "the thing"])
    assert len(told.first) == len(packaged_hints()["tellings"])
    assert all(one.hotwords.startswith("big black box, the thing, ") for one in told.first)
    again = told.again(["radiator cap", "crankshaft"])
    assert again.hotwords.startswith("radiator cap, crankshaft, big black box, the thing, idle speed, ")
    assert all(count(one.hotwords) + count(one.prompt) <= 223 for one in (*told.first, again))


NEAR = [
    ("the well angle is fifty two degrees", "dwell angle", True),
    ("alter later ripple thirty millivolts", "alternator", True),
    ("the rotter arm is four kilohms", "rotor arm", True),
    ("it was raining all day", "alternator", False),
    ("", "alternator", False),
]


@pytest.mark.parametrize(("text", "name", "expected"), NEAR)
def test_names_that_sound_roughly_like_what_was_heard_are_worth_telling(known, text, name, expected):
    assert (name in known.alikes.worth_telling([text], known.measured)) == expected


def test_names_are_cut_at_the_limit_and_said_once():
    assert listed(["a b", "c", "a b", "d e f", "g"], lambda text: len(text.split()), 4) == ["a b", "c"]


def test_no_figure_with_a_unit_sign_is_told():
    for telling in (*packaged_hints()["tellings"], packaged_hints()["again"]):
        assert not any(character.isdigit() for character in telling["sentences"] + " ".join(telling["names"]))
