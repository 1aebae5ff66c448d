"""A part's story: its readings by test over time with their limits and trend, what was done to it, what is open."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from .sizes import convert

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from .rows import Record


@dataclass(frozen=True, slots=True)
class Series:
    """Readings of one test, position and vehicle, oldest first, in one unit (that of the newest).

    `values` are in that unit, None for a finding. `limits` is (low, high) of the newest reading that was judged.
    `per_year` is the slope of a straight line through the readings, in unit a year; None for fewer than three
    readings or less than a day between first and last. `years` lie between the first reading and the last;
    `rounding` is the widest interval that one of the readings leaves open, in the unit.
    """

    test: str | None
    position: str | None
    vehicle: str | None
    unit: str | None
    records: tuple[Record, ...]
    values: tuple[float | None, ...]
    limits: tuple[float | None, float | None]
    per_year: float | None
    years: float
    rounding: float


@dataclass(frozen=True, slots=True)
class Story:
    """All of it for the records of a search; `replaced` is the newest action that says so."""

    series: tuple[Series, ...]
    actions: tuple[Record, ...]
    replaced: Record | None
    questions: tuple[Record, ...]
    todos: tuple[Record, ...]
    others: tuple[Record, ...]


_YEAR_S = 365.25 * 86400
_NEW_PART = ("replac", "renew", "fitted new", "fitted a new", "new one", "swapped", "swap", "changed the", "exchang")


def story(records: Sequence[Record]) -> Story:
    """The story that the records tell; they may come in any order."""
    ordered = sorted(records, key=lambda one: (one.happened_at, one.note_id, one.item.start))
    groups: dict[tuple[str | None, str | None, str | None], list[Record]] = {}
    for record in ordered:
        if record.item.kind == "reading":
            groups.setdefault((record.item.test, record.item.position, record.vehicle), []).append(record)
    actions = tuple(record for record in ordered if record.item.kind == "action")
    return Story(
        series=tuple(
            _series(*key, lines) for key, lines in sorted(groups.items(), key=lambda one: tuple(map(str, one[0])))
        ),
        actions=actions,
        replaced=next((one for one in reversed(actions) if says_replaced(one.quote)), None),
        questions=tuple(record for record in ordered if record.item.kind == "question"),
        todos=tuple(record for record in ordered if record.item.kind == "todo"),
        others=tuple(r for r in ordered if r.item.kind in ("suspect", "cleared", "symptom", "marking", "expected")),
    )


def says_replaced(words: str) -> bool:
    """Whether words of a deed say that the part is another one now.

    >>> says_replaced("Swapped the pump relay"), says_replaced("cleaned the plugs")
    (True, False)
    """
    low = words.lower()
    if re.search(r"\bswap\w*\b.*\b(?:over|round|around|about)\b", low):
        return False  # two of them changed places
    return any(word in low for word in _NEW_PART) or low.startswith(("new ", "fitted ", "fit a new"))


def _series(test: str | None, position: str | None, vehicle: str | None, lines: list[Record]) -> Series:
    unit = next((one.item.quantity.unit for one in reversed(lines) if one.item.quantity is not None), None)

    def in_unit(number: float | None, code: str | None) -> float | None:
        if number is None or code is None or unit is None:
            return number if code == unit else None
        return convert(number, code, unit)

    values = tuple(
        in_unit(one.item.quantity.number, one.item.quantity.unit) if one.item.quantity is not None else None
        for one in lines
    )
    limits: tuple[float | None, float | None] = (None, None)
    for one in reversed(lines):
        limit = one.item.expected
        if limit is not None:
            limits = (in_unit(limit.low, limit.unit), in_unit(limit.high, limit.unit))
            break
    first, last = (datetime.fromisoformat(one.happened_at) for one in (lines[0], lines[-1]))
    years = (last - first).total_seconds() / _YEAR_S
    rounding = max((_open(one, in_unit) for one in lines), default=0.0)
    return Series(test, position, vehicle, unit, tuple(lines), values, limits, _slope(lines, values), years, rounding)


def _open(record: Record, in_unit: Callable[[float | None, str | None], float | None]) -> float:
    quantity = record.item.quantity
    if quantity is None:
        return 0.0
    low, high = in_unit(quantity.low, quantity.unit), in_unit(quantity.high, quantity.unit)
    return abs(high - low) if low is not None and high is not None else 0.0


def _slope(lines: Sequence[Record], values: Sequence[float | None]) -> float | None:
    """Least squares, in unit a year."""
    points = [
        (datetime.fromisoformat(line.happened_at).timestamp() / _YEAR_S, value)
        for line, value in zip(lines, values, strict=True)
        if value is not None
    ]
    if len(points) < 3 or points[-1][0] - points[0][0] < 1 / 365.25:
        return None
    mean_x = sum(x for x, _ in points) / len(points)
    mean_y = sum(y for _, y in points) / len(points)
    spread = sum((x - mean_x) ** 2 for x, _ in points)
    return sum((x - mean_x) * (y - mean_y) for x, y in points) / spread
