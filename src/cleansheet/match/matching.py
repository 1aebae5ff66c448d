"""Ties mentions to tests, one after the other: what a reading was tied to tells where the next one is likely to belong."""

from __future__ import annotations

import gzip
import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

import yaml

from cleansheet.terms import Audio, Evidence, Item, Mention, Note, Quantity, RunnerUp
from cleansheet.units import agree, known

from .by_finding import finding_test
from .features import Before, amounts, kind_for, surroundings, unit_for, word_signs

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue, Sheet, Test

FINDING = "finding"  # the unit of a test where nothing is measured
_CLOSE = 0.75  # log-odds within which two tests of one part fit as well
# tests of parts that stand once in the catalogue and are yet measured one by one
_COUNTED = frozenset({
    "ignition-coil.primary-resistance", "ignition-coil.secondary-resistance", "carburettor.float-height",
    "battery.specific-gravity", "contact-breaker.gap",
})  # fmt: skip
_OF_A_NEEDLE = frozenset({"steady", "unsteady", "rises", "falls"})  # said of what was just read
_STATES = frozenset({"fuel-rail.static-pressure", "fuel-rail.running-pressure"})


FOLDER: Path | None = None  # other weights than the package's, for measuring on notes left out of the fit


def prior_weights() -> dict[str, float]:
    """What a person would give each sign (data/weights.yaml): where the fit starts, and what it is held to."""
    text = resources.files("cleansheet.match").joinpath("data", "weights.yaml").read_text(encoding="utf-8")
    loaded: dict[str, float] = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))  # noqa: S506
    return loaded


@cache
def _weights() -> dict[str, float]:
    """The fitted weights (tests/training/fit_match.py), or the prior ones where there are none."""
    where = FOLDER if FOLDER is not None else resources.files("cleansheet.match").joinpath("data")
    packed = where.joinpath("tests.json.gz")
    if not packed.is_file():
        return prior_weights()
    fitted: dict[str, float] = json.loads(gzip.decompress(packed.read_bytes()))["weights"]
    return fitted


@dataclass(frozen=True, slots=True)
class _Fit:
    """A test (or none) for a mention: its log-odds, the quantity that it takes, the signs that count most."""

    test: str | None
    component: str | None
    score: float
    quantity: Quantity
    why: str
    amounts: dict[str, float]


@dataclass(slots=True)
class _Memory:
    """What the readings so far were tied to."""

    last: Item | None = None
    sentence: int = 0
    by_group: dict[int, Item] | None = None
    place: str | None = None
    place_of: str | None = None
    place_sentence: int = 0


def tests_by_kind(catalogue: Catalogue) -> dict[str, list[Test]]:
    """The measured tests by the kind of their unit, made once for a catalogue."""
    from cleansheet.units import kind

    made: dict[str, list[Test]] = _CACHE.get(catalogue.key, {})
    if not made:
        for test in catalogue.tests.values():
            if test.unit != FINDING and known(test.unit):
                made.setdefault(kind(test.unit), []).append(test)
        if len(_CACHE) > 8:
            _CACHE.clear()
        _CACHE[catalogue.key] = made
    return made


_CACHE: dict[str, dict[str, list[Test]]] = {}


def candidates(mention: Mention, catalogue: Catalogue, sheet: Sheet | None, before: Before | None) -> list[_Fit]:
    """Every test that could be meant, and none at all, best first."""
    around = surroundings(mention)
    assert mention.quantity is not None
    weights = _weights()
    kinds = tests_by_kind(catalogue)
    readings: list[Quantity] = [mention.quantity]
    for other in (*mention.alternatives, *mention.misheard):
        if other.unit is not None and all(kind_for(other) != kind_for(q) or other.value != q.value for q in readings):
            readings.append(other)
    fits: list[_Fit] = []
    for rank, quantity in enumerate(readings):
        kind = kind_for(quantity)
        pool: Iterable[Test] = kinds.get(kind, ()) if kind is not None else (t for tests in kinds.values() for t in tests)
        for test in pool:
            if test.component not in around.parts and test.id not in around.tests and test.component not in around.akin and (before is None or before.component != test.component):
                continue
            owns = tuple(t for t in catalogue.tests_of(test.component) if t.unit != FINDING and (kind is None or kind_for(Quantity(0, 0, 0, t.unit)) == kind))
            found = amounts(mention, quantity, test, around, before, catalogue, sheet, owns)
            if rank:
                found["other reading"] = 1.0
            found.update(dict.fromkeys(word_signs(test.id, around), 1.0))
            found[f"{test.id} in {quantity.unit}"] = 1.0
            score = sum(weights.get(name, 0.0) * amount for name, amount in found.items())
            fits.append(_Fit(test.id, test.component, score, quantity, _reason(found, weights), found))
    fits.append(_nothing(mention, catalogue, kinds, before))
    fits.sort(key=lambda fit: -fit.score)
    return fits


