"""How well a test fits a mention, as named amounts. What each amount counts is data (data/weights.yaml)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.catalogue.test_words import test_words
from cleansheet.units import interval, known, same_kind, to_base
from cleansheet.units import kind as unit_kind
from cleansheet.units import sayable as sayable_bare
from cleansheet.units.data_files import packaged

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from cleansheet.catalogue import Catalogue, Sheet, Test
    from cleansheet.terms import Evidence, Mention, Quantity

SAME_SENTENCE = 0.58  # the least weight of what is named in the sentence
# tests of parts that stand once in the catalogue and are yet measured one by one
COUNTED = frozenset({
    "ignition-coil.primary-resistance", "ignition-coil.secondary-resistance", "carburettor.float-height",
    "battery.specific-gravity", "contact-breaker.gap", "contact-breaker.dwell",
})  # fmt: skip
_CORNERS = frozenset({"front-left", "front-right", "rear-left", "rear-right"})


@dataclass(frozen=True, slots=True)
class Before:
    """The reading before this one, as far as it was tied: its component, its test, its unit's kind, how many sentences ago."""

    component: str | None
    test: str | None
    kind: str
    sentences: int
    position: str | None = None


class _Phrases:
    """Phrases to be counted in a statement, told by their first word: only those of more words are looked for in the text."""

    __slots__ = ("_begin", "_longer", "_single")

    def __init__(self, phrases: Iterable[str]) -> None:
        each = list(phrases)
        self._single = frozenset(phrase for phrase in each if " " not in phrase)
        self._longer = tuple((phrase.partition(" ")[0], f" {phrase} ") for phrase in each if " " in phrase)
        self._begin = frozenset(word for word, _ in self._longer)

    def __bool__(self) -> bool:
        return bool(self._single or self._longer)

    def count(self, words: frozenset[str], text: str) -> int:
        """How many of the phrases stand in `text`, whose words are `words`."""
        found = len(self._single & words)
        if not self._begin.isdisjoint(words):
            found += sum(word in words and phrase in text for word, phrase in self._longer)
        return found


@cache
def words_of(test_id: str) -> tuple[_Phrases, _Phrases]:
    """The hints and the words against a test."""
    row = test_words().get(test_id)
    return (_Phrases(row.hints), _Phrases(row.against)) if row is not None else (_Phrases(()), _Phrases(()))


@dataclass(frozen=True, slots=True)
class Around:
    """A mention's surroundings, made once and held against each test."""

    parts: Mapping[str | None, Evidence]
    tests: Mapping[str | None, Evidence]
    said: tuple[str, ...]  # "" for any word, then the words of the statement, each once
    words: frozenset[str]
    text: str
    wide_words: frozenset[str]
    wide_text: str
    nearest: Evidence | None
    akin: Mapping[str, float]


def _engine_runs(mention: Mention) -> bool:
    speed = mention.condition.get("speed_rpm")
    return mention.condition.get("engine") in _RUNNING or (isinstance(speed, int | float) and speed > 0)


# what a number alone tells where no part is named: unit, from and to -> component ("9.8 bar on one, 12.3, 12.1, 12.4")
_BY_SIZE = (
    ("bar", 6.5, 30.0, "cylinder"), ("[psi]", 90.0, 240.0, "cylinder"), ("L/min", 0.2, 4.0, "fuel-pump"), ("V", 13.0, 15.2, "alternator"),
    ("[in_i'Hg]", 5.0, 25.0, "intake-manifold"), ("mL/min", 80.0, 400.0, "injector"), ("ms", 1.0, 15.0, "injector"),
)  # fmt: skip
_IDLING = ("bar", 1.5, 4.5, "fuel-rail")
_HELD = ("bar", 0.3, 4.5, "fuel-rail")
_HOT = ("Cel", 55.0, 125.0, "cooling-system")
_AT_A_CORNER = (("[psi]", 15.0, 80.0, "tyre"), ("bar", 1.0, 5.5, "tyre"))  # "NSF 32 psi, OSF 30"
_AXLES = frozenset({"front", "rear", "fronts", "rears"})
_OF_HEAT = frozenset({"temp", "temperature", "temps", "warms", "warm", "overheats", "boils"})


