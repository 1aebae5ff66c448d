"""How sure a number is made by several tellings, and which words a wording takes from the trade."""

import pytest

from cleansheet.catalogue import load
from cleansheet.listen.choice import trade
from cleansheet.listen.ear import Guess
from cleansheet.listen.hearing import FLAGGED, _doubt_strays, _teens, _with_trade_words
from cleansheet.listen.transcripts import KeptWord


def chances(text, probability, firsts):
    words = [KeptWord(word, 0.0, 0.0, probability, ()) for word in text.split()]
    _doubt_strays(words, firsts)
    return [word.probability for word in words]


def test_a_number_that_no_telling_gives_first_is_doubted():
    assert chances("gap is 35 thou", 0.9, ["gap is 25 thou", "gap is 45 thou"]) == [0.9, 0.9, FLAGGED, 0.9]


def test_where_the_tellings_differ_nothing_changes():
    assert chances("gap is 35 thou", 0.2, ["gap is 35 thou", "gap is 45 thou"]) == [0.2] * 4


class Sound:
    """A recogniser that bears out the wording it was made with, and each other one by so much less."""

    def __init__(self, said, less):
        self.said, self.less = said, less

    def log_probability(self, _encoded, text, _context):
        return 0.0 if text == self.said else -self.less

    def words_of(self, text):
        return tuple(range(len(text.split())))


@pytest.fixture(scope="module")
def known():
    return trade(load())


def test_words_of_the_trade_are_put_in_where_the_sound_bears_them_out(known):
    heard = Guess((1, 2), "Well angle is fifty two degrees.", -0.3, 0.0)
    meant = _with_trade_words(Sound("dwell angle is fifty two degrees.", 1.0), None, heard, known)
    assert meant.text == "dwell angle is fifty two degrees."
    assert len(meant.tokens) == 6


def test_words_of_the_trade_are_left_out_where_it_does_not(known):
    heard = Guess((1, 2), "Well angle is fifty two degrees.", -0.3, 0.0)
    assert _with_trade_words(Sound(heard.text, 40.0), None, heard, known) == heard


@pytest.mark.parametrize(
    ("text", "others"),
    [
        ("reads fifteen ohms", ["reads fifty ohms"]),
        ("dwell fifty degrees", ["dwell fifteen degrees"]),
        ("a hundred and forty, psi", ["a hundred and fourteen, psi"]),
        ("forty two degrees", []),  # no number is called "fourteen two degrees"
        ("fourteen two volts", ["forty two volts"]),
        ("forty volts, two amps", ["fourteen volts, two amps"]),
        ("five volts", []),
    ],
)
def test_teens_and_tens_are_tried_only_where_they_make_a_number(text, others):
    rivals = _teens(Sound(text, 1.0), None, Guess((1, 2), text, -0.3, 0.0))
    assert [rival.guess.text for rival in rivals] == others
    assert all(0 < rival.weight < 0.5 for rival in rivals)
