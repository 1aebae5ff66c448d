"""Air and fuel."""

from __future__ import annotations

PETROL_RATIO = 14.7


def lambda_from_ratio(air_fuel: float, stoichiometric: float = PETROL_RATIO) -> float:
    """Lambda = air-fuel ratio / 14.7: 12.5 is 0.850, 15.4 is 1.048. Common practice.

    14.7 is the trade's round figure for petrol without alcohol; with 10 % ethanol near 14.1, for diesel near 14.5.
    """
    return air_fuel / stoichiometric


def air_fuel_ratio(lambda_: float, stoichiometric: float = PETROL_RATIO) -> float:
    """Air-fuel ratio = lambda * 14.7. Common practice."""
    return lambda_ * stoichiometric


def air_mass_band(displacement_l: float) -> tuple[float, float]:
    """Air mass at hot idle in g/s: about the displacement in litres, within about a half. 2.0 L gives 1.0 to 3.0.
    Common practice.
    """
    return 0.5 * displacement_l, 1.5 * displacement_l
