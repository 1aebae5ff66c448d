"""Wheels and tyres."""

from __future__ import annotations

from math import radians, tan

from ... import units


def toe_mm(angle_deg: float, rim_mm: float) -> float:
    """Rim diameter * tan(angle): 0.20 degrees on a rim of 381 mm (15 in) are 1.33 mm. Geometry."""
    return rim_mm * tan(radians(angle_deg))


def tread_mm(thirty_seconds: float) -> float:
    """Thirty-seconds of an inch in mm: 2/32 are 1.5875, just below 1.6. The inch is 25.4 mm exactly."""
    return thirty_seconds / 32 * units.convert(1, "[in_i]", "mm")
