"""One stretch heard: two guesses at it compared, the better wording written down, the other kept beside it.

A word's probability is the recogniser's own for plain words. For a number and its unit it is the lower of two: how much
of the weight of all wordings agrees on them, and how well the stretch as a whole was heard. Below 0.5 it is flagged.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from .alike import Difference, differences, teen_for_ten, tokens
from .choice import SHARPNESS, Rival, Trade, ranked, strange_units
from .doubt import UNLIKELY, doubt, needs_second_look, unsupported
from .ear import Context, Ear, Encoded, Guess, HeardWord
from .phrasing import packaged_phrasing
from .sound import RATE, Samples
from .soundalikes import proposals
from .transcripts import KeptWord

if TYPE_CHECKING:
    from .hints import Tellings

RIVAL_WORTH_SHOWING = 0.1  # of all weight
MOST_RIVALS = 4
MOST_ASKED = 6  # wordings whose sound is compared with the names of parts
FAIR_SCORE = -0.45  # mean log probability at which a stretch's numbers are as good as doubtful
UNIT_MARGIN = 6.0  # natural log units that a fitting unit may be less likely than a strange one
DOUBTFUL = 0.3  # ceiling for the probability of words that may be made up
FLAGGED = 0.45
DISSENT = 2.0  # the power of the share of wordings that agree
UNTOLD = Context()  # what the recogniser was told costs it most of an alignment's time
MOST_PUT_IN = 2  # phrases of the trade in one stretch
PHRASING_SHARE = 1.0  # what a natural log unit of phrasing counts against one of the sound
LEAST_VALUE = 0.0


@dataclass(frozen=True, slots=True)
class HeardStretch:
    """The words with times counted from the stretch's start, and why they are not to be trusted, if so."""

    words: tuple[KeptWord, ...]
    doubt: str | None = None


def hear(ear: Ear, samples: Samples, tellings: Tellings, known: Trade) -> HeardStretch:
    """The words of one stretch of at most 30 s."""
    encoded = ear.encode(samples)
    told = tellings.first
    groups = [ear.guesses(encoded, context) for context in told]
    rivals = ranked(groups, known)
    if rivals and _ill_heard(rivals[0].guess, known):
        names = known.alikes.worth_telling([rival.guess.text for rival in rivals[:MOST_ASKED]], known.measured)
        told = (*told, tellings.again(names))
        rivals = ranked([*groups, ear.guesses(encoded, told[-1])], known)
    if not rivals or not rivals[0].guess.tokens:
        return HeardStretch(())
    chosen = rivals[0].guess
    reason = doubt(chosen, told, len(samples) / RATE)
    if reason is None and needs_second_look(chosen):
        untold = ear.guesses(encoded, UNTOLD, beam=1)
        if not untold or unsupported(chosen, untold[0]):
            reason = "heard only with the telling, not without"
    chosen = _with_trade_words(ear, encoded, chosen, known)
    chosen, replaced = _with_fitting_units(ear, encoded, chosen, told[0], known)
    words = ear.align(encoded, chosen.tokens, UNTOLD)
    kept = _unpunctuated([KeptWord(word.text, word.start_s, word.end_s, word.probability) for word in words])
    _weigh(kept, words, [*rivals, *_teens(ear, encoded, chosen)], chosen)
    _doubt_strays(kept, [group[0].text for group in groups if group])
    for first, last, heard in replaced:
        for at in range(first, min(last, len(kept))):
            heard_too = tuple(dict.fromkeys(text for text in (heard, *kept[at].heard) if text))
            kept[at] = replace(kept[at], probability=min(kept[at].probability, FLAGGED), heard=heard_too)
    if reason is not None:
        kept = [replace(word, probability=min(word.probability, DOUBTFUL)) for word in kept]
    elif chosen.score < UNLIKELY:  # what is said in words alone is as doubtful in it as the numbers are
        kept = [replace(word, probability=min(word.probability, FLAGGED)) for word in kept]
    return HeardStretch(tuple(kept), reason)


def _ill_heard(guess: Guess, known: Trade) -> bool:
    """Whether a stretch is worth a further telling: its best wording is a poor one, or names no part."""
    return guess.score < FAIR_SCORE or not known.parts_in(guess.text)


def _unpunctuated(kept: list[KeptWord]) -> list[KeptWord]:
    """The words without a comma or stop between a number and its unit, which only says that the speaker paused."""
    found = tokens([word.text.strip() for word in kept])
    for number, unit in pairwise(found):
        if number.kind == "number" and unit.kind == "unit" and unit.first == number.last:
            word = kept[number.last - 1]
            kept[number.last - 1] = replace(word, text=word.text.rstrip(",.;"))
    return kept


def _teens(ear: Ear, encoded: Encoded, chosen: Guess) -> list[Rival]:
    """The wording with fifteen for fifty and the like, weighed by the sound, at most three of them."""
    words = chosen.text.split()
    places = [
        (at, other) for at, word in enumerate(words)
        if (other := teen_for_ten(word)) and not _ten_of_two_words(words, at)
    ][:3]  # fmt: skip
    if not places:
        return []
    before = ear.log_probability(encoded, chosen.text, UNTOLD)
    out: list[Rival] = []
    for at, other in places:
        text = " ".join([*words[:at], other, *words[at + 1 :]])
        odds = math.exp(min(0.0, ear.log_probability(encoded, text, UNTOLD) - before) / SHARPNESS)
        out.append(Rival(replace(chosen, text=text), odds / (1 + odds)))
    return out


