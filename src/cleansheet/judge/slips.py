"""Numbers that cannot be what was meant: two units that do not match, a confused unit, a slipped point, physics.

Nothing here changes a value. It flags, and for a slip of the unit it offers the unit that was likely meant.
"""

from __future__ import annotations

from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING, NamedTuple

from .. import units
from .bands import Band, band_of, said_band, scale

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..catalogue import Test
    from ..terms import Quantity

# Units that a workshop says for each kind; the one that was meant is looked for among these.
USUAL = {
    "pressure": ("bar", "[psi]", "kPa", "[in_i'Hg]", "mbar", "mm[Hg]", "kgf/cm2"),
    "resistance": ("Ohm", "kOhm", "MOhm"),
    "voltage": ("V", "mV", "kV"),
    "current": ("A", "mA"),
    "length": ("mm", "[mil_i]", "[in_i]", "cm"),
    "torque": ("N.m", "[ft_i].[lbf_av]", "[in_i].[lbf_av]"),
    "volume-flow": ("L/min", "mL/min", "L/h"),
    "mass-flow": ("g/s", "kg/h"),
    "temperature": ("Cel", "[degF]"),
    "time": ("ms", "s", "us"),
}
# A reading this many times below its limit is looked at for a confused unit even where a broken part could show it: a
# supply of 12.1 mV, a secondary winding of 7.8 ohms. Above the limit the plausible range tells what a broken part can
# show (an open ground drops the whole 12 V), except where the note states its limit in the other unit.
FAR = 100.0
# Prefixes are confused with their neighbours, a thousand apart; nobody says kilohms for milliohms.
FARTHEST = 1000.0 * (1 + 1e-9)
SHORTED = 0.5  # ohms that a winding may well show: it is shorted; common practice
TENS = (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)


class Slip(NamedTuple):
    """`flag` is "unit_slip" or "implausible"; `proposal` is one line for the reviewer."""

    flag: str
    proposal: str


def disagree(first: Quantity, second: Quantity | None) -> bool:
    """Whether a reading said in two units does not match: the intervals of both roundings lie apart."""
    if second is None or second.unit is None or first.unit is None or not units.same_kind(first.unit, second.unit):
        return False
    one, other = _based(first), _based(second)
    slack = 1e-9 * max((abs(end) for end in (*one, *other) if abs(end) != inf), default=0.0)
    return one[0] > other[1] + slack or other[0] > one[1] + slack


def _based(quantity: Quantity) -> Band:
    factor, offset, _ = scale(quantity.unit or "1")
    low, high = said_band(quantity)
    return factor * low + offset, factor * high + offset


def slip(quantity: Quantity, test: Test, limits: Sequence[Band], stated_in: str | None = None) -> Slip | None:
    """What is wrong with a number that no part, good or bad, could show; None where it may well be true.

    `limits` are the bands in base units that the number should lie in, the deciding one first; without any, the test's
    plausible range stands for them. `stated_in` is the unit that the note states the limit in, if it does.
    """
    measure = test.measure
    value = quantity.number
    if measure is None or value is None or quantity.unit is None or test.plausible is None:
        return None
    factor, offset, kind = scale(quantity.unit)
    base = factor * value + offset
    if limits and -inf < limits[0][0] <= base <= limits[0][1] < inf:
        return None  # between two limits: the common case, and no slip
    plausible = band_of(test.plausible)
    outside = not _in(base, plausible)
    if not outside and not _far_below(base, limits) and not _far_above(base, limits, quantity.unit, stated_in):
        return None
    targets = tuple(limits) or (plausible,)
    meant = _other_unit(value, quantity.unit, measure, kind, targets)
    if meant is not None:
        return Slip("unit_slip", _offer(value, quantity.unit, meant, measure))
    impossible = impossible_reason(base, kind, test)
    if impossible:
        return Slip("implausible", impossible)
    if not outside:
        return None
    if kind == "resistance" and 0 <= base <= SHORTED:
        return None  # "0.2 ohm" of an injector: its winding is shorted
    for ten in TENS:
        near = targets if ten not in (0.1, 10.0) or kind != "voltage" else [_around(band) for band in targets]
        if any(_in(factor * value * ten + offset, band) for band in near):
            shown = units.show(quantity.unit)
            return Slip(
                "unit_slip", f"{value:g} {shown} cannot be; {value * ten:g} {shown} would fit: check the decimal point"
            )
    return Slip(
        "implausible", f"{value:g} {units.show(quantity.unit)} is outside what this test can show ({_range(test)})"
    )


