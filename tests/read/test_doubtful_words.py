"""What a recogniser was not sure of is flagged, a finding as well as a number."""

import pytest

from cleansheet.flow import draft
from cleansheet.terms import Note, Word


def spoken(text, probability):
    words, at = [], 0
    for word in text.split():
        start = text.index(word, at)
        at = start + len(word)
        words.append(Word(word, start, at, 0.0, 0.1, probability))
    return Note(text, "spoken", words=tuple(words))


@pytest.mark.parametrize("text", ["Injector 3 is leaking.", "Drive belt is cracked.", "Battery is 12.4 volts."])
@pytest.mark.parametrize(("probability", "flagged"), [(0.3, True), (0.9, False)])
def test_doubtful_words_flag_what_stands_on_them(text, probability, flagged, catalogue):
    items = [item for item in draft(spoken(text, probability), catalogue).items if item.kind == "reading"]
    assert items
    assert {"low_confidence_words" in item.flags for item in items} == {flagged}
