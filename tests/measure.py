"""How far a draft sheet agrees with a labelled note, and the figures that follow for many notes.

An item of the draft meets a label where it has the same kind, shares at least one character with it and, for a reading or
a limit, says the same number to half a per cent whatever the unit, or the same finding. Every label and every item is used
once; where several could meet, the pair with more equal fields and then the longer common stretch goes first.
A key that a label leaves out is not measured; a key that is None there must be None in the draft.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from cleansheet.terms import GOOD_FINDINGS, KINDS
from cleansheet.units import known, to_base

Row = Mapping[str, Any]
FIELDS = ("component", "test", "position", "verdict")
ALARMS = (
    "unit_slip",
    "spec_conflict",
    "units_disagree",
)  # flags that send a person looking: none may be raised in vain
_NEAR = 0.005
_ONE_SIDED = {"<": "high", "<=": "high", ">": "low", ">=": "low"}


def in_base(number: float | None, unit: str | None) -> tuple[float, str] | None:
    """The number in its kind's base unit, with the kind; None where there is no number or no known unit."""
    if number is None or not known(unit):
        return None
    value, kind = to_base(number, unit)
    # a per cent and a plain ratio are one kind: 3 % is 0.03
    return (value / 100, "number") if kind == "ratio" else (value, kind)


def near(one: tuple[float, str] | None, two: tuple[float, str] | None) -> bool:
    """Whether two numbers are the same to half a per cent; two missing ones are."""
    if one is None or two is None:
        return one is two
    return one[1] == two[1] and abs(one[0] - two[0]) <= _NEAR * max(abs(one[0]), abs(two[0])) + 1e-9


def has_number(label: Row) -> bool:
    return any(label.get(key) is not None for key in ("value", "low", "high"))


def same_number(label: Row, quantity: Row | None) -> bool:
    """Whether a draft's quantity is the label's number: one value, or both ends, a missing end being one too."""
    if quantity is None:
        return False
    unit = quantity["unit"]
    value, low, high = (quantity[key] for key in ("value", "low", "high"))
    if label.get("value") is not None:
        if value is None and low is not None and low == high:
            value = low
        return near(in_base(label["value"], label.get("unit")), in_base(value, unit))
    side = _ONE_SIDED.get(quantity["comparator"])
    if side is not None and value is not None:
        low, high = (value, None) if side == "low" else (None, value)
    return all(
        near(in_base(label.get(key), label.get("unit")), in_base(end, unit))
        for key, end in (("low", low), ("high", high))
    )


def same_finding(label: str, found: str | None) -> bool:
    """Equal, or one of them is the plain "ok" or "faulty" and both are good or both are bad."""
    if found is None or label == found:
        return label == found
    return bool({label, found} & {"ok", "faulty"}) and (label in GOOD_FINDINGS) == (found in GOOD_FINDINGS)


def place(text: str, label: Row) -> tuple[int, int]:
    """Where a label's quote stands: its first place, or the one after `nth` others. Raises ValueError where it is not."""
    start = text.index(label["quote"])
    for _ in range(label.get("nth", 0)):
        start = text.index(label["quote"], start + 1)
    return start, start + len(label["quote"])


def says_the_same(label: Row, item: Row) -> bool:
    if label["kind"] not in {"reading", "expected"}:
        return True
    if has_number(label):
        return same_number(label, item["quantity"])
    return label.get("finding") is None or same_finding(label["finding"], item["finding"])


def pairs(text: str, labels: Sequence[Row], items: Sequence[Row]) -> list[tuple[int, int]]:
    """Which label meets which item, as numbers of both lists."""
    likely: list[tuple[int, int, int, int]] = []
    for i, label in enumerate(labels):
        start, end = place(text, label)
        for j, item in enumerate(items):
            common = min(end, item["end"]) - max(start, item["start"])
            if item["kind"] == label["kind"] and common > 0 and says_the_same(label, item):
                equal = sum(label.get(key) is not None and label[key] == item[key] for key in FIELDS[:3])
                likely.append((equal, common, i, j))
    met: dict[int, int] = {}
    for _, _, i, j in sorted(likely, reverse=True):
        if i not in met and j not in met.values():
            met[i] = j
    return sorted(met.items())


