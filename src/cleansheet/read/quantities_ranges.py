"""Two numbers that make one range: "5 to 9 ohms", "between 5 and 9", "2 V to 3 V", "0-10 bar", "51 plus or minus 5"."""

from __future__ import annotations

from dataclasses import replace

from .. import units
from ..terms import Quantity
from . import quantities_cues as cues
from .number_lexicon import HUNDRED, SCALE, lex
from .numbers import candidates_at
from .quantities_compounds import compound
from .quantities_figure import FORMAL, Figure, figure_of, shared
from .quantities_pieces import MONEY, Piece, choose, starts, with_unit
from .words import NUM, SIGN, WORD, Tok

_TO = frozenset({"to", "till", "until", "thru", "through"})
_DASHES = frozenset("-–—−‐‑~〜～")
_TOLERANCE_OPENS = frozenset({"give", "plus", "±"})
_BLUR = frozenset({
    "about", "around", "roughly", "almost", "nearly", "approximately", "maybe", "say", "perhaps", "just", "under",
    "over", "close", "to", "up", "plus",
})  # fmt: skip
# After these a small number names one of several, and "to" is no range: "set number two to fifteen".
_ONE_OF_SEVERAL = frozenset({
    "number", "no", "cylinder", "cyl", "pin", "cell", "carb", "injector", "coil", "nr", "channel", "terminal",
    "valve", "bank",
})  # fmt: skip


def joint_at(toks: list[Tok], j: int) -> tuple[int, str] | None:
    """What joins two ends at `j`: the token after it and how, "to", "and", "dash" or "plus-minus"; None where nothing
    does.
    """
    n = len(toks)
    if j >= n - 1:
        return None
    low = toks[j].low
    if toks[j].kind == WORD:
        if low in _TO:
            k = j + 1
            while k < n and k - j < 4 and toks[k].low in _BLUR:
                k += 1
            return k, "to"
        if low == "and":
            return j + 1, "and"
        if low == "up" and toks[j + 1].low == "to":
            return j + 2, "to"
        return _plus_or_minus(toks, j)
    if low == "&":
        return j + 1, "and"
    if low == "±":
        return j + 1, "plus-minus"
    if low == "+":
        if toks[j + 1].text in "-−–" and toks[j + 1].glued:
            return j + 2, "plus-minus"
        if j + 2 < n and toks[j + 1].text == "/" and toks[j + 2].text in "-−–":
            return j + 3, "plus-minus"
        return None
    return _dash(toks, j)


def _plus_or_minus(toks: list[Tok], j: int) -> tuple[int, str] | None:
    n = len(toks)
    second = toks[j + 1].low
    third = toks[j + 2].low if j + 2 < n else ""
    if toks[j].low == "plus":
        if second in ("or", "/", "and") and third == "minus":
            return j + 3, "plus-minus"
        if second == "minus":
            return j + 2, "plus-minus"
    if toks[j].low == "give" and second == "or" and third == "take":
        return j + 3, "plus-minus"
    return None


def _dash(toks: list[Tok], j: int) -> tuple[int, str] | None:
    n = len(toks)
    tok = toks[j]
    if tok.kind == SIGN and tok.text in _DASHES:
        # "0-10", "0 - 10", "2- to 3-inch"; a hyphen glued to one side only is another thing
        if tok.glued and toks[j + 1].low == "to":
            joined = j + 2 < n and toks[j + 2].text in _DASHES and toks[j + 2].glued
            return j + 3 if joined else j + 2, "to"  # "five-to-ten", "2- to 3-inch"
        return (j + 1, "dash") if tok.glued == toks[j + 1].glued or tok.text in "–—" else None
    if tok.text == "." and j + 2 < n and toks[j + 1].text == "." and toks[j + 1].glued:
        k = j + 2
        while k < n and toks[k].text == "." and k - j < 4:
            k += 1
        return k, "dash"
    return (j + 1, "dash") if tok.text == "…" else None


def range_from(toks: list[Tok], first: Piece, text: str | None = None, *, between: bool = False) -> Figure | None:
    """The range that begins with the piece `first`; None where it stands alone.

    "18 to 20" is a range; "dropped from 12 to 8" is two figures, since a range rises (but two minus
    degrees may be said either way).
    """
    after = first.last
    if after + 1 < len(toks) and toks[after].low == "," and toks[after + 1].low in _TOLERANCE_OPENS:
        after += 1  # "point five, give or take point one"
    joint = joint_at(toks, after)
    if joint is None or (after > first.last and joint[1] != "plus-minus"):
        return None
    j, link = joint
    if j + 1 < len(toks) and toks[j].text in MONEY and first.hit is None:
        j += 1  # "$5 to $10"
    if j >= len(toks) or toks[j].line or not starts(toks[j]) or (link == "and") != (between and link == "and"):
        return None
    if link == "to" and _names_one(toks, first):
        return None
    second = choose(toks, j, text)
    if second is None or second.number.form in FORMAL or first.number.form in FORMAL:
        return None
    if link == "to" and _put_to(toks, first, second):
        return None
    second = compound(toks, second, text)
    if link == "plus-minus":
        return _tolerance(toks, first, second)
    if link == "dash" and (_chained(toks, first, second) or _lead(toks, j) != _lead(toks, first.number.first)):
        return None
    return _from_to(toks, first, second, "between" if between else link)


