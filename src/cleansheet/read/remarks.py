"""What a statement is there for: symptom, action, suspect, cleared, question, next step, a finding, or none of these.

Each piece of the note is described by what the rules found in it (cues, parts, findings, figures, verbs at its head, the
words themselves, its place in the note); the trained scorer weighs these. Codes read off a part are for `markings`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

from .cues import Cue, cue_book
from .parts import OTHER, Part
from .scorer import Choice, scorer
from .wordclass import class_features, classes
from .words import NUM, SIGN, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .clauses import Layout, Piece
    from .findings import Finding
    from .places import Place
    from .row import Row

NONE = "none"
REMARKS = ("symptom", "action", "suspect", "cleared", "question", "todo")
FINDING = "finding"
LABELS = (NONE, *REMARKS, FINDING)
_FILLERS = frozenset(
    "so then now and but okay ok right well just also i we i've we've um er erm uh oh yeah still again anyway because "
    "plus or - – , . : ( then; alright though mind you".split()
)
GOOD = frozenset({"ok", "dry", "works", "strong", "steady"})
_PRONOUNS = frozenset(
    ["it", "it's", "that", "that's", "they", "this", "them", "he", "she", "those", "these", "there", "there's"]
)
_AUX = frozenset(
    ["is", "are", "was", "were", "be", "been", "being", "has", "have", "had", "isn't", "aren't", "wasn't", "'s"]
)


@dataclass(frozen=True, slots=True)
class Scene:
    """All that is known of a note when its clauses are weighed."""

    toks: Sequence[Tok]
    layout: Layout
    parts: Row[Part]
    findings: Row[Finding]
    places: Row[Place]
    cues: Row[Cue]
    figures: Row[tuple[int, int]]
    looks: dict[int, Look] = field(default_factory=dict, compare=False)  # by the number of the piece


@dataclass(frozen=True, slots=True)
class Look:
    """What a statement looks like: its run of word classes, and what the statements beside it see of it."""

    run: list[str]
    from_beside: list[str]


def head_of(toks: Sequence[Tok], piece: Piece) -> int:
    """The first word of a piece that is not a filler ("so then I just replaced" -> "replaced")."""
    i = piece.first
    while i < piece.last - 1 and (toks[i].low in _FILLERS or (toks[i].kind == SIGN)):
        i += 1
    return i


def piece_features(scene: Scene, number: int, before: str) -> list[str]:
    """The features of piece `number`; `before` is the label of the piece before it, "" where that is still open."""
    toks, piece = scene.toks, scene.layout.pieces[number]
    book = cue_book()
    first, last = piece.first, piece.last
    lows = _normal(scene, first, last)
    head = head_of(toks, piece)
    head_word = toks[head].low
    after_head = toks[head + 1].low if head + 1 < last else ""
    total = len(scene.layout.sentences)
    features = [
        f"open={piece.opened}",
        *([f"before={before}"] if before else []),
        f"len={min(len(lows), 9)}",
        f"head={head_word}",
    ]
    features += [f"w={word}" for word in dict.fromkeys(lows)]
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
    stances = sorted(kind for kind in kinds if kind in _STANCES)
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
    for finding in scene.findings.within(first, last):
        features += [f"finding={finding.word}", "finding"]
        if finding.negated:
            features.append("finding-")
    figures = _figures_in(scene, piece)
    features.append(f"figures={min(figures, 2)}")
    features += [f"s={_stem(word)}" for word in dict.fromkeys(lows)]
    features.append(f"hs={_stem(head_word)}")
    _beside(features, scene, number)
    if scene.places.within(first, last):
        features.append("placed")
    features.append(f"sent={_earlier_in_sentence(scene, number)}")
    run = _look(scene, number).run
    features += class_features(run)
    _standing(features, scene, number, run)
    _listed(features, scene, number, run)
    features.append(f"later={min(len(scene.figures) - scene.figures.count_before(last), 2)}")
    if inside:
        _said_before(features, scene, inside[0], first)
    return features


_SAYS_LITTLE = frozenset(["x", "#", "THE", "AND"])


def _look(scene: Scene, number: int) -> Look:
    look = scene.looks.get(number)
    if look is None:
        look = scene.looks[number] = _looked(scene, scene.layout.pieces[number])
    return look


def _looked(scene: Scene, piece: Piece) -> Look:
    run = classes(scene.toks, piece.first, piece.last, _named(scene, piece.first, piece.last))
    head = scene.toks[head_of(scene.toks, piece)].low
    shown = [f"figures={min(_figures_in(scene, piece), 2)}", f"head={head}"]
    if scene.findings.within(piece.first, piece.last):
        shown.append("finding")
    if head in cue_book().past:
        shown.append("past")
    shown += [f"c={one}" for one in dict.fromkeys(run) if one not in _SAYS_LITTLE]
    return Look(run, shown)


_NAMES = frozenset(
    ["PART", "OTHER", "THE", "AND", "HOW", "NEW", "THING"]
)  # classes of a statement that only names things


_STANCES = frozenset(
    {"hearsay", "hypothesis", "question", "blames", "suspect", "acquits", "cleared", "symptom", "todo"}
)
_TELLING = frozenset({"ILL", "GO", "BAD", "CONDEMN", "GOOD", "DIRT", "FLAW", "CURED", "BLAME", "NOT", "NEED", "NEW"})
_VERBS = frozenset(
    [
        "BE",
        "HAVE",
        "DO",
        "NEED",
        "PAST",
        "DEED",
        "STEP",
        "I",
        "IT",
        "-ed",
        "-ing",
        "GO",
        "ILL",
        "BUY",
        "#",
        "WHAT",
        "CURED",
    ]
)  # a statement without one of these has no verb, and no number: "sender", "a bent arm", "blocked pickup"


def _standing(features: list[str], scene: Scene, number: int, run: Sequence[str]) -> None:
    """How a statement stands in the talk: what it tells at which place, a bare name or verdict after what, and a verdict on a
    part that was measured before.
    """
    pieces, piece = scene.layout.pieces, scene.layout.pieces[number]
    following = pieces[number + 1] if number + 1 < len(pieces) else None
    closed = following.opened if following is not None and following.sentence == piece.sentence else "."
    features.append(f"closed={closed}")
    total = len(scene.layout.sentences)
    place = (
        "0" if piece.sentence == 0 else "1" if piece.sentence == 1 else "last" if piece.sentence >= total - 1 else "mid"
    )
    measured = scene.figures.count_before(piece.first) > 0
    if "finding" in features:
        features += [f"finding@{place}", "finding:measured" if measured else "finding:unmeasured"]
        features += [f"finding+{name[4:]}" for name in features if name[:4] == "cue=" and name[4:] in _STANCES]
    felt = cue_book().felt
    if any(
        tok.low in felt or (tok.low[-2:] == "'s" and tok.low[:-2] in felt)
        for tok in scene.toks[piece.first : piece.last]
    ):
        features += ["felt", f"felt@{place}", "felt:measured" if measured else "felt:unmeasured"]
        features += [f"felt:{name}" for name in dict.fromkeys(run) if name in _TELLING]
        if "finding" in features:
            features += ["felt+finding", f"felt+finding@{place}"]
    for name in dict.fromkeys(run):
        if name in _TELLING:
            features += [f"{place}:{name}", f"measured:{name}" if measured else f"unmeasured:{name}"]
    if not run:
        return
    if _NAMES.issuperset(run):
        kind = "names"
    elif _VERBS.isdisjoint(run) and not any(scene.toks[i].low[-2:] == "'s" for i in range(piece.first, piece.last)):
        kind = "verbless"
    else:
        kind = ""
    if kind:
        features += [f"{kind}:{place}", f"{kind}:{piece.opened}..{closed}", f"{kind}:{closed}"]
        features += [f"{kind}:after={one}" for one in _stances_before(scene, number)]
        if measured:
            features.append(f"{kind}:measured")
    verdict = (
        "good"
        if "GOOD" in run
        else "condemned"
        if "CONDEMN" in run
        else "bad"
        if not {"BAD", "FLAW", "DIRT"}.isdisjoint(run)
        else ""
    )
    if verdict:
        features += [f"{verdict}:{one}" for one in _seen_before(scene, number)]
        features += [f"{verdict}:{piece.opened}", f"{verdict}:{closed}"]


def _stances_before(scene: Scene, number: int) -> list[str]:
    """The cues of a stance in what was said just before, back to the start of the sentence before."""
    pieces = scene.layout.pieces
    first = number - 1
    while first > 0 and pieces[first - 1].sentence >= pieces[number].sentence - 1:
        first -= 1
    if first < 0:
        return ["nothing"]
    cues = scene.cues.within(pieces[first].first, pieces[number].first)
    return list(dict.fromkeys(cue.family for cue in cues if cue.family in _STANCES)) or ["none"]


_LOOKED_BACK = 10  # statements


def _seen_before(scene: Scene, number: int) -> list[str]:
    """Whether the part of a verdict was named or measured before: "sensor's fine" after "crank sensor reads 720 ohms"."""
    pieces, piece = scene.layout.pieces, scene.layout.pieces[number]
    part = next(iter(scene.parts.within(piece.first, piece.last)), None)
    if _figures_in(scene, piece):
        return ["figures"]
    k = number - 1
    if part is None:
        while k >= 0 and pieces[k].sentence == piece.sentence and not _figures_in(scene, pieces[k]):
            k -= 1
        return ["nameless:#" if k >= 0 and _figures_in(scene, pieces[k]) else "nameless"]
    noun = part.name.rpartition(" ")[2]
    out = "unseen"
    while k >= max(0, number - _LOOKED_BACK):
        for one in scene.parts.within(pieces[k].first, pieces[k].last):
            if (part.id and one.id == part.id) or one.name.rpartition(" ")[2] == noun:
                if _figures_in(scene, pieces[k]):
                    return ["seen", "measured"]
                out = "seen"
        k -= 1
    return [out]


def _listed(features: list[str], scene: Scene, number: int, run: Sequence[str]) -> None:
    """What a list's other statements say, for one that only names a thing: "fitted belt, tensioner and pump"."""
    if not run or not _NAMES.issuperset(run):
        return
    pieces = scene.layout.pieces
    sentence = pieces[number].sentence
    for name, step in (("lead", -1), ("tail", 1)):
        k = number + step
        while 0 <= k < len(pieces) and pieces[k].sentence == sentence:
            other = _look(scene, k).run
            if not _NAMES.issuperset(other):
                head = scene.toks[head_of(scene.toks, pieces[k])].low
                features += [f"{name}={other[0 if step < 0 else -1]}", f"{name}:h={head}"]
                features += [f"{name}:c={one}" for one in dict.fromkeys(other)]
                break
            k += step
        else:
            features.append(f"{name}=none")


