"""Figures that need two readings: one position against another, before and after, one test and another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .. import units
from ..terms import Derived
from . import derived as formulas
from .bands import compare, reading_band, scale
from .job import Job, base, value_in
from .reasons import figure

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from ..catalogue import Test
    from ..terms import Item


def spread(job: Job) -> Iterator[Derived]:
    """How far the positions of one test lie apart, against the sheet's or the catalogue's limit."""
    for test in job.tests():
        limit, source = _spread_limit(job, test)
        if limit is None:
            continue
        latest = job.latest_by_position(_dry(job, test))
        if len(latest) < 2 or max(base(item) for item in latest.values()) <= 0:
            continue
        percent = formulas.compression_spread_percent([base(item) for item in latest.values()])
        low = min(latest.values(), key=base)
        high = max(latest.values(), key=base)
        verdict = "in_spec" if percent <= limit else "out_of_spec"
        unit = low.quantity.unit if low.quantity is not None and low.quantity.unit else test.unit
        shown = f"{figure(value_in(high, unit))} ({high.position}) to {figure(value_in(low, unit))} ({low.position})"
        reason = f"{shown} {units.show(unit)}: (highest - lowest) / highest; at most {limit:g} % ({source})"
        yield Derived("spread", round(percent, 2), "%", reason, verdict, test.component, test.id)


def uneven(job: Job) -> dict[int, str]:
    """By its place in the note: what to say of a reading that is within its own limits but too far below the others."""
    found = {}
    for test in job.tests():
        limit, _ = _spread_limit(job, test)
        latest = job.latest_by_position(_dry(job, test)) if limit is not None else {}
        highest = max((base(item) for item in latest.values()), default=0.0)
        if limit is None or len(latest) < 2 or highest <= 0:
            continue
        for item in latest.values():
            below = 100 * (highest - base(item)) / highest
            if below > limit and item.verdict is not None and item.verdict.word == "in_spec":
                found[item.start] = f"{below:.1f} % below the highest position, at most {limit:g} % is asked"
    return found


def _spread_limit(job: Job, test: Test) -> tuple[float | None, str]:
    if job.sheet is not None:
        for limit in job.sheet.specs.get(test.id, ()):
            if limit.max_spread_percent is not None:
                return limit.max_spread_percent, f"vehicle sheet: {limit.source}"
    if test.typical is not None and test.typical.max_spread_percent is not None:
        return test.typical.max_spread_percent, f"catalogue: {test.source}"
    return None, ""


def _dry(job: Job, test: Test) -> list[Item]:
    """Readings without those of a cylinder that oil was put into."""
    found: list[Item] = []
    for item in job.of(test.id):
        before = next((other for other in reversed(found) if other.position == item.position), None)
        if before is None or not job.is_wet(item, found[-1]):
            found.append(item)
    return found


def wet_against_dry(job: Job) -> Iterator[Derived]:
    """What oil through the plug hole did to a cylinder's compression, and where that points."""
    readings = job.of("cylinder.compression")
    for number, wet in enumerate(readings):
        dry = next((item for item in reversed(readings[:number]) if item.position == wet.position), None)
        if dry is None or not job.is_wet(wet, readings[number - 1]) or base(dry) <= 0:
            continue
        rise = formulas.wet_rise_percent(base(dry), base(wet))
        unit = dry.quantity.unit if dry.quantity is not None and dry.quantity.unit else "[psi]"
        where = f"cylinder {wet.position}: " if wet.position else ""
        shown = f"{figure(value_in(dry, unit))} dry, {figure(value_in(wet, unit))} {units.show(unit)} wet"
        reason = f"{where}{shown}; points to {formulas.wet_points_to(rise)}"
        yield Derived("rise with oil", round(rise, 1), "%", reason, None, "cylinder", wet.test)


def hold_decay(job: Job) -> Iterator[Derived]:
    """How fast the rail pressure falls, and what it comes to at the time that the sheet's limit is for."""
    start = job.last("fuel-rail.static-pressure")
    if start is None:
        return
    test = job.catalogue.tests["fuel-rail.hold-pressure"]
    limit = next((one for one in job.sheet.specs.get(test.id, ()) if one.low is not None), None) if job.sheet else None
    limit = limit or test.typical
    for held in job.of(test.id):
        minutes = held.condition.get("elapsed_min")
        if minutes is None or float(minutes) <= 0 or base(held) > base(start) or start.quantity is None:
            continue
        unit = start.quantity.unit or "bar"
        rate = formulas.decay_per_minute(value_in(start, unit), value_in(held, unit), float(minutes))
        ends = f"{figure(value_in(start, unit))} to {figure(value_in(held, unit))} {units.show(unit)}"
        reason, verdict = f"{ends} in {float(minutes):g} min", None
        when = limit.when.get("elapsed_min") if limit is not None else None
        when = when if when is not None else test.when.get("elapsed_min")
        if limit is not None and limit.low is not None and when is not None and float(when) > float(minutes):
            then = formulas.pressure_after(value_in(held, unit), rate, float(when) - float(minutes))
            floor = units.convert(limit.low, limit.unit, unit)
            verdict = "in_spec" if then >= floor else "too_close"
            reason += (
                f"; {figure(then)} at {float(when):g} min if it falls on as steadily, at least {figure(floor)} asked"
            )
        yield Derived("pressure decay", round(rate, 4), f"{unit}/min", reason, verdict, test.component, test.id)


