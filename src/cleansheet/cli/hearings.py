"""Other hearings of a spoken line: what the recogniser also heard, and what the line would be with one of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from cleansheet.terms import Word

if TYPE_CHECKING:
    from cleansheet.terms import Item, Note

_AROUND = 3  # words on either side that may have been misheard with it


@dataclass(frozen=True, slots=True)
class Hearing:
    """Another hearing of a word, or of a run of words taken as one, and the item that the note's words would give with it."""

    word: Word
    heard: str
    item: Item


def hearings(note: Note, item: Item, catalogue: Any, sheet: Any = None) -> list[Hearing]:
    """The other hearings near an item that make something else of it. Empty for a typed note."""
    from cleansheet.flow import draft

    found: list[Hearing] = []
    for word, heard in replacements(note, item):
        tail = _stop_of(word.text) if not _stop_of(heard) else ""
        text = note.text[: word.start] + heard + tail + note.text[word.end :]
        shift = len(text) - len(note.text)
        other = _same_place(draft(replace(note, text=text, words=()), catalogue, sheet).items, item, word, shift)
        if other is not None and _says(other) != _says(item) and all(_says(other) != _says(one.item) for one in found):
            found.append(Hearing(word, heard, other))
    return found


def replacements(note: Note, item: Item) -> list[tuple[Word, str]]:
    """What near the item was also heard, each once, with the words it would replace as one `Word`.

    A hearing of one word replaces the word it stands beside; one of several replaces the whole run of neighbours that it
    stands beside: "fourteen to" with "forty two" beside both words is one replacement of both.
    """
    words = note.words
    out: dict[tuple[int, int, str], tuple[Word, str]] = {}
    for at in _near(note, item):
        for heard in words[at].heard:
            first, last = _run(words, at, heard) if len(heard.split()) > 1 else (at, at)
            out.setdefault((first, last, heard), (_as_one(note, first, last), heard))
    return list(out.values())


def _near(note: Note, item: Item) -> range:
    inside = [place for place, word in enumerate(note.words) if word.start < item.end and item.start < word.end]
    if not inside:
        return range(0)
    return range(max(inside[0] - _AROUND, 0), min(inside[-1] + _AROUND + 1, len(note.words)))


def _run(words: tuple[Word, ...], at: int, heard: str) -> tuple[int, int]:
    """The first and the last of the neighbouring words around `at` that carry the hearing."""
    first = last = at
    while first > 0 and heard in words[first - 1].heard:
        first -= 1
    while last + 1 < len(words) and heard in words[last + 1].heard:
        last += 1
    return first, last


def _as_one(note: Note, first: int, last: int) -> Word:
    if first == last:
        return note.words[first]
    run = note.words[first : last + 1]
    start, end = run[0].start, run[-1].end
    surest = min(word.probability for word in run)
    return Word(note.text[start:end], start, end, run[0].start_s, run[-1].end_s, surest, run[0].heard)


def _stop_of(text: str) -> str:
    """The comma or stop at the end of a word: hearings come without, and a sentence must still end where it did."""
    return text[len(text.rstrip(",.;?!")) :]


def _same_place(items: tuple[Item, ...], item: Item, word: Word, shift: int) -> Item | None:
    """The item of the other text that stands where this one does, wider by what was replaced where the two overlap."""
    start, end = item.start, item.end
    if word.end <= item.start:
        start, end = start + shift, end + shift
    elif word.start < item.end:
        start, end = min(start, word.start), max(end, word.end) + shift
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
