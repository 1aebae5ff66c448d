"""Figures computed from a note's readings and attached to its draft, each where the note has what it needs.

Nothing is guessed: a figure that needs an assumption names it in its reason. A figure's verdict is its own; it never
changes that of a reading.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from .. import units
from ..terms import Derived
from . import derived as formulas
from .bands import band_of, compare, reading_band
from .conditions import fit
from .figures_between import BETWEEN, uneven
from .job import Job, base, value_in
from .reasons import band_text, figure
from .remarks import remarks_for

if TYPE_CHECKING:
    from ..catalogue import Catalogue, Sheet
    from ..terms import Item, Note


Maker = Callable[[Job], Iterator[Derived]]


def derive(
    items: Sequence[Item], note: Note, catalogue: Catalogue, sheet: Sheet | None = None
) -> tuple[tuple[Derived, ...], tuple[str, ...], dict[int, str]]:
    """(figures, remarks, additions) for the judged items of one note; an addition belongs to the reason of the reading
    at its place.
    """
    job = Job(items, note, catalogue, sheet)
    if not job.by_test:
        return (), remarks_for(job, items), {}
    figures = tuple(found for maker in (*ALONE, *BETWEEN) for found in maker(job))
    return figures, remarks_for(job, items), uneven(job)


def leak_grade(job: Job) -> Iterator[Derived]:
    """The worst leak-down of the note, graded."""
    readings = job.of("cylinder.leak-down")
    if readings:
        worst = max(readings, key=base)
        percent = value_in(worst, "%")
        where = f" (cylinder {worst.position})" if worst.position else ""
        grade = formulas.leak_grade(percent)
        reason = f"{figure(percent)} %{where} is {grade}: to 10 % good, to 20 % usable, above 25 to 30 % faulty"
        yield Derived("leak-down grade", percent, "%", reason, None, "cylinder", worst.test)


def charge(job: Job) -> Iterator[Derived]:
    """The state of charge from the battery's rest voltage."""
    reading = job.last("battery.open-circuit-voltage")
    table = job.catalogue.tables.get("battery-rest-voltage")
    if reading is None or table is None:
        return
    volts = value_in(reading, "V")
    system, name = (2, "24 V") if volts > 18 else (0.5, "6 V") if 4.5 < volts < 8 else (1, "12 V")
    percent = formulas.charge_percent(volts / system, table)
    reason = f"{figure(volts)} V at rest, {name} flooded lead-acid at 25 °C; no better than 10 %"
    if percent >= 100:
        reason += "; more would be surface charge"
    if percent <= 0:
        reason += "; or a shorted cell, about 2.1 V missing"
    yield Derived("state of charge", round(percent, 1), "%", reason, None, "battery", reading.test)


def days_to_flat(job: Job) -> Iterator[Derived]:
    """How long the battery lasts at the draw measured."""
    reading = job.last("battery.parasitic-draw")
    if reading is None or base(reading) <= 0:
        return
    draw = value_in(reading, "mA")
    said = re.search(r"(\d+(?:\.\d+)?)\s*(?:ah\b|a\.h|amp[- ]?hours?)", job.note.text, re.IGNORECASE)
    capacity = float(said[1]) if said else 60.0
    source = "as said" if said else "taken, none is said"
    days = formulas.days_to_flat(draw, capacity)
    reason = f"half of {figure(capacity)} Ah ({source}) at {figure(draw)} mA"
    yield Derived("time until half empty", round(days, 1), "d", reason, None, "battery", reading.test)


def winding_at_20(job: Job) -> Iterator[Derived]:
    """A copper winding measured warm, brought to 20 °C and judged there by the limit for 20 °C."""
    for test in job.tests():
        if test.when.get("temperature_c") != 20 or test.measure not in ("Ohm", "kOhm") or test.must_say:
            continue
        for reading in job.of(test.id):
            warm = reading.condition.get("temperature_c")
            if warm is None or reading.quantity is None or abs(float(warm) - 20) < 10:
                continue
            unit = reading.quantity.unit or "Ohm"
            cold = formulas.copper_at_20(value_in(reading, unit), float(warm))
            verdict = None
            limits = job.sheet.specs.get(test.id, ()) if job.sheet else ()
            limit = limits[0] if len(limits) == 1 else test.typical if not limits else None
            against = ""
            if limit is not None and limit.high is not None and fit(limit.when, {"temperature_c": 20.0}).holds:
                low, high = reading_band(reading.quantity, unit)
                by = formulas.copper_at_20(1, float(warm))
                verdict = compare((low * by, high * by), band_of(limit))
                against = f", against {band_text(limit.low, limit.high, limit.unit)}"
            said = f"{figure(value_in(reading, unit))} {units.show(unit)} at {float(warm):g} °C"
            reason = f"{said} in copper, R20 = R / (1 + 0.00393 (t - 20)) (IEC 60028){against}"
            yield Derived("resistance at 20 °C", float(f"{cold:.4g}"), unit, reason, verdict, test.component, test.id)


