"""Sizes of units, remembered on the disk: factor and offset to the base unit of the kind.

The conversion library takes longer to load than a whole search may take. Every size comes from `cleansheet.units` once and
is kept in the user's cache folder, under the content of the unit table, so that a changed table is always seen.
"""

from __future__ import annotations

import hashlib
import json
import os
from contextlib import suppress
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


@cache
def size_of(code: str) -> tuple[float, float, str]:
    """(factor, offset, kind): a value times the factor plus the offset is in the base unit. Raises UnitError as `units`."""
    kept = _kept()
    if code not in kept:
        from cleansheet.units import to_base

        offset, kind = to_base(0.0, code)
        kept[code] = (to_base(1.0, code)[0] - offset, offset, kind)
        _keep(kept)
    return kept[code]


def to_base(value: float, code: str) -> tuple[float, str]:
    """A value in the base unit of its kind, and the kind.

    >>> to_base(9.4, "kOhm")
    (9400.0, 'resistance')
    """
    factor, offset, kind = size_of(code)
    return value * factor + offset, kind


def convert(value: float, from_code: str, to_code: str) -> float | None:
    """A value of one unit in another; None where they are of different kinds or one is not known."""
    from cleansheet.units import known

    if from_code == to_code:
        return value
    if not (known(from_code) and known(to_code)):
        return None
    base, kind = to_base(value, from_code)
    factor, offset, kind_too = size_of(to_code)
    return (base - offset) / factor if kind == kind_too else None


@cache
def _file() -> Path:
    from platformdirs import user_cache_path

    table = files("cleansheet.units").joinpath("data/units.yaml").read_bytes()
    return user_cache_path("cleansheet", appauthor=False) / f"unit-sizes-{hashlib.sha256(table).hexdigest()[:16]}.json"


@cache
def _kept() -> dict[str, tuple[float, float, str]]:
    try:
        return {
            code: (float(one[0]), float(one[1]), str(one[2])) for code, one in json.loads(_file().read_bytes()).items()
        }
    except (OSError, ValueError, TypeError, IndexError, AttributeError):
        return {}  # the first time, or damaged: computed again


def _keep(sizes: dict[str, tuple[float, float, str]]) -> None:
    """Put the file in place whole; a folder that cannot be written only costs the time again."""
    with suppress(OSError):
        _file().parent.mkdir(parents=True, exist_ok=True)
        part = _file().with_name(f"{_file().name}.{os.getpid()}.part")
        part.write_text(json.dumps(sizes), encoding="utf-8")
        part.replace(_file())
