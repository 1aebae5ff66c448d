"""A number with the unit that follows it, and whether the words are a number at all where they stand."""

from __future__ import annotations

from dataclasses import dataclass, replace

from .. import units
from .number_lexicon import DIGIT, HUNDRED, HYPHENS, LEX, SCALE, STARTS, TEEN, TENS, VULGAR, ZERO, lex
from .numbers import Number, candidates_at
from .quantities_forms import is_pronoun_one
from .quantities_units import UnitHit, per_at, unit_at
from .words import NUM, SIGN, WORD, Tok


@dataclass(slots=True)
class Piece:
    """A number with its unit, before it becomes a figure. It ends before token `last`.

    `unit_first` is the unit's first token, -1 without one. `thousand` marks a "k" that may be thousand or kilohm.
    `compound` is value, step and unit of what was put together from several ("5 feet 10 inches").
    """

    number: Number
    hit: UnitHit | None
    last: int
    unit_first: int = -1
    thousand: bool = False
    compound: tuple[float, float, str] | None = None

    @property
    def value(self) -> float:
        return self.number.value if self.compound is None else self.compound[0]

    @property
    def codes(self) -> tuple[str, ...]:
        return () if self.hit is None else self.hit.codes


_MORE_STARTS = frozenset({"quarter", "double", "triple", "treble", "plus"})


def starts(tok: Tok) -> bool:
    """Whether a number may start with this token; quick, and never false where one does."""
    if tok.kind == NUM:
        return True
    low = tok.low
    if tok.kind == SIGN:
        return low in "-−–+±"
    return low in STARTS or low in _MORE_STARTS or tok.text == "R" or (not low.isascii() and low[0] in VULGAR)


# One of several, by number: what follows the small number is a number of its own ("number one fourteen and a half
# thou").
_NUMBERED = frozenset({
    "number", "cylinder", "cyl", "no", "pin", "cell", "pot", "carb", "injector", "coil", "nr", "channel", "terminal",
})  # fmt: skip
_CONTACTS = frozenset({"pin", "terminal"})
_WHOLE_STARTS = frozenset((DIGIT, TEEN, TENS, ZERO))


def choose(toks: list[Tok], i: int, text: str | None = None) -> Piece | None:
    """The likeliest number that starts at `i`, with its unit; None where the words are no number."""
    found = candidates_at(toks, i, text)
    if not found:
        return None
    numbered = _is_numbered(toks, i)
    for number in found:
        if number.form == "maybe-grouped" or (numbered and number.last > i + 1):
            continue
        piece = with_unit(toks, number)
        if _plausible(toks, i, piece):
            return piece
    return None


def _is_numbered(toks: list[Tok], i: int) -> bool:
    """Whether "one" here names which of several and the number after it is the value."""
    if i == 0 or toks[i - 1].low not in _NUMBERED or lex(toks, i)[0] != DIGIT:
        return False
    cls = lex(toks, i + 1)[0]
    if cls in _WHOLE_STARTS:
        # "number one oh five" is one number; "number one one forty" two, and so "pin four zero volts"
        return cls != ZERO or (toks[i - 1].low in _CONTACTS and lex(toks, i + 2)[0] not in _WHOLE_STARTS)
    return i + 1 < len(toks) and toks[i + 1].low == "a" and lex(toks, i + 2)[0] in (HUNDRED, SCALE)


_NO_POINT_BEFORE = frozenset({
    "this", "that", "the", "some", "which", "what", "any", "every", "my", "your", "his", "her", "our", "their", "no",
    "same", "starting", "focal", "power", "boiling", "freezing", "melting",
})  # fmt: skip
_BIG = frozenset({
    "hundred", "thousand", "million", "billion", "trillion", "grand", "lakh", "crore", "bn", "mln", "mn", "tn",
})  # fmt: skip
_NO_BIG_BEFORE = frozenset({"few", "several", "many", "some", "the", "couple", "of", "per"})


def _plausible(toks: list[Tok], i: int, piece: Piece) -> bool:
    """Whether the words are a number here: "one" may be a pronoun, "point" a noun, "half" a side."""
    number = piece.number
    tok = toks[i]
    low = tok.low
    form = number.form
    n = len(toks)
    after = toks[number.last].low if number.last < n else ""
    before = toks[i - 1].low if i else ""
    length = number.last - number.first
    if form == "point-unsaid":
        return not (number.last < n and lex(toks, number.last)[0] in _GOES_ON)
    if tok.kind == NUM or form == "resistance-code":
        return True
    if (
        after == "point"
        and lex(toks, number.last + 1)[0] in _WHOLE_STARTS
        and length > 1
        and low not in ("point", "dot", "decimal")  # "point nine point nine ohms" is a list
    ):
        # the point belongs to the last number of the run: "three thousand | fourteen point four volts"
        return False
    if low in ("point", "dot", "decimal"):
        if (
            before in ("this", "that") and piece.hit is not None
        ):  # "this point three ohms", but not "at this point three bars"
            return i < 2 or toks[i - 2].low not in ("at", "by", "from", "to", "until", "on", "past")
        return before not in _NO_POINT_BEFORE
    if form == "couple":
        return length > 2 or piece.hit is not None or after == "of"
    if form == "fraction":
        return _is_fraction(toks, i, piece, after)
    if form == "dozen" and length == 1:
        return before not in ("the", "several", "some", "few")
    if length == 1 and low in _BIG:
        return before not in _NO_BIG_BEFORE and low in ("hundred", "thousand", "million", "billion", "trillion")
    if low == "zero" and length == 1 and before in ("absolute", "-", "ground", "sub"):
        return before == "-" and not (tok.glued and i > 1 and toks[i - 2].low in ("sub", "non", "near"))
    if low == "one" and length == 1:
        return not is_pronoun_one(toks, i, piece.hit)
    return not _two_measures(piece)


