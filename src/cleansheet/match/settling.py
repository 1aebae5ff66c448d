"""What is settled once every item has its test: places by order, places that a part can have, units said elsewhere."""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from dataclasses import replace
from typing import TYPE_CHECKING

from cleansheet.units import agree, known, to_base

from .features import COUNTED, is_possible, sayable

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue, Sheet
    from cleansheet.terms import Item, Quantity

_FOUR = ("front-left", "front-right", "rear-left", "rear-right")


_CYLINDERS = re.compile(
    r"\b(?:(twin)(?!-)|(triple)|(two|three|four|five|six|eight|[234568])[- ](?:cylinder|pot|cyl)s?\b|v-?(six|eight|twin|[68])\b)",
    re.IGNORECASE,
)
_COUNT = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "twin": 2, "triple": 3}
_NO_ENGINE = re.compile(
    r"twin (?:carb|cam|choke|spark|coil|axle|wheel|point|disc|turbo|tone|core|bed|fan)", re.IGNORECASE
)


def cylinders_said(text: str) -> int | None:
    """How many cylinders the note says that the engine has: "air-cooled twin", "three cylinder"; None where it does not."""
    found = _CYLINDERS.search(text)
    if found is None or _NO_ENGINE.match(text, found.start()):
        return None
    word = next(one for one in found.groups() if one).lower()
    return _COUNT.get(word) or int(word)


def count_positions(items: list[Item], catalogue: Catalogue, sheet: Sheet | None, text: str = "") -> list[Item]:
    """A bare list for a part that there are several of is one reading a position, in order."""
    out = list(items)
    before: list[str] = []
    groups: dict[int, list[int]] = {}
    for k, item in enumerate(items):
        if item.group is not None and item.kind == "reading" and item.quantity is not None:
            groups.setdefault(item.group, []).append(k)
    if not groups:
        return out
    cylinders = getattr(sheet.vehicle, "cylinders", None) if sheet is not None else None
    named = cylinders if cylinders is not None else cylinders_said(text)
    for members in groups.values():
        first = items[members[0]]
        if len(members) > 2 and first.position == "all" and all(items[k].position is None for k in members[1:]):
            first = out[members[0]] = replace(
                first, position=None
            )  # said of what stands before: "plugs all grey, gaps ..."
        places = [out[k].position for k in members]
        if all(place is not None for place in places):
            before = [place for place in places if place is not None]
        given = [(number, place) for number, place in enumerate(places, start=1) if place is not None]
        in_order = all(place == str(number) for number, place in given) and len(given) * 2 <= len(members)
        if first.component is None or (given and not in_order):
            continue
        if "same order" in " ".join(first.why) and len(before) == len(members):
            for k, place in zip(members, before, strict=True):
                out[k] = replace(out[k], position=place)
            continue
        if catalogue.components[first.component].position not in {"cylinder", "corner"} and first.test not in COUNTED:
            continue
        if catalogue.components[first.component].position == "corner":
            axle = _axle(first) or _axle_in_focus(items[: members[0]])
            names = (
                _FOUR
                if len(members) == 4
                else tuple(f"{axle}-{side}" for side in ("left", "right"))
                if axle and len(members) == 2
                else ()
            )
            for k, place in zip(members, names, strict=False):
                out[k] = replace(out[k], position=place, why=(*out[k].why, "position: the usual order of the wheels"))
            continue
        twin = cylinders is None and first.test in COUNTED and len(members) == 2
        if len(members) >= 3 or twin or len(members) == named:
            for number, k in enumerate(members, start=1):
                out[k] = replace(out[k], position=str(number), why=(*out[k].why, "position: its place in the list"))
    return out


_MANY = re.compile(
    r"\b(?:both|all|pair|pairs|sets?|them|each|every|lot|rest|others?|pads|plugs|injectors|leads|tyres|tires|discs|drums|shoes|"
    r"bearings|coils|valves|brakes|points|springs|rings|cylinders|gaps|tappets|carbs|caps|nuts|bolts)\b",
    re.IGNORECASE,
)
_STILL_THERE = 2  # sentences in which a deed is still done to the one spoken of


