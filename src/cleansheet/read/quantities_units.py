"""The unit that stands at a place in the text, by the table of written and said forms.

Written forms keep their capitals ("mV" is no "MV"), said ones do not. The longest form wins: "foot pounds"
before "foot". Rates are put together here: "litres an hour", "g/s", "miles per gallon".
"""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

from .. import units
from .number_lexicon import DIGIT, TEEN, TENS, lex
from .words import NUM, SIGN, WORD, Tok, words


class UnitHit(NamedTuple):
    """A unit that ends before token `end`; `codes` are what it may be, likeliest first. `style` as in `units.Alias`."""

    end: int
    codes: tuple[str, ...]
    style: str


_END = ""  # the key under which a node keeps its codes; no token is empty
Node = dict[str, Any]


class _Forms(NamedTuple):
    symbol: Node
    name: Node
    glued: Node
    loose: Node
    firsts: frozenset[str]
    misheard: Node


@cache
def _forms() -> _Forms:
    """The forms as tries over tokens. A hyphen or an abbreviation's point inside a form may be left out or put in."""
    tries: dict[str, Node] = {"symbol": {}, "name": {}, "glued": {}, "loose": {}, "misheard": {}}
    firsts: set[str] = set()
    for alias in units.aliases():
        by_case = alias.style in ("symbol", "glued")
        keys = [tok.text if by_case else tok.low for tok in words(alias.phrase)]
        keys = [key for k, key in enumerate(keys) if key not in ("-", ".") or k == 0]
        _put(tries[alias.style], keys, alias.codes)
        firsts.add(keys[0].lower())
    for phrase, code in units.misheard().items():
        _put(tries["misheard"], [tok.low for tok in words(phrase)], (code,))
    return _Forms(**tries, firsts=frozenset(firsts))


def _put(trie: Node, keys: list[str], codes: tuple[str, ...]) -> None:
    node = trie
    for key in keys:
        node = node.setdefault(key, {})
    node.setdefault(_END, codes)


_SHORT = 4  # letters of a unit with its "'s" that may be a sign and no word: "V's"


def _walk(trie: Node, toks: list[Tok], j: int, by_case: bool) -> tuple[int, tuple[str, ...]] | None:
    """The longest form of one trie from token `j`."""
    node = trie
    n = len(toks)
    best: tuple[int, tuple[str, ...]] | None = None
    k = j
    while k < n:
        tok = toks[k]
        if tok.line and k > j:
            break
        # "ft2" is an area, "6 ft 2 in" none
        step = node.get(tok.text if by_case else tok.low) if tok.glued or tok.kind != NUM else None
        if step is None and tok.low[-2:] == "'s" and len(tok.low) > _SHORT:
            step = node.get(tok.text[:-2] if by_case else tok.low[:-2])  # "half a volt's the most", "2.5 bar's low"
        if step is None:
            # "foot-pounds", "r.p.m", "in. Hg"
            joins = k > j and tok.glued and tok.kind == SIGN and tok.text in "-.‐‑" and k + 1 < n
            if not joins or toks[k + 1].kind == NUM or (tok.text != "." and not toks[k + 1].glued):
                break
            k += 1
            continue
        node = step
        k += 1
        codes = node.get(_END)
        if codes is not None:
            best = (k, codes)
    return best


_COUNTS = frozenset({DIGIT, TEEN, TENS})
# What may follow "in" where it is an inch and no preposition.
_AFTER_INCH = frozenset({
    "x", "by", "wide", "long", "deep", "tall", "thick", "high", "diameter", "dia", "bore", "of", "hg", "mercury",
    "and", "or", "to", "min", "max", "minimum", "maximum", "square", "left", "right", "inner", "outer", "each",
})  # fmt: skip


def _is_inch(toks: list[Tok], end: int, decimals: bool) -> bool:
    """Whether the "in" before token `end` is an inch: at the end of a clause, before a size word, glued, or after
    decimals.
    """
    if toks[end - 1].glued or end >= len(toks) or toks[end].line:
        return True
    after = toks[end]
    if after.kind == SIGN:
        return after.text not in "$£€#" or decimals
    if after.kind == NUM or lex(toks, end)[0] in _COUNTS:
        return False  # "fell to 17.5 in five minutes"
    if after.low in ("each", "of", "and", "or", "to", "x", "by"):
        return after.low != "each" or decimals
    return after.low in _AFTER_INCH or (decimals and after.low not in _AFTER_PREPOSITION)


_AFTER_PREPOSITION = frozenset(
    "a an the my our his her its your their that this those these new old another each it them there here both all "
    "place total case fact front no number cell cyl cylinder pot gear neutral drive park reverse first second third fourth fifth "
    "sixth top".split()
)


