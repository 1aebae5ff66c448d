"""The limits that the note itself states, and which reading each was said for.

"We want less than fifty" holds for every reading of its test in the note, before it and after. Where several were said
for one test, the same position and condition decide, then the same list, then nearness. A limit said of no test in
particular ("anything over point two is too much") holds for the readings it was said with.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass, replace
from math import inf
from typing import TYPE_CHECKING

from .. import units
from .bands import Band, band_of, scale
from .conditions import contradicts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..catalogue import Catalogue, Test
    from ..terms import Item, Note, Quantity

NOMINAL_SHARE = 0.05  # how far a nominal figure may be missed where the catalogue has no tolerance; common practice
_BREAK = 200  # what the end of a sentence adds to a distance, in characters
_LINE = 80
_BACK = 60  # characters back in which a limit's words stand
_HEAD = 12  # characters before a limit that heads its sentence: "FL 1.12k, FR 1.15k. Spec 0.9 to 1.3k"
# Words that make a limit one for all: "anything over", "none of them above", "all under".
_SHARED = re.compile(
    r"\b(?:any|anything|any of|all|every|everything|each|none|nothing|both|either|neither)\b", re.IGNORECASE
)
_STOP = re.compile(r"[.!?;]\s|\n")


@dataclass(frozen=True, slots=True)
class SaidLimit:
    """One limit of the note, in base units. `nominal` marks a bare figure; `band` is then its tolerance."""

    item: Item
    band: Band
    kind: str
    nominal: bool
    quote: str
    axle: str | None = None


class SaidLimits:
    """The note's limits, found by test."""

    __slots__ = ("_by_test", "_lines", "_loose", "_note", "_stops")

    def __init__(self, items: Sequence[Item], note: Note, catalogue: Catalogue) -> None:
        self._note = note
        self._stops = [found.start() for found in _STOP.finditer(note.text)]
        self._lines = [at for at, char in enumerate(note.text) if char == "\n"]
        self._by_test: dict[str, list[SaidLimit]] = {}
        self._loose: list[SaidLimit] = []
        for item in items:
            if item.kind != "expected" or item.quantity is None or not units.known(item.quantity.unit):
                continue
            test = catalogue.tests.get(item.test) if item.test is not None else None
            limit = _limit(item, item.quantity, note, test)
            if limit is None:
                continue
            limit = replace(limit, axle=_axle(note.text, item))
            if test is not None and _out_of_the_question(item, test):
                continue
            if test is None:
                self._loose.append(limit)
            else:
                self._by_test.setdefault(test.id, []).append(limit)

    def __bool__(self) -> bool:
        return bool(self._by_test or self._loose)

    def of(self, reading: Item, kind: str) -> SaidLimit | None:
        """The limit said for this reading, or None. `kind` is what the reading's unit measures."""
        if reading.test is not None:
            known = [
                limit
                for limit in self._by_test.get(reading.test, ())
                if _may_hold(limit, reading, kind, self._port(limit, reading))
            ]
            if known:
                return self._joined(known, reading)
        loose = [limit for limit in self._loose if _may_hold(limit, reading, kind) and self._meant(limit, reading)]
        return self._joined(loose, reading) if loose else None

    def _port(self, limit: SaidLimit, reading: Item) -> bool:
        """Whether a reading by number is of the port that a limit is for: the last one named before it."""
        if limit.item.position not in _PORTS or reading.position is None or not reading.position.isdigit():
            return False
        named = list(_PORT.finditer(self._note.text, 0, reading.start))
        return bool(named) and ("exhaust" if named[-1][1] else "intake") == limit.item.position

    def _meant(self, limit: SaidLimit, reading: Item) -> bool:
        """Whether a limit of no particular test was said of this reading."""
        if limit.item.component is not None and reading.component not in (None, limit.item.component):
            return False
        if limit.item.group is not None and limit.item.group == reading.group:
            return True
        sentence = self._note.text[max(0, limit.item.start - _BACK) : limit.item.start]
        stop = max((found.end() for found in _STOP.finditer(sentence)), default=0)
        if _SHARED.search(sentence, stop):
            return True
        headed = stop > 0 and len(sentence) - stop <= _HEAD and reading.end <= limit.item.start
        return reading.test is None and self._distance(limit, reading) < (2 * _BREAK if headed else _BREAK)

    def _joined(self, limits: list[SaidLimit], reading: Item) -> SaidLimit:
        """The best of several; two one-sided ones that make a band ("no less than 2, no more than 4") are joined."""
        limits = sorted(limits, key=lambda limit: self._rank(limit, reading))
        best = limits[0]
        for other in limits[1:]:
            low, high = max(best.band[0], other.band[0]), min(best.band[1], other.band[1])
            nominal = best.nominal or other.nominal
            if not nominal and _open_side(best) * _open_side(other) == -1 and low <= high:
                return SaidLimit(best.item, (low, high), best.kind, nominal=False, quote=f"{best.quote}, {other.quote}")
        return best

    def _rank(self, limit: SaidLimit, reading: Item) -> tuple[int, int, int]:
        item = limit.item
        place = 0 if item.position is not None and item.position == reading.position else 1
        group = 0 if item.group is not None and item.group == reading.group else 1
        return place, group, self._distance(limit, reading)

    def _distance(self, limit: SaidLimit, reading: Item) -> int:
        item = limit.item
        start, end = (reading.end, item.start) if item.start >= reading.end else (item.end, reading.start)
        if end <= start:
            return 0
        stops = bisect_left(self._stops, end) - bisect_left(self._stops, start)
        lines = bisect_left(self._lines, end) - bisect_left(self._lines, start)
        return end - start + _BREAK * stops + _LINE * lines


