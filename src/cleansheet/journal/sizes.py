"""Values in base units and in each other's, for the journal: None instead of an error where units do not go together."""

from __future__ import annotations

from cleansheet.units import convert as exact
from cleansheet.units import known, same_kind, to_base

__all__ = ["convert", "to_base"]


def convert(value: float, from_code: str, to_code: str) -> float | None:
    """A value of one unit in another; None where they are of different kinds or one is not known."""
    if from_code == to_code:
        return value
    if not (known(from_code) and known(to_code) and same_kind(from_code, to_code)):
        return None
    return exact(value, from_code, to_code)
