"""The one-line reason of a verdict: the limit, where it comes from, and the arithmetic."""

from __future__ import annotations

import re
from functools import lru_cache
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


@lru_cache(maxsize=256)
def tail(unit: str) -> str:
    """What follows a figure: " bar", or nothing for a pure number."""
    shown = units.show(unit)
    return f" {shown}" if shown and unit != "1" else ""


@lru_cache(maxsize=4096)
def band_text(low: float | None, high: float | None, unit: str) -> str:
    """A band in words: "at most 50 mA", "2.4 to 2.6 bar"."""
    if low is None:
        return f"at most {figure(high)}{tail(unit)}" if high is not None else "no limit"
    if high is None:
        return f"at least {figure(low)}{tail(unit)}"
    return f"{figure(low)} to {figure(high)}{tail(unit)}"


def ends_in(band: Band, unit: str) -> tuple[float | None, float | None]:
    """A band of base units in `unit`; an infinite end is None."""
    factor, offset, _ = scale(unit)
    low = None if band[0] == -inf else _clean((band[0] - offset) / factor)
    high = None if band[1] == inf else _clean((band[1] - offset) / factor)
    return low, high


def _clean(value: float) -> float:
    return float(f"{value:.9g}")


@lru_cache(maxsize=1024)
def short_source(source: str) -> str:
    """A source's first words, enough to know it by; the whole stands with the limit itself."""
    head = _REMARK.split(source, maxsplit=1)[0]
    return head if len(head) <= 60 else f"{head[:57].rstrip()}..."


def reading_text(quantity: Quantity, unit: str, slack: float) -> str:
    """The reading as said with the interval it leaves open: "2.5 bar (2.45 to 2.55)"."""
    value = quantity.value
    low, high = said_band(quantity, slack)
    if value is None or quantity.comparator != "=":
        return band_text(None if low == -inf else low, None if high == inf else high, unit)
    if low > -1e5 and high < 1e5:
        text = f"{value:.5g}{tail(unit)} ({low:.5g} to {high:.5g})"
    else:
        text = f"{figure(value)}{tail(unit)} ({figure(low)} to {figure(high)})"
    return f"about {text}" if quantity.approximate else text


def arithmetic(word: str, reading: Band, limit: Band, unit: str) -> str:
    """How the reading lies to the limit, in the reading's unit: "0.45 bar too low"."""
    factor, offset, _ = scale(unit)
    low, high = reading
    bottom, top = limit
    if word == "in_spec":
        if bottom == 0 <= low and top != inf:  # nothing reads below zero here: only the upper end can be missed
            bottom = -inf
        spare = min(low - bottom, top - high)
        return "inside" if spare == inf else f"{figure(max(0.0, spare) / factor)}{tail(unit)} to spare"
    if word == "out_of_spec":
        if high < bottom:
            return f"{figure((bottom - high) / factor)}{tail(unit)} too low"
        return f"{figure((low - top) / factor)}{tail(unit)} too high"
    if low < bottom and high > top:
        return "the reading reaches past both limits"
    edge = bottom if low <= bottom <= high else top
    return f"the limit {figure((edge - offset) / factor)}{tail(unit)} lies in what the number leaves open"


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