def done_at_a_place(items: list[Item], sentences: list[int], text: str) -> list[Item]:
    """A deed or a next step to a part without a place is to the one that was found on last: "RR drum scored. Order a drum"."""
    out = list(items)
    for k, item in enumerate(items):
        if item.kind not in {"action", "todo"} or item.position is not None or item.component is None:
            continue
        if _MANY.search(text, item.start, item.end):
            continue
        lately = range(bisect_left(sentences, sentences[k] - _STILL_THERE), k)
        found = [j for j in lately if out[j].component == item.component and out[j].kind in {"reading", "action"}]
        if not found or out[found[-1]].kind == "action":
            continue
        places = {out[j].position for j in found if sentences[j] == sentences[found[-1]]}
        place = next(iter(places))
        if len(places) == 1 and place not in {None, "all", "intake", "exhaust"}:
            out[k] = replace(item, position=place, why=(*item.why, f"position {place}: the one found on last"))
    return out


_NOW = re.compile(r"\b(?:now|afterwards|again)\b", re.IGNORECASE)
_NEAR_NOW = 14  # characters around a value in which "now" is said of it
_LOOKED_BACK = 3  # sentences back to what was measured first
_STANDS_OUT = 2.0  # how much farther the bad one lies from the new value than the next, in logarithms


def put_right(items: list[Item], sentences: list[int], text: str) -> list[Item]:
    """A value measured again after a repair is of the one that was bad, the one farthest from the new value: "earth RL 2400
    mV, RR 35. Cleaned the plug, now 30 mV" is RL's.
    """
    out = list(items)
    for k, item in enumerate(items):
        carried = item.position is None or any(why.endswith("still the one before") for why in item.why)
        if item.kind != "reading" or item.test is None or not carried or item.group is not None:
            continue
        around = text[max(0, item.start - _NEAR_NOW) : item.end + _NEAR_NOW]
        just_done = k > 0 and items[k - 1].kind == "action" and sentences[k] == sentences[k - 1]
        if not (just_done or _NOW.search(around)) or _MANY.search(around):
            continue
        before: dict[str, Item] = {}
        for one in out[bisect_left(sentences, sentences[k] - _LOOKED_BACK) : k]:
            alike = one.kind == "reading" and one.test == item.test
            if alike and one.position is not None and one.quantity is not None:
                before[one.position] = one
        repaired = any(one.kind == "action" for one in items[bisect_left(sentences, sentences[k] - 1) : k])
        bad = _farthest(item, before) if repaired and len(before) > 1 and "all" not in before else None
        if bad is not None:
            out[k] = replace(item, position=bad, why=(*item.why, f"position {bad}: the one that was out"))
    return out


def _farthest(item: Item, before: dict[str, Item]) -> str | None:
    """The place whose value lies by far the farthest from the new one."""
    if any(
        one.quantity is None or not one.quantity.number or one.quantity.number < 0 for one in (item, *before.values())
    ):
        return None
    away = sorted((abs(math.log(_based(one) / _based(item))), place) for place, one in before.items())
    return away[-1][1] if away[-1][0] > _STANDS_OUT * away[-2][0] and away[-1][0] > _FIRST_STEP else None


_FIRST_STEP = 0.1  # what is nearer than this is the same value


def _based(item: Item) -> float:
    quantity = item.quantity
    number = quantity.number if quantity is not None else None
    unit = quantity.unit if quantity is not None else None
    if number is None:
        return 1.0
    return abs(to_base(number, unit)[0]) if unit is not None and known(unit) else abs(number)


def _axle(item: Item) -> str | None:
    """The axle that the words of a list name, if one alone."""
    said = next((why for why in item.why if why.startswith("axle: ")), None)
    return said.removeprefix("axle: ") if said else None


def _axle_in_focus(before: list[Item]) -> str | None:
    """The axle of the last wheel spoken of."""
    last = next((item.position for item in reversed(before) if item.position in _FOUR), None)
    return last.partition("-")[0] if last else None


