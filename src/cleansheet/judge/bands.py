"""Intervals in base units. A reading and a limit are both a pair (low, high); an open end is an infinity.

Everything hot goes through one table of scale and offset a unit, so judging an item makes no call into a units library.
"""

from __future__ import annotations

from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING

from .. import units

if TYPE_CHECKING:
    from ..catalogue import Limit
    from ..terms import Quantity

Band = tuple[float, float]
EVERYTHING: Band = (-inf, inf)

# What "about" makes of an interval: half as wide again as rounding leaves it, or two per cent of the value to each
# side, whichever is wider. "About nine hundred" rpm is 882 to 918, "roughly half a millimetre" 0.425 to 0.575, "close
# to fourteen two" volts 13.92 to 14.48. Common practice, no source.
APPROXIMATE_SHARE = 0.02
APPROXIMATE_ROUNDINGS = 1.5
# A limit and a reading that are equal in decimals may differ in the last bit after conversion.
EPSILON = 1e-9


@lru_cache(maxsize=256)
def scale(unit: str) -> tuple[float, float, str]:
    """(factor, offset, kind) with base = factor * value + offset; InputError for an unknown code (from `units`)."""
    zero, kind = units.to_base(0.0, unit)
    one, _ = units.to_base(1.0, unit)
    return one - zero, zero, kind


def band_of(limit: Limit) -> Band:
    """A limit's two ends in base units."""
    return units.interval(limit.low, limit.high, limit.unit)


def said_band(quantity: Quantity, slack: float = 0.0) -> Band:
    """What the speaker's number leaves open, in the unit as said; `slack` is added on both sides (an instrument's
    error). A one-sided number ("under 40") reaches to infinity on its open side.

    >>> said_band(Quantity(2.5, 2.45, 2.55, "bar"))
    (2.45, 2.55)
    """
    low, high, value = quantity.low, quantity.high, quantity.value
    sign = quantity.comparator
    if sign != "=":
        bound = value if value is not None else high if sign[0] == "<" else low
        if bound is None:
            return EVERYTHING
        return (-inf, bound + slack) if sign[0] == "<" else (bound - slack, inf)
    if value is not None:
        low = value if low is None else low
        high = value if high is None else high
    if quantity.approximate:
        slack += _about(low, high, value)
    return (-inf if low is None else low - slack, inf if high is None else high + slack)


def _about(low: float | None, high: float | None, value: float | None) -> float:
    """How much wider "about" makes an interval, on each side."""
    if low is None or high is None:
        return abs(high or low or 0.0) * APPROXIMATE_SHARE
    half = (high - low) / 2
    if value is None:  # a range said with "about": only its ends are vague
        return max(abs(low), abs(high)) * APPROXIMATE_SHARE
    return max(half * (APPROXIMATE_ROUNDINGS - 1), abs(value) * APPROXIMATE_SHARE - half)


def reading_band(quantity: Quantity, unit: str, within: Band = EVERYTHING, slack: float = 0.0) -> Band:
    """The reading's interval in base units. An open end stops at what the test can show at all (`within`)."""
    low, high = said_band(quantity, slack)
    factor, offset, _ = scale(unit)
    low = factor * low + offset
    high = factor * high + offset
    if low == -inf:
        low = min(within[0], high)
    if high == inf:
        high = max(within[1], low)
    return low, high


def compare(reading: Band, limit: Band) -> str:
    """The interval rule: "in_spec" inside altogether, "out_of_spec" outside altogether, otherwise "too_close".

    ISO 14253-1 (conformity proven, non-conformity proven, neither) with the reading's interval for the uncertainty.
    """
    low, high = reading
    bottom, top = limit
    slack = EPSILON * max(abs(low) if low != -inf else 0.0, abs(high) if high != inf else 0.0)
    if low >= bottom - slack and high <= top + slack:
        return "in_spec"
    if low > top + slack or high < bottom - slack:
        return "out_of_spec"
    return "too_close"


def holds(outer: Band, inner: Band) -> bool:
    """Whether `inner` lies in `outer`, to within conversion."""
    slack = EPSILON * max((abs(end) for end in (*outer, *inner) if abs(end) != inf), default=0.0)
    return inner[0] >= outer[0] - slack and inner[1] <= outer[1] + slack
