"""Which test a limit is for, once every reading has its own: beside it, by its size, in the order of the readings."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from cleansheet.units import interval, known, same_kind, to_base

from .features import far_from, kind_for

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue, Test
    from cleansheet.terms import Item, Quantity


def limits_follow(items: list[Item], sentences: list[int]) -> list[Item]:
    """A limit takes the test of the reading it stands beside, where it names none itself: before it, else after it."""
    out = list(items)
    for k, said in enumerate(items):
        item = _of_mercury(said, items, sentences, k)
        if item.kind != "expected" or item.quantity is None:
            continue
        own = any(name.startswith("test ") and "named" in name for name in item.why) and item.test is not None
        near = _beside(items if item is said else [*items[:k], item, *items[k + 1 :]], sentences, k)
        if near is None:
            continue
        if own and near.test != item.test:
            continue
        quantity = item.quantity
        flags = tuple(flag for flag in item.flags if flag != "unit_assumed")
        if (quantity.unit is None or "unit_assumed" in item.flags) and near.quantity is not None:
            quantity = replace(quantity, unit=near.quantity.unit)
            if "unit_assumed" in near.flags:
                flags = (*flags, "unit_assumed")
        elif near.quantity is not None and kind_for(quantity) != kind_for(near.quantity):
            continue
        out[k] = replace(item, component=near.component, test=near.test, quantity=quantity, flags=flags)
    return out


def _of_mercury(item: Item, items: list[Item], sentences: list[int], k: int) -> Item:
    """A limit in inches beside a vacuum in inches is of mercury, too: "vacuum 17 inches. Should be 18 to 21"."""
    inches = item.quantity is not None and item.quantity.unit == "[in_i]"
    if item.kind != "expected" or item.test is not None or item.quantity is None or not inches:
        return item
    for j in range(k - 1, max(-1, k - 4), -1):
        other = items[j].quantity
        if other is not None and items[j].kind == "reading" and sentences[k] - sentences[j] <= 1:
            return replace(item, quantity=replace(item.quantity, unit=other.unit)) if other.unit == _MERCURY else item
    return item


_MERCURY = "[in_i'Hg]"
# tests of one part that are told apart by their size where the words leave it open
_OTHER_OF_PAIR = {
    "ignition-coil.primary-resistance": "ignition-coil.secondary-resistance",  # not back: kilohms may be left out
    "air-conditioning.low-side-pressure": "air-conditioning.high-side-pressure",
    "air-conditioning.high-side-pressure": "air-conditioning.low-side-pressure",
}


_FAR_OFF, _FARTHER_OFF = 2.0, 4.0


def by_size(item: Item, catalogue: Catalogue) -> Item:
    """Of two tests that differ in size by far, the one that can show the number: 230 psi is no low side's pressure."""
    other = _OTHER_OF_PAIR.get(item.test or "")
    if other is None or item.quantity is None or item.test is None:
        return item
    far = _FAR_OFF if item.kind == "expected" or item.test not in _OTHER_OF_PAIR.values() else _FARTHER_OFF
    if _can_show(item.quantity, catalogue.tests[item.test], far) or not _can_show(
        item.quantity, catalogue.tests[other]
    ):
        return item
    return replace(item, test=other, why=(*item.why, f"test {other}: {item.test} cannot show this size"))


def _can_show(quantity: Quantity, test: Test, far: float = _FAR_OFF) -> bool:
    """Whether a number is about as large as the test's typical limits; True where these are not known."""
    limit = test.typical or test.plausible
    number, unit = quantity.number, quantity.unit
    if limit is None or number is None or unit is None or not known(unit) or not same_kind(unit, limit.unit):
        return True
    low, high = interval(limit.low, limit.high, limit.unit)
    return low / far <= to_base(number, unit)[0] <= high * far


_IN_PARTS = {
    "tenth": 0.1,
    "tenths": 0.1,
    "hundredth": 0.01,
    "hundredths": 0.01,
    "thousandth": 0.001,
    "thousandths": 0.001,
}


