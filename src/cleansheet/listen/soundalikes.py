"""Words of the trade that a wording may have meant: "well angle" for "dwell angle", "time of belt" for "timing belt".

A run of one to three words is compared by its sound with the names of parts and tests. What sounds near and makes the
wording likelier as workshop talk is proposed; whether the sound bears it out is asked of the recogniser (`hearing`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cleansheet.catalogue.sounding import Roughly, sounds, unlikeness
from cleansheet.catalogue.test_words import test_words
from cleansheet.units.data_files import packaged

from .alike import UNIT_OF, tokens
from .phrasing import packaged_phrasing

if TYPE_CHECKING:
    from collections.abc import Container, Iterable

    from cleansheet.catalogue import Catalogue

    from .phrasing import Phrasing

NEAR_ENOUGH = 0.42  # of the longer one's sounds
WORTH_TELLING = 0.6  # the same, for a name that is only told as one to expect
MOST_TOLD = 20
LEAST_SOUNDS = 3
MOST_WORDS = 3
FARNESS = 2.5  # natural log units that a sound's difference costs before the recogniser is asked
LEAST_GAIN = 2.0
WORD_WORTH = 4.0  # natural log units a word: fewer words are likelier, whatever they are


@dataclass(frozen=True, slots=True)
class Proposal:
    """A wording with words `first` to `last` (exclusive) of the other replaced by `phrase`; `gain` in natural log units."""

    text: str
    first: int
    last: int
    phrase: str
    gain: float


def phrases_of(catalogue: Catalogue) -> list[str]:
    """What a note may well say: the names of parts and of their tests, and words of the talk."""
    data = packaged("catalogue", "names.yaml")
    known = [name for one in catalogue.components.values() for name in (one.name, *one.also)]
    known += [name for one in catalogue.components if one in data["also"] for name in data["also"][one]]
    known += [says for test, words in test_words().items() if test in catalogue.tests for says in words.says]
    return [name.lower() for name in (*known, *packaged_phrasing().common())]


class SoundAlikes:
    """Phrases of the trade by their sound."""

    def __init__(self, phrases: Iterable[str]) -> None:
        self._phrases: dict[str, str] = {}
        for phrase in phrases:
            said = sounds(phrase)
            if len(said) >= LEAST_SOUNDS and not any(map(str.isdigit, phrase)):
                self._phrases.setdefault(said, phrase)
        self._roughly = Roughly(self._phrases)
        self._known: dict[str, tuple[tuple[str, float], ...]] = {}

    def near(self, said: str) -> tuple[tuple[str, float], ...]:
        """The phrases that sound near a run of sounds, each with its distance in sounds."""
        if said not in self._known:
            if len(self._known) > 20_000:
                self._known.clear()  # a bound on memory in a long recording
            self._known[said] = tuple(self._near(said))
        return self._known[said]

    def worth_telling(self, texts: Iterable[str], names: Container[str]) -> list[str]:
        """Those of the `names` that a run of words in the texts sounds roughly like, the nearest first."""
        nearest: dict[str, float] = {}
        for said in {sounds(run) for text in texts for run in _runs(text)}:
            if len(said) < LEAST_SOUNDS:
                continue
            for its in self._roughly.near(said):
                phrase, size = self._phrases[its], max(len(said), len(its))
                if phrase in names:
                    far = unlikeness(said, its, WORTH_TELLING * size / len(its)) * len(its) / size
                    if far <= WORTH_TELLING:
                        nearest[phrase] = min(far, nearest.get(phrase, far))
        return sorted(nearest, key=lambda phrase: (nearest[phrase], phrase))[:MOST_TOLD]

    def _near(self, said: str) -> Iterable[tuple[str, float]]:
        if len(said) < LEAST_SOUNDS:
            return
        for its in self._roughly.near(said):
            size = max(len(said), len(its))
            far = unlikeness(said, its, NEAR_ENOUGH * size / len(its)) * len(its)
            if far <= NEAR_ENOUGH * size:
                yield self._phrases[its], far


def _runs(text: str) -> Iterable[str]:
    """The runs of one to three words of a text, without its stops."""
    words = [word.strip(" ,.;:!?").lower() for word in text.split()]
    for size in range(1, MOST_WORDS + 1):
        for first in range(len(words) - size + 1):
            yield " ".join(words[first : first + size])


def proposals(text: str, alikes: SoundAlikes, phrasing: Phrasing, *, most: int = 4) -> list[Proposal]:
    """At most `most` wordings with one run of words replaced, the likeliest first.

    Numbers and units stay: other ways to hear those are weighed elsewhere.
    """
    words = text.split()
    plain = [word.strip(" ,.;:!?").lower() for word in words]
    fixed = {at for token in tokens(words) if token.kind != "word" for at in range(token.first, token.last)}
    fixed |= {at for at, word in enumerate(plain) if word in UNIT_OF or not word}
    before = phrasing.log_probability(text)
    found: dict[str, Proposal] = {}
    for first in range(len(words)):
        for last in range(first + 1, min(first + MOST_WORDS, len(words)) + 1):
            if last - 1 in fixed:
                break
            said = " ".join(plain[first:last])
            for phrase, far in alikes.near(sounds(said)):
                if phrase == said:
                    continue
                tail = words[last - 1][len(words[last - 1].rstrip(",.;:!?")) :]
                new = " ".join([*words[:first], phrase + tail, *words[last:]])
                longer = len(phrase.split()) - (last - first)
                gain = phrasing.log_probability(new) - before + WORD_WORTH * longer - FARNESS * far
                if gain > LEAST_GAIN and (new not in found or gain > found[new].gain):
                    found[new] = Proposal(new, first, last, phrase, gain)
    return sorted(found.values(), key=lambda one: -one.gain)[:most]