def _other_unit(value: float, unit: str, measure: str, kind: str, targets: Sequence[Band]) -> str | None:
    for band in targets:
        for other in _candidates(measure, kind):
            if other == unit:
                continue
            factor, offset, _ = scale(other)
            if 1 / FARTHEST <= factor / scale(unit)[0] <= FARTHEST and _in(factor * value + offset, band):
                return other
    return None


@lru_cache(maxsize=256)
def _candidates(measure: str, kind: str) -> tuple[str, ...]:
    """The test's own unit first, then the usual ones of its kind."""
    return tuple(dict.fromkeys((measure, *USUAL.get(kind, ()))))


NEAR = 1.1  # how far beside its limit a number may lie that has lost its point: "119 V" of a battery that is low


def _around(band: Band) -> Band:
    """A band with what lies a little beside it."""
    low, high = band
    return (low / NEAR if low > 0 else low, high * NEAR if high > 0 else high)


def _in(value: float, band: Band) -> bool:
    slack = 1e-9 * abs(value)
    return band[0] - slack <= value <= band[1] + slack


def _far_below(base: float, limits: Sequence[Band]) -> bool:
    """Whether the number lies a hundred times or more below every limit. Zero is no slip: it is zero in every unit."""
    return base > 0 and bool(limits) and all(low >= FAR * base for low, _ in limits)


def _far_above(base: float, limits: Sequence[Band], unit: str, stated_in: str | None) -> bool:
    """Whether it lies a hundred times or more above a limit that the note states in another unit."""
    if stated_in is None or stated_in == unit or not limits:
        return False
    high = limits[0][1]
    return 0 < FAR * high <= base


def impossible_reason(base: float, kind: str, test: Test) -> str | None:
    """Why physics rules a number out, or None. `base` is in the kind's base unit (Pa, degrees Celsius, 1 ...).

    A vacuum deeper than the standard atmosphere (101 325 Pa, ISO 2533), a gauge pressure below it, a temperature below
    -273.15 C, and a share outside 0 to 100 per cent cannot be measured.
    """
    if kind == "pressure":
        vacuum = test.unit in ("[in_i'Hg]", "mm[Hg]")
        if vacuum and base > units.STANDARD_ATMOSPHERE * (1 + 1e-6):
            return "deeper than the atmosphere allows (29.92 inHg or 101.3 kPa at most): read the gauge again"
        if not vacuum and base < -units.STANDARD_ATMOSPHERE * (1 + 1e-6):
            return "less than no pressure at all: read the gauge again"
    if kind == "temperature" and base < -273.15:
        return "below absolute zero: read it again"
    if kind == "ratio" and not 0 <= base <= 1:
        return "a share outside 0 to 100 % cannot be: read it again"
    if kind == "resistance" and base < 0:
        return "a resistance below zero cannot be: there is voltage in the circuit, or the leads were not zeroed"
    return None


def _offer(value: float, unit: str, meant: str, measure: str) -> str:
    said, other = units.show(unit), units.show(meant)
    if meant == measure:
        return f"{value:g} {said} does not fit; {value:g} {other} would: was {other} meant?"
    same = units.convert(value, meant, measure)
    return (
        f"{value:g} {said} does not fit; {value:g} {other} ({same:.4g} {units.show(measure)}) would: was {other} meant?"
    )


def _range(test: Test) -> str:
    if test.plausible is None:
        return "no range known"
    return f"{test.plausible.low:g} to {test.plausible.high:g} {units.show(test.plausible.unit)}"