def in_the_same_parts(items: list[Item], text: str) -> list[Item]:
    """A bare limit beside readings in hundredths is in hundredths: "fourteen hundredths, no more than eight allowed"."""
    out = list(items)
    readings: dict[str, list[Item]] = {}
    for one in items:
        if one.kind == "reading" and one.test is not None and one.quantity is not None:
            readings.setdefault(one.test, []).append(one)
    parts_of = {
        test: {word for one in alike for word in text[one.start : one.end].lower().split() if word in _IN_PARTS}
        for test, alike in readings.items()
    }
    for k, item in enumerate(items):
        if item.kind != "expected" or item.quantity is None or item.test is None:
            continue
        said = text[item.start : item.end].lower().split()
        alike, parts = readings.get(item.test, []), parts_of.get(item.test, set())
        if len(parts) != 1 or any(word in _IN_PARTS for word in said) or len(said) > 1:
            continue
        share = _IN_PARTS[next(iter(parts))]
        largest = max(abs(one.quantity.number or 0.0) for one in alike if one.quantity is not None)
        number = item.quantity.number
        if number is None or number < 1 or largest * 5 > number:
            continue
        limit = item.quantity
        scaled = replace(
            limit,
            value=None if limit.value is None else limit.value * share,
            low=None if limit.low is None else limit.low * share,
            high=None if limit.high is None else limit.high * share,
        )
        out[k] = replace(item, quantity=scaled, why=(*item.why, "limit: in the readings' own parts"))
    return out


def in_their_order(items: list[Item], catalogue: Catalogue, text: str, bare: frozenset[int]) -> list[Item]:
    """Limits listed after readings of as many tests, in their order: "CO 4.1 %, HC 880 ppm. Limits 0.3, 200".

    `bare` holds where the limits start that were said without a unit.
    """
    out = list(items)
    k = 0
    while k < len(items):
        run = [k]
        while run[-1] + 1 < len(items) and _goes_on(items, run[-1], text):
            run.append(run[-1] + 1)
        if len(run) > 1 and items[k].kind == "expected":
            for at, test in zip(run, _tests_in_order(items, run, catalogue, bare), strict=False):
                quantity = items[at].quantity
                if quantity is not None:
                    unit = (
                        quantity.unit
                        if _fits_kind(quantity.unit, catalogue.tests[test])
                        else catalogue.tests[test].unit
                    )
                    if items[at].start in bare:
                        unit = next(
                            (i.quantity.unit for i in items[:at] if i.test == test and i.quantity is not None), unit
                        )
                    out[at] = replace(
                        items[at], component=catalogue.tests[test].component, test=test, quantity=replace(quantity, unit=unit),
                        why=(*items[at].why, f"test {test}: the limits stand in the order of the readings"),
                    )  # fmt: skip
        k = run[-1] + 1
    return out


def _goes_on(items: list[Item], k: int, text: str) -> bool:
    one, two = items[k], items[k + 1]
    return (
        one.kind == two.kind == "expected"
        and one.quantity is not None
        and two.quantity is not None
        and text[one.end : two.start].strip(" ,/;") in {"", "and", "&"}
    )


def _fits_kind(unit: str | None, test: Test) -> bool:
    return unit is not None and known(unit) and known(test.unit) and same_kind(unit, test.unit)


def _tests_in_order(items: list[Item], run: list[int], catalogue: Catalogue, bare: frozenset[int]) -> list[str]:
    """The tests of the readings before a run of limits, one for each; [] where they do not fit."""
    tests: list[str] = []
    for item in items[max(0, run[0] - 8) : run[0]]:
        if item.kind == "reading" and item.test is not None and item.quantity is not None and item.test not in tests:
            tests.append(item.test)
    for start in range(len(tests) - len(run), -1, -1):
        window = tests[start : start + len(run)]
        pairs = [
            (_as_read(items, at, test) if items[at].start in bare else items[at].quantity, catalogue.tests[test])
            for at, test in zip(run, window, strict=True)
        ]
        if all(
            quantity is not None and known(test.unit) and _can_show(_with_own(quantity, test), test)
            for quantity, test in pairs
        ):
            return window
    return []


