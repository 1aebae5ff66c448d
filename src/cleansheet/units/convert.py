"""From one unit to another, and to one base unit a kind, by linear factors taken once from the conversion library.

A kind is our own word for what is measured. It parts what dimensional analysis cannot: an angle, a rotation, a ratio
and
a pure number all have no dimension, and a torque and an energy have the same one.
"""

from __future__ import annotations

import json
import re
from functools import cache, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from .registry import registry
from .table import UnitError, UnitRow, table

if TYPE_CHECKING:
    import pint

# The unit that each kind is counted in.
BASES = {
    "pressure": "Pa", "resistance": "Ohm", "voltage": "V", "current": "A", "power": "W", "apparent-power": "V.A",
    "charge": "C", "capacitance": "F", "inductance": "H", "conductance": "S", "magnetic-flux": "Wb",
    "magnetic-flux-density": "T", "level": "dB", "energy": "J", "frequency": "Hz", "rotation": "{rev}/min",
    "angle": "deg", "temperature": "Cel", "length": "m", "area": "m2", "volume": "m3", "mass": "kg", "force": "N",
    "torque": "N.m", "time": "s", "ratio": "%", "number": "1", "speed": "m/s", "acceleration": "m/s2",
    "volume-flow": "m3/s", "mass-flow": "kg/s", "fuel-economy": "m/m3", "information": "bit",
    "information-rate": "bit/s", "luminous-flux": "lm", "illuminance": "lx", "luminous-intensity": "cd",
    "amount": "mol", "activity": "Bq", "dose": "Sv", "absorbed-dose": "Gy", "density": "kg/m3",
    "concentration": "mol/m3", "viscosity": "m2/s",
}  # fmt: skip

# What one kind over another is; anything else is named by both, as "length/mass".
_OVER = {
    ("length", "time"): "speed", ("speed", "time"): "acceleration", ("volume", "time"): "volume-flow",
    ("mass", "time"): "mass-flow", ("length", "volume"): "fuel-economy", ("information", "time"): "information-rate",
    ("mass", "volume"): "density", ("amount", "volume"): "concentration", ("energy", "time"): "power",
    ("force", "area"): "pressure", ("area", "time"): "viscosity",
}  # fmt: skip
_POWER = {("length", 2): "area", ("length", 3): "volume"}
_TERM = re.compile(r"([./]?)((?:\[[^\]]*\]|\{[^}]*\}|[^./\[{}0-9])+?)(-?\d+)?(?=[./]|$)")


def row(code: str) -> UnitRow:
    """The table's row for a UCUM code, for a trade writing of one ("Ah"), or for codes joined by "/", "." or a power.

    >>> row("km/h").kind, row("m3/h").kind
    ('speed', 'volume-flow')

    Raises UnitError where it, or a part of it, is not in the table.
    """
    found = _row(code)
    if found is None:
        raise UnitError(f"unknown unit code {code!r}: use a UCUM code of the unit table, such as 'bar' or '[psi]'")
    return found


@cache
def _row(code: str) -> UnitRow | None:
    rows = table().rows
    if code in rows:
        return rows[code]
    if code in table().same:
        return rows[table().same[code]]
    return _composed(code)


def _composed(code: str) -> UnitRow | None:
    parts: list[tuple[str, UnitRow, int]] = []
    at = 0
    while at < len(code):
        term = _TERM.match(code, at)
        if term is None or term.end() == at:
            return None
        inner = table().rows.get(term[2])
        if inner is None or inner.kind == "temperature":
            return None
        parts.append((term[1] or ".", inner, int(term[3] or 1)))
        at = term.end()
    if not parts or (len(parts) == 1 and parts[0][2] == 1 and parts[0][0] != "/"):
        return None
    # "/min" and "/km2" begin with the stroke: so much per minute
    per = parts[0][0] == "/"
    kind = "number" if per else ""
    pint_name = "1" if per else ""
    show = "1" if per else ""
    for joint, inner, power in parts:
        one = inner.kind if power == 1 else _POWER.get((inner.kind, power), f"{inner.kind}{power}")
        kind = one if not kind else _OVER.get((kind, one), f"{kind}/{one}") if joint == "/" else f"{kind}.{one}"
        name = f"({inner.pint})**{power}" if power != 1 else f"({inner.pint})"
        pint_name = name if not pint_name else f"{pint_name}{'/' if joint == '/' else '*'}{name}"
        shown = inner.show + ("" if power == 1 else {2: "²", 3: "³"}.get(power, f"^{power}"))
        show = shown if not show else f"{show}{'/' if joint == '/' else '·'}{shown}"
    return UnitRow(code, pint_name, kind, show)


def known(code: str | None) -> bool:
    """Whether `code` is a unit code of the table, or made of such."""
    return code is not None and _row(code) is not None


def kind(code: str) -> str:
    """What the unit measures: "pressure", "resistance", "angle", "rotation", "ratio" ...

    Raises UnitError for an unknown code.
    """
    return row(code).kind


