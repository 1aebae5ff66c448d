"""Signed lines on the screen, as JSON and as CSV."""

from __future__ import annotations

from dataclasses import replace
from pathlib import PurePath
from typing import TYPE_CHECKING, Any

from cleansheet.terms.draft_json import item_to_json

from .paint import fit, paint, width, wrap
from .screen import MARKS, TONES, name_of, place_words, what_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from cleansheet.catalogue import Catalogue
    from cleansheet.journal import Record, Recording
    from cleansheet.terms import Item

MOST_REMARKS = 3  # of one recording, on a page about something else
CSV_COLUMNS = (
    "id", "at", "vehicle", "job", "kind", "component", "test", "position", "value", "low", "high", "unit", "comparator",
    "approximate", "finding", "verdict", "reason", "quote", "said", "condition", "signed_by", "signed_at", "revision",
)  # fmt: skip


def record_json(record: Record, remarks: Iterable[str] = ()) -> dict[str, Any]:
    """A signed line for other programs: the item in the draft sheet's form, where it is from, and its recording's remarks."""
    body = item_to_json(record.item, "")
    body["quote"] = record.quote
    for key in ("runners_up", "proposal"):
        body.pop(key, None)
    return {
        "id": record.id,
        "at": record.happened_at,
        "job": record.job,
        "vehicle": record.vehicle,
        "said": record.said,
        "signed_by": record.signed_by,
        "signed_at": record.signed_at,
        "revision": record.revision,
        "change": record.change,
        "remarks": list(remarks),
        "item": body,
    }


def csv_rows(records: Iterable[Record]) -> Iterator[list[Any]]:
    """Rows under `CSV_COLUMNS`; a value that is not there is empty."""
    import json

    yield list(CSV_COLUMNS)
    for record in records:
        item, quantity = record.item, record.item.quantity
        numbers = (
            (quantity.value, quantity.low, quantity.high, quantity.unit, quantity.comparator, int(quantity.approximate))
            if quantity
            else (None,) * 6
        )
        verdict = (item.verdict.word, item.verdict.reason) if item.verdict else (None, None)
        condition = json.dumps(dict(item.condition)) if item.condition else None
        yield [
            record.id, record.happened_at, record.vehicle, record.job, item.kind, item.component, item.test,
            item.position, *numbers, item.finding, *verdict, _plain(record.quote), _plain(record.said), condition,
            record.signed_by, record.signed_at, record.revision,
        ]  # fmt: skip


def _plain(text: str) -> str:
    """One line, and nothing that a spreadsheet would take for a formula (OWASP, CSV injection)."""
    flat = " ".join(text.split())
    return f"'{flat}" if flat[:1] in ("=", "+", "-", "@") else flat


def table_lines(records: Sequence[Record], catalogue: Catalogue) -> Iterator[str]:
    """A head, then a row a line: day, verdict, what, part and test, vehicle and job; fitted to the screen.

    What all rows share (the part, the vehicle) stands once, in the head.
    """
    part = _shared([record.item.component for record in records])
    vehicle = _shared([record.vehicle for record in records])
    home_room = 12 if vehicle is not None else 26
    place_room = max(width() - 11 - 6 - 16 - home_room - 1, 16)
    named = ", ".join(word for word in (name_of(part, catalogue), vehicle or "") if word)
    what = "test" if part is not None else "part and test"
    home = "job" if vehicle is not None else "vehicle, job"
    yield paint(f"{named}\n" if named else "", "strong") + paint(
        f"{'day':<11}{'':<6}{'result':<16}{fit(what, place_room)} {home}", "dim"
    )
    for record in records:
        item = record.item
        word = item.verdict.word if item.verdict else None
        mark = paint(fit(MARKS[word] if word else "", 6), TONES.get(word or "", "dim"))
        shown = what_words(replace(item, start=0, end=len(record.quote)), record.quote)
        place = _place(item, catalogue, part)
        # words need room more than their kind does
        of_words = item.kind not in ("reading", "expected") and not item.quantity
        room = max(15 + place_room - len(place), 15) if of_words else 15
        body = f"{fit(shown, room)} {place}"
        where = record.job if vehicle is not None else f"{record.vehicle or '-'}, {record.job}"
        yield f"{record.happened_at[:10]:<11}{mark}{fit(body, 16 + place_room)} {fit(where, home_room).rstrip()}"


def _shared(values: Sequence[str | None]) -> str | None:
    """The one value that several rows have in common, or None."""
    return values[0] if len(values) > 1 and len(set(values)) == 1 else None


def _place(item: Item, catalogue: Catalogue, part: str | None) -> str:
    """Part, which one, and test; without the part where the head names it. The kind where it is no reading."""
    if item.kind not in ("reading", "expected"):
        named = "" if part is not None else name_of(item.component, catalogue)
        return f"({item.kind}{': ' if named else ''}{named})"
    if part is None:
        return place_words(item, catalogue)
    words = place_words(replace(item, component=None, position=None), catalogue)
    return f"{item.position}: {words}" if item.position and words else words or item.position or ""


def recording_lines(found: Sequence[Recording], *, most: int | None = MOST_REMARKS) -> Iterator[str]:
    """What must be known of the recordings that signed lines are from; at most so many remarks of each."""
    if found:
        yield paint("Recordings", "dim")
    for one in found:
        named = PurePath(one.name).name if one.name else f"note {one.note_id}"
        shown = one.remarks if most is None else one.remarks[:most]
        for remark in shown:
            yield wrap(f"{one.when[:10]}  {named}: {remark}", 14, first="  ")
        if len(shown) < len(one.remarks):
            yield wrap(f"and {len(one.remarks) - len(shown)} more on it", 14)


def said_line(record: Record) -> str:
    """The words as said, and who signed them."""
    again = f", revision {record.revision}: {record.change}" if record.revision > 1 else ""
    return wrap(f'"{record.said}" (signed by {record.signed_by}, {record.signed_at[:10]}{again})', 11)