_BACK = 12  # findings back to which one upon the same part counts


def _said_before(features: list[str], scene: Scene, part: Part, first: int) -> None:
    """What was found before on the part that a statement names: "wire is good" after "wire's broken"."""
    at = scene.findings.count_before(first)
    for k in range(at - 1, max(-1, at - _BACK), -1):
        one = scene.findings[k]
        piece = scene.layout.pieces[scene.layout.piece_of[one.first]]
        if any(p.id == part.id and (p.id or p.name == part.name) for p in scene.parts.within(piece.first, piece.last)):
            features.append("said:good" if one.word in GOOD else "said:bad")
            return


def _named(scene: Scene, first: int, last: int) -> dict[int, tuple[int, str]]:
    """(word after it, class) of each part, number and finding of a stretch, by first word; a part goes before all."""
    named = {one.first: (min(one.last, last), "GOOD" if one.word in GOOD else "BAD")
             for one in scene.findings.within(first, last)}  # fmt: skip
    named.update({start: (stop, "#") for start, stop in scene.figures.within(first, last)})
    named.update({part.first: (min(part.last, last), "OTHER" if part.how == OTHER else "PART")
                  for part in scene.parts.within(first, last)})  # fmt: skip
    return named


def _normal(scene: Scene, first: int, last: int) -> list[str]:
    """The words of a piece with every part as PART (OTHER outside the catalogue) and every figure as #."""
    out: list[str] = []
    parts = {part.first: part for part in scene.parts.within(first, last)}
    figures = dict(scene.figures.within(first, last))
    i = first
    while i < last:
        part = parts.get(i)
        if part is not None:
            out.append("OTHER" if part.how == OTHER else "PART")
            i = min(part.last, last)
        elif i in figures:
            out.append("#")
            i = figures[i]
        else:
            tok = scene.toks[i]
            if tok.kind == NUM:
                out.append("#")
            elif tok.kind != SIGN or tok.low == "?":
                out.append(tok.low)
            i += 1
    return out