def same_kind(a: str | None, b: str | None) -> bool:
    """Whether two unit codes measure the same kind of thing; false where either is unknown."""
    if a is None or b is None:
        return False
    first, second = _row(a), _row(b)
    return first is not None and second is not None and first.kind == second.kind


def show(code: str | None) -> str:
    """How people write the unit: "kOhm" is "kΩ", "[ft_i].[lbf_av]" is "ft·lb"; an unknown code as it stands."""
    if code is None:
        return ""
    found = _row(code)
    return code if found is None else found.show


def base_unit(of_kind: str) -> str:
    """The code of the unit that `to_base` counts this kind in ("pressure" in "Pa", "rotation" in "{rev}/min")."""
    try:
        return BASES[of_kind]
    except KeyError:
        raise UnitError(f"no base unit for the kind {of_kind!r}: see units.BASES") from None


@cache
def _pint_unit(code: str) -> pint.Unit:
    return registry().Unit(row(code).pint)


def quantity(value: float, code: str) -> Any:
    """A quantity of the conversion library: `value` in `code`. Offset scales (Cel, [degF]) are made safely."""
    return registry().Quantity(value, _pint_unit(code))


@cache
def _sizes() -> dict[str, tuple[float, float, str]]:
    """The sizes that ship with the package, so that the conversion library need not be loaded for them.

    Made from the conversion library by tests/units/make_sizes.py; a test holds them equal to it.
    """
    kept = json.loads(files("cleansheet.units").joinpath("data/sizes.json").read_bytes())
    return {code: (factor, offset, kind) for code, (factor, offset, kind) in kept.items()}


@cache
def _linear(code: str) -> tuple[float, float, str]:
    """Factor and offset to the kind's base unit: base = value * factor + offset. The third is the kind."""
    return _sizes().get(code) or computed_size(code)


def computed_size(code: str) -> tuple[float, float, str]:
    """Factor, offset and kind as the conversion library has them. Raises UnitError for an unknown code."""
    about = row(code)
    base = BASES.get(about.kind)
    if about.kind == "level":
        return 1.0, 0.0, about.kind
    if about.kind == "temperature":
        zero = quantity(0.0, code).to("degC").magnitude
        hundred = quantity(100.0, code).to("degC").magnitude
        # 1/1.8 and -32/1.8 to the last digit, so that 212 degF is 100 and not 99.99999999999997
        if code == "[degF]":
            return 1 / 1.8, -32 / 1.8, about.kind
        return round((hundred - zero) / 100, 12), round(zero, 10), about.kind
    one = quantity(1.0, code)
    if base is None:
        return float(one.to_base_units().magnitude), 0.0, about.kind
    return float(one.to(_pint_unit(base)).magnitude), 0.0, about.kind


def to_base(value: float, code: str) -> tuple[float, str]:
    """`value` in the base unit of its kind, with the kind. A temperature is counted in degrees Celsius.

    >>> to_base(60, "{rev}/min")
    (60.0, 'rotation')
    >>> round(to_base(18, "[in_i'Hg]")[0])
    60955

    Raises UnitError for an unknown code.
    """
    factor, offset, of_kind = _linear(code)
    if code == "[degF]":
        return (value - 32) / 1.8, of_kind
    return value * factor + offset, of_kind


@lru_cache(maxsize=8192)
def interval(low: float | None, high: float | None, code: str) -> tuple[float, float]:
    """Two ends in the base unit of their kind; an open end, None, is an infinity.

    >>> interval(2.8, None, "bar")
    (280000.0, inf)

    Raises UnitError for an unknown code.
    """
    return (
        float("-inf") if low is None else to_base(low, code)[0],
        float("inf") if high is None else to_base(high, code)[0],
    )


_WHOLE = frozenset({"mV", "{rev}/min", "[ppm]"})  # nobody says a part of one of these


def sayable(number: float, code: str) -> bool:
    """Whether people say such a number in a unit without naming the unit: no part of a millivolt, no quarter of a thou.

    >>> sayable(0.4, "mV"), sayable(2.5, "[mil_i]"), sayable(0.25, "[mil_i]")
    (False, True, False)
    """
    if code == "[mil_i]":
        return 2 * number == int(2 * number)  # "two and a half thou"
    return code not in _WHOLE or number == int(number)


def convert(value: float, from_code: str, to_code: str) -> float:
    """`value` of one unit in another of the same kind.

    >>> round(convert(2.5, "bar", "[psi]"), 2)
    36.26

    Raises UnitError for an unknown code, or for units of different kinds.
    """
    if from_code == to_code:
        return float(value)
    base, from_kind = to_base(value, from_code)
    factor, offset, to_kind = _linear(to_code)
    if from_kind != to_kind:
        raise UnitError(f"cannot turn {from_code!r} ({from_kind}) into {to_code!r} ({to_kind})")
    if to_code == "[degF]":
        return base * 1.8 + 32
    return (base - offset) / factor
