"""Engine, mechanical."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

WET_RISE_PERCENT = 10.0


def compression_spread_percent(readings: Sequence[float]) -> float:
    """100 * (highest - lowest) / highest over all positions, in any one unit; common practice.

    Up to 10 % is even; more than 25 % is a fault. 150, 148, 152, 140 psi give 7.89. It also holds for injector flow,
    where up to 5 % is good and above 10 % shows in running.
    """
    highest = max(readings)
    return 100 * (highest - min(readings)) / highest


def lowest_share_percent(readings: Sequence[float]) -> float:
    """100 * lowest / highest: 150, 148, 152, 110 psi give 72.4, below 75 and so faulty. Common practice."""
    return 100 * min(readings) / max(readings)


def wet_rise_percent(dry: float, wet: float) -> float:
    """100 * (wet - dry) / dry, after a spoonful (5 to 10 mL) of engine oil through the plug hole. Common practice."""
    return 100 * (wet - dry) / dry


def wet_points_to(rise_percent: float) -> str:
    """Where a compression that is low points: a clear rise (10 % or more) at the rings, none at the valves.

    90 psi dry and 125 wet rise by 38.9 %: "rings and bore". Common practice.
    """
    return "rings and bore" if rise_percent >= WET_RISE_PERCENT else "valves, gasket or head"


def leak_percent(p_supply: float, p_cylinder: float) -> float:
    """100 * (p_supply - p_cylinder) / p_supply, both gauge, in one unit.

    100 psi in and 88 held is 12 %. Common practice; the two-gauge test with a fixed orifice and the piston at top dead
    centre is described for aircraft engines in FAA AC 43.13-1B, 8-14 (paragraph as quoted by an FAA safety tip).
    """
    return 100 * (p_supply - p_cylinder) / p_supply


def leak_grade(percent: float) -> str:
    """To 10 % "good", to 20 % "usable", to 30 % "doubtful", above "faulty". Common practice (25 to 30 % the last)."""
    if percent <= 10:
        return "good"
    if percent <= 20:
        return "usable"
    return "doubtful" if percent <= 30 else "faulty"


def oil_pressure_minimum_psi(rpm: float) -> float:
    """10 psi for each 1000 rpm, oil hot: 3000 rpm ask for 30 psi (2.07 bar). Common practice."""
    return 10 * rpm / 1000
