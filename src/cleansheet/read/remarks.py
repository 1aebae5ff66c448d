"""What a statement is there for: symptom, action, suspect, cleared, question, next step, a finding, or none of these.

Each piece of the note is described by what the rules found in it (cues, parts, findings, figures, verbs at its head, the
words themselves, its place in the note); the trained scorer weighs these. Codes read off a part are for `markings`.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from .cues import cue_book
from .parts import OTHER
from .remark_rules import FINDING, NONE, told_by_place
from .scene import Scene, head_of, look
from .scorer import Choice, scorer
from .standing import STANCES, beside, listed, place_in_sentence, said_before, standing
from .word_groups import group_features
from .wordclass import class_features
from .words import SIGN, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

REMARKS = ("symptom", "action", "suspect", "cleared", "question", "todo")
LABELS = (NONE, *REMARKS, FINDING)
_SHORT = 3  # letters up to which a stem says no more than its word
_KEPT = 1 << 16  # words whose features are kept
_PRONOUNS = frozenset(
    ["it", "it's", "that", "that's", "they", "this", "them", "he", "she", "those", "these", "there", "there's"]
)
_AUX = frozenset(
    ["is", "are", "was", "were", "be", "been", "being", "has", "have", "had", "isn't", "aren't", "wasn't", "'s"]
)


def piece_features(scene: Scene, number: int, before: str) -> list[str]:
    """The features of piece `number`; `before` is the label of the piece before it, "" where that is still open."""
    toks, piece = scene.toks, scene.layout.pieces[number]
    book = cue_book()
    first, last = piece.first, piece.last
    seen = look(scene, number)
    lows, head = seen.lows, seen.head
    words = list(dict.fromkeys(lows))
    head_word = toks[head].low
    after_head = toks[head + 1].low if head + 1 < last else ""
    total = len(scene.layout.sentences)
    features = [
        f"open={piece.opened}",
        *([f"before={before}"] if before else []),
        f"len={min(len(lows), 9)}",
        f"head={head_word}",
    ]
    for word in words:
        features += _of_word(word)
    framed = ["<", *lows, ">"]
    features += [f"b={a}_{b}" for a, b in pairwise(framed)]
    features.append(f"h2={head_word}_{after_head}")
    if lows:
        features.append(f"end={lows[-1]}")
    features.append(
        "place=first"
        if piece.sentence == 0
        else "place=second"
        if piece.sentence == 1
        else "place=last"
        if piece.sentence >= total - 1
        else "place=late"
        if piece.sentence * 3 > total * 2
        else "place=mid"
    )
    if piece.sentence <= 2 and total > 4:
        features.append("early")
    features.append(f"note:{min(len(scene.parts), 3)}:{min(len(scene.figures), 2)}")
    if piece.asked:
        features.append("asked")
    if scene.layout.unpunctuated:
        features.append("flat")
    _verbs(features, toks, head, head_word, first, last, book.past, book.base, book.steps)
    kinds: dict[str, None] = {}  # in the order said, so that sums and reasons are the same in every run
    for cue in scene.cues.within(first, last):
        if cue.last > first:
            kinds[cue.family] = None
            if cue.first <= head:
                kinds[cue.family + "@head"] = None
            if cue.last >= last - 1:
                kinds[cue.family + "@end"] = None
    features += [f"cue={kind}" for kind in kinds]
    stances = sorted(kind for kind in kinds if kind in STANCES)
    features += [f"cues={a}+{b}" for k, a in enumerate(stances) for b in stances[k + 1 :]]
    inside = [part for part in scene.parts.within(max(0, first - _LONGEST_NAME), last) if part.last > first]
    if inside:
        features.append("part=other" if inside[0].how == OTHER else "part")
        if inside[0].first <= head + 1:
            features.append("part@head")
        if inside[-1].last >= last - 1:
            features.append("part@end")
        if "past@end" in features and inside[0].first <= head + 1:
            features.append("part..past")
        if inside[0].first <= head + 1 and inside[0].last < last:
            features.append(f"part>{toks[inside[0].last].low}")
    elif head_word in _PRONOUNS:
        features.append("pronoun")
    for finding in seen.findings:
        features += [f"finding={finding.word}", "finding"]
        if finding.negated:
            features.append("finding-")
    features.append(f"figures={min(seen.figures, 2)}")
    features.append(f"hs={_stem(head_word)}")
    beside(features, scene, number)
    if scene.places.within(first, last):
        features.append("placed")
    features.append(f"sent={place_in_sentence(scene, number)}")
    features += class_features(seen.run)
    standing(features, scene, number, seen.run)
    listed(features, scene, number, seen.run)
    features.append(f"later={min(len(scene.figures) - scene.figures.count_before(last), 2)}")
    if inside:
        said_before(features, scene, inside[0], first)
    return features


@lru_cache(_KEPT)
def _of_word(word: str) -> tuple[str, ...]:
    """The features of a word by itself, kept because making them anew costs more than all else."""
    stem = _stem(word)
    own = (f"w={word}", f"s={stem}") if len(stem) > _SHORT else (f"w={word}",)
    return own + group_features(word)


@lru_cache(_KEPT)
def _stem(word: str) -> str:
    """The word without its ending: "fitted", "fitting" and "fits" are one.

    >>> _stem("fitted"), _stem("leaking"), _stem("tired")
    ('fit', 'leak', 'tir')
    """
    for ending in ("ing", "ed", "es", "s", "ly", "y", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word[: -len(ending)]
            break
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "aeiouls":
        word = word[:-1]
    return word


def _shape(features: list[str], word: str, where: str) -> None:
    """The ending of a word that no list knows: "regapped", "sleeved" are deeds all the same."""
    if len(word) > 4 and word.endswith("ed"):
        features.append(f"{where}:-ed")
    elif len(word) > 4 and word.endswith("ing"):
        features.append(f"{where}:-ing")


def _verbs(
    features: list[str],
    toks: Sequence[Tok],
    head: int,
    head_word: str,
    first: int,
    last: int,
    past: frozenset[str],
    base: frozenset[str],
    steps: frozenset[str],
) -> None:
    _shape(features, head_word, "head")
    if last - first > 1:
        end = last - 1 if toks[last - 1].kind != SIGN else last - 2
        _shape(features, toks[end].low, "end")
    if head_word in past:
        features.append("head:past")
    if head_word in base:
        features.append("head:deed")
    if head_word in steps:
        features.append("head:step")
    for i in range(first, last):
        low = toks[i].low
        if low in past and i != head:
            features.append("past")
            if i == last - 1 or (i == last - 2 and toks[last - 1].kind == SIGN):
                features.append("past@end")
            if i > first and toks[i - 1].low in {"i", "i've", "we", "we've"}:
                features.append("I:past")
            if i > first and toks[i - 1].low in _AUX:
                features.append("aux:past")
        elif (low in base or low in steps) and i != head:
            features.append("verb")


def word_features(scene: Scene, number: int) -> list[str]:
    """The features by which a statement that is a finding gets its finding's word."""
    piece, seen = scene.layout.pieces[number], look(scene, number)
    lows = seen.lows
    features = [f"b={a}_{b}" for a, b in pairwise(["<", *lows, ">"])]
    for word in dict.fromkeys(lows):
        features += _of_word(word)
    for finding in seen.findings:
        features += [f"f={finding.word}", f"p={finding.phrase}"]
        if finding.negated:
            features.append(f"not {finding.word}")
    features += [f"c2={a}_{b}" for a, b in dict.fromkeys(pairwise(["<", *seen.run, ">"]))]
    part = seen.parts[0] if seen.parts else None
    if part is None:
        part = scene.parts.before(piece.first)
    if part is not None:
        features += [f"of={part.id}", f"noun={part.name.rpartition(' ')[2]}"]
    return features


