"""Units: what each code measures, how it is written and said, and what one is in another.

| module | holds |
|---|---|
| `table` | the unit table (data/units.yaml), expanded: codes, kinds, written and said forms, misheard words |
| `registry` | the one registry of the conversion library |
| `convert` | factors, kinds, one unit in another |
| `rounding` | the interval a said number leaves open, and whether two figures agree |

Codes are UCUM (the Unified Code for Units of Measure). Text of a note never reaches the conversion library.
"""

from .convert import BASES, base_unit, convert, interval, kind, known, quantity, same_kind, sayable, show, to_base
from .registry import registry
from .rounding import STANDARD_ATMOSPHERE, absolute, agree, ends, gauge, overlap, rounding, spread
from .table import Alias, UnitError, UnitRow, aliases, misheard, table

__all__ = [
    "BASES",
    "STANDARD_ATMOSPHERE",
    "Alias",
    "UnitError",
    "UnitRow",
    "absolute",
    "agree",
    "aliases",
    "base_unit",
    "convert",
    "ends",
    "gauge",
    "interval",
    "kind",
    "known",
    "misheard",
    "overlap",
    "quantity",
    "registry",
    "rounding",
    "same_kind",
    "sayable",
    "show",
    "spread",
    "table",
    "to_base",
]
