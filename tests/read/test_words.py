"""A note cut into words, numerals and signs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cleansheet.read.words import NUM, SIGN, WORD, words

# fmt: off
CUTS = [
    ("Coil 0.7ohm, that's fine", ["Coil", "0.7", "ohm", ",", "that's", "fine"]),
    ("12.6V", ["12.6", "V"]),
    ("95ft-lb", ["95", "ft", "-", "lb"]),
    ("0.3mm", ["0.3", "mm"]),
    ("10°", ["10", "°"]),
    ("4k7", ["4", "k", "7"]),
    ("23,410 miles", ["23,410", "miles"]),
    (".80 gap", [".80", "gap"]),
    ("1.265", ["1.265"]),
    ("150/148", ["150", "/", "148"]),
    ("1-150 2-148", ["1", "-", "150", "2", "-", "148"]),
    ("n/s", ["n", "/", "s"]),
    ("cylinder’s", ["cylinder’s"]),
    ("1.", ["1", "."]),
    ("3.5.", ["3.5", "."]),
    ("½", ["½"]),
    ("Ω µ °", ["Ω", "µ", "°"]),
    ("naïve Öl", ["naïve", "Öl"]),
    ("", []),
    ("  \n\t ", []),
]


@pytest.mark.parametrize(("text", "pieces"), CUTS)
def test_pieces(text, pieces):
    assert [tok.text for tok in words(text)] == pieces


KINDS = [("12.6", NUM), (".8", NUM), ("volts", WORD), ("don't", WORD), (",", SIGN), ("Ω", WORD), ("°", SIGN), ("½", WORD), ("😀", SIGN), ("\u202e", SIGN)]


@pytest.mark.parametrize(("text", "kind"), KINDS)
def test_kinds(text, kind):
    assert [tok.kind for tok in words(text)] == [kind]


GLUED = [("12.6V", [False, True]), ("12.6 V", [False, False]), ("a,b", [False, True, True]), ("a , b", [False, False, False])]


@pytest.mark.parametrize(("text", "glued"), GLUED)
def test_what_stands_close(text, glued):
    assert [tok.glued for tok in words(text)] == glued


LINES = [("a b", [True, False]), ("a\nb", [True, True]), ("a\r\nb c", [True, True, False]), ("a\n\n b", [True, True]), ("\na", [True])]


@pytest.mark.parametrize(("text", "line"), LINES)
def test_the_first_of_a_line(text, line):
    assert [tok.line for tok in words(text)] == line
# fmt: on


def test_a_curly_apostrophe_is_a_plain_one_in_lower_case():
    assert [tok.low for tok in words("Don’t")] == ["don't"]


@given(st.text())
def test_pieces_and_white_space_are_the_text(text):
    end = 0
    for number, tok in enumerate(words(text)):
        assert tok.i == number
        assert text[tok.start : tok.end] == tok.text
        assert text[end : tok.start].strip() == ""
        assert tok.start < tok.end
        end = tok.end
    assert text[end:].strip() == ""
