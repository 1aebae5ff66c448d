"""What a file must hold beyond its form: units that fit, ids that exist. Every fault names file, line and key."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    from .yaml_source import Place

# What `pydantic` says, in the words of someone who writes a YAML file.
_PLAINER = {
    "missing": "is missing",
    "extra_forbidden": "is not a key known here",
    "string_pattern_mismatch": "is not a usable name: lower-case words joined by hyphens (a test: component.test)",
}


def form_faults(errors: list[Any], where: Any) -> list[str]:
    """Pydantic's errors as lines; `where(place)` gives the Source and the place in it."""
    lines = []
    for error in errors:
        place = tuple(part for part in error["loc"] if part not in ("[key]", "SpecForm", "list[SpecForm]"))
        source, inner = where(place)
        message = _PLAINER.get(error["type"]) or error["msg"].removeprefix("Value error, ")
        line = source.fault(inner, message)
        if line not in lines:
            lines.append(line)
    return lines


def unit_fault(unit: Any, want: str | None) -> str | None:
    """What is wrong with a unit: not known, or of another kind than `want` (a UCUM code)."""
    from .. import units

    if not isinstance(unit, str) or not units.known(unit):
        return f"unit {unit!r} is not a known UCUM code"
    if want is not None and not units.same_kind(unit, want):
        return f"unit {unit!r} cannot measure this test, which is read in {want!r}"
    return None


def band_units(form: dict[str, Any], place: Place, want: str) -> Iterator[tuple[Place, str]]:
    """(place, fault) of every unit inside one test's form that is not right."""
    spots: list[tuple[Place, Any]] = [((*place, key), form.get(key)) for key in ("typical", "plausible", "relative")]
    for key in ("variants", "advice"):
        spots += [((*place, key, number), one) for number, one in enumerate(form.get(key) or ())]
    for spot, band in spots:
        if isinstance(band, dict) and band.get("unit") is not None:
            fault = unit_fault(band["unit"], want)
            if fault:
                yield (*spot, "unit"), fault
