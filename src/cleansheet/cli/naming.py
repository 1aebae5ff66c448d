"""Typed answers turned into values: a part by any name, a unit, a number with its unit, conditions."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from cleansheet.terms import InputError, Item

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from cleansheet.catalogue import Catalogue

_NUMBER = r"[-+−]?\d+(?:[.,]\d+)?"
_SIGNS = {"<": "<", ">": ">", "<=": "<=", ">=": ">=", "≤": "<=", "≥": ">=", "under": "<", "below": "<", "over": ">",
          "above": ">", "at least": ">=", "at most": "<=", "max": "<=", "min": ">=", "=": "="}  # fmt: skip
_CONDITIONS: dict[str, tuple[str, ...] | None] = {
    "engine": ("off", "cranking", "idle", "running"),
    "speed_rpm": None,
    "temperature_c": None,
    "warm": ("cold", "hot"),
    "elapsed_min": None,
    "vacuum_line": ("on", "off"),
    "throttle": ("closed", "open"),
    "load": ("on", "off"),
}


def component_of(named: str, catalogue: Catalogue, choose: Callable[[str, Sequence[str]], int] | None = None) -> str:
    """The part meant by a name; `choose` is asked where several are near. Raises InputError where none is."""
    from cleansheet.journal.names import NameIndex, words_of

    if named in catalogue.components:
        return named
    index = NameIndex(catalogue.components)
    found = index.exact(words_of(named))
    near = list(found) or [one.component for one in index.near(words_of(named))]
    if not near:
        offered = [one.component for one in index.suggest(words_of(named))]
        if not offered or choose is None:
            names = ", ".join(catalogue.components[one].name for one in offered)
            raise InputError(f"no part goes by {named!r}" + (f"; near it: {names}" if names else ""))
        near = offered
    if len(near) == 1 or (choose is None and found):
        return near[0]
    if choose is None:
        return near[0]
    return near[choose("which part?", [catalogue.components[one].name for one in near])]


def test_of(named: str, catalogue: Catalogue) -> str:
    """The test meant by its id or by its part's and its own name. Raises InputError where none is."""
    if named in catalogue.tests:
        return named
    wanted = set(named.lower().replace("-", " ").split())
    hits = []
    for test in catalogue.tests.values():
        names = (catalogue.components[test.component].name, test.name, test.id.replace(".", " ").replace("-", " "))
        words = set(" ".join(names).lower().split())
        if wanted and wanted <= words:
            hits.append(test.id)
    if len(hits) == 1:
        return hits[0]
    raise InputError(f"{'several tests fit' if hits else 'no test goes by'} {named!r}; give the part first")


def unit_of(written: str, item: Item | None = None, catalogue: Catalogue | None = None) -> str:
    """The UCUM code of a unit as written or said; the one that fits the item's test goes first.

    Raises InputError for a unit that is not known.
    """
    from cleansheet.units import known, same_kind

    codes = _codes().get(written.strip()) or _codes().get(written.strip().lower())
    if codes is None:
        if known(written.strip()):
            return written.strip()
        raise InputError(f"{written!r} is no unit that is known here")
    test = catalogue.tests.get(item.test or "") if catalogue is not None and item is not None else None
    if test is not None:
        for code in codes:
            if same_kind(code, test.unit):
                return code
    return codes[0]


@lru_cache(maxsize=1)
def _codes() -> dict[str, tuple[str, ...]]:
    from cleansheet.units import aliases

    codes: dict[str, tuple[str, ...]] = {}
    for alias in aliases():
        codes.setdefault(alias.phrase, alias.codes)
    for alias in aliases():
        codes.setdefault(alias.phrase.lower(), alias.codes)
    return codes


def quantity_fields(written: str, item: Item | None = None) -> dict[str, Any]:
    """What "2.4 bar", "14-17 ohm" or "< 50 mA" sets: value or low and high, comparator, and the unit if one is given.

    Raises InputError for what is no number.
    """
    text = written.strip().replace("−", "-")
    signs = "|".join(sorted((re.escape(sign) for sign in _SIGNS), key=len, reverse=True))
    found = re.fullmatch(
        rf"(?:(?P<sign>{signs})\s*)?(?P<low>{_NUMBER})(?:\s*(?:-|–|to)\s*(?P<high>{_NUMBER}))?\s*(?P<unit>[^\d\s].*)?",
        text,
        re.IGNORECASE,
    )
    if not found:
        raise InputError(f"{written!r} is no number")
    fields: dict[str, Any] = {}
    low = float(found["low"].replace(",", "."))
    if found["high"]:
        fields = {"low": low, "high": float(found["high"].replace(",", ".")), "comparator": "="}
    else:
        fields = {"value": low, "comparator": _SIGNS[(found["sign"] or "=").lower()]}
    if found["unit"]:
        fields["unit"] = unit_of(found["unit"], item)
    return fields


def day_of(said: str, noted: str | None, *, ahead: bool = False) -> str:
    """A day in words or figures as ISO 8601, with the hour where one is given; relative words count from `noted`.

    Raises InputError for what is no day.
    """
    from cleansheet.read import day_said

    day = day_said(said, noted, ahead=ahead)
    if day is None:
        raise InputError(f"{said!r} is no day; such as yesterday, 14 March or 2026-03-14 10:30")
    return day


def condition_of(written: str) -> dict[str, str | float]:
    """Conditions as key=value words. Raises InputError for an unknown key or value."""
    condition: dict[str, str | float] = {}
    for word in written.replace(",", " ").split():
        key, _, value = word.partition("=")
        if key not in _CONDITIONS or not value:
            raise InputError(f"{word!r} is no condition; such as engine=idle; keys: {', '.join(_CONDITIONS)}")
        choices = _CONDITIONS[key]
        if choices is None:
            try:
                condition[key] = float(value)
            except ValueError:
                raise InputError(f"{key} needs a number, not {value!r}") from None
        elif value in choices:
            condition[key] = value
        else:
            raise InputError(f"{key} is one of {', '.join(choices)}")
    return condition