def _reason(found: dict[str, float], weights: dict[str, float]) -> str:
    loud = sorted(((weights.get(name, 0.0) * amount, name) for name, amount in found.items()), reverse=True)[:3]
    return ", ".join(name for value, name in loud if value > 0)


def none_amounts(mention: Mention, catalogue: Catalogue, before: Before | None) -> dict[str, float]:
    """The signs that a number belongs to no test of the catalogue."""
    assert mention.quantity is not None
    out: dict[str, float] = {"none": 1.0}
    kind = kind_for(mention.quantity)
    if kind is None:
        out["none: bare"] = 1.0
    nearest = mention.parts[0] if mention.parts else None
    if nearest is None and not mention.tests:
        out["none: nothing named"] = 1.0
    if nearest is not None and nearest.here:
        if nearest.id is None:
            out["none: other part nearest"] = 1.0
        elif kind is not None and not any(kind_for(Quantity(0, 0, 0, t.unit)) == kind for t in catalogue.tests_of(nearest.id) if t.unit != FINDING):
            out["none: part without such a test nearest"] = 1.0
    if before is not None and before.test is None and before.sentences == 0:
        out["none: none before"] = 1.0
    unit = mention.quantity.unit
    out[f"none: unit {unit}"] = 1.0
    out.update({f"none|{word}": 1.0 for word in set(mention.context)})
    if nearest is not None:
        out[f"none: {nearest.id} {kind}"] = 1.0
    return out


def _nothing(mention: Mention, catalogue: Catalogue, kinds: dict[str, list[Test]], before: Before | None) -> _Fit:  # noqa: ARG001
    weights = _weights()
    found = none_amounts(mention, catalogue, before)
    score = sum(weights.get(name, 0.0) * amount for name, amount in found.items())
    component = mention.parts[0].id if mention.parts and mention.parts[0].weight >= 0.4 else None
    assert mention.quantity is not None
    return _Fit(None, component, score, mention.quantity, "no test fits", found)


def match(mentions: Sequence[Mention], note: Note, catalogue: Catalogue, sheet: Sheet | None = None) -> tuple[Item, ...]:
    """Tie every mention to a component and a test.

    `sheet` gives the unit where none is said and a hint which tests this vehicle has. The items come back in the order of
    the mentions; a bare number that no test wants is left out.
    """
    memory = _Memory(by_group={})
    items: list[Item] = []
    sentences: list[int] = []
    for mention in mentions:
        item = _tie(mention, catalogue, sheet, memory)
        if item is None:
            continue
        items.append(_with_audio(item, note))
        sentences.append(mention.sentence)
    items = _limits_follow(items, sentences, catalogue, sheet)
    items = _count_positions(items, catalogue, sheet)
    return tuple(_flag_units(items, catalogue))


def _item(mention: Mention, **changes: object) -> Item:
    item = Item(
        mention.kind, mention.start, mention.end, mention.quantity, mention.finding, mention.component, None,
        mention.position, dict(mention.condition), flags=mention.flags, confidence=mention.confidence, why=mention.why,
        second=mention.second, group=mention.group,
    )  # fmt: skip
    return replace(item, **changes)  # type: ignore[arg-type]


def before_for(mention: Mention, memory: _Memory) -> Before | None:
    """What came before a mention, as the choice sees it."""
    if memory.last is None:
        return None
    item = memory.last
    quantity = item.quantity
    return Before(item.component, item.test, (kind_for(quantity) or "") if quantity else "", mention.sentence - memory.sentence, item.position)


