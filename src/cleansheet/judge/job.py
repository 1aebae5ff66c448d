"""The readings of one note, laid out for computing with them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from .. import units
from .bands import scale

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ..catalogue import Catalogue, Sheet, Test
    from ..terms import Item, Note

_DOUBTFUL = frozenset({"unit_slip", "units_disagree", "implausible"})
_WET = re.compile(
    r"\b(?:wet|oil (?:in|down|through|squirt)|squirt of oil|drop of oil|spoon(?:ful)? of oil)\b", re.IGNORECASE
)


class Job:
    """The sound readings of a note by test, in the note's order. Readings with a doubtful number are left out.

    `values` gives base units; `unit` is that of the first reading, for showing figures in what was said.
    """

    def __init__(self, items: Sequence[Item], note: Note, catalogue: Catalogue, sheet: Sheet | None) -> None:
        self.note = note
        self.catalogue = catalogue
        self.sheet = sheet
        self.by_test: dict[str, list[Item]] = {}
        for item in items:
            quantity = item.quantity
            if item.kind != "reading" or item.test is None or quantity is None or not units.known(quantity.unit):
                continue
            test = catalogue.tests.get(item.test)
            if test is None or quantity.number is None or not _DOUBTFUL.isdisjoint(item.flags):
                continue
            if not units.same_kind(quantity.unit, test.measure):
                continue
            self.by_test.setdefault(item.test, []).append(item)

    def of(self, test_id: str) -> list[Item]:
        return self.by_test.get(test_id, [])

    def last(self, test_id: str) -> Item | None:
        found = self.by_test.get(test_id)
        return found[-1] if found else None

    def tests(self) -> Iterable[Test]:
        return (self.catalogue.tests[test_id] for test_id in self.by_test)

    def latest_by_position(self, readings: Iterable[Item]) -> dict[str, Item]:
        """The last reading of each single position: measured again, the earlier one no longer counts."""
        return {item.position: item for item in readings if item.position not in (None, "all")}

    def is_wet(self, item: Item, before: Item) -> bool:
        """Whether oil was put in between two readings of a cylinder: "wet 4 -> 9.1", "squirt of oil in number two"."""
        return _WET.search(self.note.text[before.end : item.start]) is not None

    def words(self) -> str:
        vehicle = f"{self.sheet.vehicle.name} {self.sheet.vehicle.engine}" if self.sheet is not None else ""
        return f"{vehicle} {self.note.text}".lower()


def base(item: Item) -> float:
    """A reading's one figure in base units."""
    quantity = item.quantity
    if quantity is None or quantity.unit is None or quantity.number is None:
        raise ValueError("not a reading with a number")
    factor, offset, _ = scale(quantity.unit)
    return factor * quantity.number + offset


def value_in(item: Item, unit: str) -> float:
    """A reading's one figure in `unit`."""
    factor, offset, _ = scale(unit)
    return (base(item) - offset) / factor