@dataclass
class Figures:
    """What was counted over all notes. `right` and `asked` count fields by (kind, field) and flags by ("flag", name)."""

    hits: Counter[str] = field(default_factory=Counter)
    labels: Counter[str] = field(default_factory=Counter)
    items: Counter[str] = field(default_factory=Counter)
    right: Counter[tuple[str, str]] = field(default_factory=Counter)
    asked: Counter[tuple[str, str]] = field(default_factory=Counter)
    whole: int = 0
    failed_called_good: int = 0
    good_called_failed: int = 0
    alarms: int = 0

    def f1(self, kind: str) -> float:
        """The harmonic mean of precision and recall: 2 hits / (labels + items); 1 where there is neither."""
        return _f1(self.hits[kind], self.labels[kind], self.items[kind])

    @property
    def whole_f1(self) -> float:
        """The same for readings whose labelled fields are all right."""
        return _f1(self.whole, self.labels["reading"], self.items["reading"])

    def share(self, kind: str, name: str) -> float:
        """How many of the fields that were asked for are right, of the readings that were found."""
        return self.right[kind, name] / self.asked[kind, name] if self.asked[kind, name] else 1.0


def _f1(hits: int, labels: int, items: int) -> float:
    return 2 * hits / (labels + items) if labels + items else 1.0


def measure(notes: Iterable[tuple[Row, Sequence[Row]]]) -> Figures:
    """The figures for notes, each a labelled note and the items of its draft sheet as in its JSON form."""
    out = Figures()
    for note, items in notes:
        _add(out, note, items)
    return out


def _add(out: Figures, note: Row, items: Sequence[Row]) -> None:
    labels = note["items"]
    met = dict(pairs(note["text"], labels, items))
    out.labels.update(label["kind"] for label in labels)
    out.items.update(item["kind"] for item in items)
    meant: dict[int, Row] = {j: labels[i] for i, j in met.items()}
    for i, j in met.items():
        label, item = labels[i], items[j]
        kind = label["kind"]
        out.hits[kind] += 1
        wrong = False
        for key in FIELDS:
            if key in label:
                out.asked[kind, key] += 1
                out.right[kind, key] += label[key] == item[key]
                wrong |= label[key] != item[key]
        if kind == "reading":
            out.whole += not wrong
            said = (label.get("verdict"), item["verdict"])
            out.failed_called_good += said == ("out_of_spec", "in_spec")
            out.good_called_failed += said == ("in_spec", "out_of_spec")
        for flag in label.get("flags", ()):
            out.asked["flag", flag] += 1
            out.right["flag", flag] += flag in item["flags"]
    for j, item in enumerate(items):
        if item["kind"] == "reading":
            wanted = meant.get(j, {}).get("flags", ())
            out.alarms += sum(flag in item["flags"] and flag not in wanted for flag in ALARMS)


def as_items(note: Row) -> list[dict[str, Any]]:
    """A note's labels in the form of a draft's items: measured against themselves they must come out perfect."""
    out = []
    for label in note["items"]:
        start, end = place(note["text"], label)
        number = {key: label.get(key) for key in ("value", "low", "high", "unit")} | {
            "comparator": label.get("comparator", "=")
        }
        out.append(
            {"kind": label["kind"], "start": start, "end": end, "quantity": number if has_number(label) else None}
            | {"finding": label.get("finding"), "flags": label.get("flags", [])}
            | {key: label.get(key) for key in FIELDS}
        )
    return out


def lines(figures: Figures) -> list[str]:
    """The figures, one a line, for people."""
    out = [
        f"{kind:14} F1 {figures.f1(kind):.3f}  ({figures.hits[kind]} of {figures.labels[kind]} labels, {figures.items[kind]} items)"
        for kind in KINDS
    ]
    out.append(f"whole reading  F1 {figures.whole_f1:.3f}")
    out += [
        f"{kind}.{name:22} {figures.right[kind, name]}/{asked}" for (kind, name), asked in sorted(figures.asked.items())
    ]
    out.append(
        f"failed part called good {figures.failed_called_good}, good part called failed {figures.good_called_failed}, vain alarms {figures.alarms}"
    )
    return out
