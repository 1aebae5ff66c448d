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
    found: list[tuple[int, int, str]] = []
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


def _held_until(toks: list[Tok] | tuple[Tok, ...], figures: Row[Figure], start: int, unit: str) -> tuple[int, int]:
    bare = 0
    for k in range(bisect_left(figures.firsts, start), len(figures)):
        own = figures[k].quantity.unit
        if own is None:
            bare += 1
        elif own != unit and not figures[k].same_as_previous and toks[figures[k].first - 1].low != "(":
            while k and figures[k].first - figures[k - 1].last <= _LISTED and figures[k - 1].quantity.unit is None:
                k -= 1  # a list before it has its unit
                bare -= 1
            return figures[k].first, bare
    return len(toks), bare
