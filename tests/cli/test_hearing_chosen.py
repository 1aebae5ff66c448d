"""Another hearing of a run of words, from the comparison of two wordings to the signed line, in a real terminal."""

from __future__ import annotations

from dataclasses import replace

import pytest
from terminal import PROMPT, Screen

from cleansheet import journal as book
from cleansheet.catalogue import load
from cleansheet.flow import draft
from cleansheet.listen.alike import differences
from cleansheet.listen.hearing import _note_beside
from cleansheet.listen.listening import written
from cleansheet.listen.transcripts import KeptWord
from cleansheet.terms import Note


def heard(chosen, rival):
    """The note that listening writes of two wordings of a stretch: the chosen one with the other beside its words."""
    plain, its = chosen.split(), rival.split()
    beside = [{} for _ in plain]
    for one in differences(plain, its):
        if one.matters:
            _note_beside(beside, plain, its, one)
    kept = [
        KeptWord(word, at * 0.5, at * 0.5 + 0.4, 0.45 if others else 0.97, tuple(others))
        for at, (word, others) in enumerate(zip(plain, beside, strict=True))
    ]
    text, words = written(kept)
    return Note(text, "spoken", "2026-03-02T16:20:00", "7" * 64, words, "morning.wav")


# (as written down, the other wording, what the line then shows, value, unit)
CHOSEN = [
    ("Cylinder compression one fifteen psi.", "Cylinder compression 150 psi.",
     "'one fifteen' 45%, or '150'", 150, "[psi]"),
    ("Cylinder compression one fifteen psi.", "Cylinder compression one fifty psi.",
     "'fifteen' 45%, or 'fifty'", 150, "[psi]"),
    ("Fuel rail pressure two point nine bar.", "Fuel rail pressure 2.5 bar.",
     "'two point nine' 45%, or '2.5'", 2.5, "bar"),
    ("Cylinder compression 115 psi.", "Cylinder compression one fifty psi.", "'115' 45%, or 'one fifty'", 150, "[psi]"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("chosen", "rival", "shown", "value", "unit"), CHOSEN, ids=[f"{row[0]} {row[1]}" for row in CHOSEN]
)
def test_the_whole_run_is_replaced_and_signed(home, chosen, rival, shown, value, unit):
    note = heard(chosen, rival)
    with book.open_journal(book.default_path()) as journal:
        drafted = draft(note, load())
        flagged = tuple(replace(one, flags=("low_confidence_words",)) for one in drafted.items)
        book.take(journal, replace(drafted, items=flagged), who="Sam", at="2026-03-02T18:00:00")
    screen = Screen()
    assert shown in " ".join(screen.until(PROMPT).split())
    choices = screen.key("h", "which hearing")
    assert len([row for row in choices.splitlines() if "' for '" in row]) == 1
    screen.key("1\r", "S sign as")
    screen.key("S", "1 lines? signed")
    assert screen.end() == 0
    with book.open_journal(book.default_path()) as journal:
        assert [tuple(row) for row in journal.rows("SELECT value, unit FROM items")] == [(value, unit)]
        assert journal.rows("SELECT text FROM notes")[0][0] == chosen  # the words stay as they were heard
