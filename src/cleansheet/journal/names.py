"""What people call a part or a test, found among the catalogue's names: singular or plural, misspelt, misheard."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from .sound_key import sound_key

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

_WORD = re.compile(r"[a-z0-9]+(?:'[a-z]+)?|[ωµ°%]")
# Words that say nothing of which part is meant.
FILLER = frozenset({
    "a", "an", "the", "of", "on", "in", "at", "for", "to", "and", "or", "with", "from", "my", "our", "his", "her",
    "its", "this", "that", "all", "any", "every", "each", "what", "which", "when", "is", "are", "was", "were",
    "has", "have", "had", "been", "be", "do", "did", "does", "me", "show", "find", "list", "give", "readings",
    "reading", "results", "result", "value", "values", "part", "parts", "history", "records", "record", "entries",
    "entry", "there", "it", "last",
})  # fmt: skip
# rapidfuzz scores 0 to 100. Below this two names are not the same name misspelt.
NEAR_ENOUGH = 82.0
_SAME_SOUND = 92.0
_SWAPPED = 84.0
_WORST_WORD = 70.0
_RUN_TOGETHER = 90.0
_LONG = 7

Words = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Near:
    """A part that was likely meant: its id, the name that came nearest, and how near (0 to 100)."""

    component: str
    name: str
    score: float


def words_of(text: str) -> list[str]:
    """The words of a query or a name, lower case: letters and digits."""
    return _WORD.findall(text.lower().replace("-", " ").replace("’", "'"))


@lru_cache(maxsize=8192)
def singular(word: str) -> str:
    """A word without its plural ending.

    >>> [singular(word) for word in ("plugs", "switches", "batteries", "brass", "bus", "leaves")]
    ['plug', 'switch', 'battery', 'brass', 'bus', 'leave']
    """
    if len(word) <= 3 or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes", "zes")):
        return word[:-2]
    return word.removesuffix("s")


def folded(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(singular(word.removesuffix("'s")) for word in words)


def _word_by_word(said: Words, name: Words, cutoff: float) -> float:
    """How near two names of as many words are, each word to its own; 0 where one word is not near at all."""
    total = weight = 0.0
    for one, other in zip(said, name, strict=True):
        score = likeness(one, other)
        if score < _WORST_WORD:
            return 0.0
        total += score * len(other)
        weight += len(other)
    score = total / weight
    return score if score >= cutoff else 0.0


@lru_cache(maxsize=65536)
def likeness(one: str, other: str) -> float:
    """How near two words are, 0 to 100, by spelling or by sound; short words must agree in their consonants."""
    if one == other:
        return 100.0
    if min(len(one), len(other)) < 4:
        return 0.0
    from rapidfuzz import fuzz
    from rapidfuzz.distance import OSA

    if min(len(one), len(other)) <= 4 and _consonants(one) != _consonants(other):
        # "heat" is not "head"; but two letters that changed places are a slip of the finger ("coli")
        return _SWAPPED if sorted(one) == sorted(other) and OSA.distance(one, other) == 1 else 0.0
    score = float(fuzz.ratio(one, other))
    if OSA.distance(one, other) == 1:
        score = max(score, _SWAPPED)
    if sound_key(one) == sound_key(other) and len(sound_key(one)) > 1:
        score = max(score, _SAME_SOUND - 2 * abs(len(one) - len(other)))
    return score


def _consonants(word: str) -> str:
    return re.sub(r"[aeiouy]|h$", "", word)


class NameIndex:
    """The names of all parts of a catalogue, ready to look words up in. Built once a process."""

    def __init__(self, components: Mapping[str, Any]) -> None:
        self.by_words: dict[tuple[str, ...], tuple[str, ...]] = {}
        self.shown: dict[tuple[str, ...], str] = {}
        self.names = {part.id: part.name for part in components.values()}
        for part in components.values():
            for name in (part.name, *part.also, part.id.replace("-", " ")):
                key = folded(words_of(name))
                if key and part.id not in self.by_words.get(key, ()):
                    self.by_words[key] = (*self.by_words.get(key, ()), part.id)
                    self.shown.setdefault(key, name)
        self.longest = max((len(key) for key in self.by_words), default=0)
        # A component's own name goes before another's nickname ("pump" and "fuel pump").
        for part in components.values():
            own = folded(words_of(part.name))
            self.by_words[own] = (part.id,)
        self._phrases = [" ".join(key) for key in self.by_words]
        self._squashed = {"".join(key): key for key in self.by_words}
        self._sounds: dict[str, list[Words]] = {}
        self._by_count: dict[int, list[Words]] = {}
        for key in self.by_words:
            self._sounds.setdefault(sound_key("".join(key)), []).append(key)
            self._by_count.setdefault(len(key), []).append(key)

    def exact(self, words: Iterable[str]) -> tuple[str, ...]:
        """The parts that go by exactly these words (plural or not, joined or not); none for unknown words."""
        key = folded(words)
        if key in self.by_words:
            return self.by_words[key]
        joined = self._squashed.get("".join(key)) if len("".join(key)) > 4 else None
        return self.by_words[joined] if joined else ()

    def near(self, words: Iterable[str], *, cutoff: float = NEAR_ENOUGH, limit: int = 5) -> list[Near]:
        """Parts whose names are spelt or sound nearly so, nearest first: word by word, or all words run together.

        Word by word, so that "spark plug gap" is not "spark plug" misspelt.
        """
        said = folded(words)
        squashed = "".join(said)
        if len(squashed) < 4:
            return []
        scores: dict[str, Near] = {}
        sound = sound_key(squashed)
        for key in self._sounds.get(sound, ()) if len(sound) > 2 else ():
            apart = abs(len("".join(key)) - len(squashed))
            self._note(scores, key, _SAME_SOUND - 2 * apart)
        if len(squashed) >= _LONG:
            # one name heard as two words, or two as one: "termo stat"
            for key in self.by_words:
                if len(key) != len(said) and (score := likeness(squashed, "".join(key))) >= _RUN_TOGETHER:
                    self._note(scores, key, score)
        for key in self._by_count.get(len(said), ()):
            score = _word_by_word(said, key, cutoff)
            if score >= cutoff:
                self._note(scores, key, score)
        return sorted(scores.values(), key=lambda one: (-one.score, one.component))[:limit]

    def _note(self, scores: dict[str, Near], key: tuple[str, ...], score: float) -> None:
        for component in self.by_words[key]:
            if component not in scores or scores[component].score < score:
                scores[component] = Near(component, self.shown.get(key, " ".join(key)), score)

    def suggest(self, words: Iterable[str], limit: int = 4) -> list[Near]:
        """Names to offer where nothing was near enough to be taken."""
        from rapidfuzz import fuzz, process

        phrase = " ".join(folded(words))
        scores: dict[str, Near] = {}
        for _, score, place in process.extract(phrase, self._phrases, scorer=fuzz.WRatio, limit=20, score_cutoff=55):
            self._note(scores, tuple(self._phrases[place].split(" ")), score)
        return sorted(scores.values(), key=lambda one: (-one.score, one.component))[:limit]
