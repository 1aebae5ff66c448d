"""Numbers with their units, at their exact places: what every other part of reading starts from.

`find_quantities` joins each number of `numbers` with the unit after it, ranges with their two ends, compounds ("5 feet 10
inches"), comparators and "about". It decides nothing about roles: an odometer and a pressure are both figures. `mentions` is
the same for any English text, in a plain form.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from .. import units
from ..terms import Quantity
from . import quantities_cues as cues
from .number_words import HYPHENS, LEX, STARTS
from .numbers import Number, candidates_at
from .quantities_forms import form_of, leading_unit, pronoun_one
from .quantities_units import UnitHit, misheard_at, unit_at
from .words import NUM, SIGN, WORD, Tok, words


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, or a range, with its unit where one is said.

    `start`/`end` count code points and span the number with its unit; `first`/`last` count tokens; `unit_start`/`unit_end`
    span the unit (None without one). `wide_start`/`wide_end` take in the comparator and "about" as well.
    `quantity` is the likeliest reading; `alternatives` are others of the same words ("mil" as mm, mL or thou; "4.7k" as
    4.7 kΩ), likelier ones first. `misheard` are units that a recogniser's word beside the number may stand for ("homes");
    they reach to `misheard_end` and are no part of the span: whoever knows the test decides.
    `form` is that of `Number`, or "range", "tolerance", "compound". `link` says how a range was said ("to", "between", "from",
    "dash", "plus-minus"), `parts` are its ends on their own, for a caller who takes them as two figures.
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


_UNITLESS_FORMS = frozenset(("ordinal", "code", "clock", "date", "phone", "label"))


def _starts(tok: Tok) -> bool:
    if tok.kind == NUM:
        return True
    low = tok.low
    if low in STARTS or low == "quarter":
        return True
    if tok.kind == SIGN:
        return low in "-−–+±"
    return (
        tok.text == "R"
        or low in ("double", "triple", "treble")
        or (not low.isascii() and low[0] in "½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚⅐⅑⅒")
    )


@dataclass(slots=True)
class _Piece:
    """A number with its unit, before it becomes a figure."""

    number: Number
    hit: UnitHit | None
    last: int
    unit_first: int = -1
    thousand: bool = False  # a "k" after the number: thousand, or kilohm
    compound: tuple[float, float, str] | None = None  # value, step, unit


def _choose(toks: list[Tok], i: int, text: str | None) -> _Piece | None:
    """The likeliest number that starts at `i`, with its unit."""
    found = candidates_at(toks, i, text)
    for number in found:
        if number.form == "maybe-grouped":
            continue
        piece = _with_unit(toks, number)
        if _plausible(toks, i, piece):
            return piece
    return None


_NO_POINT_BEFORE = frozenset(
    "this that the some which what a any every my your his her our their one no same at starting focal power".split()
)
_LEXED = frozenset(LEX)


def _plausible(toks: list[Tok], i: int, piece: _Piece) -> bool:
    """Whether the words are a number at all here: "one" may be a pronoun, "point" a noun, "half" a side."""
    number = piece.number
    tok = toks[i]
    low = tok.low
    if tok.kind == NUM or number.form == "resistance-code":
        return True
    n = len(toks)
    after = toks[number.last].low if number.last < n else ""
    before = toks[i - 1].low if i else ""
    length = number.last - number.first
    if low == "point" or low == "dot" or low == "decimal":
        return before not in _NO_POINT_BEFORE
    if number.form == "couple":
        return piece.hit is not None or after == "of"
    if number.form == "fraction" and length == 1:  # a bare "half" or "quarter"
        return piece.hit is not None
    if number.form == "fraction" and low in ("a", "an") and length == 2:
        if after in ("to", "past", "panel", "turn") and piece.hit is None:
            return after == "turn"
        return not (toks[i + 1].low == "half" and after in ("way", "hearted"))
    if number.form == "dozen" and length == 1:
        return before not in ("the", "several", "some", "few")
    if length == 1 and low in ("hundred", "thousand", "million", "billion", "trillion", "grand", "lakh", "crore"):
        return (
            before not in ("few", "several", "many", "some", "the", "couple", "of", "per", "grand")
            and low != "grand"
            and low != "crore"
        )
    if low == "one" and length == 1:
        return piece.hit is not None or not pronoun_one(toks, i)
    if low == "negative" or low == "minus":
        return True
    if number.form == "point-unsaid":
        return not (
            number.last < n and (toks[number.last].low in LEX and LEX[toks[number.last].low][0] in (0, 1, 2, 3, 8))
        )
    return True


_ADJECTIVES = frozenset(
    (
        "more",
        "full",
        "whole",
        "odd",
        "extra",
        "additional",
        "further",
        "long",
        "short",
        "good",
        "straight",
        "solid",
        "consecutive",
    )
)
_SHORT_ADJECTIVES = frozenset(("long", "short", "good"))


def _with_unit(toks: list[Tok], number: Number) -> _Piece:
    """The number with the unit that follows, over "of a", a hyphen or a small word."""
    j = number.last
    n = len(toks)
    if j >= n or number.form in ("ordinal",):
        return _Piece(number, None, j)
    if number.unit is not None:
        k = j
        hit = unit_at(toks, k)
        if hit is not None and units.same_kind(hit.codes[0], "Ohm"):
            return _Piece(number, UnitHit(hit.end, (number.unit,), "symbol"), hit.end, k)
        return _Piece(number, UnitHit(j, (number.unit,), "code"), j, number.first)
    decimals = number.step < 1 and number.form in ("numeral", "words", "fraction")
    tok = toks[j]
    if tok.low in ("k",) and tok.kind == WORD:
        return _kilo(toks, number, j)
    if (
        tok.text == "M"
        and tok.glued
        and number.form == "numeral"
        and not (j + 1 < n and toks[j + 1].glued and toks[j + 1].kind == WORD)
    ):
        return _mega(toks, number, j)
    hit = unit_at(toks, j, decimals)
    if hit is not None:
        return (
            _Piece(number, hit, hit.end, j) if _unit_holds(toks, number, j, hit) else _Piece(number, None, number.last)
        )
    if tok.kind == SIGN:
        if tok.glued and tok.text in HYPHENS and j + 1 < n and toks[j + 1].glued and toks[j + 1].kind == WORD:
            hit = unit_at(toks, j + 1, decimals)
            if hit is not None and toks[j + 1].low not in ("in", "a"):
                return _Piece(number, hit, hit.end, j + 1)
        return _Piece(number, None, number.last)
    k = j
    if number.form in ("fraction", "couple", "dozen", "words", "scaled", "short", "numeral"):
        if number.form in ("fraction", "couple", "dozen") and toks[k].low == "of" and k + 1 < n:
            k += 1
        if number.form == "fraction" and toks[k].low in ("a", "an", "one") and number.value < 1 and k + 1 < n:
            k += 1
        if toks[k].low in _ADJECTIVES and k + 1 < n:
            k += 1
        if k > j:
            hit = unit_at(toks, k, decimals)
            if hit is not None and (hit.style == "name" or toks[j].low in ("of", "a", "an")) and toks[k].low != "in":
                short = (
                    toks[k - 1].low in _SHORT_ADJECTIVES
                    and units.kind(hit.codes[0]) != "time"
                    and "ton" not in toks[k].low
                )
                if not short:
                    return _Piece(number, hit, hit.end, k)
    return _Piece(number, None, number.last)


_AM_PM = frozenset(("am", "pm"))
_NOT_SECOND = frozenset(
    "look time opinion hand one thing gear test go try set attempt part coil cylinder sensor half quarter stage reading row".split()
)


def _unit_holds(toks: list[Tok], number: Number, j: int, hit: UnitHit) -> bool:
    """Whether the unit word is a unit here: "a second look", "a hundred in the bank", "4 a day" are none."""
    tok = toks[j]
    n = len(toks)
    after = toks[hit.end] if hit.end < n else None
    low = tok.low
    if low == "second" and after is not None and after.low in _NOT_SECOND and number.form != "numeral":
        return False
    if low == "in" and hit.end == j + 1 and not tok.glued and number.form not in ("numeral", "fraction", "words"):
        return False
    if low == "in" and hit.end == j + 1 and not tok.glued and number.form == "words":
        return False
    if hit.end == j + 1 and low in ("c", "f") and not tok.glued and tok.text.islower() and number.form == "numeral":
        return False
    if low in ("'", "’", "′") and hit.codes[0] == "[ft_i]":
        return tok.glued and not (after is not None and after.glued and after.kind == WORD and after.low == "s")
    if low in ('"', "”", "″") and hit.codes[0] == "[in_i]":
        return tok.glued
    if low == "foot" and after is not None and after.low in ("note", "brake", "well"):
        return False
    if tok.text == "v" and not tok.glued and after is not None and after.kind == NUM:
        return False
    return True


def _kilo(toks: list[Tok], number: Number, j: int) -> _Piece:
    """A "k" after a number: kilohm in "k ohm", thousand of the unit that follows, else left open."""
    hit = unit_at(toks, j)
    if hit is not None and hit.end > j + 1:
        return _Piece(number, hit, hit.end, j)
    if j + 1 < len(toks) and toks[j + 1].glued and toks[j + 1].kind != SIGN:
        return _Piece(number, None, number.last)
    after = unit_at(toks, j + 1)
    if after is not None and toks[j + 1].low not in ("in", "a"):
        big = replace(number, value=round(number.value * 1000, 9), step=number.step * 1000, end=toks[j].end, last=j + 1)
        return _Piece(big, after, after.end, j + 1)
    return _Piece(number, None, j + 1, j, thousand=True)


def _mega(toks: list[Tok], number: Number, j: int) -> _Piece:
    big = replace(number, value=number.value * 1e6, step=number.step * 1e6, end=toks[j].end, last=j + 1, form="scaled")
    after = unit_at(toks, j + 1)
    return _Piece(big, after, after.end, j + 1) if after is not None else _Piece(big, None, j + 1)


# The smaller units that may follow a larger one in one breath ("5 feet 10 inches"), and how many make the larger.
_COMPOUNDS = {
    ("[ft_i]", "[in_i]"): 12, ("[yd_i]", "[ft_i]"): 3, ("[yd_i]", "[in_i]"): 36, ("[lb_av]", "[oz_av]"): 16, ("[stone_av]", "[lb_av]"): 14,
    ("h", "min"): 60, ("min", "s"): 60, ("h", "s"): 3600, ("d", "h"): 24, ("wk", "d"): 7, ("a", "mo"): 12, ("m", "cm"): 100,
    ("km", "m"): 1000, ("kg", "g"): 1000, ("deg", "'"): 60, ("[mi_i]", "[ft_i]"): 5280, ("[mi_i]", "[yd_i]"): 1760, ("[gal_us]", "[qt_us]"): 4,
    ("[gal_us]", "[pt_us]"): 8, ("[qt_us]", "[pt_us]"): 2, ("cm", "mm"): 10, ("m", "mm"): 1000,
}  # fmt: skip


def _compound(toks: list[Tok], piece: _Piece, text: str | None) -> _Piece:
    """The piece with smaller units said after it: "5'10\"", "2 hours and 30 minutes", "twelve pounds six ounces"."""
    hit = piece.hit
    if hit is None or piece.number.step < 1 or piece.number.form not in ("numeral", "words"):
        return piece
    n = len(toks)
    total, step, unit, last = piece.number.value, piece.number.step, hit.codes[0], hit.end
    while last < n:
        j = last
        if (
            toks[j].low in ("and", ",", "-")
            and j + 1 < n
            and not (toks[j].text == "," and unit not in ("h", "min", "d", "a", "[ft_i]", "[lb_av]"))
        ):
            j += 1
        if toks[j].line or not _starts(toks[j]) or toks[j].low in ("a", "an", "-", "+"):
            break
        smaller = _choose(toks, j, text)
        if smaller is None or smaller.number.value < 0 or smaller.number.form not in ("numeral", "words", "fraction"):
            break
        if smaller.hit is None:
            # "6 ft 2", "6'2": inches unsaid
            feet = (
                unit == "[ft_i]"
                and j == last
                and smaller.number.value < 12
                and (toks[last - 1].text in "'’′" or toks[j].kind == NUM)
            )
            follows = toks[smaller.last] if smaller.last < n else None
            if not feet or (
                follows is not None and (follows.low in ("x", "by", "×") or (follows.kind == WORD and follows.glued))
            ):
                break
            total, step, unit, last = total * 12 + smaller.number.value, smaller.number.step, "[in_i]", smaller.last
            break
        code = next((code for code in smaller.hit.codes if (unit, code) in _COMPOUNDS), None)
        if code is None or smaller.number.value >= _COMPOUNDS[unit, code]:
            break
        total = round(total * _COMPOUNDS[unit, code] + smaller.number.value, 9)
        step, unit, last = smaller.number.step, code, smaller.last
    if last == hit.end:
        return piece
    return _Piece(piece.number, UnitHit(last, (unit,), "name"), last, piece.unit_first, compound=(total, step, unit))


def _and_a_half(toks: list[Tok], piece: _Piece) -> _Piece:
    """ "two hours and a half", "three inches and a quarter": the fraction after the unit."""
    hit = piece.hit
    if hit is None or piece.number.step != 1.0 or hit.end + 2 >= len(toks) or toks[hit.end].low != "and":
        return piece
    from .number_words import and_fraction

    found = and_fraction(toks, piece.number.value, hit.end)
    if not found or unit_at(toks, found[0].end) is not None or found[0].form != "fraction":
        return piece
    if found[0].end < len(toks) and toks[found[0].end].low == "of":
        return piece
    return _Piece(
        piece.number,
        UnitHit(found[0].end, hit.codes, hit.style),
        found[0].end,
        piece.unit_first,
        compound=(found[0].value, found[0].step, hit.codes[0]),
    )


def _figure(toks: list[Tok], piece: _Piece) -> Figure:
    """One number as a figure, with the bounds and the blur said around it."""
    number, hit = piece.number, piece.hit
    value, step = number.value, number.step
    if piece.compound is not None:
        value, step, _ = piece.compound
    codes: tuple[str | None, ...] = hit.codes if hit is not None else (None,)
    if hit is None and number.form not in _UNITLESS_FORMS:
        trailing = cues.after(toks, piece.last)
    else:
        trailing = cues.after(toks, piece.last)
    leading = cues.before(toks, number.first)
    comparator = leading.comparator if leading.comparator != "=" else trailing.comparator
    approximate = leading.approximate or trailing.approximate or number.form == "couple"
    if piece.thousand:
        thousand = _quantity(round(value * 1000, 9), step * 1000, None, comparator, approximate)
        kilohm = _quantity(value, step, "kOhm", comparator, approximate)
        readings = [thousand, kilohm]
        if toks[piece.last - 1].text == "K":
            readings.append(_quantity(value, step, "K", comparator, approximate))
            if not toks[piece.last - 1].glued and number.form == "numeral":
                readings = [readings[2], readings[1], readings[0]]
    else:
        readings = [_quantity(value, step, code, comparator, approximate) for code in codes]
        readings.extend(_quantity(other, step, codes[0], comparator, approximate) for other in number.alternatives)
    form = "compound" if piece.compound is not None else number.form
    unit_start = toks[piece.unit_first].start if piece.unit_first >= 0 else None
    unit_end = toks[piece.last - 1].end if piece.unit_first >= 0 else None
    misheard: tuple[Quantity, ...] = ()
    misheard_end = None
    if hit is None and not piece.thousand and piece.last < len(toks) and number.form not in _UNITLESS_FORMS:
        heard = misheard_at(toks, piece.last)
        if heard is not None:
            misheard = tuple(_quantity(value, step, code, comparator, approximate) for code in heard.codes)
            misheard_end = toks[heard.end - 1].end
    return Figure(
        toks[number.first].start, toks[piece.last - 1].end, number.first, piece.last, readings[0], form, unit_start, unit_end,
        tuple(readings[1:]), misheard, misheard_end,
        toks[leading.edge].start if leading.edge >= 0 else toks[number.first].start,
        toks[trailing.edge - 1].end if trailing.edge > 0 else toks[piece.last - 1].end,
    )  # fmt: skip


def _quantity(value: float, step: float, unit: str | None, comparator: str, approximate: bool) -> Quantity:
    if comparator == "=":
        low, high = units.spread(value, step)
        return Quantity(value, low, high, unit, "=", approximate)
    if comparator[0] == "<":
        return Quantity(value, None, value, unit, comparator, approximate)
    return Quantity(value, value, None, unit, comparator, approximate)


_TO = frozenset(("to", "till", "until", "thru", "through"))
_DASHES = frozenset("-–—−‐‑~〜～")
_BLUR = frozenset(
    "about around roughly almost nearly approximately maybe say perhaps just under over close to up".split()
)


def _joint(toks: list[Tok], j: int) -> tuple[int, str] | None:
    """What joins two ends of a range at `j`: the token after it, and how ("to", "dash", "plus-minus", "and")."""
    n = len(toks)
    if j >= n - 1:
        return None
    low = toks[j].low
    if low in _TO:
        k = j + 1
        while k < n and k - j < 4 and toks[k].low in _BLUR:
            k += 1
        return k, "to"
    if low == "and":
        return j + 1, "and"
    if low == "±":
        return j + 1, "plus-minus"
    if low == "plus":
        if j + 2 < n and toks[j + 1].low == "or" and toks[j + 2].low == "minus":
            return j + 3, "plus-minus"
        if toks[j + 1].low == "minus":
            return j + 2, "plus-minus"
        if j + 2 < n and toks[j + 1].text == "/" and toks[j + 2].low == "minus":
            return j + 3, "plus-minus"
        return None
    if low == "give" and j + 2 < n and toks[j + 1].low == "or" and toks[j + 2].low == "take":
        return j + 3, "plus-minus"
    if low == "+":
        if toks[j + 1].text == "-" and toks[j + 1].glued:
            return j + 2, "plus-minus"
        if j + 2 < n and toks[j + 1].text == "/" and toks[j + 2].text in "-−–":
            return j + 3, "plus-minus"
        return None
    if toks[j].kind == SIGN and low in _DASHES:
        if toks[j].glued == toks[j + 1].glued or low in "–—":
            return j + 1, "dash"
        return None
    if low == "." and j + 2 < n and toks[j + 1].text == "." and toks[j + 1].glued:
        k = j + 2
        while k < n and toks[k].text == ".":
            k += 1
        return k, "dash"
    if low == "…":
        return j + 1, "dash"
    return None


def _range(toks: list[Tok], first: _Piece, text: str | None, between: bool) -> Figure | None:
    """The range that starts with `first`: "5 to 9 ohms", "between 5 and 9", "2 V to 3 V", "51 plus or minus 5"."""
    joint = _joint(toks, first.last)
    if joint is None:
        return None
    j, link = joint
    if (link == "and") != between and link != "plus-minus" and not (between and link in ("to", "dash")):
        return None
    if j >= len(toks) or toks[j].line:
        return None
    if not _starts(toks[j]):
        return None
    if link == "dash" and (
        first.number.form in ("code", "ordinal")
        or first.number.form == "fraction"
        and toks[first.last].glued is False
        and False
    ):
        return None
    second = _choose(toks, j, text)
    if second is None or second.number.form in _UNITLESS_FORMS:
        return None
    second = _compound(toks, second, text)
    if link == "plus-minus":
        return _tolerance(toks, first, second)
    if link == "dash" and _chained(toks, first, second):
        return None
    return _from_to(toks, first, second, link, between)


def _chained(toks: list[Tok], first: _Piece, second: _Piece) -> bool:
    """Whether the dash belongs to a date, a phone number or a part number ("19-03-14", "555-0142")."""
    n = len(toks)
    if toks[second.number.first].kind == NUM:
        text = toks[second.number.first].text
        if len(text) > 1 and text[0] == "0" and text.isdigit():
            return True
    after = second.last
    if (
        second.hit is None
        and after + 1 < n
        and toks[after].text in "-–"
        and toks[after].glued
        and toks[after + 1].glued
    ):
        return True
    before = first.number.first - 1
    return (
        before >= 0
        and toks[before].text in "-–/"
        and toks[before].glued
        and toks[first.number.first].glued
        and before > 0
        and toks[before - 1].kind != SIGN
    )


def _codes(piece: _Piece) -> tuple[str, ...]:
    return piece.hit.codes if piece.hit is not None else ()


def _from_to(toks: list[Tok], first: _Piece, second: _Piece, link: str, between: bool) -> Figure | None:
    low, high = _value(first), _value(second)
    thousand = second.thousand
    unit: str | None
    others: tuple[str, ...]
    if first.hit is not None and second.hit is not None:
        shared = tuple(code for code in second.hit.codes if code in first.hit.codes)
        if shared:
            unit, others = shared[0], shared[1:]
        elif units.same_kind(first.hit.codes[0], second.hit.codes[0]):
            unit, others = second.hit.codes[0], ()
            low = round(units.convert(low, first.hit.codes[0], unit), 12)
        elif units.kind(second.hit.codes[0]) == "temperature" and first.hit.codes[0] == "deg":
            unit, others = second.hit.codes[0], ()
        else:
            return None
    else:
        hit = second.hit or first.hit
        unit, others = (hit.codes[0], hit.codes[1:]) if hit is not None else (None, ())
        if first.hit is not None and second.hit is None and link == "dash" and not toks[first.last].glued and False:
            return None
    if first.thousand != thousand and first.thousand:
        thousand = True
    if thousand and not first.thousand and second.thousand and low > high * 1000:
        return None
    if not low < high and not (thousand and second.thousand and not first.thousand and low < high * 1000):
        if not (low < 0 and high < 0):
            return None
        low, high = high, low
    if second.number.form == "spelt" and first.number.form != "spelt":
        return None
    leading = cues.before(toks, first.number.first)
    trailing = cues.after(toks, second.last)
    approximate = leading.approximate or trailing.approximate
    first_token = first.number.first
    if between:
        link = "between"
    elif link == "to" and first_token > 0 and toks[first_token - 1].low == "from":
        link = "from"
    readings: list[Quantity] = []
    if thousand:
        readings = [Quantity(low * 1000, high * 1000, None), Quantity(None, low, high, "kOhm")]  # type: ignore[list-item]
        readings = [
            Quantity(None, round(low * 1000, 9), round(high * 1000, 9), None, "=", approximate),
            Quantity(None, low, high, "kOhm", "=", approximate),
        ]
    else:
        readings = [Quantity(None, low, high, code, "=", approximate) for code in (unit, *others)]
    unit_piece = second if second.unit_first >= 0 else first
    # the ends on their own, the first with the unit it shares
    shared_hit = second.hit if first.hit is None else first.hit
    parts = (_shared(_figure(toks, first), shared_hit), _figure(toks, second))
    return Figure(
        toks[first_token].start, toks[second.last - 1].end, first_token, second.last, readings[0], "range",
        toks[unit_piece.unit_first].start if unit_piece.unit_first >= 0 else None,
        toks[unit_piece.last - 1].end if unit_piece.unit_first >= 0 else None,
        tuple(readings[1:]), (), None,
        toks[leading.edge].start if leading.edge >= 0 else toks[first_token].start,
        toks[trailing.edge - 1].end if trailing.edge > 0 else toks[second.last - 1].end,
        link=link, parts=parts,
    )  # fmt: skip


def _shared(figure: Figure, hit: UnitHit | None) -> Figure:
    """The figure with a unit that is said elsewhere."""
    if hit is None or figure.quantity.unit is not None:
        return figure
    return replace(
        figure,
        quantity=replace(figure.quantity, unit=hit.codes[0]),
        alternatives=tuple(replace(figure.quantity, unit=code) for code in hit.codes[1:]) + figure.alternatives,
    )


def _value(piece: _Piece) -> float:
    return piece.number.value if piece.compound is None else piece.compound[0]


def _tolerance(toks: list[Tok], first: _Piece, second: _Piece) -> Figure | None:
    middle, half = _value(first), abs(_value(second))
    hit = first.hit or second.hit
    first_codes, second_codes = _codes(first), _codes(second)
    if second_codes and second_codes[0] == "%" and (not first_codes or first_codes[0] != "%"):
        half = abs(middle) * half / 100
        hit = first.hit
    elif first_codes and second_codes and first_codes[0] != second_codes[0]:
        if not units.same_kind(first_codes[0], second_codes[0]):
            return None
        factor = units.convert(1, second_codes[0], first_codes[0]) - units.convert(0, second_codes[0], first_codes[0])
        half *= factor
    codes: tuple[str | None, ...] = hit.codes if hit is not None else (None,)
    low, high = round(middle - half, 12), round(middle + half, 12)
    leading = cues.before(toks, first.number.first)
    readings = [Quantity(None, low, high, code, "=", leading.approximate) for code in codes]
    unit_piece = first if first.unit_first >= 0 else second
    return Figure(
        toks[first.number.first].start, toks[second.last - 1].end, first.number.first, second.last, readings[0], "tolerance",
        toks[unit_piece.unit_first].start if unit_piece.unit_first >= 0 else None,
        toks[unit_piece.last - 1].end if unit_piece.unit_first >= 0 else None,
        tuple(readings[1:]), (), None,
        toks[leading.edge].start if leading.edge >= 0 else toks[first.number.first].start, toks[second.last - 1].end,
        link="plus-minus", parts=(_shared(_figure(toks, first), hit), _figure(toks, second)),
    )  # fmt: skip


def _lone_tolerance(toks: list[Tok], i: int, text: str | None) -> Figure | None:
    """ "±0.5 mm" and "plus or minus five" with nothing before."""
    joint = _joint(toks, i)
    if joint is None or joint[1] != "plus-minus" or joint[0] >= len(toks) or not _starts(toks[joint[0]]):
        return None
    piece = _choose(toks, joint[0], text)
    if piece is None:
        return None
    half = abs(_value(piece))
    codes: tuple[str | None, ...] = piece.hit.codes if piece.hit is not None else (None,)
    readings = [Quantity(None, -half, half, code) for code in codes]
    one = _figure(toks, piece)
    return replace(
        one, start=toks[i].start, first=i, quantity=readings[0], alternatives=tuple(readings[1:]), form="tolerance",
        link="plus-minus", parts=(one,), wide_start=toks[i].start,
    )  # fmt: skip


def find_quantities(toks: list[Tok], text: str | None = None) -> list[Figure]:
    """Every number in the text with its unit, left to right, none overlapping.

    `toks` are `words(text)`; `text` itself is needed only to tell a thin space in a number from a plain one.

    >>> [(f.quantity.value, f.quantity.unit) for f in find_quantities(words("half a bar, then 12.6V"))]
    [(0.5, 'bar'), (12.6, 'V')]
    """
    out: list[Figure] = []
    i = 0
    n = len(toks)
    starts = STARTS
    while i < n:
        tok = toks[i]
        if tok.kind != NUM and tok.low not in starts and not _starts(tok):
            i += 1
            continue
        figure = _figure_at(toks, i, text)
        if figure is None:
            i += 1
            continue
        i = figure.last
        if out and _says_again(toks, out[-1], figure):
            figure = replace(figure, same_as_previous=True)
        out.append(figure)
    return _across(toks, out)


def _figure_at(toks: list[Tok], i: int, text: str | None) -> Figure | None:
    low = toks[i].low
    if low in ("±", "+", "plus"):
        lone = _lone_tolerance(toks, i, text)
        if lone is not None:
            return lone
        if low != "+":
            return None
    form = form_of(toks, i)
    if form is not None:
        return _formal(toks, i, *form)
    between = i > 0 and toks[i - 1].low in ("between", "betwixt", "betweeen")
    if between:
        figure = _between(toks, i, text)
        if figure is not None:
            return figure
    piece = _choose(toks, i, text)
    if piece is None:
        return None
    if piece.number.form == "ordinal":
        return _figure(toks, piece)
    piece = _and_a_half(toks, _compound(toks, piece, text))
    found = _range(toks, piece, text, between=False)
    if found is not None:
        return found
    if piece.hit is None and not piece.thousand:
        before = leading_unit(toks, i)
        if before is not None:
            return _shared(_figure(toks, piece), before)
    return _figure(toks, piece)


def _between(toks: list[Tok], i: int, text: str | None) -> Figure | None:
    """ "between 5 and 9 ohms": the first end is the longest number that has "and" and another number after it."""
    for number in candidates_at(toks, i, text):
        if number.form == "maybe-grouped":
            continue
        piece = _compound(toks, _with_unit(toks, number), text)
        if piece.last < len(toks) and toks[piece.last].low in ("and", "&", "to", "-", "–"):
            figure = _range(toks, piece, text, between=True)
            if figure is not None:
                return figure
    return None


def _formal(toks: list[Tok], i: int, last: int, form: str, value: float) -> Figure:
    return Figure(
        toks[i].start,
        toks[last - 1].end,
        i,
        last,
        Quantity(value, value, value),
        form,
        wide_start=toks[i].start,
        wide_end=toks[last - 1].end,
    )


_APPOSITION = frozenset(
    (
        ",",
        "(",
        "/",
        "=",
        "that",
        "is",
        "that's",
        "thats",
        "so",
        "or",
        "call",
        "it",
        "which",
        "equals",
        "ie",
        "i",
        "e",
        ".",
        "-",
        "–",
        "about",
        "roughly",
        "makes",
        "[",
        "i.e",
        "meaning",
        "≈",
        "~",
        "aka",
        "just",
        "under",
        "over",
        "a",
        "around",
        "nearly",
    )
)


def _says_again(toks: list[Tok], before: Figure, figure: Figure) -> bool:
    """Whether the figure says the one before it again in another unit: "2.5 bar, 36 psi", "61 °F so 16 °C"."""
    a, b = before.quantity.unit, figure.quantity.unit
    if a is None or b is None or a == b or figure.first - before.last > 5:
        return False
    if not units.same_kind(a, b):
        return False
    return all(toks[k].low in _APPOSITION for k in range(before.last, figure.first))


def _across(toks: list[Tok], figures: list[Figure]) -> list[Figure]:
    """Sizes share their last unit: in "5 x 3 cm" the 5 is centimetres too."""
    for k in range(len(figures) - 1, 0, -1):
        figure, before = figures[k], figures[k - 1]
        if (
            before.quantity.unit is None
            and figure.quantity.unit is not None
            and before.last + 1 == figure.first
            and before.form not in _UNITLESS_FORMS
        ):
            joint = toks[before.last]
            if joint.low in ("x", "×", "by") and units.kind(figure.quantity.unit) == "length":
                figures[k - 1] = replace(
                    before,
                    quantity=replace(before.quantity, unit=figure.quantity.unit),
                    alternatives=tuple(
                        replace(before.quantity, unit=other.unit)
                        for other in figure.alternatives
                        if other.unit is not None
                    ),
                )
    return figures


def find_numbers(toks: list[Tok], text: str | None = None) -> list[Number]:
    """The likeliest numbers from left to right, none overlapping, units left aside.

    >>> [number.value for number in find_numbers(words("bores 83.02, 83.03 and a hundred and forty"))]
    [83.02, 83.03, 140.0]
    """
    out: list[Number] = []
    i = 0
    n = len(toks)
    while i < n:
        tok = toks[i]
        if tok.kind != NUM and tok.low not in STARTS and not _starts(tok):
            i += 1
            continue
        form = form_of(toks, i)
        if form is not None:
            out.append(Number(tok.start, toks[form[0] - 1].end, i, form[0], form[2], 1.0, form[1]))
            i = form[0]
            continue
        piece = _choose(toks, i, text)
        if piece is None:
            i += 1
            continue
        out.append(piece.number)
        i = piece.number.last
    return out


_NO_MENTION = frozenset(("ordinal", "code", "clock", "date", "phone"))


def mentions(text: str) -> list[dict[str, Any]]:
    """Every number in any English text: `{"start", "end", "value", "low", "high", "unit"}`, places in code points.

    One number has its `value`, and `low`/`high` are None; an exact range has no `value` and its ends. `unit` is a UCUM code,
    None where none is said.

    >>> mentions("between 20 and 30 cm")
    [{'start': 8, 'end': 20, 'value': None, 'low': 20.0, 'high': 30.0, 'unit': 'cm'}]
    """
    out: list[dict[str, Any]] = []
    for figure in find_quantities(words(text), text):
        if figure.form in _NO_MENTION:
            continue
        said = figure.quantity
        one = said.value is not None
        out.append(
            {
                "start": figure.start,
                "end": figure.end,
                "value": said.value,
                "low": None if one else said.low,
                "high": None if one else said.high,
                "unit": said.unit,
            }
        )
    return out
