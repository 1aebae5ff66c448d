"""Parts whose names a recogniser wrote as other words, found by their sound.

"The ultrometer gives fourteen volts": the statement has a reading and names no part, "ultrometer" is no word of workshop
talk, and of all parts that are measured in volts the alternator sounds nearest by far. All three must hold, so that a
customer's name or a place is not taken for a part. What is found so is marked, and flagged on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.catalogue.sounding import Roughly, sounds, unlikeness
from cleansheet.units.data_files import packaged

from .. import units
from .number_lexicon import LEX
from .quantities_units import unit_at
from .words import NUM, SIGN, WORD, without_s

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from cleansheet.catalogue import Catalogue

    from .words import Tok

NEAR_ENOUGH = 0.2  # of the name's sounds
CLEARLY = 0.08  # how much farther the next part must be
LEAST_SOUNDS = 4
MOST_WORDS = 3
_BEFORE, _AFTER = 9, 5  # words around a reading in which its part is looked for
_VOWELS = frozenset("aeiouy")
_ARTICLES = frozenset({"a", "an", "and", "o", "oh"})  # "alternate a"
_STOPS = frozenset(".;?!")


@dataclass(frozen=True, slots=True)
class Misheard:
    """Words `first` to `last` (exclusive) that sound like `name`, a name of component `id`; `unlike` as `unlikeness`."""

    first: int
    last: int
    id: str
    name: str
    unlike: float


@cache
def talk() -> frozenset[str]:
    """The words of workshop talk, as labelled notes have them."""
    return frozenset(word for line in packaged("read", "talk_words.yaml")["words"] for word in line.split())


class Sounding:
    """The names of parts by their sound; `kinds` of measure of each part, by component."""

    def __init__(self, catalogue: Catalogue, names: Collection[tuple[str, str]]) -> None:
        self.kinds = {
            component_id: frozenset(
                units.kind(test.unit) for test in catalogue.tests_of(component_id) if units.known(test.unit)
            )
            for component_id in catalogue.components
        }
        self._names: dict[str, tuple[str, str]] = {}
        for name, component_id in names:
            said = sounds(name)
            if len(said) >= LEAST_SOUNDS and self.kinds.get(component_id):
                self._names.setdefault(said, (name, component_id))
        self._roughly = Roughly(self._names)
        self._found: dict[tuple[str, frozenset[str]], tuple[str, str, float] | None] = {}

    def nearest(self, text: str, kinds: frozenset[str]) -> tuple[str, str, float] | None:
        """(name, component, unlikeness) of the part measured in one of `kinds` whose name sounds clearly nearest."""
        key = (text, kinds)
        if key not in self._found:
            if len(self._found) > 20_000:
                self._found.clear()  # a bound on memory in a long-running process
            self._found[key] = self._nearest(sounds(text), kinds)
        return self._found[key]

    def _nearest(self, said: str, kinds: frozenset[str]) -> tuple[str, str, float] | None:
        if len(said) < LEAST_SOUNDS:
            return None
        best: dict[str, tuple[float, str]] = {}
        for its in self._roughly.near(said):
            name, component_id = self._names[its]
            if not kinds & self.kinds[component_id]:
                continue
            unlike = unlikeness(said, its, NEAR_ENOUGH + CLEARLY)
            if component_id not in best or unlike < best[component_id][0]:
                best[component_id] = (unlike, name)
        order = sorted((unlike, component_id, name) for component_id, (unlike, name) in best.items())
        if not order or order[0][0] > NEAR_ENOUGH or (len(order) > 1 and order[1][0] - order[0][0] < CLEARLY):
            return None
        unlike, component_id, name = order[0]
        return name, component_id, unlike


def find_misheard(
    toks: Sequence[Tok], taken: Collection[int], words: frozenset[str], sounding: Sounding
) -> Iterator[Misheard]:
    """Misheard parts from left to right. `taken` are the words that belong to a named part, `words` those of parts' names."""
    strange = [
        i for i, tok in enumerate(toks)
        if tok.kind == WORD and len(tok.low) > 2 and i not in taken and _is_strange(tok.low, words)
        and (tok.low == tok.text or _opens(toks, i))
    ]  # fmt: skip
    if not strange:
        return
    done = -1
    for first, last, kinds in _bare_readings(toks, strange, taken):
        near = [i for i in strange if first <= i < last and i > done]
        best: Misheard | None = None
        for low, high in _runs(toks, near, first, last):
            found = sounding.nearest(" ".join(tok.low for tok in toks[low:high]), kinds)
            if found is not None and (best is None or found[2] < best.unlike):
                best = Misheard(low, high, found[1], found[0], found[2])
        if best is not None:
            done = best.last
            yield best


def _is_strange(low: str, words: frozenset[str]) -> bool:
    """Whether a word is neither of a part's name nor of the talk; letters said one by one ("tts") are nobody's mishearing."""
    bare = without_s(low)
    return not (bare in words or bare in talk() or low in talk()) and not _VOWELS.isdisjoint(bare)


def _opens(toks: Sequence[Tok], i: int) -> bool:
    """Whether a word may have its capital only because a statement opens with it."""
    return i == 0 or toks[i].line or toks[i - 1].kind == SIGN


def _bare_readings(
    toks: Sequence[Tok], strange: Sequence[int], taken: Collection[int]
) -> Iterator[tuple[int, int, frozenset[str]]]:
    """The words around each unit that follows a number and has no part named near: (first, last, kinds of measure)."""
    span = {i for one in strange for i in range(one - _AFTER, one + _BEFORE + 1)}
    whole = list(toks)
    for i in sorted(span):
        if not 0 < i < len(toks) or toks[i].kind == NUM:
            continue
        hit = unit_at(whole, i)
        if hit is None or not _is_number(toks[i - 1]):
            continue
        first, last = i, hit.end
        while first > 0 and i - first < _BEFORE and not _parts(toks, first):
            first -= 1
        while last < len(toks) and last - hit.end < _AFTER and not _parts(toks, last):
            last += 1
        if any(place in taken for place in range(first, last)):
            continue
        kinds = frozenset(units.kind(code) for code in hit.codes if units.known(code))
        if kinds:
            yield first, last, kinds


def _parts(toks: Sequence[Tok], i: int) -> bool:
    """Whether a statement ends before word `i`."""
    return toks[i].line or (toks[i - 1].kind == SIGN and toks[i - 1].text in _STOPS) or toks[i].text in _STOPS


def _is_number(tok: Tok) -> bool:
    return tok.kind == NUM or (tok.low in LEX and tok.low not in _ARTICLES)


def _runs(toks: Sequence[Tok], strange: Sequence[int], first: int, last: int) -> Iterator[tuple[int, int]]:
    """Runs of one to three words with a strange one among them, no sign and no number between."""
    seen: set[tuple[int, int]] = set()
    for i in strange:
        for low in range(max(first, i - MOST_WORDS + 1), i + 1):
            for high in range(i + 1, min(last, low + MOST_WORDS) + 1):
                if (low, high) in seen or any(toks[k].kind != WORD or _is_number(toks[k]) for k in range(low, high)):
                    continue
                seen.add((low, high))
                yield low, high
