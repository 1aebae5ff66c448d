"""How a statement stands in the talk: at which place of the note, after and before what, on a part spoken of before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .cues import cue_book
from .scene import GOOD, look

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .parts import Part
    from .scene import Scene

_NAMES = frozenset(
    ["PART", "OTHER", "THE", "AND", "HOW", "NEW", "THING"]
)  # classes of a statement that only names things
STANCES = frozenset({"hearsay", "hypothesis", "question", "blames", "suspect", "acquits", "cleared", "symptom", "todo"})
_TELLING = frozenset({"ILL", "GO", "BAD", "CONDEMN", "GOOD", "DIRT", "FLAW", "CURED", "BLAME", "NOT", "NEED", "NEW"})
# a statement without one of these has no verb, and no number: "sender", "a bent arm", "blocked pickup"
_VERBS = frozenset("BE HAVE DO NEED PAST DEED STEP I IT -ed -ing GO ILL BUY # WHAT CURED".split())


def standing(features: list[str], scene: Scene, number: int, run: Sequence[str]) -> None:
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
    found = bool(look(scene, number).findings)
    if found:
        features += [f"finding@{place}", "finding:measured" if measured else "finding:unmeasured"]
        features += [f"finding+{name[4:]}" for name in features if name[:4] == "cue=" and name[4:] in STANCES]
    felt = cue_book().felt
    said = [tok.low for tok in scene.toks[piece.first : piece.last]]
    if not felt.isdisjoint(said) or not felt.isdisjoint(word[:-2] for word in said if word[-2:] == "'s"):
        features += ["felt", f"felt@{place}", "felt:measured" if measured else "felt:unmeasured"]
        features += [f"felt:{name}" for name in dict.fromkeys(run) if name in _TELLING]
        if found:
            features += ["felt+finding", f"felt+finding@{place}"]
    for name in dict.fromkeys(run):
        if name in _TELLING:
            features += [f"{place}:{name}", f"measured:{name}" if measured else f"unmeasured:{name}"]
    if not run:
        return
    if _NAMES.issuperset(run):
        kind = "names"
    elif _VERBS.isdisjoint(run) and not any(word[-2:] == "'s" for word in said):
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
    return list(dict.fromkeys(cue.family for cue in cues if cue.family in STANCES)) or ["none"]


_LOOKED_BACK = 10  # statements


def _seen_before(scene: Scene, number: int) -> list[str]:
    """Whether the part of a verdict was named or measured before: "sensor's fine" after "crank sensor reads 720 ohms"."""
    pieces, piece = scene.layout.pieces, scene.layout.pieces[number]
    part = next(iter(scene.parts.within(piece.first, piece.last)), None)
    if look(scene, number).figures:
        return ["figures"]
    k = number - 1
    if part is None:
        while k >= 0 and pieces[k].sentence == piece.sentence and not look(scene, k).figures:
            k -= 1
        return ["nameless:#" if k >= 0 and look(scene, k).figures else "nameless"]
    noun = part.name.rpartition(" ")[2]
    out = "unseen"
    while k >= max(0, number - _LOOKED_BACK):
        for one in scene.parts.within(pieces[k].first, pieces[k].last):
            if (part.id and one.id == part.id) or one.name.rpartition(" ")[2] == noun:
                if look(scene, k).figures:
                    return ["seen", "measured"]
                out = "seen"
        k -= 1
    return [out]


def listed(features: list[str], scene: Scene, number: int, run: Sequence[str]) -> None:
    """What a list's other statements say, for one that only names a thing: "fitted belt, tensioner and pump"."""
    if not run or not _NAMES.issuperset(run):
        return
    pieces = scene.layout.pieces
    sentence = pieces[number].sentence
    for name, step in (("lead", -1), ("tail", 1)):
        k = number + step
        while 0 <= k < len(pieces) and pieces[k].sentence == sentence:
            other = look(scene, k).run
            if not _NAMES.issuperset(other):
                head = scene.toks[look(scene, k).head].low
                features += [f"{name}={other[0 if step < 0 else -1]}", f"{name}:h={head}"]
                features += [f"{name}:c={one}" for one in dict.fromkeys(other)]
                break
            k += step
        else:
            features.append(f"{name}=none")


_BACK = 12  # findings back to which one upon the same part counts


def said_before(features: list[str], scene: Scene, part: Part, first: int) -> None:
    """What was found before on the part that a statement names: "wire is good" after "wire's broken"."""
    at = scene.findings.count_before(first)
    for k in range(at - 1, max(-1, at - _BACK), -1):
        one = scene.findings[k]
        piece = scene.layout.pieces[scene.layout.piece_of[one.first]]
        if any(p.id == part.id and (p.id or p.name == part.name) for p in scene.parts.within(piece.first, piece.last)):
            features.append("said:good" if one.word in GOOD else "said:bad")
            return


def beside(features: list[str], scene: Scene, number: int) -> None:
    """What the statements before and after are like."""
    pieces = scene.layout.pieces
    for name, other in (("prev", number - 1), ("next", number + 1)):
        if not 0 <= other < len(pieces):
            features.append(f"{name}:none")
            continue
        where = f"{name}:same" if pieces[other].sentence == pieces[number].sentence else f"{name}:other"
        features.append(where)
        features += [f"{where}:{one}" for one in look(scene, other).from_beside]


def place_in_sentence(scene: Scene, number: int) -> str:
    piece = scene.layout.pieces[number]
    if number == 0 or scene.layout.pieces[number - 1].sentence != piece.sentence:
        return "first"
    following = number + 1 < len(scene.layout.pieces) and scene.layout.pieces[number + 1].sentence == piece.sentence
    return "mid" if following else "last"
