"""What a speaker's rounding leaves open, and whether two figures can be the same result.

A number said with its last digit worth q stands for value ± q/2 (JCGM 100:2008, F.2.2.1, the resolution of an
indication). Trailing zeros of a whole number do not say how it was rounded: the narrow reading, ± 0.5, is taken.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from .convert import _linear, same_kind

if TYPE_CHECKING:
    from ..terms import Quantity


def rounding(decimal_text: str) -> tuple[float, float]:
    """The interval that a decimal as written or said leaves open.

    >>> rounding("2.50")
    (2.495, 2.505)
    >>> rounding("1200")
    (1199.5, 1200.5)

    Raises ValueError for text that is not a plain decimal.
    """
    text = decimal_text.strip().replace("−", "-")
    value = float(text)
    digits = len(text.partition(".")[2])
    half = 0.5 * 10.0**-digits
    return round(value - half, digits + 1), round(value + half, digits + 1)


def spread(value: float, step: float) -> tuple[float, float]:
    """The interval value ± step/2, where `step` is what the last digit or fraction said is worth.

    >>> spread(12.5, 0.5)
    (12.25, 12.75)
    """
    half = step / 2
    return round(value - half, 12), round(value + half, 12)


def ends(quantity: Quantity) -> tuple[float, float]:
    """The lowest and highest value that the quantity allows, open sides infinite."""
    low = float("-inf") if quantity.low is None else quantity.low
    high = float("inf") if quantity.high is None else quantity.high
    if quantity.low is None and quantity.high is None and quantity.value is not None:
        return quantity.value, quantity.value
    return low, high


def overlap(a: Quantity, b: Quantity) -> float | None:
    """How far the intervals of two quantities overlap, in the base unit of their kind; negative is the gap between
    them.

    None where they are of different kinds or a unit is missing or unknown.
    """
    if a.unit is None or b.unit is None or not same_kind(a.unit, b.unit):
        return None
    (a_low, a_high), (b_low, b_high) = _based(a), _based(b)
    return min(a_high, b_high) - max(a_low, b_low)


def _based(quantity: Quantity) -> tuple[float, float]:
    factor, offset, _ = _linear(quantity.unit or "1")
    low, high = ends(quantity)
    return low * factor + offset, high * factor + offset


def agree(a: Quantity, b: Quantity) -> bool | None:
    """Whether two figures can be one result said in two units: their rounding intervals overlap after conversion.

    2.5 bar (2.45 to 2.55) and 36 psi (35.5 to 36.5, 2.448 to 2.517 bar) agree; 2.5 bar and 42 psi do not.
    None where they cannot be compared.
    """
    shared = overlap(a, b)
    if shared is None:
        return None
    scale = max((abs(x) for pair in (_based(a), _based(b)) for x in pair if abs(x) != float("inf")), default=1.0)
    return shared >= -1e-9 * max(scale, 1e-12)


STANDARD_ATMOSPHERE = 101_325.0


def absolute(value: float, code: str, atmosphere: float = STANDARD_ATMOSPHERE) -> float:
    """A gauge pressure in `code` as absolute pressure in the same unit; `atmosphere` in Pa.

    0.8 bar gauge is 1.81325 bar absolute under the standard atmosphere.
    """
    return value + atmosphere / _linear(code)[0]


def gauge(value: float, code: str, atmosphere: float = STANDARD_ATMOSPHERE) -> float:
    """An absolute pressure in `code` as gauge pressure in the same unit; `atmosphere` in Pa."""
    return value - atmosphere / _linear(code)[0]
