"""Decision zones with a known measurement uncertainty: is it proven good, proven bad, or neither?

ISO 14253-1: conformity is proven inside the limits by a guard band, non-conformity outside by it, and between the two
neither is. JCGM 106:2012 names the same things acceptance limits (8.3.2), guarded rejection (8.3.3) and conformance
probability (7.3.3; clause numbers from memory). The draft sheet's rule is this one with the interval of the reading for
the uncertainty; these functions are for instruments whose uncertainty is stated.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import erfc, inf, sqrt

EXPANDED = 2.0  # k = 2, editions of 1998 and 2013
DEFAULT_2017 = 1.65  # a 95 % probability of conformity for one limit far from the other; the default since 2017


@dataclass(frozen=True, slots=True)
class Zones:
    """Tolerance limits `low`/`high`, the guard band, and where readings are proven good or bad, all in one unit.

    `too_coarse` is true where the guard bands leave no acceptance zone: the instrument cannot prove anything good.
    """

    low: float
    high: float
    guard: float

    @property
    def accept_low(self) -> float:
        return self.low + self.guard

    @property
    def accept_high(self) -> float:
        return self.high - self.guard

    @property
    def too_coarse(self) -> bool:
        return self.accept_low > self.accept_high


def zones(low: float | None, high: float | None, uncertainty: float, *, factor: float = EXPANDED) -> Zones:
    """The zones for limits `low`/`high` (None: open) and a standard uncertainty; the guard band is `factor` times it.

    At least 2.40 bar with u = 0.0645 bar: good is proven from 2.529, bad below 2.271.
    """
    return Zones(-inf if low is None else low, inf if high is None else high, factor * uncertainty)


def decide(reading: float, where: Zones) -> str:
    """Say "in_spec" where conformity is proven, "out_of_spec" where non-conformity is, otherwise "too_close"."""
    if where.accept_low <= reading <= where.accept_high:
        return "in_spec"
    if reading < where.low - where.guard or reading > where.high + where.guard:
        return "out_of_spec"
    return "too_close"


def conformance_probability(
    reading: float, uncertainty: float, low: float | None = None, high: float | None = None
) -> float:
    """The probability that the true value lies within the limits, for a normal distribution (JCGM 106:2012, 7.3.3).

    -5.47 V with u = 0.05 V and a limit of -5.40 V: 0.919 (printed as 0.92).
    """
    above = 1.0 if high is None else _phi((high - reading) / uncertainty)
    below = 0.0 if low is None else _phi((low - reading) / uncertainty)
    return above - below


def combined(*uncertainties: float) -> float:
    """The root of the sum of squares of independent standard uncertainties (JCGM 100:2008, 5.1.2)."""
    return sqrt(sum(one * one for one in uncertainties))


def _phi(z: float) -> float:
    return 0.5 * erfc(-z / sqrt(2))