def _open_side(limit: SaidLimit) -> int:
    """-1 where only the lower end is open, 1 where only the upper one is, 0 otherwise."""
    return (limit.band[1] == inf) - (limit.band[0] == -inf)


def _limit(item: Item, quantity: Quantity, note: Note, test: Test | None) -> SaidLimit | None:
    unit = quantity.unit or ""
    factor, offset, kind = scale(unit)
    quote = note.text[item.start : item.end]
    sides, nominal = _sides(quantity, test)
    if sides is None:
        return None
    low, high = sides
    band = (-inf if low is None else factor * low + offset, inf if high is None else factor * high + offset)
    return SaidLimit(item, band, kind, nominal, quote)


def _sides(quantity: Quantity, test: Test | None) -> tuple[tuple[float | None, float | None] | None, bool]:
    """The ends of a limit as said, and whether it is one nominal figure."""
    value, sign = quantity.value, quantity.comparator
    if sign != "=":
        bound = value if value is not None else quantity.high if sign[0] == "<" else quantity.low
        return (None if bound is None else (None, bound) if sign[0] == "<" else (bound, None)), False
    if value is None:  # a range, or one side of it
        if quantity.low is None and quantity.high is None:
            return None, False
        return (quantity.low, quantity.high), False
    way = test.single_limit if test is not None else "nominal"
    if way == "max":
        return (None, value), False
    if way == "min":
        return (value, None), False
    return _tolerance(quantity, value, test), True


def _tolerance(quantity: Quantity, value: float, test: Test | None) -> tuple[float, float]:
    half = abs(value) * NOMINAL_SHARE
    if test is not None and test.nominal_tolerance is not None and test.measure is not None:
        factor = scale(test.measure)[0] / scale(quantity.unit or "1")[0]
        half = test.nominal_tolerance * factor
    low = value - half if quantity.low is None else min(quantity.low, value - half)
    high = value + half if quantity.high is None else max(quantity.high, value + half)
    return low, high


_AXLE_AFTER = re.compile(
    r"\s*(?:mm|in|inch|bar|psi|thou)?\s*(?:on the |at the |for the |\()?(front|rear|back)s?\s*(?:[,.;)/\n]|and\b|$)",
    re.IGNORECASE,
)
_AXLE_BEFORE = re.compile(r"\b(front|rear|back)s?\s*(?:min(?:imum)?|max(?:imum)?|is|=|:)?\s*$", re.IGNORECASE)


def _axle(text: str, item: Item) -> str | None:
    """The axle that a limit is said for: "minimum 20.4 front and 8.0 rear"."""
    found = _AXLE_AFTER.match(text, item.end) or _AXLE_BEFORE.search(text[max(0, item.start - 24) : item.start])
    if found is None:
        return None
    return "front" if found[1].lower() == "front" else "rear"


_ABSURD = 5.0


def _out_of_the_question(item: Item, test: Test) -> bool:
    """Whether a figure without a unit of its own is no limit of its test: far from all that it can show."""
    quantity, limit = item.quantity, test.plausible
    if quantity is None or limit is None or "unit_assumed" not in item.flags or quantity.number is None:
        return False
    if scale(limit.unit)[2] != scale(quantity.unit or "1")[2]:
        return False
    factor, offset, _ = scale(quantity.unit or "1")
    high = band_of(limit)[1]
    return high > 0 and factor * quantity.number + offset > high * _ABSURD


_PORTS = frozenset({"intake", "exhaust"})
_PORT = re.compile(r"\b(?:(exh(?:aust)?s?|ex)|(?:inlet|intake|in)s?)\b", re.IGNORECASE)


def _may_hold(limit: SaidLimit, reading: Item, kind: str, same_port: bool = False) -> bool:
    if limit.kind != kind:
        return False
    axle = (reading.position or "").partition("-")[0]
    if limit.axle is not None and axle in {"front", "rear"} and axle != limit.axle:
        return False
    at, said = limit.item.position, reading.position
    if at not in (None, "all") and said not in (None, "all") and at != said and not same_port:
        return False
    return not contradicts(limit.item.condition, reading.condition)
