"""Roles of numbers that stand in a row: what most of a list are all are, what goes on alike is alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .role_beside import PARTED_BY
from .role_rules import NEITHER, READING, in_workshop, kind_of
from .scorer import Choice
from .words import WORD

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from .places import Place
    from .quantities import Figure
    from .row import Row
    from .scene import Scene
    from .testnames import TestName
    from .words import Tok


def one_place_apart(figures: Sequence[Figure], k: int, places: Sequence[Place]) -> bool:
    """Whether nothing but a place stands between figure `k` and the next."""
    last, first = figures[k].last, figures[k + 1].first
    return any(place.first == last and place.last == first for place in places)


def both_named(scene: Scene, figures: Sequence[Figure], k: int, names: Row[TestName]) -> bool:
    """Whether a number and the limit before it are each said with their test: "max is 0.5 CO and 200 HC"."""
    one, two = figures[k - 1], figures[k]
    gap = [tok.low for tok in scene.toks[one.last : two.first]]
    if not 1 < len(gap) <= _NAMES_APART or gap[-1] not in {"and", ",", "&"}:
        return False
    return all(bool(names.within(figure.last, figure.last + 3)) for figure in (one, two))


_NAMES_APART = 5


def in_step(
    scene: Scene, figures: Sequence[Figure], roles: list[Choice], held: Mapping[int, str], after_place: set[int]
) -> list[Choice]:
    """A number right behind its place goes with the reading before it, right behind its own: "OSF 4.5, NSR 1.9, OSR 2.0"."""
    toks, sentence_of = scene.toks, scene.layout.sentence_of
    for k in range(1, len(figures)):
        one, two = figures[k - 1], figures[k]
        if roles[k].label != NEITHER or roles[k - 1].label != READING or k in held or k - 1 in held:
            continue
        placed = any(i in after_place for i in range(max(0, one.first - _NAMED_BETWEEN), one.first + 1))
        behind = placed and two.first in after_place and two.first - one.last <= _STEP
        if not behind and not _alike_led_on(toks, one, two):
            continue
        if sentence_of[one.first] != sentence_of[two.first] or toks[two.first].line:
            continue
        if len({kind_of(in_workshop(one)), kind_of(in_workshop(two)), "none"}) < 3 and two.form == one.form:
            roles[k] = roles[k - 1]
    return roles


_WHERE = frozenset({"on", "to", "at", "across"})
_LED_ON = 7


def _alike_led_on(toks: Sequence[Tok], one: Figure, two: Figure) -> bool:
    """Whether two numbers go on alike: "30 mV to the body, 420 to the block", "6 mm on the rears, 3 on the fronts"."""
    if two.last >= len(toks) or not 2 < two.first - one.last <= _LED_ON or toks[two.first - 1].low not in {",", "and"}:
        return False
    return toks[one.last].low == toks[two.last].low and toks[two.last].low in _WHERE and toks[one.last].kind == WORD


_NAMED_BETWEEN = 4  # words between a place and its value: "cyl 4 leak-down 55 %"
_STEP = 4  # words between a value and the next one in step: ", on three"


def whole_lists(
    figures: Sequence[Figure], roles: list[Choice], listed: Mapping[int, int], held: Mapping[int, str]
) -> None:
    """A list by position of three values or more is one of readings: "no 1 11, no 2 14, no 3 11"."""
    members: dict[int, list[int]] = {}
    for k, figure in enumerate(figures):
        if figure.first in listed:
            members.setdefault(listed[figure.first], []).append(k)
    for run in members.values():
        if len(run) >= _A_LIST and all(roles[k].label == NEITHER and k not in held for k in run):
            for k in run:
                roles[k] = Choice(READING, 0.5, {READING: 0.5}, ("a list by position",))


def pair(scene: Scene, figures: Sequence[Figure], k: int) -> bool:
    """Whether figure `k` and the next are two values of one kind: "twenty two and twenty two and a half"."""
    one, two = figures[k], figures[k + 1]
    gap = scene.toks[one.last : two.first]
    return 0 < len(gap) <= 2 and all(tok.low in PARTED_BY for tok in gap) and not two.quantity.is_range


def as_one(scene: Scene, figures: Sequence[Figure], roles: list[Choice], held: Mapping[int, str]) -> list[Choice]:
    """A run of three numbers or more that only commas part is one list: where most are readings, or both its ends, all are."""
    toks = scene.toks
    start = 0
    for k in range(1, len(figures) + 1):
        if k < len(figures) and k not in held and k - 1 not in held:
            one, two = figures[k - 1], figures[k]
            kinds = {kind_of(in_workshop(one)), kind_of(in_workshop(two))}
            tied = two.first - one.last <= 2 and all(tok.low in PARTED_BY for tok in toks[one.last : two.first])
            if tied and not toks[two.first].line and (len(kinds) == 1 or "none" in kinds):
                continue
        run = range(start, k)
        readings = [roles[j] for j in run if roles[j].label == READING]
        most = _A_LIST * len(readings) >= 2 * len(run) or (2 * len(readings) >= len(run) and _alike(figures, run))
        if len(run) >= _A_LIST and (most or roles[start].label == roles[k - 1].label == READING):
            for j in run:
                if roles[j].label == NEITHER:
                    roles[j] = readings[0]
        start = k
    return roles


_A_LIST = 3
_EVEN = 1.3  # how far the values of a list lie apart, as a factor


def _alike(figures: Sequence[Figure], run: range) -> bool:
    values = [abs(figures[k].quantity.number or 0.0) for k in run]
    return min(values) > 0 and max(values) <= _EVEN * min(values)
