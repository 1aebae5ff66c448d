"""The one-line reason of a verdict: the limit, where it comes from, and the arithmetic."""

from __future__ import annotations

import re
from math import inf
from typing import TYPE_CHECKING

from .. import units
from .bands import Band, said_band, scale
from .conditions import Said, word

if TYPE_CHECKING:
    from ..catalogue import Limit
    from ..terms import Quantity

# Where a source's first remark begins: "common practice for the limit; method ...".
_REMARK = re.compile(r" \(|: |;")

ORIGIN = {"note": "said in this note", "sheet": "vehicle sheet", "catalogue": "catalogue"}


def figure(value: float) -> str:
    """A number for people: no tail of digits from a conversion. 0.07619999 is "0.0762"."""
    return f"{value:.5g}" if abs(value) < 100_000 else f"{value:.0f}"


def band_text(low: float | None, high: float | None, unit: str) -> str:
    """A band in words: "at most 50 mA", "2.4 to 2.6 bar"."""
    shown = units.show(unit)
    shown = f" {shown}" if shown and unit != "1" else ""
    if low is None:
        return f"at most {figure(high)}{shown}" if high is not None else "no limit"
    if high is None:
        return f"at least {figure(low)}{shown}"
    return f"{figure(low)} to {figure(high)}{shown}"


def ends_in(band: Band, unit: str) -> tuple[float | None, float | None]:
    """A band of base units in `unit`; an infinite end is None."""
    factor, offset, _ = scale(unit)
    low = None if band[0] == -inf else _clean((band[0] - offset) / factor)
    high = None if band[1] == inf else _clean((band[1] - offset) / factor)
    return low, high


def _clean(value: float) -> float:
    return float(f"{value:.9g}")


def short_source(source: str) -> str:
    """A source's first words, enough to know it by; the whole stands with the limit itself."""
    head = _REMARK.split(source, maxsplit=1)[0]
    return head if len(head) <= 60 else f"{head[:57].rstrip()}..."


def reading_text(quantity: Quantity, unit: str, slack: float) -> str:
    """The reading as said with the interval it leaves open: "2.5 bar (2.45 to 2.55)"."""
    low, high = said_band(quantity, slack)
    shown = units.show(unit)
    if quantity.comparator != "=" or quantity.value is None:
        return band_text(None if low == -inf else low, None if high == inf else high, unit)
    about = "about " if quantity.approximate else ""
    tail = f" {shown}" if shown and unit != "1" else ""
    return f"{about}{figure(quantity.value)}{tail} ({figure(low)} to {figure(high)})"


def arithmetic(word: str, reading: Band, limit: Band, unit: str) -> str:
    """How the reading lies to the limit, in the reading's unit: "0.45 bar below it"."""
    factor = scale(unit)[0]
    shown = units.show(unit)
    tail = f" {shown}" if shown and unit != "1" else ""
    low, high = reading
    bottom, top = limit
    if word == "out_of_spec":
        return (
            f"{figure((bottom - high) / factor)}{tail} too low"
            if high < bottom
            else f"{figure((low - top) / factor)}{tail} too high"
        )
    if word == "too_close":
        if low < bottom and high > top:
            return "the reading reaches past both limits"
        ends = [end for end in limit if low < end < high or end in (low, high)]
        edge = ends[0] if ends else bottom if low < bottom else top
        return f"the limit {figure((edge - scale(unit)[1]) / factor)}{tail} lies in what the number leaves open"
    if bottom == 0 <= low and top != inf:  # nothing reads below zero here: only the upper end can be missed
        bottom = -inf
    spare = min(low - bottom, top - high)
    return "inside" if spare == inf else f"{figure(max(0.0, spare) / factor)}{tail} to spare"


def limit_text(limit: Limit, *, conditions: bool = True) -> str:
    """A limit in words, with its name and conditions: "while cranking: 0 to 200 mV (engine cranking)"."""
    parts = []
    if limit.low is not None or limit.high is not None:
        parts.append(band_text(limit.low, limit.high, limit.unit))
    if limit.points:
        first, last = limit.points[0].at, limit.points[-1].at
        parts.append(f"table over {_OVER.get(limit.over or '', limit.over)} from {first:g} to {last:g}")
    if limit.max_spread_percent is not None:
        parts.append(f"at most {limit.max_spread_percent:g} % between highest and lowest")
    name = f"{limit.name}: " if limit.name else ""
    when = condition_text(limit.when) if conditions else ""
    return f"{name}{', '.join(parts)}{f' ({when})' if when else ''}"


_OVER = {"temperature_c": "temperature in °C", "speed_rpm": "speed in rpm"}


def condition_text(when: Said) -> str:
    """Conditions in words: "engine idle, hot"."""
    return ", ".join(word(key, value) for key, value in when.items())
