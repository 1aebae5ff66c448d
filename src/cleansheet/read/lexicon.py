"""Phrases looked up in a run of words: one dictionary step a word, longest phrase first.

A phrase is written the way the data files write it: words parted by blanks, "a|b" for either, "x?" for one that may be
left out. A signed word of the text is looked up as it stands and without its possessive ("pump's" as "pump").
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Generic, TypeVar

from .words import Tok, words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

T = TypeVar("T")
_END = ""  # no word is empty, so this key can hold what a phrase stands for


@dataclass(slots=True, unsafe_hash=True)  # made so often that freezing it would cost a hundredth of the time
class Hit(Generic[T]):
    """A phrase found: words `first` up to `last` (exclusive), and what it stands for."""

    first: int
    last: int
    found: T


def spellings(phrase: str) -> Iterator[tuple[str, ...]]:
    """Every run of words that a written phrase stands for.

    >>> sorted(spellings("gone|went green inside?"))
    [('gone', 'green'), ('gone', 'green', 'inside'), ('went', 'green'), ('went', 'green', 'inside')]
    """
    choices: list[list[tuple[str, ...]]] = []
    for word in phrase.split():
        optional = word.endswith("?") and len(word) > 1
        forms = [tuple(tok.low for tok in words(form)) for form in word.removesuffix("?").split("|")]
        choices.append([*forms, ()] if optional else forms)
    for combination in product(*choices):
        run = tuple(word for part in combination for word in part)
        if run:
            yield run


def plural(word: str) -> str:
    """The written plural of a part's name.

    >>> plural("battery"), plural("switch"), plural("hose")
    ('batteries', 'switches', 'hoses')
    """
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    if word.endswith(("s", "x", "ch", "sh")):
        return word + "es"
    return word + "s"


class Phrases(Generic[T]):
    """A set of phrases. `add` at start, `at` and `scan` ever after."""

    def __init__(self) -> None:
        self._root: dict[str, object] = {}

    def add(self, phrase: str, found: T, *, plurals: bool = False) -> None:
        """Let `phrase` stand for `found`; the first meaning given to a phrase stays."""
        for run in spellings(phrase):
            self._put(run, found)
            if plurals and run[-1].isalpha():
                self._put((*run[:-1], plural(run[-1])), found)

    def _put(self, run: Sequence[str], found: T) -> None:
        node = self._root
        for word in run:
            node = node.setdefault(word, {})  # type: ignore[assignment]
        node.setdefault(_END, found)

    def begins(self, low: str) -> bool:
        """Whether a phrase may begin with a word in lower case: a quick look before `at`."""
        return low in self._root or low[-2:] == "'s"

    def at(self, toks: Sequence[Tok], i: int) -> Hit[T] | None:
        """The longest phrase that begins at word `i`, or None."""
        node: object = self._root
        best: Hit[T] | None = None
        j = i
        while j < len(toks):
            low = toks[j].low
            step = node.get(low)  # type: ignore[attr-defined]
            if step is None:
                step = node.get(low[:-2]) if low[-2:] == "'s" else None  # type: ignore[attr-defined]
                if step is None:
                    break
            node = step
            j += 1
            if _END in node:  # type: ignore[operator]
                best = Hit(i, j, node[_END])  # type: ignore[index]
        return best

    def scan(self, toks: Sequence[Tok]) -> Iterator[Hit[T]]:
        """Phrases from left to right, the longest at each place, none overlapping."""
        root = self._root
        i = 0
        while i < len(toks):
            low = toks[i].low
            if low in root or low[-2:] == "'s":
                hit = self.at(toks, i)
                if hit is not None:
                    yield hit
                    i = hit.last
                    continue
            i += 1

    def everywhere(self, toks: Sequence[Tok]) -> Iterator[Hit[T]]:
        """The longest phrase at every place; one may lie inside another."""
        root = self._root
        for i, tok in enumerate(toks):
            if tok.low in root or tok.low[-2:] == "'s":
                hit = self.at(toks, i)
                if hit is not None:
                    yield hit

    def ends_at(self, toks: Sequence[Tok], i: int) -> Iterator[Hit[T]]:
        """Every phrase that begins at word `i`, the shortest first."""
        node: object = self._root
        j = i
        while j < len(toks):
            low = toks[j].low
            step = node.get(low)  # type: ignore[attr-defined]
            if step is None and low[-2:] == "'s":
                step = node.get(low[:-2])  # type: ignore[attr-defined]
            if step is None:
                return
            node = step
            j += 1
            if _END in node:  # type: ignore[operator]
                yield Hit(i, j, node[_END])  # type: ignore[index]

    def meaning(self, phrase: Sequence[str], otherwise: T) -> T:
        """What the words stand for; from now on `otherwise` where they stood for nothing."""
        node = self._root
        for word in phrase:
            node = node.setdefault(word, {})  # type: ignore[assignment]
        return node.setdefault(_END, otherwise)  # type: ignore[return-value]

    def vocabulary(self) -> set[str]:
        """Every word of every phrase."""
        seen: set[str] = set()
        stack: list[object] = [self._root]
        while stack:
            node = stack.pop()
            for word, below in node.items():  # type: ignore[attr-defined]
                if word != _END:
                    seen.add(word)
                    stack.append(below)
        return seen


def phrases(entries: Iterable[str], found: T) -> Phrases[T]:
    """A set in which every entry stands for the same thing."""
    made: Phrases[T] = Phrases()
    for entry in entries:
        made.add(entry, found)
    return made