def _figures_in(scene: Scene, piece: Piece) -> int:
    return len(scene.figures.within(piece.first, piece.last))


@cache
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


def _beside(features: list[str], scene: Scene, number: int) -> None:
    """What the statements before and after are like."""
    pieces = scene.layout.pieces
    for name, other in (("prev", number - 1), ("next", number + 1)):
        if not 0 <= other < len(pieces):
            features.append(f"{name}:none")
            continue
        where = f"{name}:same" if pieces[other].sentence == pieces[number].sentence else f"{name}:other"
        features.append(where)
        features += [f"{where}:{one}" for one in _look(scene, other).from_beside]


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


def _earlier_in_sentence(scene: Scene, number: int) -> str:
    piece = scene.layout.pieces[number]
    if number == 0 or scene.layout.pieces[number - 1].sentence != piece.sentence:
        return "first"
    following = number + 1 < len(scene.layout.pieces) and scene.layout.pieces[number + 1].sentence == piece.sentence
    return "mid" if following else "last"


def word_features(scene: Scene, number: int) -> list[str]:
    """The features by which a statement that is a finding gets its finding's word."""
    piece = scene.layout.pieces[number]
    lows = _normal(scene, piece.first, piece.last)
    features = [f"w={word}" for word in dict.fromkeys(lows)] + [f"b={a}_{b}" for a, b in pairwise(["<", *lows, ">"])]
    for finding in scene.findings.within(piece.first, piece.last):
        features += [f"f={finding.word}", f"p={finding.phrase}"]
        if finding.negated:
            features.append(f"not {finding.word}")
    features += [f"s={_stem(word)}" for word in dict.fromkeys(lows)]
    run = _look(scene, number).run
    features += [f"c2={a}_{b}" for a, b in dict.fromkeys(pairwise(["<", *run, ">"]))]
    part = next(iter(scene.parts.within(piece.first, piece.last)), None)
    if part is None:
        part = scene.parts.before(piece.first)
    if part is not None:
        features += [f"of={part.id}", f"noun={part.name.rpartition(' ')[2]}"]
    return features


def label_pieces(scene: Scene) -> list[Choice]:
    """For each piece of the note, what it is there for, in order: each choice looks at the one before."""
    numbers = range(len(scene.layout.pieces))
    return scorer("remarks").best_run(
        [piece_features(scene, number, "") for number in numbers], "before=", held=_questions(scene), quiet=NONE
    )


_ASKING = frozenset(
    "why what what's where where's which who who's how when is isn't are aren't was wasn't were does doesn't do did didn't "
    "can could should would will has have had am".split()
)


def _questions(scene: Scene) -> dict[int, str]:
    """One question for each sentence with a question mark: from the first piece that opens like one, else the last."""
    held: dict[int, str] = {}
    by_sentence: dict[int, list[int]] = {}
    for number, piece in enumerate(scene.layout.pieces):
        if piece.asked:
            by_sentence.setdefault(piece.sentence, []).append(number)
    for numbers in by_sentence.values():
        opening = [n for n in numbers if scene.toks[head_of(scene.toks, scene.layout.pieces[n])].low in _ASKING]
        chosen = (opening or numbers[-1:])[0]
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
    return held


_LONGEST_NAME = 8  # words of a part's name
_WHOLE = 4  # words that a question without its mark has at least