def _tie(mention: Mention, catalogue: Catalogue, sheet: Sheet | None, memory: _Memory) -> Item | None:
    if mention.quantity is None:
        if mention.kind == "reading" and mention.finding is not None:
            component, test, why = finding_test(mention, catalogue)
            last = memory.last
            if mention.finding in _OF_A_NEEDLE and test is None and last is not None and last.test is not None and last.quantity is not None and mention.sentence - memory.sentence <= 1:
                component, test, why = last.component, last.test, f"test {last.test}: the reading before it"
            item = _item(mention, component=component, test=test, why=(*mention.why, why))
            if item.position is None and component is not None and component == memory.place_of and memory.place is not None and mention.sentence - memory.place_sentence <= 1 and not any(part.here for part in mention.parts):
                item = replace(item, position=memory.place)
            if item.position is not None:
                _remember(memory, item, mention.sentence)
            return item
        return _item(mention)
    assert memory.by_group is not None
    group = mention.group
    if group is not None and group in memory.by_group and mention.kind == "reading":
        first = memory.by_group[group]
        item = _as_group(mention, first, catalogue, sheet)
        if item is not None:
            _remember(memory, item, mention.sentence)
            return item
    named = mention.kind == "expected" and any(item.here for item in mention.tests)
    fits = candidates(mention, catalogue, sheet, None if named else before_for(mention, memory))
    best = fits[0]
    if best.test is None and mention.tentative and mention.kind == "reading":
        return None
    item = _chosen(mention, best, fits, catalogue, sheet, memory if mention.kind == "reading" else None)
    if mention.kind == "reading":
        _remember(memory, item, mention.sentence)
        if group is not None:
            memory.by_group[group] = item
    return item


def _stays(mention: Mention, best: _Fit, memory: _Memory, catalogue: Catalogue) -> bool:
    """Whether a reading without a place is still of the one that the talk is about: the same part, measured again or not
    named anew, within two sentences, and no list of several.
    """
    if memory.place is None or best.component is None or memory.place_of != best.component:
        return False
    if mention.sentence - memory.place_sentence > 2 or mention.group is not None:
        return False
    if catalogue.components[best.component].position is None and best.component not in {"ignition-coil", "carburettor", "contact-breaker"}:
        return False
    last = memory.last
    named = any(part.here and part.id == best.component for part in mention.parts)
    return not named or mention.again or (last is not None and last.test == best.test and mention.sentence == memory.sentence)


def _remember(memory: _Memory, item: Item, sentence: int) -> None:
    """Keep the last reading, and the place that the talk is about."""
    memory.last, memory.sentence = item, sentence
    if item.position is not None and item.position != "all":
        memory.place, memory.place_of, memory.place_sentence = item.position, item.component, sentence
    elif memory.place_of is not None and item.component != memory.place_of:
        memory.place = None


def _chosen(mention: Mention, best: _Fit, fits: list[_Fit], catalogue: Catalogue, sheet: Sheet | None, memory: _Memory | None = None) -> Item:
    others = [fit for fit in fits[1:] if best.score - fit.score < 4.0][:3]
    flags = list(mention.flags)
    test: str | None = best.test
    rival = next((fit for fit in fits[1:] if fit.test is not None and fit.component == best.component), None)
    if best.test in _STATES and rival is not None and rival.test in _STATES and best.score - rival.score < _CLOSE and "engine" not in mention.condition:
        flags.append("two_tests_fit")
    quantity = best.quantity
    if quantity.unit is None and test is not None:
        quantity = replace(quantity, unit=unit_for(catalogue.tests[test], sheet))
        flags.append("unit_assumed")
    total = sum(math.exp(min(fit.score - best.score, 0.0)) for fit in fits)
    if quantity in mention.misheard and mention.quantity is not None and mention.quantity.unit is None:
        flags.append("low_confidence_words")
        mention = replace(
            mention, end=mention.misheard_end or mention.end, confidence=mention.confidence * 0.6,
            why=(*mention.why, f"unit {quantity.unit}: misheard, as the test wants it"),
        )  # fmt: skip
    position = mention.position
    carried = ""
    if position is None and memory is not None and _stays(mention, best, memory, catalogue):
        position = memory.place
        carried = f"position {position}: still the one before"
    if carried:
        mention = replace(mention, why=(*mention.why, carried))
    return _item(
        mention, component=best.component, test=test, quantity=quantity, flags=tuple(dict.fromkeys(flags)), position=position,
        confidence=mention.confidence / total,
        why=(*mention.why, f"test {test}: {best.why}"),
        runners_up=tuple(RunnerUp(fit.component, fit.test, round(fit.score - best.score, 2), fit.why) for fit in others),
    )  # fmt: skip


def _as_group(mention: Mention, first: Item, catalogue: Catalogue, sheet: Sheet | None) -> Item | None:
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
    return _item(mention, component=first.component, test=first.test, quantity=quantity, flags=tuple(dict.fromkeys(flags)),
                 confidence=min(mention.confidence, first.confidence), why=(*mention.why, f"test {first.test}: as the list"))