def thermistor(job: Job) -> Iterator[Derived]:
    """The beta of a temperature sensor that was measured at two temperatures."""
    for test in job.tests():
        if "temperature_c" not in test.must_say:
            continue
        rows = {float(item.condition["temperature_c"]): value_in(item, "Ohm") for item in job.of(test.id)
                if "temperature_c" in item.condition and base(item) > 0}  # fmt: skip
        cold, hot = min(rows, default=0.0), max(rows, default=0.0)
        if hot - cold < 10:
            continue
        beta = formulas.ntc_beta(rows[cold], cold, rows[hot], hot)
        falls = "falls as it warms" if beta > 0 else "RISES as it warms, a sensor of this kind must fall"
        reason = f"{figure(rows[cold])} Ω at {cold:g} °C and {figure(rows[hot])} Ω at {hot:g} °C: it {falls}"
        verdict = None if beta > 0 else "out_of_spec"
        yield Derived("beta of the sensor", round(beta), "K", reason, verdict, test.component, test.id)


def dwell_duty(job: Job) -> Iterator[Derived]:
    """Dwell as a share of the firing interval, where the number of cam lobes is said or the cylinders are known."""
    reading = job.last("contact-breaker.dwell")
    if reading is None:
        return
    said = re.search(r"\b(\w+)[- ]lobes?\b", job.words())
    numbers = {"two": 2, "three": 3, "four": 4, "six": 6, "eight": 8}
    lobes = (numbers.get(said[1]) or (int(said[1]) if said[1].isdigit() else None)) if said else None
    source = "as said"
    if lobes is None and job.sheet is not None and job.sheet.vehicle.cylinders:
        lobes, source = job.sheet.vehicle.cylinders, "one a cylinder"
    if not lobes:
        return
    dwell = value_in(reading, "deg")
    duty = formulas.duty_percent(dwell, lobes)
    reason = f"{figure(dwell)}° of {360 / lobes:g}° with {lobes} lobes ({source}); 48 to 68 % holds for most"
    yield Derived("dwell as duty", round(duty, 1), "%", reason, None, "contact-breaker", reading.test)


def oil_by_speed(job: Job) -> Iterator[Derived]:
    """The rule of thumb for hot oil, where the speed is said and no vehicle sheet has a limit."""
    if job.sheet is not None and "oil-system.pressure" in job.sheet.specs:
        return
    for reading in job.of("oil-system.pressure"):
        rpm = reading.condition.get("speed_rpm")
        if rpm is None or reading.quantity is None or reading.condition.get("warm") == "cold" or float(rpm) <= 0:
            continue
        unit = reading.quantity.unit or "bar"
        least = formulas.oil_pressure_minimum_psi(float(rpm))
        floor = units.convert(least, "[psi]", unit)
        word = compare(reading_band(reading.quantity, unit), (units.to_base(least, "[psi]")[0], float("inf")))
        reason = f"10 psi for each 1000 rpm, hot: {figure(least)} psi at {float(rpm):g} rpm; common practice, no source"
        yield Derived("least oil pressure", float(f"{floor:.3g}"), unit, reason, word, "oil-system", reading.test)


def air_mass(job: Job) -> Iterator[Derived]:
    """The air mass that the engine's size asks for at idle, where a size is said."""
    reading = job.last("air-flow-meter.flow")
    size = re.search(r"\b(\d\.\d)\s*(?:l\b|litres?\b|liters?\b|diesel\b)", job.words())
    if reading is None or size is None or reading.condition.get("engine") not in (None, "idle"):
        return
    low, high = formulas.air_mass_band(float(size[1]))
    flow = value_in(reading, "g/s")
    asked = f"{figure(low)} to {figure(high)} g/s"
    reason = f"{figure(flow)} g/s at idle; {size[1]} L ask for {asked}; common practice, no source"
    word = "in_spec" if low <= flow <= high else "out_of_spec"
    yield Derived("air mass by engine size", round(flow, 3), "g/s", reason, word, "air-flow-meter", reading.test)


def gauge_from_absolute(job: Job) -> Iterator[Derived]:
    """Boost that was said to be absolute, as gauge pressure."""
    reading = job.last("turbocharger.boost")
    if reading is None:
        return
    around = job.note.text[max(0, reading.start - 25) : reading.end + 25]
    if re.search(r"\babs(?:olute)?\b", around, re.IGNORECASE):
        bar = value_in(reading, "bar")
        gauge = bar - formulas.absolute_bar(0)
        reason = f"{figure(bar)} bar absolute less the standard atmosphere, 1.01325 bar (ISO 2533)"
        yield Derived("boost as gauge pressure", round(gauge, 3), "bar", reason, None, "turbocharger", reading.test)


def less_the_leads(job: Job) -> Iterator[Derived]:
    """Small resistances with the meter's leads taken off."""
    leads = job.last("test-meter.lead-resistance")
    if leads is None:
        return
    off = base(leads)
    for test in job.tests():
        if test.id == leads.test or test.measure != "Ohm":
            continue
        for reading in job.of(test.id):
            if 0 < off < base(reading) < 10:
                part = formulas.leads_off(base(reading), off)
                reason = f"{figure(base(reading))} Ω shown less {figure(off)} Ω of leads"
                yield Derived("resistance less the leads", round(part, 3), "Ohm", reason, None, test.component, test.id)


ALONE: tuple[Maker, ...] = (
    leak_grade, charge, days_to_flat, winding_at_20, thermistor, dwell_duty, oil_by_speed, air_mass,
    gauge_from_absolute, less_the_leads,
)  # fmt: skip
