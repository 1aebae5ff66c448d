"""Which limit of a vehicle's sheet holds for a reading."""

from __future__ import annotations

from math import exp, log
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from ..units import interval
from .bands import Band, band_of
from .conditions import Fit, Said, fit, word

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..catalogue import Limit, Test

KELVIN = 273.15
NOWHEN: Said = MappingProxyType({})


class SheetLimit(NamedTuple):
    """The limit that holds: its band in base units, its ends in `unit`. `band` is None where none holds, `why` then
    says why. `every` are the bands of all the test's limits, whatever their conditions.
    """

    band: Band | None
    low: float | None
    high: float | None
    unit: str
    source: str
    every: tuple[Band, ...]
    when: Said = NOWHEN
    name: str | None = None
    granted: tuple[str, ...] = ()
    why: str = ""


def sheet_limit(limits: Sequence[Limit], said: Said, test: Test) -> SheetLimit | None:
    """The sheet's limit of this test under the conditions said: the one of which most conditions were said.

    None where the sheet has only a spread for the test, so that a single reading cannot be judged by it.
    """
    if len(limits) == 1 and not limits[0].when and not limits[0].points:
        return _only(limits[0], test, said)
    plain = [limit for limit in limits if limit.low is not None or limit.high is not None or limit.points]
    if not plain:
        return None
    every = tuple(band for limit in plain for band in _bands(limit))
    fits = [(fit(_wanted(limit, test), said, test, limit.over), limit) for limit in plain]
    good = [(state, limit) for state, limit in fits if state.holds]
    if not good:
        return _none(fits, every, plain[0].unit, test)
    best = max(state.said for state, _ in good)
    chosen = [(state, limit) for state, limit in good if state.said == best]
    ends = {_ends(limit, said) for _, limit in chosen}
    state, limit = chosen[0]
    if len(ends) > 1:
        names = " or ".join(_named(one) for _, one in chosen)
        return SheetLimit(
            None, None, None, limit.unit, limit.source, every, why=f"the sheet has limits for {names}: say which"
        )
    found = ends.pop()
    if found is None:
        span = f"{limit.points[0].at:g} to {limit.points[-1].at:g}"
        return SheetLimit(
            None, None, None, limit.unit, limit.source, every, why=f"the sheet's table runs from {span} only"
        )
    low, high = found
    band = interval(low, high, limit.unit)
    return SheetLimit(band, low, high, limit.unit, limit.source, every, limit.when, limit.name, state.granted)


def _only(limit: Limit, test: Test, said: Said) -> SheetLimit | None:
    """The common case: one limit without conditions."""
    if limit.low is None and limit.high is None:
        return None
    band = band_of(limit)
    clash = fit(_wanted(limit, test), said).clash if said else None
    if clash:
        why = f"the sheet's limit does not hold here: {clash}"
        return SheetLimit(None, None, None, limit.unit, limit.source, (band,), why=why)
    return SheetLimit(band, limit.low, limit.high, limit.unit, limit.source, (band,), limit.when, limit.name)


def _wanted(limit: Limit, test: Test) -> Said:
    """A sheet's conditions, with the test's own about a vacuum line: a pressure with it pulled off is another one."""
    line = test.when.get("vacuum_line")
    return limit.when if line is None or "vacuum_line" in limit.when else {**limit.when, "vacuum_line": line}


def _none(fits: list[tuple[Fit, Limit]], every: tuple[Band, ...], unit: str, test: Test) -> SheetLimit:
    state, limit = fits[0]
    if state.clash:
        why = f"the sheet's limit does not hold here: {state.clash}"
    else:
        asked = test.condition or " and ".join(state.missing)
        why = f"the sheet's limit holds at {_named(limit)}; {asked} is not said"
    return SheetLimit(None, None, None, unit, limit.source, every, why=why)


def _named(limit: Limit) -> str:
    if limit.name:
        return limit.name
    said = ", ".join(word(key, value) for key, value in limit.when.items())
    return said or (f"its {limit.over}" if limit.over else "any condition")


def _bands(limit: Limit) -> list[Band]:
    if not limit.points:
        return [band_of(limit)]
    lows = [point.low for point in limit.points if point.low is not None]
    highs = [point.high for point in limit.points if point.high is not None]
    return [interval(min(lows) if lows else None, max(highs) if highs else None, limit.unit)]


def _ends(limit: Limit, said: Said) -> tuple[float | None, float | None] | None:
    if not limit.points or limit.over is None:
        return limit.low, limit.high
    return at_point(limit, float(said[limit.over]))


def at_point(limit: Limit, place: float) -> tuple[float | None, float | None] | None:
    """A table's limits at `place` (in the quantity that it runs over), or None outside it.

    Between two points: a straight line, or with `between: log` a straight line of ln R over 1/T, T in kelvin, as a
    thermistor has it (the beta equation between two points).
    """
    points = limit.points
    if not points[0].at <= place <= points[-1].at:
        return None
    right = next(number for number, point in enumerate(points) if point.at >= place)
    if points[right].at == place:
        return points[right].low, points[right].high
    before, after = points[right - 1], points[right]
    if limit.between == "log":
        one, two, here = (1 / (at + KELVIN) for at in (before.at, after.at, place))
        share = (here - one) / (two - one)
    else:
        share = (place - before.at) / (after.at - before.at)
    return _mix(before.low, after.low, share, limit.between), _mix(before.high, after.high, share, limit.between)


def _mix(one: float | None, two: float | None, share: float, between: str) -> float | None:
    if one is None or two is None:
        return None
    if between == "log":
        return exp(log(one) + share * (log(two) - log(one)))
    return one + share * (two - one)