def _by_its_size(mention: Mention) -> list[str]:
    """The components that a number may belong to where no part is named: by its unit and its size."""
    quantity = mention.quantity
    if quantity is None or quantity.unit is None or (number := quantity.number) is None:
        return []
    rows = list(_BY_SIZE)
    if mention.position in _CORNERS or not _AXLES.isdisjoint(mention.context):
        rows.extend(_AT_A_CORNER)
    runs = _engine_runs(mention)
    if "elapsed_min" in mention.condition:
        rows.append(_HELD)
    if runs:
        rows.append(_IDLING)
        if quantity.unit == "V":
            return ["alternator"]  # "13.8 V idling"
    if not _OF_HEAT.isdisjoint(mention.context):
        rows.append(_HOT)
    return [component for unit, low, high, component in rows if unit == quantity.unit and low <= number <= high]


def surroundings(mention: Mention) -> Around:
    """The mention's names and words, by id."""
    akin: dict[str, float] = {}
    for item in mention.parts:
        for other in packaged("match", "akin.yaml").get(item.id or "", ()):
            akin[other] = max(akin.get(other, 0.0), item.weight)
    if not mention.parts:
        akin.update(dict.fromkeys(_by_its_size(mention), 1.0))
    return Around(
        {item.id: item for item in reversed(mention.parts)},
        {item.id: item for item in reversed(mention.tests)},
        ("", *dict.fromkeys(mention.context)),
        frozenset(mention.context),
        f" {' '.join(mention.context)} ",
        frozenset(mention.wider),
        f" {' '.join(mention.wider)} ",
        mention.parts[0] if mention.parts else None,
        akin,
    )


def amounts(
    mention: Mention,
    quantity: Quantity,
    test: Test,
    around: Around,
    before: Before | None,
    catalogue: Catalogue,
    sheet: Sheet | None,
    owns: tuple[Test, ...],
    rivals: Sequence[Evidence] = (),
) -> dict[str, float]:
    """The named amounts of one test for one mention. `owns` are the tests of the same component that take its kind, `rivals`
    the parts named around it that have such a test.
    """
    out: dict[str, float] = {}
    part = around.parts.get(test.component)
    name = around.tests.get(test.id)
    if part is not None:
        out["part"] = part.weight
        out["part here"] = float(part.here)
        out["part close"] = float(part.close)
        if around.nearest is not None and around.nearest.id == test.component:
            out["part nearest"] = 1.0
    elif around.akin.get(test.component):
        out["part akin"] = around.akin[test.component]
    if (part is None or not part.here) and (name is None or not name.here):
        weight = part.weight if part is not None else 0.0
        nearer = [rival for rival in rivals if rival.id != test.component and rival.weight > weight]
        if any(rival.close for rival in nearer):
            out["another part close"] = 1.0  # "ECT 2.2 k, CHT 1.4 k": each its own
        elif weight < SAME_SENTENCE and any(rival.weight >= SAME_SENTENCE for rival in nearer):
            out["another part sooner"] = 1.0
    if name is not None:
        out["named"] = min(name.weight, 1.2)
        out["named here"] = float(name.here)
        out["named close"] = float(name.close)
        best = max((item.weight for key, item in around.tests.items() if key != test.id), default=0.0)
        if name.weight >= best:
            out["named nearest"] = 1.0
    others = [
        item.weight
        for key, item in around.tests.items()
        if key is not None and key != test.id and item.here and item.weight > (name.weight if name else 0)
    ]
    if others:
        out["another named"] = max(others)
    if name is None or not name.close:
        rivals = [around.tests[other.id] for other in owns if other.id != test.id and other.id in around.tests]
        if any(rival.close for rival in rivals):
            out["another named close"] = 1.0
    hints, against = words_of(test.id)
    out["hints"] = min(hints.count(around.words, around.text), 3) / 3
    out["hints wide"] = min(hints.count(around.wide_words, around.wide_text), 4) / 4
    if against:
        out["against"] = min(against.count(around.words, around.text), 2) / 2
        out["against wide"] = min(against.count(around.wide_words, around.wide_text), 2) / 2
    if quantity.unit is None:
        out["no unit"] = 1.0
    elif quantity.unit == test.unit:
        out["unit usual"] = 1.0
    elsewhere = around.nearest is not None and around.nearest.here and around.nearest.id is None
    if name is not None and name.close and elsewhere:
        out["named close, of another part"] = 1.0  # "wiper motor draw 4.1 A"
    if name is None or not name.close or elsewhere:
        # a test named beside its number stays, however odd the number: a slip is said so
        _size(out, quantity, test, sheet)
    _state(out, mention, test)
    _place(out, mention, test, catalogue)
    _history(out, mention, test, before, part is not None and part.here, name is not None and name.here)
    if len(owns) == 1:
        out["only test"] = 1.0
    if sheet is not None and test.id in sheet.specs:
        out["on the sheet"] = 1.0
    return out