def right_places(items: list[Item], catalogue: Catalogue, text: str) -> list[Item]:
    """Places that the part can have: a cylinder's is a number, never a wheel's corner, and only a pad is inner or outer.

    Where the note says which side is which cylinder ("left is number one"), a side is that cylinder.
    """
    sides = _sides_by_number(text)
    return [_right_place(item, catalogue, sides) for item in items]


_SIDE_NUMBER = re.compile(
    r"\b(left|right|l|r|lh|rh)\b(?:[ -](?:hand|side|one|pot|cylinder))*\s*(?:,|is|=|being|that's|that is)\s*"
    r"(?:is|that's|that is|being)?\s*(?:cyl(?:inder)?|pot|number|no\.?|#)\s*(1|2|one|two)\b",
    re.IGNORECASE,
)


def _sides_by_number(text: str) -> dict[str, str]:
    """Which side is which of two cylinders, where the note says it of either: {"left": "1", "right": "2"}."""
    found = _SIDE_NUMBER.search(text)
    if found is None:
        return {}
    side = "left" if found[1].lower().startswith("l") else "right"
    number = {"1": "1", "one": "1"}.get(found[2].lower(), "2")
    return {side: number, "right" if side == "left" else "left": "2" if number == "1" else "1"}


def _right_place(item: Item, catalogue: Catalogue, sides: dict[str, str]) -> Item:
    place = item.position
    if place is None or item.component is None or item.component not in catalogue.components:
        return item
    several = catalogue.components[item.component].position
    if place in _FOUR and (several == "cylinder" or item.test in COUNTED):
        number = sides.get(place.partition("-")[2])
        if item.component == "cylinder" and item.quantity is None and number is None:  # "rear cylinder weeping"
            return replace(item, component=None, test=None, why=(*item.why, "component None: a wheel's own cylinder"))
        return replace(
            item, position=number, why=(*item.why, f"position {number}: a side is no place of {item.component}")
        )
    return item


def flag_units(items: list[Item], catalogue: Catalogue) -> list[Item]:
    """`unit_assumed` only where the note says no unit for that test anywhere; `units_disagree` beyond both roundings."""
    said: dict[str, list[Quantity]] = {}
    for item in items:
        if (
            item.kind in {"reading", "expected"}
            and item.test is not None
            and item.quantity is not None
            and item.quantity.unit is not None
            and "unit_assumed" not in item.flags
        ):
            said.setdefault(item.test, []).append(item.quantity)
    return [_with_unit(item, said.get(item.test or "", []), catalogue) for item in items]


def _with_unit(item: Item, said: list[Quantity], catalogue: Catalogue) -> Item:
    """The item with the unit that the note says for its test, of several that of the value nearest in size."""
    if "unit_assumed" in item.flags and said and item.quantity is not None:
        nearest = min(said, key=lambda other: _factor(item.quantity, other))
        quantity = item.quantity
        alone = all(other.unit == nearest.unit for other in said)
        if _factor(quantity, nearest) <= _SAME_UNIT and (alone or _fits(quantity, nearest.unit, item.test, catalogue)):
            quantity = replace(quantity, unit=nearest.unit)
        item = replace(item, quantity=quantity, flags=tuple(flag for flag in item.flags if flag != "unit_assumed"))
    if item.second is not None and item.quantity is not None and not agree(item.quantity, item.second):
        item = replace(item, flags=tuple(dict.fromkeys((*item.flags, "units_disagree"))))
    return item


def _fits(quantity: Quantity, unit: str | None, test: str | None, catalogue: Catalogue) -> bool:
    """Whether a test can show a quantity's number in a unit."""
    if quantity.number is None or unit is None or test is None:
        return True
    return sayable(quantity.number, unit) and is_possible(quantity.number, unit, catalogue.tests[test])


_SAME_UNIT = 1.5  # powers of ten between two values said in one unit


def _factor(one: Quantity | None, other: Quantity) -> float:
    """How many powers of ten two bare numbers lie apart; 0 where either is zero or a range."""
    a, b = (one.number if one is not None else None), other.number
    if not a or not b:
        return 0.0
    return abs(math.log10(abs(a / b)))
