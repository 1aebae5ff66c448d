"""What an instrument may be off: "±(0.5 % of reading + 2 digits)"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING

from ..terms import InputError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ..terms import Item, Quantity

_FORM = re.compile(
    r"^\s*(?:±|\+/?-)?\s*\(?\s*(?P<percent>\d+(?:[.,]\d+)?)\s*%(?:\s*(?:of\s+reading|rdg\.?))?"
    r"(?:\s*\+\s*(?P<digits>\d+)\s*(?:digits?|dgt\.?|d|counts?)?)?\s*\)?\s*$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Accuracy:
    """A meter's limit of error: `percent` of the reading and `digits` steps of the last digit.

    `step` is the range's step in the reading's unit; None takes the last digit that was said.
    """

    percent: float
    digits: float = 0.0
    step: float | None = None

    def error(self, quantity: Quantity) -> float:
        """The limit of error in the reading's unit: 12.60 V on a 0.01 V step with ±(0.5 % + 2) is 0.083 V."""
        value = abs(quantity.number or 0.0)
        return limit_of_error(value, self.step if self.step is not None else said_step(quantity), self)


def limit_of_error(shown: float, step: float, accuracy: Accuracy) -> float:
    """Percent of the reading plus digits times the step. Makers' data sheets generally; common practice."""
    return abs(shown) * accuracy.percent / 100 + accuracy.digits * step


def standard_uncertainty(limit: float) -> float:
    """Limit / sqrt(3): nothing known but that the error lies within it (JCGM 100:2008, 4.3.7)."""
    return limit / sqrt(3)


def said_step(quantity: Quantity) -> float:
    """The step of the last digit said: the width of the interval that rounding leaves open. 0 where there is none."""
    if quantity.value is None or quantity.low is None or quantity.high is None or quantity.comparator != "=":
        return 0.0
    return quantity.high - quantity.low


def parse_accuracy(text: str) -> Accuracy:
    """An accuracy from how data sheets write it: "±(0.5 % of reading + 2 digits)", "0.5% + 2", "1 %".

    Raises InputError for anything else.
    """
    found = _FORM.match(text)
    if found is None:
        raise InputError(f"accuracy {text!r} is not of the form '0.5 % + 2 digits'")
    return Accuracy(float(found["percent"].replace(",", ".")), float(found["digits"] or 0))


def meter_for_all(accuracy: Accuracy, items: Iterable[Item]) -> dict[str, Accuracy]:
    """One instrument for every unit that the items hold, in the form that `judge` takes."""
    return {item.quantity.unit: accuracy for item in items if item.quantity is not None and item.quantity.unit}
