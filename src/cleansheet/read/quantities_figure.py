"""The figure: a number or a range at its place, with its unit and what bounds or blurs it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from .. import units
from ..terms import Quantity
from . import quantities_cues as cues
from .quantities_units import UnitHit, misheard_at

if TYPE_CHECKING:
    from .numbers import Number
    from .quantities_pieces import Piece
    from .words import Tok


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, or a range, with its unit where one is said.

    `start`/`end` count code points and span the number with its unit; `first`/`last` count tokens;
    `unit_start`/`unit_end`
    span the unit (None without one). `wide_start`/`wide_end` take in the comparator and "about" as well.
    `quantity` is the likeliest reading; `alternatives` are others of the same words ("mil" as mm, mL or thou; "4.7k" as
    4.7 kΩ), likelier ones first. `misheard` are units that a recogniser's word beside the number may stand for
    ("homes"); they reach to `misheard_end` and are no part of the span: whoever knows the test decides.
    `form` is that of `Number`, or "range", "tolerance", "compound". `link` says how a range was said ("to", "between",
    "from", "dash", "plus-minus"), `parts` are its ends on their own, for a caller who takes them as two figures.
    `same_as_previous` marks the same kind of thing said again in another unit ("2.5 bar, 36 psi").
    """

    start: int
    end: int
    first: int
    last: int
    quantity: Quantity
    form: str
    unit_start: int | None = None
    unit_end: int | None = None
    alternatives: tuple[Quantity, ...] = ()
    misheard: tuple[Quantity, ...] = ()
    misheard_end: int | None = None
    wide_start: int = 0
    wide_end: int = 0
    same_as_previous: bool = False
    link: str | None = None
    parts: tuple[Figure, ...] = ()


# Forms that measure nothing and take no unit.
FORMAL = frozenset({"ordinal", "code", "clock", "date", "phone", "label", "day", "year"})


def one_sided(value: float, step: float, unit: str | None, comparator: str, approximate: bool) -> Quantity:
    """A number as a quantity: its rounding interval, or with a comparator the bound on its side."""
    if comparator == "=":
        low, high = units.spread(value, step)
        return Quantity(value, low, high, unit, "=", approximate)
    if comparator[0] == "<":
        return Quantity(value, None, value, unit, comparator, approximate)
    return Quantity(value, value, None, unit, comparator, approximate)


def figure_of(toks: list[Tok], piece: Piece) -> Figure:
    """One number as a figure, with the bounds and the blur said around it."""
    number = piece.number
    leading = cues.before(toks, number.first)
    trailing = cues.after(toks, piece.last)
    comparator = leading.comparator if leading.comparator != "=" else trailing.comparator
    if trailing.comparator != "=" and toks[leading.edge].low in ("min", "max"):
        comparator = trailing.comparator  # "0.05 min 0.25 max"
    approximate = leading.approximate or trailing.approximate or number.form == "couple"
    readings = _readings(toks, piece, comparator, approximate)
    misheard, misheard_end = _misheard(toks, piece, comparator, approximate)
    start, end = toks[number.first].start, toks[piece.last - 1].end
    return Figure(
        start, end, number.first, piece.last, readings[0], "compound" if piece.compound is not None else number.form,
        *_unit_span(toks, piece), tuple(readings[1:]), misheard, misheard_end,
        toks[leading.edge].start if leading.edge >= 0 else start,
        toks[trailing.edge - 1].end if trailing.edge > 0 else end,
    )  # fmt: skip


def _misheard(
    toks: list[Tok], piece: Piece, comparator: str, approximate: bool
) -> tuple[tuple[Quantity, ...], int | None]:
    """What a recogniser's words after the number may stand for, where they are no unit or say more than the unit does
    ("ninety foot powers"); and where they end.
    """
    number, hit = piece.number, piece.hit
    if piece.thousand or piece.compound is not None or number.form in FORMAL:
        return (), None
    heard = misheard_at(toks, number.last)
    if heard is None or (hit is not None and heard.end <= hit.end):
        return (), None
    offered = tuple(one_sided(number.value, number.step, code, comparator, approximate) for code in heard.codes)
    return offered, toks[heard.end - 1].end


def _unit_span(toks: list[Tok], piece: Piece) -> tuple[int | None, int | None]:
    if piece.unit_first < 0:
        return None, None
    return toks[piece.unit_first].start, toks[piece.last - 1].end


def _readings(toks: list[Tok], piece: Piece, comparator: str, approximate: bool) -> list[Quantity]:
    """What the words may mean, likeliest first."""
    number = piece.number
    value, step = number.value, number.step
    if piece.compound is not None:
        value, step, _ = piece.compound
    if piece.thousand:
        return _thousands(toks, piece, comparator, approximate)
    codes: tuple[str | None, ...] = piece.codes or (None,)
    readings = [one_sided(value, step, code, comparator, approximate) for code in codes]
    others = (*number.alternatives, *_swallowed(toks, number))
    readings.extend(one_sided(other, step, codes[0], comparator, approximate) for other in others)
    return readings


# A whole number that a recogniser writes as a small word: "fuel pressure to point five bar" was two point five.
_SOUND_ALIKE = {"to": 2.0, "too": 2.0, "for": 4.0, "won": 1.0, "ate": 8.0, "sex": 6.0, "tree": 3.0}


def _swallowed(toks: list[Tok], number: Number) -> tuple[float, ...]:
    """What the number may be if the word before its point was the whole part, misheard."""
    if number.first == 0 or toks[number.first].low != "point" or not 0 < number.value < 1:
        return ()
    whole = _SOUND_ALIKE.get(toks[number.first - 1].low)
    return () if whole is None else (round(whole + number.value, 9),)


def _thousands(toks: list[Tok], piece: Piece, comparator: str, approximate: bool) -> list[Quantity]:
    """`2.5k`: two and a half thousand, or kilohms; "300 K" with its space and its capital may be kelvin."""
    value, step = piece.number.value, piece.number.step
    mark = toks[piece.last - 1]
    readings = [
        one_sided(round(value * 1000, 9), step * 1000, None, comparator, approximate),
        one_sided(value, step, "kOhm", comparator, approximate),
    ]
    if mark.text == "K":
        kelvin = one_sided(value, step, "K", comparator, approximate)
        if mark.glued or piece.number.form != "numeral":
            readings.append(kelvin)
        else:
            readings.insert(0, kelvin)
    return readings


def shared(figure: Figure, hit: UnitHit | None) -> Figure:
    """The figure with a unit that is said elsewhere."""
    if hit is None or figure.quantity.unit is not None:
        return figure
    return replace(
        figure,
        quantity=replace(figure.quantity, unit=hit.codes[0]),
        alternatives=tuple(replace(figure.quantity, unit=code) for code in hit.codes[1:]) + figure.alternatives,
    )
