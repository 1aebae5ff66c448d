"""The words around a number that bound it or blur it: "at least", "under", "or more", "about", "or so".

Cues stand outside the number's own span. Each is found by walking back (or on) from the number through a trie of words,
so the cost is that of a few dictionary look-ups.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from .words import Tok, words


class Cue(NamedTuple):
    """`comparator` is "=", "<", "<=", ">" or ">="; `edge` the token where the cue begins (before) or ends (after)."""

    comparator: str
    approximate: bool
    edge: int


_LESS = "<"
_BEFORE: dict[str, list[str]] = {
    "<": [
        "under", "below", "less than", "fewer than", "smaller than", "lower than", "beneath", "less then", "lesser than", "short of",
        "shy of", "<", "is less than", "thinner than", "slower than", "cheaper than", "cooler than", "shorter than", "inside of",
        "<<",
    ],
    "<=": [
        "at most", "at the most", "no more than", "not more than", "up to", "max", "maximum", "maximum of", "a maximum of", "max of",
        "not exceeding", "not over", "not above", "no greater than", "no higher than", "not to exceed", "never more than", "≤", "<=",
        "=<", "⩽", "maximum is", "max is", "max is about", "as much as", "as many as", "as high as", "less than or equal to", "limit of",
        "not exceed", "within",
    ],
    ">": [
        "over", "above", "more than", "greater than", "higher than", "exceeding", "exceeds", "in excess of", "bigger than", "larger than",
        "beyond", "better than", "upwards of", "upward of", ">", "more then", "longer than", "faster than", "thicker than", "older than",
        "heavier than", "north of", ">>",
    ],
    ">=": [
        "at least", "at the least", "no less than", "not less than", "not under", "not below", "minimum", "minimum of", "a minimum of",
        "min", "min of", "≥", ">=", "=>", "⩾", "no lower than", "no fewer than", "minimum is", "min is", "as little as", "as low as",
        "greater than or equal to", "more than or equal to", "not fewer than",
    ],
    "~": [
        "about", "around", "roughly", "approximately", "approx", "approx .", "nearly", "almost", "close to", "near", "nearer", "circa", "ca", "ca .",
        "c .", "~", "≈", "∼", "≅", "some", "somewhere around", "somewhere near", "somewhere about", "in the region of", "in the order of",
        "of the order of", "in the neighborhood of", "in the neighbourhood of", "just under", "just over", "just below", "just above", "just shy of",
        "just about", "just short of", "a hair over", "a hair under", "a hair above", "a hair below", "a hair shy of", "a hair off", "a whisker over", "a whisker under",
        "a whisker above", "a whisker below", "a shade over", "a shade under", "a touch over", "a touch under", "a tad over", "a tad under", "a bit over", "a bit under",
        "a bit more than", "a bit less than", "a little over", "a little under", "a little more than", "a little less than", "slightly over", "slightly under",
        "slightly more than", "slightly less than", "slightly above", "slightly below", "a fraction over", "a fraction under", "not quite", "pretty much", "barely",
        "well over" , "well under", "estimated", "an estimated", "give or take", "more or less", "or so", "bang on about", "getting on for", "nigh on",
        "touching", "knocking on", "nearly at", "approaching", "pushing", "a smidge over", "a smidge under", "a gnat's over", "roundabout", "round about", "a tick over",
        "a tick under", "a notch over", "a notch under", "a good", "say about", "something like", "circa .", "on the order of", "coming up to", "verging on",
    ],
}  # fmt: skip
_AFTER: dict[str, list[str]] = {
    ">=": [
        "or more", "or over", "or above", "or better", "or higher", "or greater", "and up", "and above", "and over", "and higher", "and more",
        "at least", "at the least", "minimum", "min", "and upwards", "or longer", "or older", "or bigger", "or larger", "plus", "min .", "and beyond",
    ],
    "<=": [
        "or less", "or under", "or below", "or lower", "or fewer", "or smaller", "and under", "and below", "and less", "and lower", "at most",
        "at the most", "maximum", "max", "tops", "or shorter", "or younger", "max .", "and down",
    ],
    "~": [
        "or so", "or thereabouts", "ish", "- ish", "odd", "- odd", "give or take", "more or less", "and a bit", "and a bit more", "and change", "or about", "or around",
        "approx", "approximately", "roughly", "about right", "or near enough", "near enough", "ish or so", "and something",
    ],
}  # fmt: skip
_WELL = {"well over": ">", "well under": "<"}
_END = ""
Node = dict[str, Any]


def _build(table: dict[str, list[str]], backwards: bool) -> Node:
    root: Node = {}
    for mark, phrases in table.items():
        for phrase in phrases:
            keys = [tok.low for tok in words(phrase)]
            node = root
            for key in reversed(keys) if backwards else keys:
                node = node.setdefault(key, {})
            node[_END] = _WELL.get(phrase, mark)
    return root


_BEFORE_TRIE = _build(_BEFORE, backwards=True)
_AFTER_TRIE = _build(_AFTER, backwards=False)
_NONE = Cue("=", False, -1)


def _back(toks: list[Tok], i: int) -> tuple[str, int] | None:
    node = _BEFORE_TRIE
    best: tuple[str, int] | None = None
    k = i - 1
    while k >= 0 and i - k < 7:
        step = node.get(toks[k].low)
        if step is None:
            break
        node = step
        mark = node.get(_END)
        if mark is not None:
            best = (mark, k)
        if toks[k].line:
            break
        k -= 1
    return best


# Said between a cue and its number: "maximum is 3", "min: 3", "under about 5".
_FILLERS = frozenset(("is", ":", "=", "of", "was", "a", "like", "only"))


def before(toks: list[Tok], i: int) -> Cue:
    """What bounds or blurs the number that starts at token `i`, from the words before it."""
    comparator, approximate, edge = "=", False, i
    k = i
    for _ in range(3):
        if k == 0 or (k < len(toks) and toks[k].line):
            break
        found = _back(toks, k)
        if found is None:
            if toks[k - 1].low in _FILLERS and k > 1 and toks[k - 1].low in ("is", ":", "=", "of", "was"):
                found = _back(toks, k - 1)
                # only a named bound reaches over a filler: "max is 3", "minimum: 3"
                if found is None or toks[found[1]].low not in _BOUNDS:
                    break
            else:
                break
        mark, k = found
        if mark == "~":
            approximate = True
        elif comparator == "=":
            comparator = mark
        edge = k
    if edge == i:
        return _NONE
    return Cue(comparator, approximate, edge)


_BOUNDS = frozenset(("max", "maximum", "min", "minimum", "limit"))


def after(toks: list[Tok], j: int) -> Cue:
    """What bounds or blurs a number that ends before token `j`, from the words after it."""
    n = len(toks)
    if j >= n or toks[j].low not in _AFTER_TRIE:
        if j < n and toks[j].text == "+" and toks[j].glued and not (j + 1 < n and toks[j + 1].glued):
            return Cue(">=", False, j + 1)
        return _NONE
    node = _AFTER_TRIE
    best: tuple[str, int] | None = None
    k = j
    while k < n and k - j < 5:
        step = node.get(toks[k].low)
        if step is None:
            break
        node = step
        k += 1
        mark = node.get(_END)
        if mark is not None:
            best = (mark, k)
    if best is None:
        return _NONE
    mark, k = best
    word = toks[j].low
    if word in ("min", "max", "minimum", "maximum", "plus", "odd", "approx", "roughly", "approximately") and k < n:
        # "8 mm min 3": the bound belongs to what follows; "2 plus 3" is a sum
        follows = toks[k]
        if follows.kind == "num" or follows.text in ":=" or follows.low in ("of", "or"):
            return _NONE
    return Cue("=" if mark == "~" else mark, mark == "~", k)