def label_pieces(scene: Scene) -> list[Choice]:
    """For each piece of the note, what it is there for, in order: each choice looks at the one before."""
    numbers = range(len(scene.layout.pieces))
    run = scorer("remarks").best_run(
        [piece_features(scene, number, "") for number in numbers], "before=", held=_questions(scene), quiet=NONE
    )
    told_by_place(scene, run)
    return run


_WONDERING = frozenset("why what what's where where's which who who's how when".split())
_ASKING = frozenset(
    "why what what's where where's which who who's how when is isn't are aren't was wasn't were does doesn't do did didn't "
    "can could should would will has have had am".split()
)


def _questions(scene: Scene) -> dict[int, str]:
    """One question for each sentence with a question mark: from the first piece that opens like one, else the last."""
    held: dict[int, str] = {}
    pieces = scene.layout.pieces

    def opens_like_one(number: int) -> bool:
        return scene.toks[head_of(scene.toks, pieces[number])].low in _ASKING

    by_sentence: dict[int, list[int]] = {}
    for number, piece in enumerate(scene.layout.pieces):
        if piece.asked:
            by_sentence.setdefault(piece.sentence, []).append(number)
    for numbers in by_sentence.values():
        opening = [n for n in numbers if opens_like_one(n)]
        wondering = [n for n in opening if scene.toks[head_of(scene.toks, pieces[n])].low in _WONDERING]
        chosen = (wondering or opening or numbers[-1:])[0]
        held[chosen] = "question"
        for n in numbers:
            if n > chosen:
                held[n] = NONE
    for cue in scene.cues:
        if cue.family == "puzzled":
            number = scene.layout.piece_of[cue.first]
            piece = scene.layout.pieces[number]
            if (
                not piece.asked
                and piece.last - piece.first >= _WHOLE
                and cue.first in {piece.first, head_of(scene.toks, piece)}
            ):
                held[number] = "question"
                if number and pieces[number - 1].sentence == piece.sentence and opens_like_one(number - 1):
                    held[number - 1] = NONE  # "what melted it, that's what I'd like to know"
    return held


_LONGEST_NAME = 8  # words of a part's name


_WHOLE = 4  # words that a question without its mark has at least
