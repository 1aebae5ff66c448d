"""Every test that a number could belong to, weighed, and none at all."""

from __future__ import annotations

import gzip
import json
from dataclasses import dataclass
from functools import cache
from importlib import resources
from itertools import repeat
from operator import mul
from typing import TYPE_CHECKING

from cleansheet.units import kind as kind_of
from cleansheet.units import known
from cleansheet.units.data_files import packaged

from .features import (
    SAME_SENTENCE,
    Before,
    amounts,
    far_from,
    is_possible,
    kind_for,
    surroundings,
    unit_for,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from cleansheet.catalogue import Catalogue, Sheet, Test
    from cleansheet.terms import Evidence, Mention, Quantity


FINDING = "finding"  # the unit of a test where nothing is measured


FOLDER: Path | None = None  # other weights than the package's, for measuring on notes left out of the fit


_CACHE: dict[str, dict[str, list[Test]]] = {}


@dataclass(frozen=True, slots=True)
class Fit:
    """A test (or none) for a mention: its log-odds, the quantity that it takes, and the signs that made it so."""

    test: str | None
    component: str | None
    score: float
    quantity: Quantity
    amounts: dict[str, float]
    words: tuple[str, ...]

    @property
    def why(self) -> str:
        """The signs that count most for it, but for the words around it."""
        if self.test is None:
            return "no test fits"
        weights = weights_of_signs()
        weighed = ((weights.get(name, 0.0) * amount, name) for name, amount in self.amounts.items())
        return ", ".join(name for value, name in sorted(weighed, reverse=True)[:3] if value > 0)

    def signs(self) -> dict[str, float]:
        """All that it is weighed by: the named amounts, and one sign for each word of the statement with the test."""
        owner = self.test or "none"
        return self.amounts | {f"{owner}|{word}": 1.0 for word in self.words}


def prior_weights() -> dict[str, float]:
    """What a person would give each sign (data/weights.yaml): where the fit starts, and what it is held to."""
    return packaged("match", "weights.yaml")


@cache
def weights_of_signs() -> dict[str, float]:
    """The fitted weights (tests/training/fit_match.py), or the prior ones where there are none."""
    where = FOLDER if FOLDER is not None else resources.files("cleansheet.match").joinpath("data")
    packed = where.joinpath("tests.json.gz")
    if not packed.is_file():
        return prior_weights()
    fitted: dict[str, float] = json.loads(gzip.decompress(packed.read_bytes()))["weights"]
    return fitted


@cache
def weights_of_words() -> dict[str, dict[str, float]]:
    """The fitted weights of words, by test ("none" for no test) and word."""
    made: dict[str, dict[str, float]] = {}
    for name, weight in weights_of_signs().items():
        owner, bar, word = name.partition("|")
        if bar:
            made.setdefault(owner, {})[word] = weight
    return made


def forget_weights() -> None:
    """Let the weights be loaded anew, after `FOLDER` was changed."""
    weights_of_signs.cache_clear()
    weights_of_words.cache_clear()


def _score(owner: str, found: Mapping[str, float], words: Iterable[str]) -> float:
    named: float = sum(map(mul, map(weights_of_signs().get, found, repeat(0.0)), found.values()))
    of_word = weights_of_words().get(owner)
    return named if of_word is None else named + sum(map(of_word.get, words, repeat(0.0)))


def tests_by_kind(catalogue: Catalogue) -> dict[str, list[Test]]:
    """The measured tests by the kind of their unit, made once for a catalogue."""
    made: dict[str, list[Test]] = _CACHE.get(catalogue.key, {})
    if not made:
        for test in catalogue.tests.values():
            if test.unit != FINDING and known(test.unit):
                made.setdefault(kind_of(test.unit), []).append(test)
        if len(_CACHE) > 8:
            _CACHE.clear()
        _CACHE[catalogue.key] = made
    return made


def candidates(mention: Mention, catalogue: Catalogue, sheet: Sheet | None, before: Before | None) -> list[Fit]:
    """Every test that could be meant, and none at all, best first."""
    around = surroundings(mention)
    assert mention.quantity is not None
    kinds = tests_by_kind(catalogue)
    readings: list[Quantity] = [mention.quantity]
    for other in (*mention.alternatives, *mention.misheard):
        if other.unit is not None and all(kind_for(other) != kind_for(q) or other.value != q.value for q in readings):
            readings.append(other)
    fits: list[Fit] = []
    for rank, quantity in enumerate(readings):
        kind = kind_for(quantity)
        pool: Iterable[Test] = (
            kinds.get(kind, ()) if kind is not None else (t for tests in kinds.values() for t in tests)
        )
        rivals = _rivals(mention, catalogue, kind)
        for test in pool:
            if (
                test.component not in around.parts
                and test.id not in around.tests
                and test.component not in around.akin
                and (before is None or before.component != test.component)
            ):
                continue
            named = test.id in around.tests and around.tests[test.id].here
            if kind is None:
                unit = unit_for(test, sheet, quantity.number, named=named)
                if unit is None or (mention.kind == "expected" and not _as_limit(quantity.number, unit, test)):
                    continue
            if mention.kind == "expected" and kind is not None and far_from(quantity, test):
                continue
            if quantity.unit == "[in_i'Hg]" and test.component in _NEVER_IN_INCHES:
                continue
            owns = _measured(catalogue, test.component, kind)
            found = amounts(mention, quantity, test, around, before, catalogue, sheet, owns, rivals)
            if rank:
                found["other reading"] = 1.0
            found[f"{test.id} in {quantity.unit}"] = 1.0
            if (quantity.number or 0.0) < 0:
                found[f"{test.id} below zero"] = 1.0
            score = _score(test.id, found, around.said)
            fits.append(Fit(test.id, test.component, score, quantity, found, around.said))
    fits.append(_nothing(mention, catalogue, before, around.said[1:]))
    fits.sort(key=lambda fit: -fit.score)
    return fits


# what nobody reads on a vacuum gauge: "holds 19 inHg" is no fuel pressure; common practice, no source
_NEVER_IN_INCHES = frozenset({"fuel-rail", "tyre", "cylinder", "oil-system", "cooling-system", "radiator-cap"})


def _as_limit(number: float | None, unit: str, test: Test) -> bool:
    """Whether a bare limit is one that its test can have: a slip is made in a reading, "2031" on a sticker is no belt's."""
    return number is None or is_possible(number, unit, test, 1.0)


def _rivals(mention: Mention, catalogue: Catalogue, kind: str | None) -> list[Evidence]:
    """The parts named around a number that have a test of its kind."""
    if kind is None:
        return []
    return [
        item for item in mention.parts
        if item.id is not None and item.id != "connector" and _measured(catalogue, item.id, kind)
    ]  # fmt: skip


def _measured(catalogue: Catalogue, component: str, kind: str | None) -> tuple[Test, ...]:
    """The tests of a component that give a number of this kind, of any kind for None."""
    key = (catalogue.key, component, kind)
    made = _MEASURED.get(key)
    if made is None:
        tests = [test for test in catalogue.tests_of(component) if test.unit != FINDING]
        made = tuple(test for test in tests if kind is None or kind_of(test.unit) == kind)
        if len(_MEASURED) > _MOST_KEPT:
            _MEASURED.clear()
        _MEASURED[key] = made
    return made


_MEASURED: dict[tuple[str, str, str | None], tuple[Test, ...]] = {}
_MOST_KEPT = 4096


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
    if nearest is not None and (nearest.here or nearest.weight >= SAME_SENTENCE):
        where = "" if nearest.here else ", earlier in the sentence"  # "Kill switch, 0.05 volts"
        if nearest.id is None:
            out[f"none: other part nearest{where}"] = 1.0
        elif kind is not None and not _measured(catalogue, nearest.id, kind):
            out[f"none: part without such a test nearest{where}"] = 1.0
    if before is not None and before.test is None and before.sentences == 0:
        out["none: none before"] = 1.0
    unit = mention.quantity.unit
    out[f"none: unit {unit}"] = 1.0
    if nearest is not None:
        out[f"none: {nearest.id} {kind}"] = 1.0
    return out


def _nothing(mention: Mention, catalogue: Catalogue, before: Before | None, words: tuple[str, ...]) -> Fit:
    found = none_amounts(mention, catalogue, before)
    score = _score("none", found, words)
    component = mention.parts[0].id if mention.parts and mention.parts[0].weight >= 0.4 else None
    assert mention.quantity is not None
    return Fit(None, component, score, mention.quantity, found, words)
