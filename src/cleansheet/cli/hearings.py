"""Other hearings of a spoken line: what the recogniser also heard, and what the line would be with one of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cleansheet.terms import Item, Note, Word

_AROUND = 3  # words on either side that may have been misheard with it


@dataclass(frozen=True, slots=True)
class Hearing:
    """Another hearing of one word, and the item that the note's words would give with it."""

    word: Word
    heard: str
    item: Item


def hearings(note: Note, item: Item, catalogue: Any, sheet: Any = None) -> list[Hearing]:
    """The other hearings near an item that make something else of it. Empty for a typed note."""
    from cleansheet.flow import draft

    found: list[Hearing] = []
    for word in _near(note, item):
        for heard in word.heard:
            text = note.text[: word.start] + heard + note.text[word.end :]
            shift = len(text) - len(note.text)
            other = _same_place(draft(replace(note, text=text, words=()), catalogue, sheet).items, item, word, shift)
            if (
                other is not None
                and _says(other) != _says(item)
                and all(_says(other) != _says(one.item) for one in found)
            ):
                found.append(Hearing(word, heard, other))
    return found


def _near(note: Note, item: Item) -> list[Word]:
    words = list(note.words)
    inside = [place for place, word in enumerate(words) if word.start < item.end and item.start < word.end]
    if not inside:
        return []
    return words[max(inside[0] - _AROUND, 0) : inside[-1] + _AROUND + 1]


def _same_place(items: tuple[Item, ...], item: Item, word: Word, shift: int) -> Item | None:
    """The item of the other text that stands where this one does."""
    end = item.end + (shift if word.end <= item.end else 0)
    start = item.start + (shift if word.end <= item.start else 0)
    fitting = [one for one in items if one.kind == item.kind and one.start < end and start < one.end]
    return max(fitting, key=lambda one: min(one.end, end) - max(one.start, start), default=None)


def _says(item: Item) -> tuple[Any, ...]:
    number = (item.quantity.value, item.quantity.low, item.quantity.high, item.quantity.unit) if item.quantity else None
    return number, item.finding, item.component, item.test, item.position


def fields_of(item: Item, other: Item) -> dict[str, Any]:
    """The correction that makes of an item what another hearing says."""
    fields: dict[str, Any] = {}
    for name in ("component", "test", "position", "finding"):
        if getattr(other, name) != getattr(item, name):
            fields[name] = getattr(other, name)
    if "test" in fields and fields["test"] is not None:
        fields.pop("component", None)
    if other.quantity is not None and other.quantity != item.quantity:
        quantity = other.quantity
        fields |= (
            {"low": quantity.low, "high": quantity.high, "unit": quantity.unit}
            if quantity.value is None
            else {"value": quantity.value, "comparator": quantity.comparator, "unit": quantity.unit}
        )
    return fields
