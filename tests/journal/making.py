"""Builds small real journals by hand: notes with their words, items at their places."""

from __future__ import annotations

from cleansheet import journal as book
from cleansheet.flow import typed_note
from cleansheet.terms import Draft, Expected, Item, Quantity, Verdict


def quantity(value, unit, half=None, **more):
    half = half if half is not None else 0.5 * 10 ** -(len(str(value).split(".")[1]) if "." in str(value) else 0)
    return Quantity(float(value), float(value) - half, float(value) + half, unit, **more)


def item(text, quote, kind="reading", *, value=None, unit=None, component=None, test=None, verdict=None, **more):
    """An item at the place of `quote` in the text; the part is that of the test where none is given."""
    start = text.index(quote)
    if value is not None:
        more["quantity"] = quantity(value, unit)
    if test is not None and component is None:
        component = test.split(".")[0]
    if verdict is not None:
        more["verdict"] = Verdict(verdict, f"by hand: {verdict}")
    return Item(kind, start, start + len(quote), component=component, test=test, **more)


def draft(text, *items, name="note.txt", at="2026-03-02T16:20:00"):
    return Draft(typed_note(text, name, at), tuple(items))


def signed(journal, drafted, *, who="Sam", at="2026-03-02T18:00:00", **where):
    """Take a draft and sign every line of it; returns what `take` said."""
    taken = book.take(journal, drafted, who=who, at=at, **where)
    lines = [
        book.Line(place, one) for place, one in enumerate(sorted(drafted.items, key=lambda i: (i.start, i.end)), 1)
    ]
    steps = [{"do": "keep", "lines": [line.number for line in lines]}]
    book.sign(journal, taken.note_id, lines, steps=steps, revision=1, finished=True, who=who, at=at)
    return taken


COIL_TEXT = "Aldern camper. Coil primary 0.7 ohm, secondary 9.4 kohm. Swapped the pump relay. Is the module dead?"


def coil_draft(**more):
    return draft(
        COIL_TEXT,
        item(COIL_TEXT, "0.7 ohm", value=0.7, unit="Ohm", test="ignition-coil.primary-resistance", verdict="in_spec",
             expected=Expected(0.5, 0.9, "Ohm", "sheet", "invented")),
        item(COIL_TEXT, "9.4 kohm", value=9.4, unit="kOhm", test="ignition-coil.secondary-resistance", verdict="in_spec"),
        item(COIL_TEXT, "Swapped the pump relay", "action", component="fuel-pump-relay"),
        item(COIL_TEXT, "Is the module dead?", "question", component="ignition-module"),
        **more,
    )  # fmt: skip
