"""Volts, ohms and amperes. Values are for 12 V systems unless a name says otherwise."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ...catalogue import Table

AGREE_SHARE = 0.20


def drop_resistance(drop_v: float, current_a: float) -> float:
    """R = drop / current, in ohms: 0.5 V at 150 A is 3.33 mOhm. Ohm's law."""
    return drop_v / current_a


def drop_loss(drop_v: float, current_a: float) -> float:
    """P = drop * current, in watts: 0.5 V at 150 A is 75 W of heat in the joint. Joule's law."""
    return drop_v * current_a


def coil_current(volts: float, ohms: float, leads_ohms: float = 0.0) -> float:
    """I = U / (R - leads), in amperes: 12.6 V over 3.2 ohms is 3.94 A. Ohm's law.

    A coil on a driver with a current limit or duty control carries less.
    """
    return volts / leads_off(ohms, leads_ohms)


def currents_agree(computed: float, measured: float) -> bool:
    """Whether a measured current fits U / R: within 20 %, otherwise one of the three readings is wrong, or the winding
    is hot. 4 A against 3.94 agrees, 8 A does not. Common practice.
    """
    return abs(measured - computed) <= AGREE_SHARE * abs(computed)


def leads_off(shown_ohms: float, leads_ohms: float) -> float:
    """R_part = R_shown - R_leads: 0.9 shown with 0.3 of leads is 0.6. Matters below some 10 ohms; common practice."""
    return shown_ohms - leads_ohms


def charge_percent(volts: float, table: Table) -> float:
    """Charge of a 12 V flooded lead-acid battery from its rest voltage, straight lines between the table's rows.

    12.35 V is 63.1 %. Rested four hours or more, 25 °C. Above the table 100 % (or surface charge), below it 0 % (or a
    shorted cell, about 2.1 V missing). Common practice; published tables differ by up to 0.1 V in the middle, so no
    better than 10 %.
    """
    rows = sorted((float(row[1]), float(row[0])) for row in table.rows)
    if volts <= rows[0][0]:
        return rows[0][1]
    for (v1, c1), (v2, c2) in pairwise(rows):
        if volts <= v2:
            return c1 + (c2 - c1) * (volts - v1) / (v2 - v1)
    return rows[-1][1]


def voltage_from_gravity(specific_gravity: float) -> float:
    """6 * (specific gravity + 0.845), in volts: 1.265 gives 12.66. A rough cross-check; common practice."""
    return 6 * (specific_gravity + 0.845)


def gravity_at_80f(read: float, degrees_f: float) -> float:
    """A hydrometer's reading at 80 °F: 0.004 more for each 10 °F above, less below. 1.250 at 40 °F is 1.234. Common
    practice.
    """
    return read + 0.004 * (degrees_f - 80) / 10


def days_to_flat(draw_ma: float, capacity_ah: float, share: float = 0.5) -> float:
    """Capacity * share / draw, in days: 50 mA empties half of a 60 Ah battery in 25. Charge is current times time.

    `share` is what may go before the engine will not start: half is common practice.
    """
    return capacity_ah * share / (draw_ma / 1000) / 24