def _lead(toks: list[Tok], i: int) -> str:
    """Whether a number begins with a word or a numeral, its sign left aside: "-5 - 5" is as alike as "5 - 10"."""
    signed = toks[i].kind == SIGN and i + 1 < len(toks)
    return toks[i + 1].kind if signed else toks[i].kind


def _names_one(toks: list[Tok], first: Piece) -> bool:
    i = first.number.first
    return i > 0 and first.hit is None and first.number.value <= 12 and toks[i - 1].low in _ONE_OF_SEVERAL


_PUT = frozenset({
    "set", "reset", "closed", "opened", "wound", "adjusted", "moved", "put", "gapped", "regapped", "brought", "shimmed",
    "turned", "backed", "pumped",
})  # fmt: skip


def _put_to(toks: list[Tok], first: Piece, second: Piece) -> bool:
    """Whether a small number after a deed names which one was put to the second: "reset 1 to 24.0", not "set to 2 to 3"."""
    i, number = first.number.first, first.number
    return (
        i > 0
        and toks[i - 1].low in _PUT
        and first.hit is None
        and number.step >= 1
        and 1 <= number.value <= _MOST_NAMED
        and (second.number.step < 1 or second.number.value > _MOST_NAMED)
    )


_MOST_NAMED = 12


def between_from(toks: list[Tok], i: int, text: str | None = None) -> Figure | None:
    """The range after "between": its first end is the longest number that has "and" and another number after it.

    "between one hundred and one fifty" is 100 to 150, though "one hundred and one" is a number too.
    """
    for number in candidates_at(toks, i, text):
        if number.form == "maybe-grouped":
            continue
        piece = compound(toks, with_unit(toks, number), text)
        if piece.last < len(toks) and toks[piece.last].low in ("and", "&", "to", "-", "–"):
            figure = range_from(toks, piece, text, between=True)
            if figure is not None:
                return figure
    return None


def _chained(toks: list[Tok], first: Piece, second: Piece) -> bool:
    """Whether the dash is that of a date, a phone number or a part number: "19-03-14", "555-0142"."""
    n = len(toks)
    lead = toks[second.number.first]
    if lead.kind == NUM and len(lead.text) > 1 and lead.text[0] == "0" and lead.text.isdigit():
        return True
    after = second.last
    if (
        second.hit is None
        and after + 1 < n
        and toks[after].text in "-–"
        and toks[after].glued
        and toks[after + 1].glued
    ):
        return toks[after + 1].kind == NUM
    before = first.number.first - 1
    return (
        before > 0
        and toks[before].text in "-–/"
        and toks[before].glued
        and toks[first.number.first].glued
        and toks[before - 1].kind != SIGN
    )


def _common_unit(first: Piece, second: Piece) -> tuple[float, tuple[str, ...]] | None:
    """The low end in the unit of both, with its other readings; None where the units do not go together."""
    low = first.value
    if first.hit is None or second.hit is None:
        return low, (second.codes or first.codes)
    mutual = tuple(code for code in second.codes if code in first.codes)
    if mutual:
        return low, mutual
    if units.same_kind(first.codes[0], second.codes[0]):
        return round(units.convert(low, first.codes[0], second.codes[0]), 12), second.codes[:1]
    if units.kind(second.codes[0]) == "temperature" and first.codes[0] == "deg":
        return low, second.codes[:1]
    return None


def _last_scale(toks: list[Tok], first: Piece, second: Piece) -> float:
    """What a bare first end shares of the second's scale: "2 to 3 million" is 2 million to 3 million."""
    cls, scale = lex(toks, second.number.last - 1)
    if cls not in (SCALE, HUNDRED) or toks[second.number.first].low in ("a", "an") or first.hit is not None:
        return 1.0
    if lex(toks, first.number.last - 1)[0] in (SCALE, HUNDRED) or first.thousand:
        return 1.0
    return scale if 0 < first.value < second.number.value / scale else 1.0


def _from_to(toks: list[Tok], first: Piece, second: Piece, link: str) -> Figure | None:
    common = _common_unit(first, second)
    if common is None:
        return None
    low, codes = common
    low *= _last_scale(toks, first, second)
    high = second.value
    if first.thousand and not second.thousand and second.hit is None:
        return None  # "2 to 2.5k" says its k once, "2k to 2.5" is no range
    if not low < high:
        if not (low < 0 and high < 0) or low == high:
            return None
        low, high = high, low
    if second.number.form == "spelt" and first.number.form != "spelt":
        return None
    leading = cues.before(toks, first.number.first)
    trailing = cues.after(toks, second.last)
    approximate = leading.approximate or trailing.approximate
    if link == "to" and first.number.first > 0 and toks[first.number.first - 1].low == "from":
        link = "from"
    if second.thousand:
        scaled = Quantity(None, round(low * 1000, 9), round(high * 1000, 9), None, "=", approximate)
        readings = [scaled, Quantity(None, low, high, "kOhm", "=", approximate)]
    else:
        readings = [Quantity(None, low, high, code, "=", approximate) for code in (codes or (None,))]
    return _ranged(toks, (first, second), readings, "range", link, lead=leading.edge, trail=trailing.edge)


