"""A unit said once for what follows, outside a heading: "valve clearances, all in millimetres", "in kPa, that's my gauge"."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from .quantities_units import unit_at
from .words import NUM

if TYPE_CHECKING:
    from .quantities import Figure
    from .row import Row
    from .words import Tok

_ALL = frozenset("all everything figures readings numbers values sizes clearances gaps these both lot".split())
_LISTED = 3  # words between two numbers of a list
_ENOUGH = 2  # bare numbers that such a unit holds for at least
_CODES = frozenset(
    ["bar", "[psi]", "kPa", "mm", "[mil_i]", "[in_i]", "Ohm", "kOhm", "V", "mV", "A", "mA", "N.m", "Cel"]
)


def units_said(toks: list[Tok] | tuple[Tok, ...], figures: Row[Figure]) -> list[tuple[int, int, str]]:
    """Each such unit with the words that it holds for: up to the first number that has another unit of its own."""
    found: list[tuple[int, int, str]] = _alone(toks, figures)
    for i in range(len(toks) - 1):
        if toks[i].low != "in" or (i and toks[i - 1].kind == NUM):
            continue
        opens = i == 0 or toks[i].text == "In" or toks[i - 1].low in _ALL
        if not opens:
            continue
        hit = unit_at(list(toks[i + 1 : i + 5]), 0)
        if hit is None or hit.codes[0] not in _CODES:
            continue
        start = i + 1 + hit.end
        end, bare = _held_until(toks, figures, start, hit.codes[0])
        if bare >= _ENOUGH:
            found.append((start, end, hit.codes[0]))
    return found


def _alone(toks: list[Tok] | tuple[Tok, ...], figures: Row[Figure]) -> list[tuple[int, int, str]]:
    """A unit that ends a heading without a colon: "valves, stone cold, thou. 1 in 5, ex 5"."""
    found: list[tuple[int, int, str]] = []
    for i in range(1, len(toks) - 2):
        if toks[i].low != "," or toks[i - 1].kind == NUM or toks[i + 1].kind == NUM:
            continue
        if toks[i + 1].low not in _ALONE or toks[i + 2].low not in {".", ";", "-"}:
            continue
        hit = unit_at(list(toks[i + 1 : i + 3]), 0)
        if hit is None or hit.codes[0] not in _CODES:
            continue
        end, bare = _held_until(toks, figures, i + 3, hit.codes[0])
        if bare >= _ENOUGH:
            found.append((i + 3, end, hit.codes[0]))
    return found


_ALONE = frozenset(
    "thou mm millimetres millimeters psi bar ohms volts millivolts inches pounds degrees kilohms amps".split()
)


def _held_until(toks: list[Tok] | tuple[Tok, ...], figures: Row[Figure], start: int, unit: str) -> tuple[int, int]:
    """The word at which the unit ends, and how many bare numbers lie before it."""
    begin = bisect_left(figures.firsts, start)
    end = begin
    while end < len(figures) and _allows(toks, figures[end], unit):
        end += 1
    if end == len(figures):
        return len(toks), sum(figures[k].quantity.unit is None for k in range(begin, end))
    while end > begin and figures[end].first - figures[end - 1].last <= _LISTED:
        if figures[end - 1].quantity.unit is not None:
            break
        end -= 1  # a list before a number with another unit has that
    return figures[end].first, sum(figures[k].quantity.unit is None for k in range(begin, end))


def _allows(toks: list[Tok] | tuple[Tok, ...], figure: Figure, unit: str) -> bool:
    own = figure.quantity.unit
    return own is None or own == unit or figure.same_as_previous or toks[figure.first - 1].low == "("
