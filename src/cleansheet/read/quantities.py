"""Numbers with their units, at their exact places: what every other part of reading starts from.

`find_quantities` joins each number of `numbers` with the unit after it, ranges with their two ends, compounds
("5 feet 10 inches"), comparators and "about". It decides nothing about roles: an odometer and a pressure are both
figures. `mentions` is the same for any English text, in a plain form.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from .. import units
from ..terms import Quantity
from .number_lexicon import STARTS
from .numbers import Number
from .quantities_compounds import and_a_half, below_zero, compound, one_and_a_half
from .quantities_figure import FORMAL, Figure, figure_of, shared
from .quantities_forms import form_of, leading_unit
from .quantities_pieces import choose, starts
from .quantities_ranges import between_bounds, between_from, lone_tolerance, range_from
from .words import NUM, Tok, words

__all__ = ["Figure", "find_numbers", "find_quantities", "mentions"]


def find_quantities(toks: list[Tok], text: str | None = None) -> list[Figure]:
    """Every number in the text with its unit, left to right, none overlapping.

    `toks` are `words(text)`; `text` itself is needed only to tell a thin space in a number from a plain one.

    >>> [(f.quantity.value, f.quantity.unit) for f in find_quantities(words("half a bar, then 12.6V"))]
    [(0.5, 'bar'), (12.6, 'V')]
    """
    out: list[Figure] = []
    i = 0
    n = len(toks)
    while i < n:
        tok = toks[i]
        figure = _figure_at(toks, i, text) if tok.kind == NUM or tok.low in STARTS or starts(tok) else None
        if figure is None:
            i += 1
            continue
        if out and figure.quantity.comparator != "=":
            joined = between_bounds(toks, out[-1], figure)
            if joined is not None:
                out[-1] = joined
                i = figure.last
                continue
        if out and _says_again(toks, out[-1], figure):
            figure = replace(figure, same_as_previous=True)
        out.append(figure)
        i = max(figure.last, i + 1)
    _share_size_units(toks, out)
    return out


_THE_ONE = frozenset({"other", "good", "bad", "old", "new"})
_BETWEEN = frozenset({"between", "betwixt"})


_FILLERS = frozenset({",", "er", "um", "erm", "uh", "about", "say"})


def _after_between(toks: list[Tok], i: int) -> bool:
    """Whether "between" stands before the number, with nothing but a stammer after it: "between, er, eight and fourteen"."""
    j = i - 1
    while j > 0 and i - j < 4 and toks[j].low in _FILLERS:
        j -= 1
    return toks[j].low in _BETWEEN


def _figure_at(toks: list[Tok], i: int, text: str | None) -> Figure | None:
    low = toks[i].low
    if low == "one" and i and toks[i - 1].low in _THE_ONE:
        return None  # "the other one twenty four point three", "the good one five K"
    if low in ("±", "+", "plus"):
        lone = lone_tolerance(toks, i, text)
        if lone is not None or low != "+":
            return lone
    form = form_of(toks, i)
    if form is not None:
        return _formal(toks, i, *form)
    if i > 0 and _after_between(toks, i):
        figure = between_from(toks, i, text)
        if figure is not None:
            return figure
    piece = choose(toks, i, text)
    if piece is None:
        piece = one_and_a_half(toks, i)
        if piece is None:
            return None
        return figure_of(toks, piece)
    if piece.number.form == "ordinal":
        return figure_of(toks, piece)
    piece = below_zero(toks, and_a_half(toks, compound(toks, piece, text)))
    found = range_from(toks, piece, text)
    if found is not None:
        return found
    figure = figure_of(toks, piece)
    if figure.quantity.unit == "min" and _is_minimum(toks, figure):
        figure = figure_of(toks, replace(piece, hit=None, last=piece.number.last, unit_first=-1))
        least = figure.quantity.value
        return replace(figure, quantity=replace(figure.quantity, comparator=">=", low=least, high=None))
    return shared(figure, leading_unit(toks, i)) if piece.hit is None and not piece.thousand else figure


_WANTS = frozenset("wants want wanted needs need spec limit should sb book sheet list ought".split())


def _is_minimum(toks: list[Tok], figure: Figure) -> bool:
    """Whether the "min" after a number is no minutes but its minimum: "wants .8 min", "1.1 bar - 2.0 min"."""
    if toks[figure.last - 1].low != "min" or figure.first == 0:
        return False
    decimals = toks[figure.first].kind == NUM and "." in toks[figure.first].text
    if toks[figure.first - 1].low in _WANTS:
        return decimals
    dash = toks[figure.first - 1].low in ("-", "–", "—") and figure.first > 2
    return dash and decimals and toks[figure.first - 3].kind == NUM


def _formal(toks: list[Tok], i: int, last: int, form: str, value: float) -> Figure:
    start, end = toks[i].start, toks[last - 1].end
    return Figure(start, end, i, last, Quantity(value, value, value), form, wide_start=start, wide_end=end)


_APPOSITION = frozenset({
    ",", "(", "/", "=", ".", "-", "–", "—", "[", "≈", "~", "that", "is", "that's", "thats", "so", "or", "call", "it",
    "which", "equals", "ie", "i", "e", "makes", "i.e", "meaning", "aka", "just", "under", "over", "a", "around",
    "nearly", "about", "roughly",
})  # fmt: skip


def _says_again(toks: list[Tok], before: Figure, figure: Figure) -> bool:
    """Whether the figure says the one before it again in another unit: "2.5 bar, 36 psi", "61 °F so 16 °C"."""
    a, b = before.quantity.unit, figure.quantity.unit
    if a is None or b is None or a == b or figure.first - before.last > 5 or not units.same_kind(a, b):
        return False
    gap = [toks[k].low for k in range(before.last, figure.first)]
    if gap in (["/"], [","]) and {a, b} == {"Ohm", "kOhm"} and not units.agree(before.quantity, figure.quantity):
        return False  # "0.7 ohm / 7.9 kohm": a coil's two windings
    return all(low in _APPOSITION for low in gap)


_BY = frozenset({"x", "×", "by", "*", "х"})


def _share_size_units(toks: list[Tok], figures: list[Figure]) -> None:
    """In "5 x 3 cm" the 5 is centimetres too; "a 10-by-12-foot room" likewise."""
    for k in range(len(figures) - 1, 0, -1):
        figure, before = figures[k], figures[k - 1]
        unit = figure.quantity.unit
        if unit is None or before.quantity.unit is not None or before.form in FORMAL:
            continue
        gap = [toks[j].low for j in range(before.last, figure.first)] if figure.first - before.last <= 3 else []
        if not gap or not all(low in _BY or low == "-" for low in gap) or units.kind(unit) != "length":
            continue
        others = tuple(replace(before.quantity, unit=other.unit) for other in figure.alternatives if other.unit)
        figures[k - 1] = replace(before, quantity=replace(before.quantity, unit=unit), alternatives=others)


def find_numbers(toks: list[Tok], text: str | None = None) -> list[Number]:
    """The likeliest numbers from left to right, none overlapping, units and ranges left aside.

    >>> [number.value for number in find_numbers(words("bores 83.02, 83.03 and a hundred and forty"))]
    [83.02, 83.03, 140.0]
    """
    out: list[Number] = []
    i = 0
    n = len(toks)
    while i < n:
        tok = toks[i]
        if not (tok.kind == NUM or tok.low in STARTS or starts(tok)):
            i += 1
            continue
        form = form_of(toks, i)
        if form is not None:
            last, name, value = form
            out.append(Number(tok.start, toks[last - 1].end, i, last, value, 1.0, name))
            i = last
            continue
        piece = choose(toks, i, text)
        if piece is not None:
            out.append(piece.number)
        i = i + 1 if piece is None else max(piece.number.last, i + 1)
    return out


def _year_spans(toks: list[Tok], figures: list[Figure]) -> list[Figure]:
    """`from 1995 to 2000` as one range; a note's readings leave years alone, so only `mentions` joins them."""
    out: list[Figure] = []
    for figure in figures:
        before = out[-1] if out else None
        if (
            before is not None
            and before.form == "year"
            and figure.first == before.last + 1
            and toks[before.last].low in ("to", "until", "till", "-", "–")
            and figure.quantity.unit is None
            and (before.quantity.value or 0) < (figure.quantity.value or 0) < 2100
        ):
            span = Quantity(None, before.quantity.value, figure.quantity.value)
            out[-1] = replace(before, end=figure.end, last=figure.last, quantity=span, form="range", link="to")
            continue
        out.append(figure)
    return out


_NO_MENTION = frozenset({"ordinal", "code", "clock", "date", "phone"})


def mentions(text: str) -> list[dict[str, Any]]:
    """Every number in any English text: `{"start", "end", "value", "low", "high", "unit"}`, places in code points.

    One number has its `value`; `low`/`high` are None, or for "at least 5" and "under 5" the bound on its side. A range
    has no `value` and its ends. `unit` is a UCUM code, None where none is said.

    >>> mentions("between 20 and 30 cm")
    [{'start': 8, 'end': 20, 'value': None, 'low': 20.0, 'high': 30.0, 'unit': 'cm'}]
    >>> mentions("at least 5")
    [{'start': 9, 'end': 10, 'value': 5.0, 'low': 5.0, 'high': None, 'unit': None}]
    """
    out: list[dict[str, Any]] = []
    toks = words(text)
    for figure in _year_spans(toks, find_quantities(toks, text)):
        if figure.form in _NO_MENTION:
            continue
        said = figure.quantity
        exact = said.value is not None and said.comparator == "="
        out.append(
            {
                "start": figure.start,
                "end": figure.end,
                "value": said.value,
                "low": None if exact else said.low,
                "high": None if exact else said.high,
                "unit": said.unit,
            }
        )
    return out