def _as_read(items: list[Item], at: int, test: str) -> Quantity | None:
    """A bare limit in the unit of the last reading of a test before it."""
    quantity = items[at].quantity
    earlier = (items[k] for k in range(at - 1, -1, -1))
    read = next((one.quantity for one in earlier if one.test == test and one.quantity is not None), None)
    return quantity if quantity is None or read is None else replace(quantity, unit=read.unit)


def _with_own(quantity: Quantity, test: Test) -> Quantity:
    return quantity if _fits_kind(quantity.unit, test) else replace(quantity, unit=test.unit)


def _beside(items: list[Item], sentences: list[int], k: int) -> Item | None:
    limit = items[k]
    wanted = None if "unit_assumed" in limit.flags or limit.quantity is None else kind_for(limit.quantity)

    def fits(other: Item) -> bool:
        return (
            other.kind == "reading"
            and other.quantity is not None
            and (wanted is None or kind_for(other.quantity) == wanted)
        )

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


_PASSES = re.compile(
    r"\W+(?:mm |bar |psi |k|kohm |ohms? |mv |volts? |v )?(?:is |are |'s |will |would |all )?(?:pass|passes|fine|ok|okay|good|do|does|"
    r"allowed|acceptable|grand|all right|alright|plenty|healthy|enough)\b",
    re.IGNORECASE,
)


# words that name the good side outright, before a limit and after it
_GOOD_BEFORE = re.compile(
    r"\b(?:(?:should|ought to|oughta|must|wants?|needs?|has to|have to|supposed to|got to|meant to)\s(?:be|read|stay|keep|show|drop)?\s*"
    r"(?:well )?(?:under|below|less than|over|above|more than)|at least|at most|at the (?:very )?(?:least|most)|"
    r"(?:no|not) (?:more|less|over|under|above|below)(?: than)?)\s*$",
    re.IGNORECASE,
)
_GOOD_AFTER = re.compile(
    r"\W{0,2}(?:or (?:less|more|under|over|better|below|above)|at (?:the )?(?:very )?(?:least|most)|max|min|minimum|maximum)\b",
    re.IGNORECASE,
)
_LOOK_BACK = 40


_WEARS_THIN = (
    "shoe shoes lining linings pad pads spring springs fork forks plate plates belt brush brushes disc discs rotor rotors tread "
    "thickness thick width wide length long height tall lobe lobes frictions friction steels steel tooth teeth depth deep"
).split()
_GROWS = (
    "play float endfloat runout clearance clearances drum drums bore bores gap gaps backlash lash bell diameter taper ovality bend "
    "warp stretch slack slop wobble buckle movement drop draw leakage drain lift travel free wear"
).split()
_WORN = re.compile(rf"\b(?:({'|'.join(_WEARS_THIN)})|({'|'.join(_GROWS)}))\b", re.IGNORECASE)
_THINNER = re.compile(r"\b(?:wide|width|thick|thickness|worn down to)\b", re.IGNORECASE)
_LIMIT_OF_WEAR = re.compile(
    r"\b(?:wear|service|scrap|discard)?\s*limits?(?:\s+(?:is|of|for it is|being))?\W*$", re.IGNORECASE
)
_SAID_BEFORE = 70  # characters back to what is measured


def _by_what_wears(item: Item, text: str) -> Item:
    """The side of a plain "limit" where no test tells: shoes, springs and belts wear thin, play and bores grow."""
    before = text[max(0, item.start - _SAID_BEFORE) : item.start]
    if item.quantity is None or item.quantity.comparator[0] != "<" or not _LIMIT_OF_WEAR.search(before):
        return item
    worn = list(_WORN.finditer(_LIMIT_OF_WEAR.sub("", before)))
    if not worn or worn[-1][1] is None:
        return item
    quantity = replace(item.quantity, comparator=">=", low=item.quantity.value, high=None)
    return replace(item, quantity=quantity, why=(*item.why, f"limit: the least, {worn[-1][1].lower()} wear thin"))


