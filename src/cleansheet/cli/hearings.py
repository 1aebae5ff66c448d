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

    A hearing that stands beside several neighbours replaces all of them: "one fifteen" with "150" beside both words is one
    replacement of both, and so is "fourteen to" with "forty two". See `runs` for the exceptions.
    """
    near = _near(note, item)
    return [(word, heard) for first, last, word, heard in runs(note) if first < near.stop and near.start <= last]


def runs(note: Note) -> list[tuple[int, int, Word, str]]:
    """Every other hearing once: (first word, last word, the run as one word, what was heard), in the order of the words.

    Neighbours with the same hearing are one run, but for two: fifteen fifteen with "fifty" beside both is each of them
    misheard in the same way, and "one fifteen one fifteen" with "150" is the same run twice.
    """
    found: dict[tuple[int, int, str], None] = {}
    for at, word in enumerate(note.words):
        for heard in word.heard:
            first, last = _run(note.words, at, heard)
            found.setdefault((first, last, heard))
    ordered = sorted(found, key=lambda one: one[:2])
    return [(first, last, _as_one(note, first, last), heard) for first, last, heard in ordered]


def _near(note: Note, item: Item) -> range:
    inside = [place for place, word in enumerate(note.words) if word.start < item.end and item.start < word.end]
    if not inside:
        return range(0)
    return range(max(inside[0] - _AROUND, 0), min(inside[-1] + _AROUND + 1, len(note.words)))


def _run(words: tuple[Word, ...], at: int, heard: str) -> tuple[int, int]:
    """The first and the last of the words around `at` that the hearing would replace."""
    first = last = at
    while first > 0 and heard in words[first - 1].heard:
        first -= 1
    while last + 1 < len(words) and heard in words[last + 1].heard:
        last += 1
    plain = [_bare(word.text) for word in words[first : last + 1]]
    if len(plain) > 1 and all(_teen_for_ten(word) == heard.lower() for word in plain):
        return at, at
    half = len(plain) // 2
    if half > 1 and len(heard.split()) == 1 and plain[:half] == plain[half:]:
        return (first, first + half - 1) if at < first + half else (first + half, last)
    return first, last


def _bare(text: str) -> str:
    return text.strip(" ,.;:!?").lower()


def _teen_for_ten(word: str) -> str | None:
    from cleansheet.listen.alike import teen_for_ten

    return teen_for_ten(word)


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
