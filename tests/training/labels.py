"""Labelled notes as the scorers see them: a label for each statement, each number and each finding."""

from __future__ import annotations

from cleansheet.read.remark_rules import FINDING, NONE
from cleansheet.read.remarks import REMARKS
from cleansheet.read.role_rules import NEITHER
from cleansheet.units import known, to_base


def span(text, item):
    """The place of a labelled item's quote."""
    at = -1
    for _ in range(item.get("nth", 0) + 1):
        at = text.index(item["quote"], at + 1)
    return at, at + len(item["quote"])


def has_number(item):
    return any(item.get(key) is not None for key in ("value", "low", "high"))


def _lies_on(note, item, scene):
    """The statement on which an item lies most."""
    start, end = span(note["text"], item)
    best, at = 0, None
    for k, piece in enumerate(scene.layout.pieces):
        shared = min(end, scene.toks[piece.last - 1].end) - max(start, scene.toks[piece.first].start)
        if shared > best:
            best, at = shared, k
    return at


def piece_labels(note, scene):
    """For each statement the remark or the finding that lies on it most; a remark goes before a finding."""
    labels = [NONE] * len(scene.layout.pieces)
    for item in sorted(note["items"], key=lambda item: item["kind"] in REMARKS):
        found = item["kind"] == "reading" and not has_number(item) and item.get("finding")
        if item["kind"] not in REMARKS and not found:
            continue
        at = _lies_on(note, item, scene)
        if at is not None:
            labels[at] = FINDING if found else item["kind"]
    return labels


def _numbers(value, low, high):
    return [value] if value is not None else [low, high]


def _same(item, quantity):
    """Whether a figure is the labelled number, in the labelled unit or with none."""
    unit = quantity.unit or item["unit"]
    if not known(unit) or not known(item["unit"]):
        return False
    gold = [v for v in _numbers(item.get("value"), item.get("low"), item.get("high")) if v is not None]
    got = (
        [quantity.value] if quantity.value is not None else [v for v in (quantity.low, quantity.high) if v is not None]
    )
    if len(gold) != len(got):
        return False
    for a, b in zip(gold, got, strict=True):
        x, kind = to_base(a, item["unit"])
        y, other = to_base(b, unit)
        if kind != other or abs(x - y) > 0.005 * max(abs(x), abs(y)) + 1e-9:
            return False
    return True


def role_labels(note, figures):
    """For each number: reading, expected or neither."""
    labels = [NEITHER] * len(figures)
    for item in note["items"]:
        if item["kind"] not in ("reading", "expected") or not has_number(item):
            continue
        start, end = span(note["text"], item)
        for k, figure in enumerate(figures):
            if min(end, figure.end) > max(start, figure.start) and any(
                _same(item, q) for q in (figure.quantity, *figure.alternatives)
            ):
                labels[k] = item["kind"]
                break
    return labels


def word_labels(note, scene):
    """(statement, finding's word) for each statement labelled a finding."""
    out = []
    for item in note["items"]:
        if item["kind"] == "reading" and not has_number(item) and item.get("finding"):
            at = _lies_on(note, item, scene)
            if at is not None:
                out.append((at, item["finding"]))
    return out