def regulator_difference(job: Job) -> Iterator[Derived]:
    """The pressure across the injectors: rail less manifold, which a regulator with a vacuum line keeps the same."""
    rail = job.last("fuel-rail.running-pressure")
    vacuum = job.last("intake-manifold.vacuum")
    boost = job.last("turbocharger.boost")
    if rail is None or (vacuum is None and boost is None):
        return
    manifold = -base(vacuum) if vacuum is not None else base(boost)  # type: ignore[arg-type]
    bar = formulas.regulator_difference(base(rail), manifold) / 1e5
    static = job.last("fuel-rail.static-pressure")
    reason = f"{figure(value_in(rail, 'bar'))} bar on the rail over {figure(manifold / 1e5)} bar in the manifold"
    verdict = None
    if static is not None and static.quantity is not None and rail.quantity is not None:
        held = base(static) / 1e5
        verdict = "in_spec" if abs(bar - held) <= 0.2 else "out_of_spec"
        reason += (
            f"; {figure(held)} bar with the engine off, the same within 0.2 with a regulator at work; common practice"
        )
    yield Derived("pressure across the injectors", round(bar, 2), "bar", reason, verdict, "fuel-rail", rail.test)


_CRANKING = "battery.cranking-voltage"
_BATTERY = ("alternator.charging-voltage", "battery.open-circuit-voltage", _CRANKING)


def supply_drop(job: Job) -> Iterator[Derived]:
    """What a feed loses: the battery's voltage less that at the part."""
    for test in job.tests():
        relative = test.relative
        if relative is None or relative.max_drop is None or not relative.of.startswith("battery terminal voltage"):
            continue
        for reading in job.of(test.id):
            cranking = reading.condition.get("engine") == "cranking"
            at = job.last(_CRANKING) if cranking else _before(job, reading)
            if at is None or reading.quantity is None or at.quantity is None:
                continue
            low, high = reading_band(reading.quantity, reading.quantity.unit or "V")
            top = reading_band(at.quantity, at.quantity.unit or "V")
            word = compare((top[0] - high, top[1] - low), (float("-inf"), relative.max_drop))
            drop = base(at) - base(reading)
            reason = (
                f"{figure(base(at))} V at the battery less {figure(base(reading))} V here; at most "
                f"{relative.max_drop:g} V (catalogue: {test.source}); both must be read at the same moment"
            )
            yield Derived("voltage drop of the feed", round(drop, 3), "V", reason, word, test.component, test.id)


def _before(job: Job, reading: Item) -> Item | None:
    """The battery's voltage that was read nearest to a place in the note, engine not cranking."""
    found = [item for test_id in _BATTERY[:2] for item in job.of(test_id)]
    return min(found, key=lambda item: abs(item.start - reading.start), default=None)


def coil_current(job: Job) -> Iterator[Derived]:
    """The current that a coil takes, by Ohm's law from its supply and its winding."""
    ohms = job.last("ignition-coil.primary-resistance")
    volts = job.last("ignition-coil.supply-voltage")
    if ohms is None or volts is None or base(ohms) <= 0:
        return
    leads = job.last("test-meter.lead-resistance")
    off = base(leads) if leads is not None and base(leads) < base(ohms) else 0.0
    amps = formulas.coil_current(base(volts), base(ohms), off)
    less = f" less {figure(off)} Ω of leads" if off else ""
    reason = f"{figure(base(volts))} V over {figure(base(ohms))} Ω{less}; less where the driver limits it"
    yield Derived("coil current", round(amps, 2), "A", reason, None, "ignition-coil", ohms.test)


def apart(job: Job) -> Iterator[Derived]:
    """How far positions that should be alike lie apart: injectors, battery cells, the two sides of an axle."""
    for test in job.tests():
        relative = test.relative
        if relative is None or relative.max_difference is None or not relative.of.startswith("the other"):
            continue
        latest = job.latest_by_position(job.of(test.id))
        if len(latest) < 2:
            continue
        unit = relative.unit or test.unit
        by = scale(unit)[0] * (test.also_said.divide_by if test.also_said and _points(latest, test) else 1)
        low, high = min(latest.values(), key=base), max(latest.values(), key=base)
        gap = (base(high) - base(low)) / by
        verdict = "in_spec" if gap <= relative.max_difference + 1e-9 else "out_of_spec"
        shown = units.show(unit) if unit != "1" else ""
        most = f"at most {relative.max_difference:g} {shown}".rstrip()
        reason = f"highest {high.position}, lowest {low.position}; {most} (catalogue: {test.source})"
        yield Derived("difference between positions", round(gap, 4), unit, reason, verdict, test.component, test.id)


def _points(latest: dict[str, Item], test: Test) -> bool:
    other = test.also_said
    return other is not None and all(other.low <= base(item) <= other.high for item in latest.values())


BETWEEN: tuple[Callable[[Job], Iterator[Derived]], ...] = (
    spread, wet_against_dry, hold_decay, regulator_difference, supply_drop, coil_current, apart,
)  # fmt: skip
