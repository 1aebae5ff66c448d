"""Readings that the scorer passes over and the numbers around them prove: what a limit was said for, one of a pair, what
a thing was left at.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cleansheet.units import to_base

from .role_rules import EXPECTED, NEITHER, READING, alike, in_workshop, kind_of
from .scorer import Choice

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from .places import Place
    from .quantities import Figure
    from .scene import Scene

_MEASURED = frozenset(
    {"length", "pressure", "resistance", "voltage", "current", "angle", "torque", "ratio", "volume-flow"}
)
_TO_LIMIT = 7  # words from a reading to its limit
_LIMITED, _PAIRED, _RESET = 20.0, 1.5, 20.0  # how far apart the two may lie, as a factor
_ANDS = frozenset({"and", "&", "/"})
_SURE = 0.97  # what the scorer is as sure of stays
_BACK = 4  # figures back to what a thing measured before


def also_readings(
    scene: Scene, figures: Sequence[Figure], roles: list[Choice], held: Mapping[int, str], places: Sequence[Place]
) -> list[Choice]:
    """The roles, with numbers that are none so far made readings where what stands beside them leaves no other choice."""
    for k in range(len(figures)):
        if roles[k].label == EXPECTED and k not in held and _against_the_book(scene, figures, roles, k):
            roles[k] = Choice(READING, 0.6, {READING: 0.6}, ("what it has, against the book",))
        if roles[k].label == READING and k not in held and _second_limit(scene, figures, roles, k):
            roles[k] = Choice(EXPECTED, 0.6, {EXPECTED: 0.6}, ("the second of two limits",))
        if roles[k].label != NEITHER or k in held or roles[k].probability > _SURE:
            continue
        if _has_limit(scene, figures, roles, k):
            reason = "a limit is said of it"
        elif _of_a_pair(scene, figures, roles, k):
            reason = "one of two, and the other is a reading"
        elif _on_all(scene, figures, roles, k, places):
            reason = "told of each of them"
        elif _held_up(scene, figures, k):
            reason = "it held"
        elif _in_two_units(scene, figures, k):
            reason = "said in two units"
        else:
            continue
        roles[k] = Choice(READING, 0.6, {READING: 0.6}, (reason,))
    return roles


def _has_limit(scene: Scene, figures: Sequence[Figure], roles: Sequence[Choice], k: int) -> bool:
    """ "45 thou in the groove, max 20": a limit right after a number that has a unit, and no other reading for it."""
    if k + 1 >= len(figures) or roles[k + 1].label != EXPECTED:
        return False
    one, two = figures[k], figures[k + 1]
    sentence_of = scene.layout.sentence_of
    if one.same_as_previous or (k and roles[k - 1].label == READING and figures[k - 1].last + 1 == one.first):
        return False  # "0.7 bar / 10 psi, spec 1.1 to 1.3"
    if two.first - one.last > _TO_LIMIT or sentence_of[one.first] != sentence_of[two.first]:
        return False
    before = scene.toks[one.first - 1].low if one.first else ""
    kinds = {kind_of(in_workshop(two)), kind_of(in_workshop(one))}
    same = kind_of(in_workshop(one)) in _MEASURED and (len(kinds) == 1 or "none" in kinds)
    return same and before not in {"at", "@", "to"} and alike(one, two, _LIMITED)


def _of_a_pair(scene: Scene, figures: Sequence[Figure], roles: Sequence[Choice], k: int) -> bool:
    """ "ninety four degrees and ninety two": of two alike that "and" joins, one is a reading and one has the unit."""
    for a, b in ((k, k + 1), (k - 1, k)):
        if a < 0 or b >= len(figures) or roles[b if a == k else a].label != READING:
            continue
        one, two = figures[a], figures[b]
        gap = [tok.low for tok in scene.toks[one.last : two.first]]
        units = {in_workshop(one).unit, in_workshop(two).unit} - {None}
        if len(gap) == 1 and gap[0] in _ANDS and len(units) == 1 and alike(one, two, _PAIRED):
            return True
    return False


def _on_all(scene: Scene, figures: Sequence[Figure], roles: Sequence[Choice], k: int, places: Sequence[Place]) -> bool:
    """ "bent the tangs, and that's 24 on the pair of them": a number told of all, close to what one of them was."""
    figure = figures[k]
    after = [place for place in places if figure.last <= place.first <= figure.last + 1 and place.kind == "all"]
    if not after or (after[0].first > figure.last and scene.toks[figure.last].low not in {"on", "in", "at"}):
        return False
    return any(roles[j].label == READING and alike(figures[j], figure, _PAIRED) for j in range(max(0, k - _BACK), k))


_BEFORE_LIMITS = 12  # words from the limits back to the two readings


def _second_limit(scene: Scene, figures: Sequence[Figure], roles: Sequence[Choice], k: int) -> bool:
    """ "tyres front 28, rear 30, placard 32 and 36 psi": as many limits as readings, "and" between them."""
    if k < 3 or roles[k - 1].label != EXPECTED or roles[k - 2].label != READING or roles[k - 3].label != READING:
        return False
    one, two, last = figures[k - 1], figures[k], figures[k - 2]
    gap = [tok.low for tok in scene.toks[one.last : two.first]]
    sentence_of = scene.layout.sentence_of
    here = sentence_of[two.first] == sentence_of[last.first] and one.first - last.last <= _BEFORE_LIMITS
    if gap not in (["and"], ["&"], ["/"]) or not here or one.quantity.is_range != two.quantity.is_range:
        return False
    kinds = {kind_of(in_workshop(figures[j])) for j in (k - 3, k - 2, k - 1, k)} - {"none"}
    return len(kinds) <= 1 and one.quantity.comparator == two.quantity.comparator == "="


_HAS = frozenset("have has had got measured measure measures found reads read mine ours these".split())
_UNSURE = 0.8


def _against_the_book(scene: Scene, figures: Sequence[Figure], roles: Sequence[Choice], k: int) -> bool:
    """ "sticker says 1.1 mm, plugs have 0.85": after what is written, what there is."""
    if not k or roles[k - 1].label != EXPECTED or roles[k].probability > _UNSURE:
        return False
    one, two = figures[k - 1], figures[k]
    gap = [tok.low for tok in scene.toks[one.last : two.first]]
    here = scene.layout.sentence_of[one.first] == scene.layout.sentence_of[two.first]
    return (
        here and alike(one, two, _LIMITED) and len(gap) > 1 and gap[0] in {",", ";", "but", "and"} and gap[-1] in _HAS
    )


_HOLDS = frozenset({"held", "holding", "holds", "steady"})


def _held_up(scene: Scene, figures: Sequence[Figure], k: int) -> bool:
    """ "pressure test 1.0 bar held 15 min": a pressure, and for how long it stayed."""
    figure = figures[k]
    if kind_of(in_workshop(figure)) != "pressure" or k + 1 >= len(figures) or figure.last >= len(scene.toks):
        return False
    following = figures[k + 1]
    waited = kind_of(following.quantity) == "time" and following.first - figure.last <= 3
    before = scene.toks[figure.first - 1].low if figure.first else ""
    return waited and scene.toks[figure.last].low in _HOLDS and before not in {"to", "at", "@"}


def _in_two_units(scene: Scene, figures: Sequence[Figure], k: int) -> bool:
    """ "down to 11 psi / 0.76 bar after 5 min": what is said in two units was read."""
    if k + 1 >= len(figures) or figures[k].quantity.unit is None:
        return False
    one, two = figures[k], figures[k + 1]
    if two.first - one.last != 1 or scene.toks[one.last].low != "/" or two.quantity.unit in {None, one.quantity.unit}:
        return False
    a, b = one.quantity, two.quantity
    if kind_of(a) != kind_of(b) or kind_of(a) not in _MEASURED or a.value is None or b.value is None:
        return False
    values = [to_base(q.value, q.unit)[0] for q in (a, b) if q.value is not None and q.unit is not None]
    return abs(values[0] - values[1]) <= _ROUNDED * max(abs(value) for value in values)


_ROUNDED = 0.03
_DEEDS = frozenset(
    "took set reset opened closed adjusted backed let moved pulled brought gapped regapped slackened tightened".split()
)
_DEED_IN = 8  # words from the deed to its number
_LATER = frozenset("tomorrow later next when once before if then should must needs need want".split())
_PUMPS = frozenset("pump vacuum gauge tester".split())


def left_at(scene: Scene, figures: Sequence[Figure], k: int, held: Mapping[int, str]) -> bool:
    """Whether a number is what a thing was left at by a deed: "free play 7 mm. Took that out to three"."""
    toks, figure = scene.toks, figures[k]
    if not figure.first or toks[figure.first - 1].low != "to" or figure.quantity.value is None:
        return False
    back = [tok.low for tok in toks[max(0, figure.first - _DEED_IN) : figure.first - 1]]
    at = next((i for i in range(len(back) - 1, -1, -1) if back[i] in _DEEDS), None)
    if at is None or not _PUMPS.isdisjoint(back[at:]) or not {".", ";", ",", "and"}.isdisjoint(back[at:]):
        return False
    if not _LATER.isdisjoint(back) or (figure.last < len(toks) and toks[figure.last].low in _LATER):
        return False
    layout = scene.layout
    for following in figures[k + 1 : k + 3]:
        here = layout.sentence_of[following.first] == layout.sentence_of[figure.first]
        if here and kind_of(following.quantity) == "time":
            return False  # "pulled to 20, after five minutes 14"
    for j in range(k - 1, max(-1, k - 1 - _BACK), -1):
        other = figures[j]
        if layout.sentence_of[figure.first] - layout.sentence_of[other.first] > 2:
            return False
        if held.get(j) == NEITHER:
            continue
        kinds = {kind_of(in_workshop(other)), kind_of(in_workshop(figure))}
        if kind_of(in_workshop(other)) in _MEASURED and (len(kinds) == 1 or "none" in kinds):
            return alike(figure, other, _RESET)
    return False