def _size(out: dict[str, float], quantity: Quantity, test: Test, sheet: Sheet | None) -> None:
    """Whether the value is one that the test could show."""
    number = quantity.number
    limit = test.plausible
    if number is None or limit is None:
        return
    unit = quantity.unit
    if unit is None:
        unit = unit_for(test, sheet, number)
        if unit != test.unit and unit != unit_for(test, sheet) and test.typical is None:
            if unit == "[psi]":
                out["implausible bare"] = 1.0  # possible, if in another unit than the usual one
            return
    if unit is None or not known(unit) or not same_kind(unit, limit.unit):
        return
    value, _ = to_base(number, unit)
    low, high = interval(limit.low, limit.high, limit.unit)
    fits = low <= value <= high
    suffix = " bare" if quantity.unit is None else ""
    out[("plausible" if fits else "implausible") + suffix] = 1.0
    typical = test.typical
    if fits and typical is not None and same_kind(unit, typical.unit):
        lower = to_base(typical.low, typical.unit)[0] if typical.low is not None else low
        upper = to_base(typical.high, typical.unit)[0] if typical.high is not None else high
        if lower * 0.6 <= value <= upper * 1.5:
            out["usual size"] = 1.0


_ALSO_READ_IN = {
    "pressure": ("bar", "[psi]"),
    "length": ("mm", "[mil_i]"),  # nobody leaves out "inch"
    "resistance": ("Ohm", "kOhm"),
    "voltage": ("V", "mV"),
    "current": ("A", "mA"),
    "torque": ("N.m", "[ft_i].[lbf_av]"),
}


def unit_for(test: Test, sheet: Sheet | None, number: float | None = None, *, named: bool = False) -> str | None:
    """The unit to take where none is said: the vehicle's sheet first, then the trade's usual one; another of the trade's
    where `number` is a usual size in that one alone ("fifteen" for a points gap is thou, "12.4" for compression is bar).

    None where the test cannot show the number in any unit: "tickover 13.1" is no engine speed. A test that is `named` may
    show an odder one: "lambda 14.7".
    """
    first = test.unit
    if sheet is not None and test.id in sheet.specs and sheet.specs[test.id]:
        first = sheet.specs[test.id][0].unit
    if number is None:
        return first
    if first == "mV" and is_possible(abs(number), drop := _drop_unit(number, test), test):  # the leads may be swapped
        return drop
    others = [unit for unit in _ALSO_READ_IN.get(unit_kind(first), ()) if unit != first and sayable(number, unit)]
    if sayable(number, first):
        if _is_usual(number, first, test) or (first != test.unit and is_possible(number, first, test)):
            return first
        usual = [unit for unit in others if _is_usual(number, unit, test)]
        if len(usual) == 1:
            return usual[0]
        if is_possible(number, first, test):
            return first
    possible = next((unit for unit in others if is_possible(number, unit, test)), None)
    if possible is None and named and sayable(number, first) and is_possible(number, first, test, _NAMED_SLIP):
        return first
    return possible


def sayable(number: float, unit: str) -> bool:
    """Whether people say such a number in a unit without saying the unit; of the units of tests, no part of a milliamp."""
    return sayable_bare(number, unit) and (unit != "mA" or number == int(number))


_SLIP, _NAMED_SLIP = 2.0, 8.0  # how far beyond the plausible a number may lie and still be this test's, as a factor


def is_possible(number: float, unit: str, test: Test, slip: float = _SLIP) -> bool:
    """Whether a test can show a number at all; True where its plausible range is not known."""
    limit = test.plausible
    if limit is None or not same_kind(unit, limit.unit):
        return True
    value = to_base(number, unit)[0]
    low, high = interval(limit.low, limit.high, limit.unit)
    return (low / slip if low > 0 else low) <= value <= high * slip


