"""What the last steps of reading look at together, and the names near a place, as evidence."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cleansheet.terms import Evidence

from .conditions import figure_condition
from .focus import around
from .parts import HEARD
from .role_rules import NEITHER, READING
from .row import Row

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .conditions import Said
    from .focus import Weight
    from .parts import Part
    from .places import Place
    from .quantities import Figure
    from .scene import Scene
    from .scorer import Choice
    from .testnames import TestName
    from .words import Tok


_NEIGHBOURS = 40  # figures away at which a reading is no neighbour any more
_CLOSE = 2  # words between a name and its number that still count as close


_TEMPERATURE_PARTS = frozenset({"coolant-temp-sensor", "head-temp-sensor", "air-temp-sensor", "thermo-time-switch"})


@dataclass(slots=True)
class Work:
    """What all steps look at."""

    toks: Sequence[Tok]
    scene: Scene
    figures: Row[Figure]
    roles: Sequence[Choice]
    labels: Sequence[Choice]
    parts: Row[Part]
    tests: Row[TestName]
    places: Row[Place]
    said: Row[Said]
    headings: list[tuple[int, int, str]]
    columns: dict[int, str]

    def readings(self, start: int, stop: int) -> list[Figure]:
        """The figures that are readings and begin at word `start` or after and before `stop`."""
        low, high = bisect_left(self.figures.firsts, start), bisect_left(self.figures.firsts, stop)
        return [self.figures[k] for k in range(low, high) if self.roles[k].label == READING]


def add_figure_conditions(work: Work) -> None:
    """Add the speeds, temperatures and times that figures state to the conditions said in words."""
    wants = any(part.id in _TEMPERATURE_PARTS for part in work.parts)
    said = list(work.said)
    for figure, role in zip(work.figures, work.roles, strict=True):
        if role.label != NEITHER:
            continue
        one = figure_condition(work.toks, figure, wants)
        if one is not None:
            said.append(one)
    work.said = Row(sorted(said, key=lambda one: one.first))


def edges(work: Work, k: int, start: int, stop: int) -> tuple[int, int]:
    """The words around a figure that lie between the readings and limits before and after it, within its sentence."""
    low, high = start, stop
    for j in range(k - 1, max(-1, k - _NEIGHBOURS), -1):
        if work.figures[j].last <= start:
            break
        if work.roles[j].label != NEITHER:
            low = max(start, work.figures[j].last)
            break
    for j in range(k + 1, min(len(work.figures), k + _NEIGHBOURS)):
        if work.figures[j].first >= stop:
            break
        if work.roles[j].label != NEITHER:
            high = min(stop, work.figures[j].first)
            break
    return low, high


_ASIDE = 0.8  # what counts of a part that is but where another one is
_WHERE = frozenset("from to on at through with by behind under between into near against off onto".split())


def _a_place(work: Work, part: Part) -> bool:
    """Whether a part is but where another one is: the engine in "earth strap from engine to body missing"."""
    toks, layout = work.toks, work.scene.layout
    if all(toks[i].low not in _WHERE for i in range(max(0, part.first - 2), part.first)):
        return False
    start = layout.pieces[layout.piece_of[part.first]].first
    return bool(work.parts.within(start, part.first))


def parts_near(
    work: Work, first: int, last: int, low_edge: int, high_edge: int, *, measured: bool = False
) -> tuple[Evidence, ...]:
    best: dict[str | None, tuple[float, Part, Weight]] = {}
    for part, weight in around(
        first, last, work.parts.things, work.parts.firsts, work.scene.layout, work.toks, low_edge, high_edge
    ):
        ids: tuple[str | None, ...] = part.ids or (None,)
        if part.plugged is not None:
            own = part.plugged or None
            ids = (own, *ids) if measured else (*ids, own)
        aside = _ASIDE if not measured and not weight.same_piece and _a_place(work, part) else 1.0
        value = weight.value * aside
        for part_id in ids:
            if part_id not in best or best[part_id][0] < value:
                best[part_id] = value, part, weight
            value = weight.value * aside * _OTHER_MEANING
    nearest = sorted(best.items(), key=lambda item: -item[1][0])[:_MOST_PARTS]
    return tuple(
        Evidence(
            part_id, round(value, 3), weight.same_piece, part.name,
            weight.same_piece and weight.distance <= _CLOSE, part.how == HEARD,
        )
        for part_id, (value, part, weight) in nearest
    )  # fmt: skip


_OTHER_MEANING = 0.7  # what a name's second meaning counts beside its first
_MOST_PARTS, _MOST_TESTS = 8, 16


def tests_near(work: Work, first: int, last: int, low_edge: int, high_edge: int) -> tuple[Evidence, ...]:
    best: dict[str, tuple[float, TestName, Weight]] = {}
    for name, weight in around(
        first, last, work.tests.things, work.tests.firsts, work.scene.layout, work.toks, low_edge, high_edge
    ):
        value = weight.value + (0.15 if name.long else 0.0)
        for test in name.tests:
            if test not in best or best[test][0] < value:
                best[test] = value, name, weight
    nearest = sorted(best.items(), key=lambda item: -item[1][0])[:_MOST_TESTS]
    return tuple(
        Evidence(
            test, round(value, 3), weight.same_piece, " ".join(tok.low for tok in work.toks[name.first : name.last]),
            weight.same_piece and weight.distance <= _CLOSE,
        )
        for test, (value, name, weight) in nearest
    )  # fmt: skip
