"""What a statement is by its place, where the trained scorer goes wrong: a complaint at the head of a note, a part's bare name
after the measurements, a guess.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from .parts import OTHER
from .scene import GOOD, Scene, look
from .words import SIGN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .clauses import Piece
    from .findings import Finding
    from .scorer import Choice

NONE, FINDING = "none", "finding"


def told_by_place(scene: Scene, run: list[Choice]) -> None:
    """Set right, in place, what the scorer made of each statement of a note."""
    _complaints(scene, run)
    _verdicts(scene, run)
    _guesses(scene, run)
    _nothing_to_do(scene, run)


def _nothing_to_do(scene: Scene, run: list[Choice]) -> None:
    """ "order nothing yet", "buy no parts for now" are no steps, "what a day" asks nothing."""
    for number, choice in enumerate(run):
        if choice.label == "question" and look(scene, number).lows[:2] in (["what", "a"], ["what", "an"]):
            run[number] = replace(choice, label=NONE)
        if choice.label == "todo":
            after, last = look(scene, number).head + 1, scene.layout.pieces[number].last
            if after < last and (
                scene.toks[after].low == "nothing"
                or (scene.toks[after].low == "no" and not scene.places.within(after, after + 1))  # "redo no 2"
            ):
                run[number] = replace(choice, label=NONE)


_BEHAVES = frozenset(["does_not_work", "weak", "unsteady", "faulty", "loose"])
_DAY = 3  # sentences of a note that opens with a complaint


def _complaints(scene: Scene, run: list[Choice]) -> None:
    """What a note opens with, and what is joined to a complaint, is the complaint too and no finding: "cranks but no spark",
    "turns over slow and clicks"; not "tyres worn", "no spark on 2", or a dead fan under a heading.
    """
    pieces = scene.layout.pieces
    opening = len(scene.layout.sentences) >= _DAY
    for number, choice in enumerate(run):
        piece, seen = pieces[number], look(scene, number)
        if choice.label in {"action", "todo"} or seen.figures:
            opening = False
        if choice.label != FINDING or seen.figures:
            continue
        words = {found.word for found in seen.findings}
        phrases = [found.phrase for found in seen.findings]
        if not words:
            continue
        after = number > 0 and run[number - 1].label == "symptom"
        joined = (
            after and piece.opened in {"and", "but"} and not seen.parts and (words == {"works"} or not words & GOOD)
        )
        first = opening and piece.sentence == 0 and words <= _BEHAVES and not _placed(scene, piece)
        if first and any(phrase.startswith(_TRIED) for phrase in phrases):
            first = piece.opened in {"and", "but"}  # "cranks but no spark" is told, "no spark at all" may be tried for
        hunts = words <= _BEHAVES and not seen.parts and any(_hunts(phrase) for phrase in phrases)
        if joined or first or hunts:
            run[number] = replace(choice, label="symptom")


_TRIED = "no spark"


def _placed(scene: Scene, piece: Piece) -> bool:
    return any(place.kind != "all" for place in scene.places.within(piece.first, piece.last))


def _hunts(phrase: str) -> bool:
    return not _ENGINE_ILLS.isdisjoint(phrase.split())


_ENGINE_ILLS = frozenset(
    "hunts hunting hunted surges surging surged stalls stalling stalled misfires misfiring".split()
)
_GUESSED = frozenset("maybe perhaps possibly probably presumably".split())


def _guesses(scene: Scene, run: list[Choice]) -> None:
    """What is only guessed is suspected, not found: "maybe the flaps don't open"; what a meter shows without a number is
    found: "no 3 injector: OL".
    """
    for number, choice in enumerate(run):
        piece, seen = scene.layout.pieces[number], look(scene, number)
        if choice.label == NONE and seen.parts and _short_by(scene, piece, seen.findings):
            run[number] = replace(choice, label=FINDING, probability=1.0 - choice.probability)
        if not seen.findings or seen.figures:
            continue
        first, last = seen.findings[0].first, seen.findings[-1].last
        if choice.label == FINDING and scene.toks[seen.head].low in _GUESSED:
            run[number] = replace(choice, label="suspect")
        elif (
            choice.label == NONE
            and seen.findings[0].word == "open_circuit"
            and all(tok.kind == SIGN for tok in (*scene.toks[piece.first : first], *scene.toks[last : piece.last]))
        ):
            run[number] = replace(choice, label=FINDING, probability=1.0 - choice.probability)


def _short_by(scene: Scene, piece: Piece, findings: Sequence[Finding]) -> bool:
    """ "gearbox oil is 1.9 litres low": how much is missing."""
    ends = {last for _, last in scene.figures.within(piece.first, piece.last)}
    return any(found.first in ends and found.phrase in {"low", "short"} for found in findings)


_NAMES = frozenset(["PART", "OTHER", "THE", "AND", "HOW", "THING", "#"])
_NO_VERDICT = frozenset(
    "off out on now too again first next back tag number plate code "
    "pads shoes plugs discs tyres tires wipers bulbs oil fluid gaskets filters".split()  # named alone these are to be bought
)
_OPENERS_OF_STEPS = frozenset(["then", "now", "next"])
_MOST_NAMED = 2  # statements of a verdict: more are a list of what to buy


def _verdicts(scene: Scene, run: list[Choice]) -> None:
    """A sentence after the measurements that only names one part or two is whose fault it is: "Coolant sensor.", "So pump and
    cap."; not one after a step, "Then gas test.", "Drums, fluid, bearing.".
    """
    pieces = scene.layout.pieces
    first = 0
    while first < len(pieces):
        last = first + 1
        while last < len(pieces) and pieces[last].sentence == pieces[first].sentence:
            last += 1
        if first > 0 and last - first <= _MOST_NAMED and _only_named(scene, run, first, last):
            for number in range(first, last):
                if look(scene, number).parts:
                    run[number] = replace(run[number], label="suspect")
        first = last


def _only_named(scene: Scene, run: list[Choice], first: int, last: int) -> bool:
    """Whether statements `first` to `last`, a sentence, name parts and say no more, after something was measured."""
    start, stop = scene.layout.pieces[first].first, scene.layout.pieces[last - 1].last
    if (
        any(choice.label not in {NONE, FINDING, "todo", "suspect"} for choice in run[first:last])
        or run[first - 1].label == "todo"
    ):
        return False
    if not scene.figures.count_before(start) or scene.figures.within(start, stop):
        return False
    if scene.toks[start].low in _OPENERS_OF_STEPS or not _NO_VERDICT.isdisjoint(
        tok.low for tok in scene.toks[start:stop]
    ):
        return False
    return all(_NAMES.issuperset(look(scene, number).run) for number in range(first, last)) and any(
        part.how != OTHER for part in scene.parts.within(start, stop)
    )