def _ten_of_two_words(words: list[str], at: int) -> bool:
    """Whether a word is the first half of a number that its teen cannot be: "forty two", but not "forty" or "14 2"."""
    following = words[at + 1].strip(".,;:!?").lower() if at + 1 < len(words) else ""
    return words[at].lower().endswith("ty") and following in _DIGITS


_DIGITS = frozenset("one two three four five six seven eight nine".split())


def _weigh(kept: list[KeptWord], words: tuple[HeardWord, ...], rivals: list[Rival], chosen: Guess) -> None:
    """Set the probability of numbers and units, and note beside each word what else was heard there."""
    plain = [word.text.strip() for word in words]
    against = [0.0] * len(plain)
    others: list[dict[str, None]] = [{} for _ in plain]
    shown = 0
    for rival in rivals:
        if rival.guess.text == chosen.text:
            continue
        its = rival.guess.text.split()
        spans = [one for one in differences(plain, its) if one.matters]
        show = spans and rival.weight >= RIVAL_WORTH_SHOWING and shown < MOST_RIVALS
        shown += bool(show)
        for one in spans:
            for at in _places(one.first, one.last, len(plain)):
                against[at] += rival.weight
            if show:
                _note_beside(others, plain, its, one)
    quality = min(0.98, max(0.05, 0.5 + 2 * (chosen.score - FAIR_SCORE)))
    for token in tokens(plain):
        if token.kind == "word":
            continue
        for at in range(token.first, token.last):
            support = max(0.0, 1.0 - against[at]) ** DISSENT
            kept[at] = replace(kept[at], probability=min(support, quality), heard=tuple(others[at]))


def _doubt_strays(kept: list[KeptWord], firsts: list[str]) -> None:
    """Lower the numbers and units that the likeliest wording has under no telling.

    The reverse, trusting those that it has under every telling, left half as many again wrong and not flagged.
    """
    plain = [word.text.strip() for word in kept]
    against = [0] * len(plain)
    for text in firsts:
        spans = [one for one in differences(plain, text.split()) if one.matters]
        for at in {at for one in spans for at in _places(one.first, one.last, len(plain))}:
            against[at] += 1
    for token in tokens(plain):
        for at in range(token.first, token.last):
            if token.kind != "word" and against[at] == len(firsts):
                kept[at] = replace(kept[at], probability=min(kept[at].probability, FLAGGED))


def _note_beside(others: list[dict[str, None]], plain: list[str], its: list[str], one: Difference) -> None:
    """Put a rival's words beside those they would replace: word by word where both have as many, else the whole run."""
    mine, new = plain[one.first : one.last], its[one.other_first : one.other_last]
    if len(mine) == len(new):
        for at, old, word in zip(range(one.first, one.last), mine, new, strict=True):
            if [token.form for token in tokens([old])] != [token.form for token in tokens([word])]:
                others[at][word.strip(" ,.;")] = None
        return
    text = " ".join(new).strip(" ,.;")
    for at in range(one.first, one.last):
        if text:
            others[at][text] = None


def _places(first: int, last: int, count: int) -> range:
    """The words a difference touches; one that only adds words touches its neighbours."""
    return range(first, last) if first < last else range(max(0, first - 1), min(count, first + 1))


def _with_trade_words(ear: Ear, encoded: Encoded, chosen: Guess, known: Trade) -> Guess:
    """The wording with words of the trade put in for words that sound like them, where the sound bears it out.

    The sound is asked without any telling, which costs a fifth of the time; how likely the words are is `phrasing`'s say.
    """
    for _ in range(MOST_PUT_IN):
        offers = proposals(chosen.text, known.alikes, packaged_phrasing())
        if not offers:
            break
        before = ear.log_probability(encoded, chosen.text, UNTOLD)
        values = [ear.log_probability(encoded, one.text, UNTOLD) - before + PHRASING_SHARE * one.gain for one in offers]
        best = max(range(len(offers)), key=values.__getitem__)
        if values[best] < LEAST_VALUE:
            break
        chosen = replace(chosen, text=offers[best].text, tokens=ear.words_of(offers[best].text))
    return chosen


def _with_fitting_units(
    ear: Ear, encoded: Encoded, chosen: Guess, told: Context, known: Trade
) -> tuple[Guess, list[tuple[int, int, str]]]:
    """The wording with a unit that the named part is measured in, where the sound bears it out nearly as well.

    Returns the wording and, for each word changed, (first, last, what was heard there before).
    """
    replaced: list[tuple[int, int, str]] = []
    for number, after, units in reversed(strange_units(chosen.text, known)[:4]):  # the last first: places stay true
        words = chosen.text.split()
        start = after.first if after is not None else number.last
        end = after.last if after is not None else number.last
        if start < number.last:
            continue  # number and unit are one word
        before = ear.log_probability(encoded, chosen.text, told)
        best, best_text, best_unit = before - UNIT_MARGIN, None, ""
        for unit in units:
            tail = words[end - 1][-1:] if end > start and not words[end - 1][-1:].isalnum() else ""
            text = " ".join([*words[: start - 1], words[start - 1].rstrip(",.;"), unit + tail, *words[end:]])
            value = ear.log_probability(encoded, text, told)
            if value > best:
                best, best_text, best_unit = value, text, unit
        if best_text is None:
            continue
        heard = " ".join(words[start:end]).strip(" ,.;")
        longer = len(best_unit.split()) - (end - start)
        replaced = [(first + longer, last + longer, text) for first, last, text in replaced]
        replaced.append((start, end + longer, heard))
        chosen = replace(chosen, text=best_text, tokens=ear.words_of(best_text))
    return chosen, replaced