def _tolerance(toks: list[Tok], first: Piece, second: Piece) -> Figure | None:
    """`51 plus or minus 5` is 46 to 56; "100 ohms ± 5 %" is 95 to 105."""
    middle, half = first.value, abs(second.value)
    hit = first.hit or second.hit
    if second.codes and second.codes[0] == "%" and (not first.codes or first.codes[0] != "%"):
        half = abs(middle) * half / 100
        hit = first.hit
    elif first.codes and second.codes and not set(first.codes) & set(second.codes):
        if not units.same_kind(first.codes[0], second.codes[0]):
            return None
        half *= units.convert(1, second.codes[0], first.codes[0]) - units.convert(0, second.codes[0], first.codes[0])
    codes: tuple[str | None, ...] = hit.codes if hit is not None else (None,)
    leading = cues.before(toks, first.number.first)
    low, high = round(middle - half, 12), round(middle + half, 12)
    readings = [Quantity(None, low, high, code, "=", leading.approximate) for code in codes]
    return _ranged(toks, (first, second), readings, "tolerance", "plus-minus", lead=leading.edge, trail=-1)


def _ranged(
    toks: list[Tok],
    ends: tuple[Piece, Piece],
    readings: list[Quantity],
    form: str,
    link: str,
    *,
    lead: int,
    trail: int,
) -> Figure:
    first, second = ends
    unit_piece = second if second.unit_first >= 0 else first
    has_unit = unit_piece.unit_first >= 0
    start, end = toks[first.number.first].start, toks[second.last - 1].end
    # the ends on their own, each with the unit that only the other says
    parts = (shared(figure_of(toks, first), second.hit), shared(figure_of(toks, second), first.hit))
    return Figure(
        start, end, first.number.first, second.last, readings[0], form,
        toks[unit_piece.unit_first].start if has_unit else None, toks[unit_piece.last - 1].end if has_unit else None,
        tuple(readings[1:]), (), None, toks[lead].start if lead >= 0 else start,
        toks[trail - 1].end if trail > 0 else end, link=link, parts=parts,
    )  # fmt: skip


_BOUND_JOINTS = frozenset(("and", "but", ",", "also", "yet", "&", "or", "is", "be"))


def between_bounds(toks: list[Tok], first: Figure, second: Figure) -> Figure | None:
    """Two bounds in one breath are a range: "at least 5 and no more than 9 ohms", "under 10 but over 3".

    None where both bound the same side, where they leave nothing between them, or where other words stand between.
    """
    a, b = first.quantity, second.quantity
    if a.comparator == "=" or a.value is None or b.value is None or a.comparator[0] == b.comparator[0]:
        return None
    gap = [tok.low for tok in toks[first.last : second.first] if first.wide_end <= tok.start < second.wide_start]
    if len(gap) > 3 or not all(low in _BOUND_JOINTS for low in gap) or gap == ["or"]:
        return None
    unit = b.unit if a.unit is None else a.unit
    if a.unit != b.unit and a.unit is not None and b.unit is not None:
        return None
    low, high = (a.value, b.value) if a.comparator[0] == ">" else (b.value, a.value)
    if not low < high:
        return None
    said = first if first.unit_start is not None and second.unit_start is None else second
    return Figure(
        first.start, second.end, first.first, second.last,
        Quantity(None, low, high, unit, "=", a.approximate or b.approximate), "range", said.unit_start, said.unit_end,
        wide_start=first.wide_start, wide_end=second.wide_end, link="bounds", parts=(first, second),
    )  # fmt: skip


def lone_tolerance(toks: list[Tok], i: int, text: str | None = None) -> Figure | None:
    """`±0.5 mm` and "plus or minus five" with nothing before: a range around nought."""
    joint = joint_at(toks, i)
    if joint is None or joint[1] != "plus-minus" or joint[0] >= len(toks) or not starts(toks[joint[0]]):
        return None
    piece = choose(toks, joint[0], text)
    if piece is None:
        return None
    half = abs(piece.value)
    codes: tuple[str | None, ...] = piece.codes or (None,)
    readings = [Quantity(None, -half, half, code) for code in codes]
    one = figure_of(toks, piece)
    return replace(
        one, start=toks[i].start, first=i, quantity=readings[0], alternatives=tuple(readings[1:]), form="tolerance",
        link="plus-minus", parts=(one,), wide_start=toks[i].start,
    )  # fmt: skip