def _limits_follow(items: list[Item], sentences: list[int], catalogue: Catalogue, sheet: Sheet | None) -> list[Item]:
    """A limit takes the test of the reading it stands beside, where it names none itself: before it, else after it."""
    out = list(items)
    for k, item in enumerate(items):
        if item.kind != "expected" or item.quantity is None:
            continue
        own = any(name.startswith("test ") and "named" in name for name in item.why) and item.test is not None
        near = _beside(items, sentences, k)
        if near is None:
            continue
        if own and near.test != item.test:
            continue
        quantity = item.quantity
        flags = tuple(flag for flag in item.flags if flag != "unit_assumed")
        if (quantity.unit is None or "unit_assumed" in item.flags) and near.quantity is not None:
            quantity = replace(quantity, unit=near.quantity.unit)
        elif near.quantity is not None and kind_for(quantity) != kind_for(near.quantity):
            continue
        out[k] = replace(item, component=near.component, test=near.test, quantity=quantity, flags=flags)
    return out


def _beside(items: list[Item], sentences: list[int], k: int) -> Item | None:
    limit = items[k]
    wanted = None if "unit_assumed" in limit.flags or limit.quantity is None else kind_for(limit.quantity)

    def fits(other: Item) -> bool:
        return other.kind == "reading" and other.quantity is not None and (wanted is None or kind_for(other.quantity) == wanted)

    for step in range(1, 8):
        j = k - step
        if j < 0 or sentences[k] - sentences[j] > 1:
            break
        if fits(items[j]):
            return items[j]
    for step in range(1, 4):
        j = k + step
        if j >= len(items) or sentences[j] - sentences[k] > 1:
            break
        if fits(items[j]):
            return items[j]
    return None


def _count_positions(items: list[Item], catalogue: Catalogue, sheet: Sheet | None) -> list[Item]:
    """A bare list for a part that there are several of is one reading a position, in order."""
    out = list(items)
    before: list[str] = []
    groups: dict[int, list[int]] = {}
    for k, item in enumerate(items):
        if item.group is not None and item.kind == "reading" and item.quantity is not None:
            groups.setdefault(item.group, []).append(k)
    for members in groups.values():
        first = items[members[0]]
        places = [items[k].position for k in members]
        if all(place is not None for place in places):
            before = [place for place in places if place is not None]
        if first.component is None or any(items[k].position is not None for k in members):
            continue
        if "same order" in " ".join(first.why) and len(before) == len(members):
            for k, place in zip(members, before, strict=True):
                out[k] = replace(out[k], position=place)
            continue
        if catalogue.components[first.component].position not in {"cylinder", "corner"} and first.test not in _COUNTED:
            continue
        if catalogue.components[first.component].position == "corner":
            axle = _axle(first)
            names = _FOUR if len(members) == 4 else tuple(f"{axle}-{side}" for side in ("left", "right")) if axle and len(members) == 2 else ()
            for k, place in zip(members, names, strict=False):
                out[k] = replace(out[k], position=place, why=(*out[k].why, "position: the usual order of the wheels"))
            continue
        cylinders = getattr(sheet.vehicle, "cylinders", None) if sheet is not None else None
        twin = cylinders is None and first.test in _COUNTED and len(members) == 2
        if len(members) >= 3 or twin or (cylinders is not None and len(members) == cylinders):
            for number, k in enumerate(members, start=1):
                out[k] = replace(out[k], position=str(number), why=(*out[k].why, "position: its place in the list"))
    return out


_FOUR = ("front-left", "front-right", "rear-left", "rear-right")


def _axle(item: Item) -> str | None:
    """The axle that the words of a list name, if one alone."""
    said = next((why for why in item.why if why.startswith("axle: ")), None)
    return said.removeprefix("axle: ") if said else None


def _flag_units(items: list[Item], catalogue: Catalogue) -> list[Item]:
    """`unit_assumed` only where the note says no unit for that test anywhere; `units_disagree` beyond both roundings."""
    said: dict[str, tuple[str, int]] = {}
    for item in items:
        if item.kind == "reading" and item.test is not None and item.quantity is not None and item.quantity.unit is not None and "unit_assumed" not in item.flags:
            said.setdefault(item.test, (item.quantity.unit, item.start))
    out: list[Item] = []
    for item in items:
        if "unit_assumed" in item.flags and item.test in said and item.quantity is not None:
            unit = said[item.test][0]
            item = replace(item, quantity=replace(item.quantity, unit=unit), flags=tuple(f for f in item.flags if f != "unit_assumed"))
        if item.second is not None and item.quantity is not None and not agree(item.quantity, item.second):
            item = replace(item, flags=tuple(dict.fromkeys((*item.flags, "units_disagree"))))
        out.append(item)
    return out


def _with_audio(item: Item, note: Note) -> Item:
    if not note.words:
        return item
    heard = [word for word in note.words if word.start < item.end and item.start < word.end]
    return replace(item, audio=Audio(heard[0].start_s, heard[-1].end_s)) if heard else item
