"""One quantity said in several breaths: "six foot two", "2 hours and 30 minutes", "two inches and a half"."""

from __future__ import annotations

from .number_fractions import and_fraction
from .numbers import Number
from .quantities_pieces import Piece, choose, starts
from .quantities_units import UnitHit, unit_at
from .words import NUM, SIGN, WORD, Tok

# The smaller unit that may follow a larger one in one breath, and how many of it make the larger.
_PARTS = {
    ("[ft_i]", "[in_i]"): 12, ("[yd_i]", "[ft_i]"): 3, ("[yd_i]", "[in_i]"): 36, ("[mi_i]", "[ft_i]"): 5280,
    ("[mi_i]", "[yd_i]"): 1760, ("km", "m"): 1000, ("m", "cm"): 100, ("m", "mm"): 1000, ("cm", "mm"): 10,
    ("[lb_av]", "[oz_av]"): 16, ("[stone_av]", "[lb_av]"): 14, ("kg", "g"): 1000,
    ("h", "min"): 60, ("min", "s"): 60, ("h", "s"): 3600, ("d", "h"): 24, ("wk", "d"): 7, ("a", "mo"): 12,
    ("deg", "'"): 60, ("'", "''"): 60, ("deg", "''"): 3600,
    ("[gal_us]", "[qt_us]"): 4, ("[gal_us]", "[pt_us]"): 8, ("[qt_us]", "[pt_us]"): 2,
}  # fmt: skip
_LARGER = frozenset(larger for larger, _ in _PARTS)
# Larger units after which a comma may stand in a compound.
_OVER_COMMA = frozenset({"h", "min", "d", "a", "[ft_i]", "[lb_av]"})
_ABBREVIATED = frozenset({"ft", "lb", "lbs", "hr", "hrs", "min", "mins", "yd", "st", "h", "m"})


def compound(toks: list[Tok], piece: Piece, text: str | None = None) -> Piece:
    """The piece with the smaller units said after it, in the smallest of them: "5 feet 10 inches" is 70 inches.

    A smaller number must be less than what makes one of the larger unit; "5 feet 20 inches" stays two figures.
    """
    hit = piece.hit
    if (
        hit is None
        or hit.codes[0] not in _LARGER
        or piece.number.step < 1
        or piece.number.form not in ("numeral", "words")
    ):
        return piece
    total, step, unit, last = piece.number.value, piece.number.step, hit.codes[0], hit.end
    while True:
        j = _past_joint(toks, last, unit)
        smaller = _smaller(toks, j, text)
        if smaller is None:
            break
        if smaller.hit is None:
            joined = j == last or (toks[last].kind == SIGN and toks[last].glued and toks[j].glued)  # "a 5-foot-10 man"
            if joined and unit == "[ft_i]" and _bare_inches(toks, smaller, last):
                total, step, unit, last = total * 12 + smaller.number.value, smaller.number.step, "[in_i]", smaller.last
            elif j == last and unit == "h" and toks[j].glued and toks[j - 1].glued and len(toks[j].text) == 2:
                # "1h30"
                total, step, unit, last = total * 60 + smaller.number.value, 1.0, "min", smaller.last
            break
        code = next((code for code in smaller.hit.codes if (unit, code) in _PARTS), None)
        if code is None or smaller.number.value >= _PARTS[unit, code]:
            break
        total = round(total * _PARTS[unit, code] + smaller.number.value, 9)
        step, unit, last = smaller.number.step, code, smaller.last
        if step < 1:
            break
    if last == hit.end:
        return piece
    return Piece(piece.number, UnitHit(last, (unit,), "name"), last, piece.unit_first, compound=(total, step, unit))


def _past_joint(toks: list[Tok], j: int, unit: str) -> int:
    """Past "and", a comma or an abbreviation's point between the larger unit and the smaller number."""
    n = len(toks)
    if (
        j + 1 < n
        and toks[j].text == "."
        and toks[j].glued
        and toks[j - 1].low in _ABBREVIATED
        and not toks[j + 1].glued
    ):
        j += 1
    if j + 1 < n and (
        toks[j].low == "and" or (toks[j].text == "," and unit in _OVER_COMMA) or (toks[j].text == "-" and toks[j].glued)
    ):
        j += 1
    return j


