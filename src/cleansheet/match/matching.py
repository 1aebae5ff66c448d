"""Ties mentions to tests, one after the other: what a reading was tied to tells where the next one is likely to belong."""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import replace
from typing import TYPE_CHECKING

from cleansheet.terms import Audio, Item, RunnerUp
from cleansheet.units import kind as kind_of
from cleansheet.units import known, same_kind

from .bare import usual_unit
from .by_finding import finding_test
from .candidates import Fit, candidates
from .features import kind_for, unit_for
from .limits import by_size, in_the_same_parts, in_their_order, limits_follow, turned
from .memory import OTHERS, Memory, as_item, before_for, carried, remember, stays
from .pieces import not_of_its_test
from .settling import count_positions, done_at_a_place, flag_units, put_right, right_places
from .told_apart import (
    battery_states,
    by_what_is_said,
    charging,
    fuel_state,
    of_another_part,
    pressure_rises,
    too_thick,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cleansheet.catalogue import Catalogue, Sheet
    from cleansheet.terms import Mention, Note


_CLOSE = 0.75  # log-odds within which two tests of one part fit as well


_IN_CONTRAST = frozenset({"ok", "faulty", "works", "weak", "strong", "does_not_work"})
_OF_A_NEEDLE = frozenset({"steady", "unsteady", "rises", "falls"})  # said of what was just read


# words of a sentence that say in which state a pressure was read
_STATE_WORDS = frozenset(
    "static idle idling tickover ticking running bridged jumpered jumped key ignition ign engine primed stopped cranking line "
    "hose vacuum after minutes min now again back".split()
)
_STATES = frozenset({"fuel-rail.static-pressure", "fuel-rail.running-pressure"})


def match(
    mentions: Sequence[Mention], note: Note, catalogue: Catalogue, sheet: Sheet | None = None
) -> tuple[Item, ...]:
    """Tie every mention to a component and a test.

    `sheet` gives the unit where none is said and a hint which tests this vehicle has. The items come back in the order of
    the mentions; a bare number that no test wants is left out.
    """
    memory = Memory()
    items: list[Item] = []
    sentences: list[int] = []
    for mention in mentions:
        item = _tie(mention, catalogue, sheet, memory, items)
        if item is None:
            continue
        items.append(_with_audio(item, note))
        sentences.append(mention.sentence)
    bare = frozenset(
        mention.start
        for mention in mentions
        if mention.quantity is not None
        and (mention.quantity.unit is None or "unit: that of its reading" in mention.why)
    )
    items = [charging(by_size(item, catalogue), catalogue, note.text) for item in items]
    items = [too_thick(item, catalogue, note.text) for item in items]
    items = [of_another_part(item, catalogue, note.text) for item in items]
    items = not_of_its_test(items, note.text)
    items = [by_what_is_said(fuel_state(item, catalogue, note.text), catalogue, note.text) for item in items]
    items = battery_states(items, catalogue, note.text)
    items = pressure_rises(items, catalogue, note.text)
    items = limits_follow(items, sentences)
    items = in_their_order([by_size(item, catalogue) for item in items], catalogue, note.text, bare)
    items = in_the_same_parts(items, note.text)
    items = right_places(items, catalogue, note.text)
    items = count_positions(items, catalogue, sheet, note.text)
    items = put_right(items, sentences, note.text)
    items = done_at_a_place(items, sentences, note.text)
    items = _with_their_numbers(items)
    items = [turned(item, catalogue, note.text) for item in items]
    return tuple(flag_units(items, catalogue))


def _with_their_numbers(items: list[Item]) -> list[Item]:
    """What a needle does goes with the number read off it in the same words: "vacuum is nineteen inches and steady"."""
    numbers = [item for item in items if item.kind == "reading" and item.quantity is not None]
    starts = [item.start for item in numbers]  # items stand in the order of their words
    return [_as_its_number(item, numbers[bisect_left(starts, item.start) : bisect_left(starts, item.end)])
            if item.kind == "reading" and item.finding in _OF_A_NEEDLE and item.quantity is None else item
            for item in items]  # fmt: skip


def _as_its_number(item: Item, inside: Sequence[Item]) -> Item:
    for other in inside:
        if other.end <= item.end and item.component in {None, other.component}:
            return replace(
                item, component=other.component, test=other.test, why=(*item.why, f"test {other.test}: its number")
            )
    return item


def _tie(
    mention: Mention, catalogue: Catalogue, sheet: Sheet | None, memory: Memory, before: Sequence[Item]
) -> Item | None:
    if mention.quantity is None:
        if mention.kind == "reading" and mention.finding is not None:
            taken_over = carried(mention, memory)
            mention = replace(mention, **taken_over)  # type: ignore[arg-type]
            component, test, why = finding_test(mention, catalogue)
            held = memory.finding
            if (
                test is None
                and held is not None
                and held.component == component
                and mention.sentence == memory.finding_sentence
                and mention.finding in _IN_CONTRAST
                and not any(part.here for part in mention.parts)
            ):
                test, why = (
                    held.test,
                    f"test {held.test}: as the finding before it",
                )  # "spray poor on 3, good on the rest"
            last = memory.last
            if (
                mention.finding in _OF_A_NEEDLE
                and (test is None or taken_over)
                and last is not None
                and last.test is not None
                and last.quantity is not None
                and mention.sentence - memory.sentence <= 1
            ):
                component, test, why = last.component, last.test, f"test {last.test}: the reading before it"
            item = as_item(mention, component=component, test=test, why=(*mention.why, why))
            if (
                item.position is None
                and component is not None
                and component == memory.place_of
                and memory.place is not None
                and mention.sentence - memory.place_sentence <= 1
                and not any(part.here for part in mention.parts)
                and not OTHERS.intersection(mention.context)
            ):
                item = replace(item, position=memory.place)
            if item.position is not None:
                remember(memory, item, mention.sentence)
            memory.finding, memory.finding_sentence = (item if test is not None else None), mention.sentence
            return item
        return as_item(mention, **carried(mention, memory))
    group = mention.group
    if group is not None and group in memory.by_group and mention.kind == "reading":
        first = memory.by_group[group]
        listed = _as_group(mention, first)
        if listed is not None:
            remember(memory, listed, mention.sentence)
            return listed
    named = mention.kind == "expected" and any(item.here for item in mention.tests)
    fits = candidates(mention, catalogue, sheet, None if named else before_for(mention, memory))
    best = fits[0]
    if _elsewhere(mention, best, catalogue):
        best = next(fit for fit in fits if fit.test is None)
        fits = [best, *(fit for fit in fits if fit is not best)]
    own = _of_its_part(mention, fits)
    if own is not None:
        best, fits = own, [own, *(fit for fit in fits if fit is not own)]
    if best.test is None and mention.tentative and mention.kind == "reading":
        unit, bare = usual_unit(mention, before), mention.quantity
        if unit is None or bare is None:
            return None
        mention = replace(
            mention, flags=(*mention.flags, "unit_assumed"), why=(*mention.why, f"unit {unit}: as the like")
        )
        best = replace(best, quantity=replace(bare, unit=unit))
    item = _chosen(mention, best, fits, catalogue, sheet, memory if mention.kind == "reading" else None)
    if mention.kind == "reading":
        remember(memory, item, mention.sentence)
        if group is not None:
            memory.by_group[group] = item
    return item


def _named_here(mention: Mention, fit: Fit) -> bool:
    """Whether the statement itself names the part or the test."""
    parts, tests = mention.parts, mention.tests
    return any(one.here and one.id == fit.component for one in parts) or any(
        one.here and one.id == fit.test for one in tests
    )


def _of_its_part(mention: Mention, fits: Sequence[Fit]) -> Fit | None:
    """The best test of the part that stands right before a number, where a part of an earlier sentence would have it.

    "Front pads 1.6 mm. Clutch 6 mm" is no thickness of a pad.
    """
    nearest = mention.parts[0] if mention.parts else None
    best = fits[0]
    if nearest is None or not (nearest.here and nearest.close) or nearest.id in {None, best.component} | _NO_PLACES:
        return None
    if best.test is None or _named_here(mention, best):
        return None
    return next((fit for fit in fits if fit.component == nearest.id and fit.test and "plausible" in fit.amounts), None)


_NO_PLACES = frozenset({"connector", "engine"})  # "13.1 at tickover" is not read at the engine
_WHICH = frozenset("the its each both a that this my left right front rear near off nearside offside".split())
_HAS = frozenset("gets got has sees pulls draws takes drawing pulling taking".split())


def _elsewhere(mention: Mention, best: Fit, catalogue: Catalogue) -> bool:
    """Whether volts or amps are read at another part than their test's, one without such a test: "at the headlamp I've
    only got 10.6 volts", "the fridge pulls 7.5 amps".
    """
    nearest = mention.parts[0] if mention.parts else None
    if (
        best.test is None
        or best.test.endswith("voltage-drop")
        or nearest is None
        or not nearest.here
        or nearest.id in _NO_PLACES | {best.component}
    ):
        return False
    unit = catalogue.tests[best.test].unit
    if kind_of(unit) not in _ELECTRICAL or _named_here(mention, best):
        return False
    own = () if nearest.id is None else catalogue.tests_of(nearest.id)
    if any(known(test.unit) and same_kind(test.unit, unit) for test in own):
        return False
    said = nearest.said.split()
    words = [word.removesuffix("'s") for word in mention.context]
    for at in range(len(words) - len(said) + 1):
        if words[at : at + len(said)] != said:
            continue
        before = at - 1 if at and words[at - 1] not in _WHICH else at - 2
        if before >= 0 and (
            words[before] in {"at", "into"} or words[before : before + 2] in (["on", "its"], ["on", "the"])
        ):
            return True
        if not _HAS.isdisjoint(mention.context[at + len(said) : at + len(said) + 4]):
            return True
    return False


_ELECTRICAL = frozenset({kind_of("V"), kind_of("A")})


def _chosen(
    mention: Mention,
    best: Fit,
    fits: list[Fit],
    catalogue: Catalogue,
    sheet: Sheet | None,
    memory: Memory | None = None,
) -> Item:
    others = [fit for fit in fits[1:] if best.score - fit.score < 4.0][:3]
    flags = list(mention.flags)
    test: str | None = best.test
    rival = next((fit for fit in fits[1:] if fit.test is not None and fit.component == best.component), None)
    if best.test in _STATES and rival is not None and rival.test in _STATES and "engine" not in mention.condition:
        told_apart = "named" in best.amounts or _STATE_WORDS.intersection(mention.wider)
        if best.score - rival.score < _CLOSE or not told_apart:
            flags.append("two_tests_fit")
    quantity = best.quantity
    if quantity.unit is None and test is not None:
        quantity = replace(quantity, unit=unit_for(catalogue.tests[test], sheet, quantity.number, named=True))
        flags.append("unit_assumed")
    total = sum(math.exp(min(fit.score - best.score, 0.0)) for fit in fits)
    if quantity in mention.misheard and mention.quantity is not None and mention.quantity.unit is None:
        flags = [
            *(flag for flag in flags if flag != "unit_assumed"),
            "low_confidence_words",
        ]  # said, if as another word
        mention = replace(
            mention, end=mention.misheard_end or mention.end, confidence=mention.confidence * 0.6,
            why=(*mention.why, f"unit {quantity.unit}: misheard, as the test wants it"),
        )  # fmt: skip
    position = mention.position
    carried = ""
    if position is None and memory is not None and stays(mention, best, memory, catalogue):
        position = memory.place
        carried = f"position {position}: still the one before"
    if carried:
        mention = replace(mention, why=(*mention.why, carried))
    return as_item(
        mention, component=best.component, test=test, quantity=quantity, flags=tuple(dict.fromkeys(flags)), position=position,
        confidence=mention.confidence / total,
        why=(*mention.why, f"test {test}: {best.why}"),
        runners_up=tuple(RunnerUp(fit.component, fit.test, round(fit.score - best.score, 2), fit.why) for fit in others),
    )  # fmt: skip


def _as_group(mention: Mention, first: Item) -> Item | None:
    """A later member of a list goes where its first one went, if its unit allows."""
    assert mention.quantity is not None
    quantity = mention.quantity
    flags = list(mention.flags)
    if first.test is not None and first.quantity is not None and first.quantity.unit is not None:
        if quantity.unit is None:
            quantity = replace(quantity, unit=first.quantity.unit)
            if "unit_assumed" in first.flags:
                flags.append("unit_assumed")
        else:
            wanted = kind_for(first.quantity)
            fitting = next((q for q in (quantity, *mention.alternatives) if kind_for(q) == wanted), None)
            if fitting is None:
                return None
            quantity = fitting
    elif quantity.unit is None:
        return None
    return as_item(
        mention,
        component=first.component,
        test=first.test,
        quantity=quantity,
        flags=tuple(dict.fromkeys(flags)),
        confidence=min(mention.confidence, first.confidence),
        why=(*mention.why, f"test {first.test}: as the list"),
    )


def _with_audio(item: Item, note: Note) -> Item:
    if not note.words:
        return item
    heard = [word for word in note.words if word.start < item.end and item.start < word.end]
    return replace(item, audio=Audio(heard[0].start_s, heard[-1].end_s)) if heard else item
