"""The words around a number that bound it or blur it: "at least", "under", "or more", "about", "or so".

Cues stand outside the number's own span. Each is found by walking back (or on) from the number through a trie of words,
so the cost is that of a few dictionary look-ups.
"""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

from cleansheet.units.data_files import packaged

from .number_lexicon import DIGIT, TEEN, TENS, lex
from .words import NUM, Tok, words

_FRACTIONS = frozenset({"point", "nought", "half", "zero", "oh"})
_COUNTS = frozenset({DIGIT, TEEN, TENS})


class Cue(NamedTuple):
    """`comparator` is "=", "<", "<=", ">" or ">="; `edge` the token where the cue begins (before) or ends (after)."""

    comparator: str
    approximate: bool
    edge: int


_END = ""
Node = dict[str, Any]


def _build(side: str, *, backwards: bool) -> Node:
    root: Node = {}
    for mark, phrases in packaged("read", "units_bounds.yaml")[side].items():
        for phrase in phrases:
            keys = [tok.low for tok in words(phrase)]
            node = root
            for key in reversed(keys) if backwards else keys:
                node = node.setdefault(key, {})
            node[_END] = mark
    return root


@cache
def _tries() -> tuple[Node, Node]:
    """The phrases before a number, read backwards from it, and those after it."""
    return _build("before", backwards=True), _build("after", backwards=False)


_NONE = Cue("=", False, -1)


def _back(toks: list[Tok], i: int) -> tuple[str, int] | None:
    node = _tries()[0]
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
_FILLERS = frozenset({"is", ":", "=", "of", "was", "a", "like", "only"})


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
        if _is_no_bound(toks, *found[1:], k):
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


_TURNS = frozenset(
    "tick ticks ticking ticked turn turns turning turned crank cranks cranking cranked spin spinning".split()
)


def _is_no_bound(toks: list[Tok], first: int, number: int) -> bool:
    """Words that look like a bound and are none: "ticking over 2.5", "10 min: 1.2" with its minutes."""
    if not first:
        return False
    low, before_it = toks[first].low, toks[first - 1]
    if low == "over":
        return before_it.low in _TURNS
    return low in {"min", "mins"} and before_it.kind == NUM and toks[number - 1].low in {":", "=", "-"}


_BOUNDS = frozenset({"max", "maximum", "min", "minimum", "limit"})


def _opposite(toks: list[Tok], j: int, word: str) -> bool:
    """Whether the number at `j` has the other bound behind it: "0.05 min 0.25 max"."""
    others = ("max", "maximum") if word.startswith("min") else ("min", "minimum")
    return any(tok.low in others for tok in toks[j + 1 : j + 3])


def _goes_on(tok: Tok) -> bool:
    """Whether something other than a stop is glued on: "13.8+" and "16+." are bounds, "4+5" is none."""
    return tok.glued and tok.text not in ".,;:!?)]|/"


def after(toks: list[Tok], j: int) -> Cue:
    """What bounds or blurs a number that ends before token `j`, from the words after it."""
    n = len(toks)
    trie = _tries()[1]
    if j >= n or toks[j].low not in trie:
        if j < n and toks[j].text == "+" and toks[j].glued and not (j + 1 < n and _goes_on(toks[j + 1])):
            return Cue(">=", False, j + 1)
        return _NONE
    node = trie
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
    if word in ("and", "or") and k < n and (toks[k].low == "than" or toks[k].kind == NUM):
        return _NONE  # "5 and more than 3"
    if word in ("min", "max", "minimum", "maximum", "plus", "odd", "approx", "roughly", "approximately") and k < n:
        # "8 mm min 3": the bound belongs to what follows; "2 plus 3" is a sum
        follows = toks[k]
        if follows.kind == NUM and _opposite(toks, k, word):
            return Cue(mark, False, k)  # "0.05 min 0.25 max"
        if (
            follows.kind == NUM
            or follows.text in ":="
            or follows.low in ("of", "or", "is", "for")
            or lex(toks, k)[0] in _COUNTS
            or follows.low in _FRACTIONS  # "point one five millimetres max point one"
        ):
            return _NONE
    return Cue("=" if mark == "~" else mark, mark == "~", k)
