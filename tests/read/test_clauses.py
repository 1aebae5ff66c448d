"""A note cut into sentences and these into statements."""

import pytest

from cleansheet.read.clauses import is_flat, layout
from cleansheet.read.words import words


def sentences(text):
    toks = words(text)
    return [text[toks[first].start : toks[last - 1].end] for first, last in layout(toks).sentences]


def pieces(found, text):
    own = found(text)
    return [text[own.toks[piece.first].start : own.toks[piece.last - 1].end] for piece in own.layout.pieces]


# fmt: off
SENTENCES = [
    ("Coil fine. Pump dead.", ["Coil fine.", "Pump dead."]),
    ("Coil fine; pump dead", ["Coil fine;", "pump dead"]),
    ("Why? No idea.", ["Why?", "No idea."]),
    ("Coil fine\nPump dead", ["Coil fine", "Pump dead"]),
    ("Coil fine,\nand the pump too", ["Coil fine,\nand the pump too"]),
    ("no. 3 is 2.5 bar", ["no. 3 is 2.5 bar"]),
    ("cyl. 3 is down", ["cyl. 3 is down"]),
    ("temp. 88 C", ["temp. 88 C"]),
    ("It is 2.5 bar. 36 psi.", ["It is 2.5 bar.", "36 psi."]),
    ("gap .80 now", ["gap .80 now"]),
    ("0.7ohm.fine", ["0.7ohm.fine"]),
    ("", []),
]


@pytest.mark.parametrize(("text", "cut"), SENTENCES)
def test_sentences(text, cut):
    assert sentences(text) == cut


PIECES = [
    ("Coil 0.7 ohms, pump dead.", ["Coil 0.7 ohms,", "pump dead."]),
    ("Coil (new) is fine.", ["Coil", "(", "new)", "is fine."]),
    ("Replaced the plugs and cleaned the throttle body.", ["Replaced the plugs", "and cleaned the throttle body."]),
    ("It starts but it stalls.", ["It starts", "but it stalls."]),
    ("Coil fine because it sparks.", ["Coil fine", "because it sparks."]),
    ("Fat and blue.", ["Fat and blue."]),
    ("Order a manifold and gasket.", ["Order a manifold", "and gasket."]),
    ("Order an arm and two bushes.", ["Order an arm", "and two bushes."]),
    ("Fitted new caps and seals.", ["Fitted new caps", "and seals."]),
    ("Cap + lead set.", ["Cap", "+ lead set."]),
    ("Bearing kit & sleeve tomorrow.", ["Bearing kit", "& sleeve tomorrow."]),
    ("Whistles and smokes.", ["Whistles", "and smokes."]),
    ("Fit a coolant sensor and do the gas test again.", ["Fit a coolant sensor", "and do the gas test again."]),
    ("Cleaned both faces and bolted up.", ["Cleaned both faces and bolted up."]),
    ("Sleeved it in glass braid and tied it back.", ["Sleeved it in glass braid and tied it back."]),
    ("Wire brushed it and refitted it, fine.", ["Wire brushed it and refitted it,", "fine."]),
    ("Unplugged it and got 12 volts.", ["Unplugged it", "and got 12 volts."]),
    ("It clicks and clicks.", ["It clicks and clicks."]),
    # how sure the speaker is belongs to what he says
    ("Head gasket, I fear.", ["Head gasket, I fear."]),
    ("Plug cap, got to be.", ["Plug cap, got to be."]),
    ("Coil, most likely, so order one.", ["Coil, most likely,", "so order one."]),
    ("My guess, the pump.", ["My guess, the pump."]),
    ("Rectifier, as usual on these.", ["Rectifier, as usual on these."]),
    ("The relay clicks, I think it was 12 volts.", ["The relay clicks,", "I think it was 12 volts."]),
    ("Coil fine, I'd like to know why.", ["Coil fine,", "I'd like to know why."]),
    ("Pump runs, probably has a bad earth.", ["Pump runs,", "probably has a bad earth."]),
    # a deed or a step said in two words, and one with a purpose
    ("Cleaned and greased the pins.", ["Cleaned and greased the pins."]),
    ("Strip and check the head.", ["Strip and check the head."]),
    ("Swap the coils and see if it follows.", ["Swap the coils and see if it follows."]),
    ("Cut the loom open and find the break.", ["Cut the loom open and find the break."]),
    ("New shoes and find me a drum.", ["New shoes", "and find me a drum."]),
    ("Fit a probe and check the cat.", ["Fit a probe", "and check the cat."]),
    ("Chain then.", ["Chain then."]),
    ("Fit the chain then the belt.", ["Fit the chain", "then the belt."]),
    ("They are not the cause of the pull.", ["They are not the cause of the pull."]),
    ("Left it cause it runs.", ["Left it", "cause it runs."]),
    ("Fill with 4 + 2 litres.", ["Fill with 4 + 2 litres."]),
    ("Up and down, day and night.", ["Up and down,", "day and night."]),
    ("12 & 6 there's rock.", ["12 & 6 there's rock."]),
    ("Eleven and a half volts.", ["Eleven and a half volts."]),
    ("A hundred and fifty psi.", ["A hundred and fifty psi."]),
    ("Wet and black.", ["Wet and black."]),
]


@pytest.mark.parametrize(("text", "cut"), PIECES)
def test_statements(found, text, cut):
    assert pieces(found, text) == cut


FLAT = [
    ("compression one fifty one forty eight one fifty two one twenty all dry", True),
    ("so the crank sensor reads eight hundred and fifty ohms and the gap is fine", True),
    ("Crank sensor 850 ohms, gap fine.", False),
    ("Crank sensor 850 ohms. Gap fine. Coil 0.7 ohms. Done, next.", False),
    ("line one here\nline two here\nline three", False),
    ("short", False),
    ("", False),
]


@pytest.mark.parametrize(("text", "flat"), FLAT)
def test_speech_without_punctuation(text, flat):
    assert is_flat(words(text)) is flat


NOTES = ["Coil 0.7 ohms, fine. Pump dead? (No.)", "a\nb\n\nc", "one two three", ",,,", "?", "compression one fifty one forty eight one fifty two one twenty all dry now"]


@pytest.mark.parametrize("text", NOTES)
def test_every_word_is_in_one_statement_and_one_sentence(found, text):
    own = found(text)
    cut, count = own.layout, len(own.toks)
    assert [i for piece in cut.pieces for i in range(piece.first, piece.last)] == list(range(count))
    assert [i for first, last in cut.sentences for i in range(first, last)] == list(range(count))
    assert all(cut.pieces[number].first <= i < cut.pieces[number].last for i, number in enumerate(cut.piece_of))
    assert all(cut.sentences[number][0] <= i < cut.sentences[number][1] for i, number in enumerate(cut.sentence_of))
# fmt: on