def unit_at(toks: list[Tok], j: int, decimals: bool = False) -> UnitHit | None:
    """The unit that starts at token `j`, rates included; None where there is none.

    `decimals` says that the number before has some: "0.921 in" is a length where "5 in" may be the start of "5 in a
    row".
    """
    if j >= len(toks):
        return None
    forms = _forms()
    tok = toks[j]
    if tok.low not in forms.firsts and (tok.low[-2:] != "'s" or tok.low[:-2] not in forms.firsts):
        return None
    hit = _one_unit(forms, toks, j, decimals)
    if hit is None:
        return None
    # "5W30" and "12V2": letters between digits are a code
    if (
        hit.end < len(toks)
        and toks[hit.end].glued
        and toks[hit.end].kind == NUM
        and toks[hit.end - 1].kind == WORD
        and tok.glued
    ):
        follows_feet = hit.codes[0] == "[ft_i]"
        if not follows_feet and len(tok.text) <= 2 and hit.codes[0] not in ("h", "min"):
            return None
    return _rate(forms, toks, hit)


def _one_unit(forms: _Forms, toks: list[Tok], j: int, decimals: bool) -> UnitHit | None:
    best: UnitHit | None = None
    found = _walk(forms.symbol, toks, j, by_case=True)
    if found is not None:
        best = UnitHit(found[0], found[1], "symbol")
    found = _walk(forms.name, toks, j, by_case=False)
    if found is not None and (best is None or found[0] > best.end):
        best = UnitHit(found[0], found[1], "name")
    if best is None and toks[j].glued:
        found = _walk(forms.glued, toks, j, by_case=True)
        if found is not None:
            best = UnitHit(found[0], found[1], "glued")
    found = _walk(forms.loose, toks, j, by_case=False)
    if found is not None and (best is None or found[0] > best.end):
        best = UnitHit(found[0], found[1], "loose")
    if best is None or toks[j].text == "NS":  # the near side; nobody in a workshop tells nanoseconds
        return None
    if best.end == j + 1 and best.style in ("symbol", "glued", "loose"):
        if toks[j].low == "in" and not _is_inch(toks, best.end, decimals):
            return None
        if toks[j].line and len(toks[j].text) <= 2 and toks[j].kind == WORD:
            return None
    return best


_TIMES = ("s", "ms", "min", "h", "d", "wk", "mo", "a")


def _rate(forms: _Forms, toks: list[Tok], hit: UnitHit) -> UnitHit:
    """The hit with what it is per: "cc a minute", "kg/h", "miles per gallon"."""
    k = hit.end
    n = len(toks)
    if k + 1 >= n or "/" in hit.codes[0]:
        return hit
    joint = toks[k]
    if joint.low == "per" or (joint.text == "/" and (joint.glued or toks[k + 1].kind == WORD)):
        under = _one_unit(forms, toks, k + 1, decimals=True)
        if under is None and toks[k + 1].low == "square":
            return hit
    elif joint.low == "in" and toks[k + 1].low in ("a", "one") and units.kind(hit.codes[0]) == "volume":
        under = _one_unit(forms, toks, k + 2, decimals=True)  # "1.45 L in a minute"
        if under is not None and (under.codes[0] not in _TIMES or toks[k + 2].low.endswith("s")):
            under = None
    elif joint.low in ("a", "an", "every", "each") and hit.style != "symbol":
        under = _one_unit(forms, toks, k + 1, decimals=True)
        if under is not None and (
            under.codes[0] not in _TIMES or under.style != "name" or toks[k + 1].low.endswith("s")
        ):
            under = None
    else:
        return hit
    if under is None or units.kind(under.codes[0]) == "temperature" or units.kind(hit.codes[0]) == "temperature":
        return hit
    codes = [f"{over}/{under.codes[0]}" for over in hit.codes if units.kind(over) != "temperature"]
    codes = [_USUAL.get(code, code) for code in codes if units.known(code)]
    return UnitHit(under.end, tuple(codes), hit.style) if codes else hit


# Rates whose usual code is another than the parts put together.
_USUAL = {
    "cm3/min": "mL/min", "[lb_av]/[sin_i]": "[psi]", "1/min": "{rev}/min", "kg/cm2": "kgf/cm2",
    "[lbf_av]/[sin_i]": "[psi]",
    "[lb_av]/[ft_i]": "[ft_i].[lbf_av]",
}  # fmt: skip


def per_at(toks: list[Tok], j: int) -> UnitHit | None:
    """What a bare number is per: "five hundred per square kilometre", "60 per minute"; its code begins with "/"."""
    if j + 1 >= len(toks) or toks[j].low != "per":
        return None
    under = _one_unit(_forms(), toks, j + 1, decimals=True)
    if under is None or under.style != "name" or units.kind(under.codes[0]) == "temperature":
        return None
    code = f"/{under.codes[0]}"
    return UnitHit(under.end, (code,), "name") if units.known(code) else None


def misheard_at(toks: list[Tok], j: int) -> UnitHit | None:
    """A word that a recogniser writes for a unit ("homes" for ohms), for use beside a number only."""
    if j >= len(toks):
        return None
    found = _walk(_forms().misheard, toks, j, by_case=False)
    return None if found is None else UnitHit(found[0], found[1], "misheard")