_PLAIN_LIMITS = re.compile(
    r"\b(?<!upper )(?<!top )(?<!lower )limits?(?:\s+(?:is|are|of|being))?\W*(?:\S+\W+(?:and|&|,)\W*)?$", re.IGNORECASE
)


def _by_typical(item: Item, said: Quantity, test: Test, text: str) -> Item:
    """The side of a plain "limit" of a test with two: below the middle of what is typical it is the least: "oil pressure hot,
    limits 0.8 and 2.5".
    """
    limit, unit = test.typical or (test.plausible if test.component == "oil-system" else None), said.unit
    if (
        said.comparator[0] != "<"
        or said.value is None
        or test.single_limit != "nominal"
        or limit is None
        or unit is None
    ):
        return item
    if (
        kind_for(said) not in {"pressure", "voltage"}
        or limit.low is None
        or limit.high is None
        or not known(unit)
        or not same_kind(unit, limit.unit)
    ):
        return item
    if not _PLAIN_LIMITS.search(text[max(0, item.start - _LOOK_BACK) : item.start]):
        return item
    low, high = interval(limit.low, limit.high, limit.unit)
    if to_base(said.value, unit)[0] >= (low + high) / 2:
        return item
    quantity = replace(said, comparator=">=", low=said.value, high=None)
    return replace(item, quantity=quantity, why=(*item.why, f"limit: the least, as {test.id} goes"))


def _one_sided(item: Item, said: Quantity, catalogue: Catalogue) -> Item:
    """A limit said as one bare number of a test that has but one side: "cranking 8.1, should hold 9.5" is the least."""
    side = catalogue.tests[item.test].single_limit if item.test is not None else "nominal"
    if said.value is None or side == "nominal":
        return item
    least = side == "min"
    low, high = (said.value, None) if least else (None, said.value)
    bound = replace(said, comparator=">=" if least else "<=", low=low, high=high)
    return replace(item, quantity=bound, why=(*item.why, f"limit: the {side}imum, as {item.test} has no other"))


def turned(item: Item, catalogue: Catalogue, text: str = "") -> Item:
    """A limit's side by what the test is: "anything over fifteen per cent" of leakage is no least, "change it under 170"
    of a boiling point no most. The words name the bad side, the limit is the other.
    """
    if item.kind != "expected" or item.quantity is None:
        return item
    said = item.quantity
    if said.comparator == "=":
        return _one_sided(item, said, catalogue)
    if item.test is not None and far_from(said, catalogue.tests[item.test]):
        item = replace(item, component=None, test=None, why=(*item.why, f"test None: {item.test} has no such limits"))
    if item.test is None:
        return _by_what_wears(item, text)
    if catalogue.tests[item.test].single_limit == "nominal" and _THINNER.search(
        text[max(0, item.start - _SAID_BEFORE) : item.start]
    ):
        return _by_what_wears(item, text)
    plain = _by_typical(item, said, catalogue.tests[item.test], text)
    if plain is not item:
        return plain
    below_zero = (said.number or 0.0) < 0  # "at least -30" of a freezing point is no least
    if (
        not below_zero
        and (
            _PASSES.match(text, item.end)  # "anything under 10 passes": the words name the good side
            or _GOOD_AFTER.match(text, item.end)
            or _GOOD_BEFORE.search(text[max(0, item.start - _LOOK_BACK) : item.start])
        )
    ):
        return item
    quantity, side = said, catalogue.tests[item.test].single_limit
    if side == "max" and quantity.comparator[0] == ">":
        turned = replace(quantity, comparator="<=", low=None, high=quantity.value)
    elif side == "min" and quantity.comparator[0] == "<":
        turned = replace(quantity, comparator=">=", low=quantity.value, high=None)
    else:
        return item
    return replace(item, quantity=turned, why=(*item.why, f"limit: its {side}imum, whichever side the words name"))
