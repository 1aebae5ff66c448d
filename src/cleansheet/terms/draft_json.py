"""The draft sheet as JSON (`cleansheet-draft/1`, described in docs/draft-sheet.md), and back."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from .values import Audio, Derived, Draft, Expected, Item, Note, Quantity, RunnerUp, Verdict, Word

FORMAT = "cleansheet-draft/1"


def _quantity(quantity: Quantity | None) -> dict[str, Any] | None:
    if quantity is None:
        return None
    return {
        "value": quantity.value,
        "low": quantity.low,
        "high": quantity.high,
        "comparator": quantity.comparator,
        "approximate": quantity.approximate,
        "unit": quantity.unit,
    }


def item_to_json(item: Item, text: str) -> dict[str, Any]:
    """One item in the draft sheet's form, with `quote` cut from the note's text."""
    expected = None
    if item.expected is not None:
        limit = item.expected
        expected = {
            "low": limit.low,
            "high": limit.high,
            "unit": limit.unit,
            "from": limit.origin,
            "source": limit.source,
        }
    return {
        "kind": item.kind,
        "start": item.start,
        "end": item.end,
        "quote": text[item.start : item.end],
        "audio": asdict(item.audio) if item.audio is not None else None,
        "quantity": _quantity(item.quantity),
        "finding": item.finding,
        "component": item.component,
        "test": item.test,
        "position": item.position,
        "condition": dict(item.condition),
        "expected": expected,
        "verdict": item.verdict.word if item.verdict is not None else None,
        "reason": item.verdict.reason if item.verdict is not None else None,
        "flags": list(item.flags),
        "confidence": round(item.confidence, 3),
        "why": list(item.why),
        "runners_up": [asdict(other) for other in item.runners_up],
        "second": _quantity(item.second),
        "proposal": item.proposal,
        "at": item.at,
    }


def note_to_json(note: Note) -> dict[str, Any]:
    return {
        "source": note.source,
        "recorded_at": note.recorded_at,
        "sha256": note.sha256,
        "name": note.name,
        "text": note.text,
        "words": [asdict(word) for word in note.words],
        "remarks": list(note.remarks),
    }


def draft_to_json(draft: Draft) -> dict[str, Any]:
    """The whole draft sheet as plain dicts and lists, ready for `json.dumps`."""
    return {
        "format": FORMAT,
        "note": note_to_json(draft.note),
        "items": [item_to_json(item, draft.note.text) for item in draft.items],
        "derived": [asdict(figure) for figure in draft.derived],
        "cautions": list(draft.cautions),
        "remarks": list(draft.remarks),
    }


def quantity_from_json(data: dict[str, Any] | None) -> Quantity | None:
    return None if data is None else Quantity(**data)


def note_from_json(data: dict[str, Any]) -> Note:
    words = tuple(Word(**{**word, "heard": tuple(word.get("heard", ()))}) for word in data.get("words", ()))
    return Note(
        text=data["text"],
        source=data.get("source", "typed"),
        recorded_at=data.get("recorded_at"),
        sha256=data.get("sha256", ""),
        words=words,
        name=data.get("name"),
        remarks=tuple(data.get("remarks", ())),
    )


def item_from_json(data: dict[str, Any]) -> Item:
    """The inverse of `item_to_json`; `quote` is not needed, the place is."""
    limit = data.get("expected")
    return Item(
        kind=data["kind"],
        start=data["start"],
        end=data["end"],
        quantity=quantity_from_json(data.get("quantity")),
        finding=data.get("finding"),
        component=data.get("component"),
        test=data.get("test"),
        position=data.get("position"),
        condition=dict(data.get("condition") or {}),
        expected=None
        if limit is None
        else Expected(limit["low"], limit["high"], limit["unit"], limit["from"], limit.get("source", "")),
        verdict=None if data.get("verdict") is None else Verdict(data["verdict"], data.get("reason") or ""),
        flags=tuple(data.get("flags", ())),
        confidence=data.get("confidence", 1.0),
        why=tuple(data.get("why", ())),
        runners_up=tuple(RunnerUp(**other) for other in data.get("runners_up", ())),
        second=quantity_from_json(data.get("second")),
        proposal=data.get("proposal"),
        audio=None if data.get("audio") is None else Audio(**data["audio"]),
        at=data.get("at"),
    )


def draft_from_json(data: dict[str, Any]) -> Draft:
    return Draft(
        note=note_from_json(data["note"]),
        items=tuple(item_from_json(item) for item in data["items"]),
        derived=tuple(Derived(**figure) for figure in data.get("derived", ())),
        cautions=tuple(data.get("cautions", ())),
        remarks=tuple(data.get("remarks", ())),
    )