_GOES_ON = frozenset((*_WHOLE_STARTS, HUNDRED, SCALE, LEX["point"][0]))


def _is_fraction(toks: list[Tok], i: int, piece: Piece, after: str) -> bool:
    low = toks[i].low
    length = piece.number.last - piece.number.first
    if low[0] in VULGAR:
        return True
    if length == 1:  # a bare "half" or "quarter" needs what it is of
        return piece.hit is not None or (low == "half" and after in ("a", "an"))
    if low in ("a", "an") and length == 2:
        if after in ("to", "past", "panel", "way", "hearted") and piece.hit is None:
            return False
        return not (toks[i + 1].low in ("quarter", "half") and i > 0 and toks[i - 1].low == "and")
    return True


def _two_measures(piece: Piece) -> bool:
    """Whether the words are two numbers run together: in "three thousand fourteen point four volts" the engine turned
    at
    three thousand. A reading in thousands is not said to a tenth.
    """
    number = piece.number
    if piece.hit is None or number.step >= 1 or number.value < 1000 or number.form != "words":
        return False
    return units.kind(piece.hit.codes[0]) in ("voltage", "current", "pressure", "resistance", "temperature")


_ADJECTIVES = frozenset({
    "more", "full", "whole", "odd", "extra", "additional", "further", "straight", "solid", "consecutive", "us",
    "imperial",
})  # fmt: skip


def with_unit(toks: list[Tok], number: Number) -> Piece:
    """The number with the unit that follows, over "of a", a hyphen or a small word."""
    j = number.last
    n = len(toks)
    if number.unit is not None:
        return _resistance(toks, number)
    if j >= n or number.form == "ordinal":
        return Piece(number, None, j)
    tok = toks[j]
    if tok.low == "k" and tok.kind == WORD:
        return _kilo(toks, number, j)
    if tok.kind == WORD and len(tok.low) == 1 and tok.low in ("m", "b"):
        scaled = _letter_scale(toks, number, j)
        if scaled is not None:
            return scaled
    decimals = number.step < 1 and number.form in ("numeral", "words", "fraction")
    hit = unit_at(toks, j, decimals)
    if hit is not None:
        return Piece(number, hit, hit.end, j) if _unit_holds(toks, number, j, hit) else Piece(number, None, number.last)
    if tok.low == "per":
        hit = per_at(toks, j)
        return Piece(number, None, j) if hit is None else Piece(number, hit, hit.end, j)
    ish = _past_ish(toks, j)
    if ish:
        hit = unit_at(toks, ish, decimals)
        return Piece(number, hit, hit.end, ish) if hit is not None else Piece(number, None, number.last)
    if tok.kind == SIGN:
        if tok.glued and tok.text in HYPHENS and j + 1 < n and toks[j + 1].glued and toks[j + 1].kind == WORD:
            hit = unit_at(toks, j + 1, decimals)
            runs_on = j + 2 < n and toks[j + 2].glued and toks[j + 2].text in HYPHENS  # "3-in-1"
            if hit is not None and toks[j + 1].low != "a" and not (toks[j + 1].low == "in" and runs_on):
                return Piece(number, hit, hit.end, j + 1)
        return Piece(number, None, number.last)
    return _over_words(toks, number, decimals)


def _past_ish(toks: list[Tok], j: int) -> int:
    """The token after "ish", "-ish" or "-odd" at `j`; 0 where there is none."""
    k = j + 1 if toks[j].text in HYPHENS and toks[j].glued else j
    return k + 1 if k < len(toks) and toks[k].low in ("ish", "odd") and toks[k].glued else 0


def _over_words(toks: list[Tok], number: Number, decimals: bool) -> Piece:
    """`half a bar`, "three quarters of a mile", "a couple of volts", "ten more minutes"."""
    j = k = number.last
    n = len(toks)
    part = number.form == "fraction" or (number.form == "words" and number.step < 1)
    if toks[k].low == "of" and (part or number.form in ("couple", "dozen", "scaled")):
        k += 1
    of_one = k > j and toks[j - 1].low in _PARTS_OF_ONE  # "three and three quarters of a mile"
    if k < n and part and (abs(number.value) < 1 or of_one) and toks[k].low in ("a", "an", "one"):
        k += 1
    if k < n and toks[k].low in _ADJECTIVES:
        k += 1
    if j < k < n:
        hit = unit_at(toks, k, decimals)
        if hit is not None and (hit.style == "name" or toks[j].low in ("of", "a", "an")) and toks[k].low != "in":
            return Piece(number, hit, hit.end, k)
    return Piece(number, None, number.last)