def _smaller(toks: list[Tok], j: int, text: str | None) -> Piece | None:
    if (
        j >= len(toks)
        or toks[j].line
        or not starts(toks[j])
        or toks[j].low in ("a", "an", "-", "+", "−", "point", "minus")
    ):
        return None
    piece = choose(toks, j, text)
    if piece is None or piece.number.value < 0 or piece.number.form not in ("numeral", "words", "fraction"):
        return None
    return piece


def _bare_inches(toks: list[Tok], smaller: Piece, last: int) -> bool:
    """`6 ft 2`, "6'2", "five foot six": inches left unsaid. Not in "6 ft 2 x 4"."""
    if smaller.number.value >= 12 or not (toks[last - 1].text in "'’′" or toks[last - 1].low in ("ft", "foot")):
        return False
    if smaller.last >= len(toks):
        return True
    follows = toks[smaller.last]
    if follows.low in ("x", "by", "×", "to", "-", "/", "."):
        return follows.low == "." and not (smaller.last + 1 < len(toks) and toks[smaller.last + 1].glued)
    if toks[last - 1].low == "foot" or toks[last - 1].text in "'’′":
        return not (follows.kind == WORD and follows.glued)
    return follows.kind not in (WORD, NUM)


def and_a_half(toks: list[Tok], piece: Piece) -> Piece:
    """`two hours and a half`, "three inches and a quarter": the fraction after the unit."""
    hit = piece.hit
    if hit is None or piece.compound is not None or piece.number.step != 1.0:
        return piece
    found = _fraction_after(toks, piece.number.value, hit.end)
    if found is None:
        return piece
    end, value, step = found
    return Piece(
        piece.number, UnitHit(end, hit.codes, hit.style), end, piece.unit_first, compound=(value, step, hit.codes[0])
    )


def _fraction_after(toks: list[Tok], whole: float, j: int) -> tuple[int, float, float] | None:
    if j + 1 >= len(toks) or toks[j].low != "and":
        return None
    found = and_fraction(toks, whole, j)
    if not found or found[0].form != "fraction" or found[0].value == whole:
        return None
    end = found[0].end
    follows = toks[end].low if end < len(toks) else ""
    share = follows == "of" and toks[j + 1].low not in ("a", "three")  # "two hours and half of the day"
    if unit_at(toks, end) is not None or share or follows in ("a", "an"):
        return None
    return end, found[0].value, found[0].step


_SCALES = frozenset({"deg", "Cel", "[degF]"})


def below_zero(toks: list[Tok], piece: Piece) -> Piece:
    """`ten degrees below zero`, "40 below zero": a negative temperature, in Celsius where no scale is said."""
    j = piece.last
    if j + 1 >= len(toks) or toks[j].low != "below" or toks[j + 1].low not in ("zero", "freezing", "0"):
        return piece
    if piece.value < 0 or toks[j + 1].low == "freezing" or (piece.hit is not None and piece.codes[0] not in _SCALES):
        return piece
    codes = tuple(code for code in piece.codes if code != "deg")
    number = piece.number
    if piece.hit is None:
        hit, last = None, j + 2
    else:
        hit, last = UnitHit(j + 2, codes, piece.hit.style), j + 2
    negative = Number(number.start, toks[j + 1].end, number.first, last, -number.value, number.step, number.form)
    return Piece(negative, hit, last, piece.unit_first)


def one_and_a_half(toks: list[Tok], i: int) -> Piece | None:
    """`an hour and a half`, "a mile and three quarters": one of the unit, and a fraction more."""
    if toks[i].low not in ("a", "an") or i + 3 >= len(toks):
        return None
    hit = unit_at(toks, i + 1)
    if hit is None or hit.style != "name":
        return None
    found = _fraction_after(toks, 1.0, hit.end)
    if found is None:
        return None
    end, value, step = found
    number = Number(toks[i].start, toks[i].end, i, i + 1, 1.0, 1.0, "words")
    return Piece(number, UnitHit(end, hit.codes, hit.style), end, i + 1, compound=(value, step, hit.codes[0]))
