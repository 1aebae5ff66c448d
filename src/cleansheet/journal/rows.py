"""An item as a row of the `items` table, and back. What the search needs stands in columns, the rest as JSON."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from cleansheet.terms import Item, Quantity
from cleansheet.terms.draft_json import item_from_json, item_to_json

from .second import base_columns

if TYPE_CHECKING:
    from collections.abc import Mapping

# Fields that no search asks for; kept together so that a million rows stay small.
_REST = ("condition", "expected", "why", "second", "proposal", "audio", "at")
# A sentence ends at . ! ? before a space and at a line's end; "2.5 bar" does not end one.
_SENTENCE_END = re.compile(r"[.!?;](?=\s)|\n")
_MOST_SAID = 240


_NO_BASE = {"base_kind": None, "base": None, "base_low": None, "base_high": None}


def compact(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def sentence_around(text: str, start: int, end: int) -> tuple[int, int]:
    """The place of the sentence that holds `text[start:end]`, no longer than about 240 characters."""
    before = [found.end() for found in _SENTENCE_END.finditer(text, 0, start)]
    left = before[-1] if before else 0
    after = _SENTENCE_END.search(text, end)
    right = after.end() if after else len(text)
    if right - left > _MOST_SAID:
        left = max(left, _word_edge(text, start - _MOST_SAID // 2, forward=True))
        right = min(right, max(end, _word_edge(text, end + _MOST_SAID // 2, forward=False)))
    while left < start and text[left].isspace():
        left += 1
    while right > end and text[right - 1].isspace():
        right -= 1
    return left, right


def _word_edge(text: str, place: int, *, forward: bool) -> int:
    place = min(max(place, 0), len(text))
    if place in (0, len(text)):
        return place
    step = 1 if forward else -1
    while 0 < place < len(text) and not text[place - 1].isspace():
        place += step
    return place


def row_of(item: Item, text: str) -> dict[str, Any]:
    """The columns that an item fills; `text` is its note's."""
    data = item_to_json(item, text)
    quantity = item.quantity
    left, right = sentence_around(text, item.start, item.end)
    rest = {key: data[key] for key in _REST if data[key] not in (None, [], {})}
    return {
        "kind": item.kind,
        "start_at": item.start,
        "end_at": item.end,
        "quote": data["quote"],
        "said": text[left:right],
        "component": item.component,
        "test": item.test,
        "position": item.position,
        "finding": item.finding,
        "value": _real(quantity.value if quantity else None),
        "low": _real(quantity.low if quantity else None),
        "high": _real(quantity.high if quantity else None),
        "unit": quantity.unit if quantity else None,
        "comparator": quantity.comparator if quantity else None,
        "approximate": int(quantity.approximate) if quantity else None,
        "verdict": data["verdict"],
        "reason": data["reason"],
        "flags": compact(data["flags"]) if data["flags"] else None,
        "confidence": float(data["confidence"]),
        "rest": compact(rest),
        **(base_columns(quantity.value, quantity.low, quantity.high, quantity.unit) if quantity else _NO_BASE),
    }


def item_of(row: Mapping[str, Any]) -> Item:
    """The item in a row; the inverse of `row_of` but for runners-up, which end with the review."""
    rest = json.loads(row["rest"])
    quantity = None
    if row["comparator"] is not None:
        quantity = Quantity(
            row["value"], row["low"], row["high"], row["unit"], row["comparator"], bool(row["approximate"])
        )
    data = {
        **rest,
        **{key: row[key] for key in ("kind", "component", "test", "position", "finding", "verdict", "reason")},
        "start": row["start_at"],
        "end": row["end_at"],
        "quantity": None,
        "flags": json.loads(row["flags"]) if row["flags"] else [],
        "confidence": row["confidence"],
    }
    return replace(item_from_json(data), quantity=quantity)


@dataclass(frozen=True, slots=True)
class Record:
    """A signed line as the journal holds it: the item with its words, its job and who signed it when.

    `happened_at` is the note's own time (ISO 8601), `said` the sentence around the item, `revision` counts from 1.
    """

    id: int
    item: Item
    quote: str
    said: str
    happened_at: str
    job: str
    vehicle: str | None
    note_id: int
    line: int
    signed_by: str
    signed_at: str
    revision: int
    change: str | None = None
    rank: float | None = None


RECORD_COLUMNS = "i.*, j.code AS job, j.vehicle AS vehicle"
RECORD_TABLES = "items i JOIN jobs j ON j.id = i.job_id"


def record_of(row: Any) -> Record:
    keys = row.keys()
    return Record(
        id=row["id"],
        item=item_of(row),
        quote=row["quote"],
        said=row["said"],
        happened_at=row["happened_at"],
        job=row["job"],
        vehicle=row["vehicle"],
        note_id=row["note_id"],
        line=row["line"],
        signed_by=row["signed_by"],
        signed_at=row["signed_at"],
        revision=row["revision"],
        change=row["change"],
        rank=row["rank"] if "rank" in keys else None,
    )


def _real(number: float | None) -> float | None:
    return None if number is None else float(number)