_PARTS_OF_ONE = frozenset({"half", "halves", "third", "thirds", "quarter", "quarters", "eighth", "eighths", "tenths"})


def _resistance(toks: list[Tok], number: Number) -> Piece:
    """A resistance code has its unit in it; "4k7 ohm" and "4k7 Ω" say it again."""
    code = number.unit or "Ohm"
    hit = unit_at(toks, number.last)
    if hit is not None and units.same_kind(hit.codes[0], "Ohm"):
        return Piece(number, UnitHit(hit.end, (code,), "symbol"), hit.end, number.last)
    return Piece(number, UnitHit(number.last, (code,), "code"), number.last, number.first)


_NOT_SECOND = frozenset({
    "look", "time", "opinion", "hand", "one", "thing", "gear", "test", "go", "try", "set", "attempt", "part", "coil",
    "cylinder", "sensor", "half", "quarter", "stage", "reading", "row",
})  # fmt: skip
_NOT_FOOT = frozenset({"note", "brake", "well", "print", "step", "ball"})


def _unit_holds(toks: list[Tok], number: Number, j: int, hit: UnitHit) -> bool:
    """Whether the unit word is a unit here: "a second look", "a hundred in the bank", "2 v 3" have none."""
    tok = toks[j]
    low = tok.low
    after = toks[hit.end] if hit.end < len(toks) else None
    if low == "second":
        return after is None or after.low not in _NOT_SECOND
    if hit.end > j + 1:
        return True
    if low == "min" and not tok.glued and after is not None and after.kind == NUM:
        # "0.05 min 0.25 max" is a least and a most
        return not any(follows.low in ("max", "maximum") for follows in toks[hit.end + 1 : hit.end + 3])
    if low == "in":
        return tok.glued or number.form in ("numeral", "fraction")
    if low in ("'", "’", "′"):
        return tok.glued and not (after is not None and after.glued and after.kind == WORD and after.low == "s")
    if low in ('"', "”", "″", "''"):
        return tok.glued and number.form in ("numeral", "fraction") and not _closes_quote(toks, number.first, low)
    if low == "foot":
        return after is None or after.low not in _NOT_FOOT
    if tok.text in ("c", "f") and not tok.glued:
        # "1 c. flour" is a cup, "3 c/w" complete with
        return after is None or not (after.text in "./" and after.glued)
    if tok.text == "v" and not tok.glued:
        return after is None or after.kind != NUM
    if tok.text == "A" and not tok.glued:
        return after is None or after.kind != WORD or after.low not in ("level", "grade", "side", "team", "road")
    return not (
        low in ("l", "t", "g", "h", "s", "m", "n", "w", "j")
        and after is not None
        and after.text in "'’"
        and after.glued
    )


def _closes_quote(toks: list[Tok], i: int, mark: str) -> bool:
    """Whether a quotation mark opened shortly before the number, so that the one after it closes: in `"set to 5"`."""
    for k in range(i - 1, max(i - 13, -1), -1):
        if toks[k].low == mark:
            return k + 1 < len(toks) and toks[k + 1].glued and not toks[k].glued
        if toks[k].line:
            return False
    return False


def _kilo(toks: list[Tok], number: Number, j: int) -> Piece:
    """A "k" after a number: kilohm in "k ohm", thousand of the unit that follows, else left open."""
    hit = unit_at(toks, j)
    if hit is not None and hit.end > j + 1:
        return Piece(number, hit, hit.end, j)
    if j + 1 < len(toks) and toks[j + 1].glued and toks[j + 1].kind != SIGN:
        return Piece(number, None, number.last)
    if number.form in ("scaled", "couple", "dozen"):
        return Piece(number, None, number.last)
    after = unit_at(toks, j + 1)
    if after is not None and toks[j + 1].low not in ("in", "a", "c") and toks[j + 1].kind == WORD:
        big = replace(number, value=round(number.value * 1000, 9), step=number.step * 1000, end=toks[j].end, last=j + 1)
        return Piece(big, after, after.end, j + 1)
    return Piece(number, None, j + 1, j, thousand=True)


MONEY = frozenset("$£€¥₹¢₽₩")


def _letter_scale(toks: list[Tok], number: Number, j: int) -> Piece | None:
    """`1.2M` and, of money, "$3m" and "£2b": millions and billions. None where the letter is none of these."""
    tok = toks[j]
    if j + 1 < len(toks) and toks[j + 1].glued and toks[j + 1].kind != SIGN:
        return None
    money = number.first > 0 and toks[number.first - 1].text in MONEY
    if not (money or (tok.text == "M" and tok.glued)) or number.form != "numeral":
        return None
    scale = 1e9 if tok.low == "b" else 1e6
    big = replace(
        number, value=round(number.value * scale, 6), step=number.step * scale, end=tok.end, last=j + 1, form="scaled"
    )
    after = unit_at(toks, j + 1) if not money else None
    return Piece(big, after, after.end, j + 1) if after is not None else Piece(big, None, j + 1)
