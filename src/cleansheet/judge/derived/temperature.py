"""Resistance and temperature: copper windings, thermistors, platinum thermometers."""

from __future__ import annotations

from math import exp, log

COPPER_PER_K = 0.00393  # IEC 60028, standard annealed copper at 20 °C
KELVIN = 273.15
# IEC 60751, platinum: R(t) = R0 (1 + A t + B t^2), below 0 °C with C (t - 100) t^3 more.
PT_A, PT_B, PT_C = 3.9083e-3, -5.775e-7, -4.183e-12


def copper_at_20(ohms: float, temperature_c: float) -> float:
    """R20 = R / (1 + 0.00393 (t - 20)): a winding of 16.0 ohms at 80 °C has 12.95 at 20. IEC 60028."""
    return ohms / (1 + COPPER_PER_K * (temperature_c - 20))


def copper_at(ohms_at_20: float, temperature_c: float) -> float:
    """R = R20 (1 + 0.00393 (t - 20)): 14.0 ohms at 20 °C are 17.85 at 90. IEC 60028."""
    return ohms_at_20 * (1 + COPPER_PER_K * (temperature_c - 20))


def copper_temperature(ohms: float, ohms_at_20: float) -> float:
    """T = 20 + (R / R20 - 1) / 0.00393, in °C: a winding of 0.70 ohms cold that reads 0.84 is at 70.9. IEC 60028."""
    return 20 + (ohms / ohms_at_20 - 1) / COPPER_PER_K


def ntc_beta(r1: float, t1_c: float, r2: float, t2_c: float) -> float:
    """B = ln(R1 / R2) / (1/T1 - 1/T2), T in kelvin: 2500 ohms at 20 °C, 325 at 80 give 3520.3. Textbook physics."""
    return log(r1 / r2) / (1 / (t1_c + KELVIN) - 1 / (t2_c + KELVIN))


def ntc_resistance(r0: float, t0_c: float, beta: float, temperature_c: float) -> float:
    """R(T) = R0 exp(B (1/T - 1/T0)), T in kelvin: 2500 ohms at 20 °C with B 3520.3 are 1161 at 40. Textbook physics."""
    return r0 * exp(beta * (1 / (temperature_c + KELVIN) - 1 / (t0_c + KELVIN)))


def pt100(temperature_c: float) -> float:
    """A Pt100's resistance in ohms: 138.51 at 100 °C. IEC 60751."""
    t = temperature_c
    below = PT_C * (t - 100) * t**3 if t < 0 else 0.0
    return 100 * (1 + PT_A * t + PT_B * t**2 + below)
