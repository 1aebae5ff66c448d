"""What held while measuring: engine state, speed, temperature, elapsed time, vacuum line, throttle, load."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .lexicon import Phrases

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .quantities import Figure
    from .words import Tok

SPEED, TEMPERATURE, ELAPSED = "speed_rpm", "temperature_c", "elapsed_min"
_MINUTES = {"s": 1 / 60, "min": 1.0, "h": 60.0, "d": 1440.0, "wk": 10080.0}
_WARM = {"hot": "hot", "warm": "hot", "cold": "cold"}
_AT = frozenset(["at", "@", "about", "around", "from", "to", "over", "above", "on", "by", "with"])


@dataclass(frozen=True, slots=True)
class Said:
    """A condition said at words `first` to `last` (exclusive)."""

    first: int
    last: int
    key: str
    value: str | float


@cache
def _phrases() -> Phrases[tuple[str, str]]:
    data = packaged("read", "conditions.yaml")
    found: Phrases[tuple[str, str]] = Phrases()
    for key in ("engine", "warm", "vacuum_line", "throttle", "load"):
        for value, entries in data[key].items():
            for phrase in entries:
                found.add(phrase, (key, str(value)))
    return found


@cache
def again_words() -> frozenset[str]:
    return frozenset(packaged("read", "conditions.yaml")["again"])


def find_conditions(toks: Sequence[Tok]) -> list[Said]:
    """Conditions said in words: "engine off", "hot idle", "vacuum line off"."""
    out: list[Said] = []
    for hit in _phrases().everywhere(toks):
        before = toks[hit.first - 1].low if hit.first else ""
        if hit.last - hit.first == 1 and before in {"not", "isn't", "no"}:
            continue
        out.append(Said(hit.first, hit.last, *hit.found))
        warm = _WARM.get(toks[hit.first].low) if hit.last - hit.first > 1 and hit.found[0] == "engine" else None
        if warm is not None:
            out.append(Said(hit.first, hit.first + 1, "warm", warm))  # "hot idle" says both
    return out


def figure_condition(toks: Sequence[Tok], figure: Figure, wants_temperature: bool = False) -> Said | None:
    """The condition that a figure which is no reading states: "at 3000", "10 min after", "at 20 C".

    A bare number after "at" is an engine speed from 400 up, else, where the talk is of a temperature sensor, a temperature.
    """
    quantity = figure.quantity
    number = quantity.number
    if number is None:
        return None
    unit = quantity.unit
    before = toks[figure.first - 1].low if figure.first else ""
    if unit in _MINUTES:
        return Said(figure.first, figure.last, ELAPSED, round(number * _MINUTES[unit], 4))
    if unit == "{rev}/min":
        return Said(figure.first, figure.last, SPEED, number)
    if unit == "Cel" or (unit == "deg" and wants_temperature):
        return Said(figure.first, figure.last, TEMPERATURE, number)
    if unit == "[degF]":
        return Said(figure.first, figure.last, TEMPERATURE, round((number - 32) / 1.8, 2))
    after = toks[figure.last].low if figure.last < len(toks) else ""
    opens = before in {"hot", "cold", ",", ".", ";", ""} or toks[figure.first].line
    if unit is None and (before in _AT or opens or after in _WARM):
        if number >= 400 and number % 50 == 0 and number <= 9000:
            return Said(figure.first, figure.last, SPEED, number)
        if wants_temperature and before in _AT and -40 <= number <= 130:
            return Said(figure.first, figure.last, TEMPERATURE, number)
    return None