def _drop_unit(number: float, test: Test) -> str:
    """Volts or millivolts for a bare drop, whichever comes nearer to the most allowed: "0.4" is volts, "60" millivolts."""
    typical = test.typical
    if typical is None or typical.high is None or number <= 0 or not same_kind(typical.unit, "V"):
        return test.unit
    most = to_base(typical.high, typical.unit)[0]
    return min(("mV", "V"), key=lambda unit: abs(math.log(to_base(number, unit)[0] / most)))


def _is_usual(number: float, unit: str, test: Test) -> bool:
    """Whether a value is about as large as the test's typical limits."""
    typical = test.typical
    if typical is None or not same_kind(unit, typical.unit):
        return False
    value, _ = to_base(number, unit)
    low = to_base(typical.low, typical.unit)[0] if typical.low is not None else None
    high = to_base(typical.high, typical.unit)[0] if typical.high is not None else None
    if low is None and high is None:
        return False
    least = low if low is not None else (high or 0.0) / _TWICE_OR_SO
    most = high if high is not None else (low or 0.0) * _TWICE_OR_SO
    return least * 0.5 <= value <= most * 1.6


_TWICE_OR_SO = 2.5


_NO_LIMIT_OF = 10.0  # how far from the trade's own limits a limit cannot lie, as a factor


def far_from(quantity: Quantity, test: Test) -> bool:
    """Whether a limit is far below what its test's limits are: 0.2 V is none of a charging voltage."""
    limit, value = test.typical, quantity.value
    if (
        limit is None
        or limit.low is None
        or not value
        or quantity.unit is None
        or not same_kind(quantity.unit, limit.unit)
    ):
        return False
    return 0 < to_base(value, quantity.unit)[0] * _NO_LIMIT_OF < to_base(limit.low, limit.unit)[0]


_RUNNING = frozenset({"idle", "running"})


def _state(out: dict[str, float], mention: Mention, test: Test) -> None:
    said = mention.condition.get("engine")
    if said is None and isinstance(speed := mention.condition.get("speed_rpm"), int | float) and speed > 0:
        said = "running"  # "at 3000 16.1 V"
    wanted = test.when.get("engine")
    if said is not None and wanted is not None:
        alike = said == wanted or (said in _RUNNING and wanted in _RUNNING)
        out["state fits" if alike else "state differs"] = 1.0
    if "elapsed_min" in mention.condition:
        out["timed fits" if "elapsed_min" in test.when or "hold" in test.id else "timed"] = 1.0
    if mention.condition.get("vacuum_line") == "off" and test.when.get("vacuum_line") == "off":
        out["line off"] = 1.0


def _place(out: dict[str, float], mention: Mention, test: Test, catalogue: Catalogue) -> None:
    place = mention.position
    if place is None or place == "all":
        return
    several = catalogue.components[test.component].position
    if test.id in COUNTED and place.isdigit():
        several = "cylinder"
    if place in _CORNERS:
        out["place fits" if several == "corner" else "place differs"] = 1.0
    elif place.isdigit():
        out["place fits" if several == "cylinder" else "place other"] = 1.0


def _history(
    out: dict[str, float], mention: Mention, test: Test, before: Before | None, part_here: bool, named_here: bool
) -> None:
    if before is None:
        return
    near = "same sentence" if before.sentences == 0 else "next sentence" if before.sentences == 1 else "later"
    if (
        mention.quantity is not None
        and mention.quantity.unit is None
        and before.kind
        and known(test.unit)
        and before.kind == unit_kind(test.unit)
    ):
        out["kind as before"] = 1.0
    if before.test == test.id:
        out[f"as before, {near}"] = 1.0
        if (
            not part_here
            and not named_here
            and not any(_anew(item, before) for item in mention.parts)
            and not any(_anew(item, before) for item in mention.tests)
        ):
            out[f"as before and nothing named, {near}"] = 1.0
        if mention.again:
            out["measured again"] = 1.0
    elif before.component == test.component:
        out[f"part as before, {near}"] = 1.0


def _anew(item: Evidence, before: Before) -> bool:
    """Whether something is named since the reading before: in this statement, or earlier in a sentence that is a new one."""
    return item.here or (before.sentences > 0 and item.weight >= SAME_SENTENCE)


def kind_for(quantity: Quantity) -> str | None:
    """The unit's kind, None without a unit."""
    return unit_kind(quantity.unit) if quantity.unit is not None and known(quantity.unit) else None
