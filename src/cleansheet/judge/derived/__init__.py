"""Figures of the trade, each a plain function with its formula and source. Floats in the units that the names say.

| module | figures |
|---|---|
| `engine` | compression spread, wet against dry, leak-down, oil pressure by speed |
| `pressure` | hold decay, regulator difference, injector flow at another pressure, gauge and absolute, refrigerant |
| `electrical` | voltage drop, coil current, battery charge, days to flat, meter leads |
| `temperature` | copper windings, thermistors, platinum thermometers |
| `rotation` | dwell and duty, tooth frequency, firing, times and angles |
| `mixture` | lambda and air-fuel ratio, air mass at idle |
| `chassis` | toe as an angle, tread in thirty-seconds |

`figures` in the package above attaches them to a draft where the note has what they need.
"""

from .chassis import toe_mm, tread_mm
from .electrical import (
    charge_percent,
    coil_current,
    currents_agree,
    days_to_flat,
    drop_loss,
    drop_resistance,
    gravity_at_80f,
    leads_off,
    voltage_from_gravity,
)
from .engine import (
    compression_spread_percent,
    leak_grade,
    leak_percent,
    lowest_share_percent,
    oil_pressure_minimum_psi,
    wet_points_to,
    wet_rise_percent,
)
from .mixture import air_fuel_ratio, air_mass_band, lambda_from_ratio
from .pressure import (
    absolute_bar,
    absolute_from_vacuum_kpa,
    decay_per_minute,
    flow_at_pressure,
    pressure_after,
    refrigerant_saturation_bar,
    regulator_difference,
)
from .rotation import (
    crank_degrees,
    cycle_ms,
    duty_percent,
    dwell_degrees,
    firings_per_second,
    injector_duty_percent,
    speed_from_teeth,
    tooth_frequency,
    turn_ms,
)
from .temperature import copper_at, copper_at_20, copper_temperature, ntc_beta, ntc_resistance, pt100

__all__ = [
    "absolute_bar",
    "absolute_from_vacuum_kpa",
    "air_fuel_ratio",
    "air_mass_band",
    "charge_percent",
    "coil_current",
    "compression_spread_percent",
    "copper_at",
    "copper_at_20",
    "copper_temperature",
    "crank_degrees",
    "currents_agree",
    "cycle_ms",
    "days_to_flat",
    "decay_per_minute",
    "drop_loss",
    "drop_resistance",
    "duty_percent",
    "dwell_degrees",
    "firings_per_second",
    "flow_at_pressure",
    "gravity_at_80f",
    "injector_duty_percent",
    "lambda_from_ratio",
    "leads_off",
    "leak_grade",
    "leak_percent",
    "lowest_share_percent",
    "ntc_beta",
    "ntc_resistance",
    "oil_pressure_minimum_psi",
    "pressure_after",
    "pt100",
    "refrigerant_saturation_bar",
    "regulator_difference",
    "speed_from_teeth",
    "toe_mm",
    "tooth_frequency",
    "tread_mm",
    "turn_ms",
    "voltage_from_gravity",
    "wet_points_to",
    "wet_rise_percent",
]
