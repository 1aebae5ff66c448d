"""Lines for the draft on which no verdict hangs: levels to plan by, units that are near but not the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .. import units
from . import derived as formulas
from .bands import band_of, compare, reading_band
from .job import base
from .reasons import figure

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ..terms import Item, Quantity
    from .job import Job

# 1 atm is 1.01325 bar: 14.696 and 14.504 psi.
_ATMOSPHERE_PSI = 14.6959487755
_BAR_PSI = 14.5037737730


def remarks_for(job: Job, items: Sequence[Item]) -> tuple[str, ...]:
    """One line each, in the order of the note."""
    return tuple(dict.fromkeys((*_advice(job), *_uneven(job), *_atmospheres(items))))


def _advice(job: Job) -> Iterator[str]:
    """A reading that is still good but past a level to plan by: a pad of 2.5 mm is to be replaced soon."""
    for test in job.tests():
        for level in test.advice:
            for item in job.of(test.id):
                good = item.verdict is not None and item.verdict.word in ("in_spec", "too_close")
                if not good or item.quantity is None or item.quantity.unit is None:
                    continue
                if compare(reading_band(item.quantity, item.quantity.unit), band_of(level)) == "out_of_spec":
                    where = f", {item.position}" if item.position else ""
                    said = f"{figure(item.quantity.number or 0)} {units.show(item.quantity.unit)}"
                    end = level.low if level.low is not None else level.high
                    mark = f"'{level.name}' ({figure(end or 0)} {units.show(level.unit)})"
                    yield f"{test.name}{where}: {said} is past {mark}"


def _uneven(job: Job) -> Iterator[str]:
    """Positions that differ more than they should though not yet by a fault."""
    for test in job.tests():
        if test.warn_spread_percent is None:
            continue
        latest = job.latest_by_position(job.of(test.id))
        if len(latest) < 2 or max(base(item) for item in latest.values()) <= 0:
            continue
        percent = formulas.compression_spread_percent([base(item) for item in latest.values()])
        most = test.typical.max_spread_percent if test.typical is not None else None
        if percent > test.warn_spread_percent and (most is None or percent <= most):
            even = f"even would be {test.warn_spread_percent:g} % or less"
            yield f"{test.name}: the positions differ by {percent:.1f} %, {even}"


def _atmospheres(items: Sequence[Item]) -> Iterator[str]:
    """An atmosphere taken for a bar: "2 bar, 29.4 psi" is two atmospheres."""
    for item in items:
        if item.kind not in ("reading", "expected") or item.quantity is None or item.second is None:
            continue
        if _confused(item.quantity, item.second) or _confused(item.second, item.quantity):
            yield "1 bar is 14.50 psi; 14.70 psi is 1 atmosphere (1.013 bar): one of the two figures was made with it"


def _confused(bar: Quantity, psi: Quantity) -> bool:
    if bar.unit != "bar" or psi.unit != "[psi]" or bar.value is None or psi.value is None or bar.value <= 0:
        return False
    half = (psi.high - psi.low) / 2 if psi.high is not None and psi.low is not None else 0.05
    near = abs(psi.value - bar.value * _ATMOSPHERE_PSI) <= half
    return near and abs(psi.value - bar.value * _BAR_PSI) > half
