"""Pressures and the flow that they drive."""

from __future__ import annotations

from bisect import bisect_left
from math import sqrt
from typing import TYPE_CHECKING

from ... import units

if TYPE_CHECKING:
    from ...catalogue import Table

ATMOSPHERE_BAR = units.STANDARD_ATMOSPHERE / 1e5


def decay_per_minute(p_start: float, p_end: float, minutes: float) -> float:
    """(p_start - p_end) / minutes: 3.0 to 2.3 bar in 10 min is 0.070 bar/min.

    Fuel: at most about 0.35 bar (5 psi) in the first 5 min. A fall while the temperature also falls is partly the
    cooling fluid. Common practice.
    """
    return (p_start - p_end) / minutes


def pressure_after(p_start: float, rate: float, minutes: float) -> float:
    """p_start - rate * minutes, never below zero: the pressure at the limit's time if the fall goes on as steadily.

    A leak slows as the pressure falls, so this is the low side of the truth. Common practice.
    """
    return max(0.0, p_start - rate * minutes)


def regulator_difference(rail_gauge: float, manifold_gauge: float) -> float:
    """Rail - manifold, both gauge, in one unit; vacuum counts as negative gauge.

    A manifold-referenced regulator keeps it constant: 2.4 bar of rail over 18 inHg of vacuum is 3.01 bar, 3.6 bar over
    0.6 bar of boost is 3.0. Common practice.
    """
    return rail_gauge - manifold_gauge


def flow_at_pressure(q1: float, p1: float, p2: float) -> float:
    """q1 * sqrt(p2 / p1): 190 mL/min at 2.5 bar is 208.1 at 3.0. The orifice equation."""
    return q1 * sqrt(p2 / p1)


def absolute_bar(gauge_bar: float) -> float:
    """Gauge pressure over the standard atmosphere, 1.01325 bar (ISO 2533): 0.8 bar gauge is 1.813 absolute."""
    return gauge_bar + ATMOSPHERE_BAR


def absolute_from_vacuum_kpa(vacuum_inhg: float) -> float:
    """What is left of the standard atmosphere, 101.325 kPa (ISO 2533): 18 inHg of vacuum is 40.37 kPa absolute."""
    return (units.STANDARD_ATMOSPHERE - units.to_base(vacuum_inhg, "[in_i'Hg]")[0]) / 1000


def refrigerant_saturation_bar(temperature_c: float, table: Table) -> float | None:
    """R-134a's saturation pressure, gauge bar, by the catalogue's table; None outside it.

    A standing system with liquid in it settles there: 5.64 bar at 25 °C. Between rows ln p over 1/T, p absolute, as the
    Clausius-Clapeyron relation has it. The rows were computed with CoolProp 8.0.0 (Tillner-Roth and Baehr 1994).
    """
    from math import exp, log

    rows = [(float(row[0]), float(row[1])) for row in table.rows]
    if not rows[0][0] <= temperature_c <= rows[-1][0]:
        return None
    right = max(1, bisect_left([at for at, _ in rows], temperature_c))
    (t1, p1), (t2, p2) = rows[right - 1], rows[right]
    one, two, here = (1 / (t + 273.15) for t in (t1, t2, temperature_c))
    share = (here - one) / (two - one)
    low, high = log(p1 + ATMOSPHERE_BAR), log(p2 + ATMOSPHERE_BAR)
    return exp(low + share * (high - low)) - ATMOSPHERE_BAR
