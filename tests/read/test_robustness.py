"""Whatever the text: no exception, every place an exact slice of a text that stays as it is, and the same answer twice."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cleansheet.catalogue import load
from cleansheet.flow import draft
from cleansheet.read import mentions, read
from cleansheet.read.cues import cue_book
from cleansheet.read.findings import finding_book
from cleansheet.read.parts import part_names
from cleansheet.terms import FINDINGS, FLAGS, KINDS, VERDICTS, Note
from cleansheet.terms.draft_json import draft_to_json
from cleansheet.units import aliases
from cleansheet.units.data_files import packaged

CATALOGUE = load()


def look_over(text: str) -> None:
    """Draft the text twice and look every item over."""
    note = Note(text)
    first = draft(note, CATALOGUE)
    assert first.note.text == text
    for item in first.items:
        assert 0 <= item.start < item.end <= len(text)
        assert not text[item.start : item.end].isspace()
        assert item.kind in KINDS
        assert item.finding is None or item.finding in FINDINGS
        assert item.verdict is None or item.verdict.word in VERDICTS
        assert set(item.flags) <= set(FLAGS)
        assert 0 <= item.confidence <= 1
        assert item.component is None or item.component in CATALOGUE.components
        assert item.test is None or item.test in CATALOGUE.tests
        assert item.why
        if item.kind in {"reading", "expected"}:
            assert (item.quantity is None) != (item.finding is None) or item.kind == "reading"
    assert all(item["quote"] == text[item["start"] : item["end"]] for item in draft_to_json(first)["items"])
    assert [item.start for item in first.items] == sorted(item.start for item in first.items)
    assert draft(note, CATALOGUE) == first
    for one in mentions(text):
        assert 0 <= one["start"] < one["end"] <= len(text)


@settings(max_examples=120)
@given(st.text(max_size=200))
def test_any_text(text):
    look_over(text)


@settings(max_examples=60)
@given(
    st.text(
        alphabet=st.characters(categories=["Nd", "No", "Nl", "Po", "Pd", "Ps", "Pe", "Sm", "Sc", "Zs", "Cf", "Cc"]),
        max_size=120,
    )
)
def test_any_digits_signs_and_controls(text):
    look_over(text)


def vocabulary() -> list[str]:
    """The words that the program itself knows: names, units, cues, findings, conditions, number words, signs."""
    known: set[str] = set(part_names(CATALOGUE).words) | cue_book().verbs | cue_book().phrases.vocabulary()
    known |= finding_book().any.vocabulary()
    known |= {
        str(phrase)
        for values in packaged("read", "conditions.yaml").values()
        if isinstance(values, dict)
        for row in values.values()
        for phrase in row
    }
    known |= {alias.phrase for alias in aliases()}
    known |= set(
        "zero oh nought one two three four five eleven twelve fifteen twenty fifty hundred thousand million point half quarter and a minus to dozen couple".split()
    )
    known |= set(
        "1 2 3 4 12 150 850 0.7 2.5 12.6 3000 1/2 ½ 4k7 5-9 1-150 142,000 16:30 12/05/2026 . , ; : ? ! ( ) [ ] / - – | ± < > ≤ ~ @ # \n \t \" ' °".split(
            " "
        )
    )
    return sorted(known)


WORDS = vocabulary()


@settings(max_examples=150)
@given(st.lists(st.sampled_from(WORDS), max_size=40), st.sampled_from([" ", " ", "", "  ", "\n"]))
def test_texts_of_the_programs_own_words(pieces, between):
    look_over(between.join(pieces))


def salad(seed: int, count: int) -> str:
    rng = random.Random(seed)
    return " ".join(rng.choice(WORDS) for _ in range(count))


# fmt: off
ODD = {
    "nothing": "", "a blank": " ", "line ends": "\n" * 2000, "carriage returns": "a\r\rb\r\n" * 200, "tabs": "\t" * 500,
    "digits": "1234567890" * 100, "a number beyond floats": "9" * 400 + " ohms", "a small one": "0." + "0" * 400 + "1 bar", "exponents": "1e999 bar 1e-999 V 1e5e5e5",
    "not a number": "nan ohms inf bar infinity volts -inf V", "decimal points": "1.2.3.4.5.6 bar ...5 V 5... 1..2", "commas": "1,2,3,4 1,,2 ,5 5, bar", "signs": "+-±≤≥<>=~≈" * 50,
    "slashes": "1/0 1/2/3/4/5 //// 0/0 ohms", "nested brackets": "(" * 300 + "2.5 bar" + ")" * 300, "open brackets": "[({" * 300, "close brackets": ")]}" * 300,
    "right to left": "לחץ דלק 2.5 בר ضغط الوقود ٢٫٥ بار", "turned round": "\u202e2.5 bar fuel pressure\u202c \u200f\u200e\u2066 12 V", "other digits": "٣٫٥ bar १२ volts 五 ohms ４．５ V Ⅷ mm ① ② ③",
    "emoji": "🔧 2.5 bar 👍🏽 👨‍👩‍👧 🇬🇧 1️⃣ 850 ohms 🔋12.6V", "control characters": "\x00\x01\x02 12.6 V \x07\x1b[31m 850 ohms \x7f", "byte order marks": "\ufeff2.5 bar\ufeff",
    "nothing wide": "2.5\u200bbar 12\u00a0V 0.7\u202fohms", "combining": "e" + "\u0301" * 300 + " 5 bar", "a case that grows": "İSTANBUL 5 BAR ŉ ǰ ß ﬁ 12 V", "long words": "a" * 5000 + " 2.5 bar " + "Ω" * 3000, "a long code": "A1-" * 500,
    "quotes": "\"'‘’“”`´" * 50 + "5'3\"", "apostrophes": "'s 's's don''t a'b'c' 's", "full stops": "." * 3000, "questions": "?" * 500 + " why ? ? 5 bar?", "pipes": "|" * 500 + "\n|---|---|\n| | |\n", "a broken table": "| cyl | psi\n1 | | 150 |\n|||2|\n",
    "ditto marks": '"\n"\n" " "\n1 150\n" "', "one word": "bar " * 300, "hundreds": "hundred " * 200, "thousands": "thousand million " * 100, "points": "point " * 200, "ands": "and " * 300, "noughts": "oh " * 200,
    "pairs": "1 5 2 6 3 7 4 8 5 9 6 1 7 2 8 3 9 4 10 5 11 6 12 7 13 8 " * 8, "takings back": "5 bar no sorry scratch that " * 40, "limits": "should be at least " * 60 + "5 bar", "positions": "left right front rear inner outer all four " * 30,
    "hearings": "if the last shop said it's 5 bar " * 30, "a word in many forms": "Ｂａｔｔｅｒｙ １２．６ Ｖ", "dates": "31/12/2026 2026-02-30 29 Feb 2025 25:99 99:99:99 " * 10, "a number with all": "-±~<≤5.5e3kΩ/°%²",
}
# fmt: on


@pytest.mark.parametrize("name", ODD)
def test_odd_texts(name):
    look_over(ODD[name])


@pytest.mark.parametrize("seed", range(6))
def test_salads_of_known_words(seed):
    look_over(salad(seed, 250))


@pytest.mark.slow
@pytest.mark.parametrize(
    "text",
    ["7" * 1_000_000, "\n" * 100_000, "x" * 500_000, "(" * 20_000 + ")" * 20_000],
    ids=["a megabyte of digits", "line ends", "one word", "brackets"],
)
def test_very_long_texts(text):
    note = Note(text)
    assert all(0 <= one.start < one.end <= len(text) for one in read(note, CATALOGUE))
    assert note.text == text


@pytest.mark.parametrize(
    "first", ["Battery 12.6 volts rested.", "Compression 150, 148, 152, 120 psi.", "Injecter 3 is leaking. 🔧"]
)
def test_a_note_leaves_nothing_behind_for_the_next(first):
    other = "Static fuel pressure 2.9 bar, engine off. Coil primary 0.7 ohms."
    before = draft(Note(other), CATALOGUE)
    draft(Note(first), CATALOGUE)
    assert draft(Note(other), CATALOGUE) == before


@pytest.mark.parametrize("ahead", ["🔧🔧 ", "\n\n", "İ ", "é́ ", "\u202e"])
def test_what_stands_ahead_only_moves_the_place(ahead):
    text = "Coil primary 0.7 ohms, should be 0.5 to 0.9 ohms."
    plain = [(text[item.start : item.end], item.test) for item in draft(Note(text), CATALOGUE).items]
    moved = ahead + text
    assert [(moved[item.start : item.end], item.test) for item in draft(Note(moved), CATALOGUE).items] == plain
