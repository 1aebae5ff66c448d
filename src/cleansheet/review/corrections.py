"""One item corrected by hand: each field checked, what hung on the old value taken off."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from cleansheet.terms import FINDINGS, KINDS, InputError, Item, Quantity

COMPARATORS = ("=", "<", "<=", ">", ">=")
_NUMBER_FIELDS = frozenset({"value", "low", "high", "unit", "comparator", "approximate"})


def corrected(item: Item, fields: Mapping[str, Any]) -> Item:
    """The item with `fields` set. Raises InputError for a field that is unknown or a value it cannot hold.

    The old verdict goes with the old value: the judge gives a new one.
    """
    if not fields:
        raise InputError("nothing to correct was given")
    unknown = [name for name in fields if name not in _SETTERS and name not in _NUMBER_FIELDS]
    if unknown:
        raise InputError(f"cannot correct {unknown[0]!r}; fields are {', '.join(sorted({*_SETTERS, *_NUMBER_FIELDS}))}")
    for name, value in fields.items():
        if name in _SETTERS:
            item = _SETTERS[name](item, value)
    numbers = {name: value for name, value in fields.items() if name in _NUMBER_FIELDS}
    if numbers:
        item = replace(item, quantity=_quantity(item.quantity, numbers), second=None)
    return replace(
        item,
        verdict=None,
        expected=None,
        proposal=None,
        flags=(),
        confidence=1.0,
        why=(*item.why, "corrected by a person"),
    )


def rounding_half(number: float) -> float:
    """Half a unit of the last digit that the number was given with.

    >>> rounding_half(2.5), rounding_half(940)
    (0.05, 0.5)
    """
    text = repr(float(number))
    if "e" in text or "." not in text:
        return 0.5
    decimals = text.split(".")[1]
    return 0.5 if decimals == "0" else 0.5 * 10 ** -len(decimals)


def _quantity(old: Quantity | None, fields: Mapping[str, Any]) -> Quantity:
    unit = fields.get("unit", old.unit if old else None)
    comparator = fields.get("comparator", old.comparator if old else "=")
    if comparator not in COMPARATORS:
        raise InputError(f"{comparator!r} is no comparator; one of {' '.join(COMPARATORS)}")
    approximate = bool(fields.get("approximate", old.approximate if old else False))
    if "low" in fields or "high" in fields:
        low, high = _number(fields.get("low")), _number(fields.get("high"))
        if low is None and high is None:
            raise InputError("a range needs at least one end")
        if low is not None and high is not None and low > high:
            raise InputError(f"{low:g} to {high:g} is no range: its low end is above its high end")
        return Quantity(None, low, high, unit, comparator, approximate)
    if "value" not in fields and old is not None and comparator == old.comparator:
        return replace(old, unit=unit, approximate=approximate)
    value = _number(fields.get("value", old.number if old else None))
    if value is None:
        raise InputError("a number is needed: there is none in this line to correct")
    half = rounding_half(value)
    low, high = value - half, value + half
    if comparator.startswith("<"):
        low, high = None, value
    elif comparator.startswith(">"):
        low, high = value, None
    return Quantity(value, _tidy(low), _tidy(high), unit, comparator, approximate)


def _tidy(number: float | None) -> float | None:
    return None if number is None else float(f"{number:.12g}")


def _number(value: Any) -> float | None:
    if value is None:
        return None
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise InputError(f"{value!r} is no number") from None
    if not math.isfinite(number):
        raise InputError(f"{value!r} is no number that a meter shows")
    return number


def _choice(name: str, choices: tuple[str, ...]) -> Callable[[Item, Any], Item]:
    def set_choice(item: Item, value: Any) -> Item:
        if value is not None and value not in choices:
            raise InputError(f"{value!r} is no {name}; one of {', '.join(choices)}")
        if value is None and name == "kind":
            raise InputError("a line needs a kind")
        return replace(item, **{name: value})

    return set_choice


def _set_test(item: Item, value: Any) -> Item:
    component = value.split(".")[0] if value else item.component
    return replace(item, test=value or None, component=component, runners_up=())


def _set_component(item: Item, value: Any) -> Item:
    keeps = item.test is not None and value is not None and item.test.split(".")[0] == value
    return replace(item, component=value or None, test=item.test if keeps else None)


def _set_condition(item: Item, value: Any) -> Item:
    if not isinstance(value, Mapping):
        raise InputError("a condition is a table such as engine=idle")
    return replace(item, condition=dict(value))


def _set_at(item: Item, value: Any) -> Item:
    try:
        if value is not None:
            datetime.fromisoformat(value)
    except (TypeError, ValueError):
        raise InputError(f"{value!r} is no day; write it as 2026-03-14 or 2026-03-14T10:30") from None
    return replace(item, at=value)


_SETTERS: dict[str, Callable[[Item, Any], Item]] = {
    "kind": _choice("kind", KINDS),
    "finding": _choice("finding", FINDINGS),
    "component": _set_component,
    "test": _set_test,
    "position": lambda item, value: replace(item, position=str(value) if value not in (None, "") else None),
    "condition": _set_condition,
    "at": _set_at,
}
