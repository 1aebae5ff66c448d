"""The unit of a bare reading that no test of the catalogue wants: that of a like number before it, or its measure's usual one.

"Backlash I measured 0.28" is millimetres; "12.4 V at pin 1, pin 4 12.1" is volts.
"""

from __future__ import annotations

from functools import cache
from itertools import islice
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .features import sayable

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cleansheet.terms import Item, Mention

_ALIKE = 1.5  # how far apart two numbers of one measure may lie, as a factor
_BACK = 6  # readings back to a like number
_SURE = 0.6  # below this a bare number may be no reading at all


@cache
def _unit_by_word() -> dict[str, str]:
    """The unit by the word that names what was measured (data/usual_units.yaml)."""
    out: dict[str, str] = {}
    for unit, rows in packaged("match", "usual_units.yaml").items():
        for row in rows:
            for word in row if isinstance(row, list) else [row]:
                out[str(word)] = str(unit)
    return out


def usual_unit(mention: Mention, before: Sequence[Item]) -> str | None:
    """The unit of a bare reading without a test, None where nothing tells it. `before` are the items so far."""
    number = mention.quantity.number if mention.quantity is not None else None
    if number is None or mention.confidence < _SURE:
        return None
    return _of_word(mention, number) or _of_like(number, before)


def _of_like(number: float, before: Sequence[Item]) -> str | None:
    if number == int(number):
        return None  # a whole number may count anything
    readings = (item.quantity for item in reversed(before) if item.kind == "reading")
    for quantity in islice((one for one in readings if one is not None), _BACK):
        other = quantity.number
        if (
            other
            and quantity.unit is not None
            and 1 / _ALIKE <= number / other <= _ALIKE
            and sayable(number, quantity.unit)
        ):
            return quantity.unit
    return None


def _of_word(mention: Mention, number: float) -> str | None:
    table = _unit_by_word()
    units = {table[word] for word in mention.context if word in table}
    if len(units) != 1:
        return None
    unit = units.pop()
    return unit if sayable(number, unit) else None
