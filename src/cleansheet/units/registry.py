"""The one registry of the conversion library, made when first needed.

Two registries cannot mix their quantities, and making one takes a tenth of a second or more, so there is one, here, and
nothing makes it at import. It never sees a word of a note: only names from our own table.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint

# Units that the library lacks or takes otherwise than we do.
_DEFINITIONS = (
    # SP 811's conventional inch of mercury; the library's own is of another density and loses the seventh digit
    "inch_of_mercury_conventional = 3386.38864034 * pascal",
    "inch_H2O_conventional = 249.08891 * pascal",
    "fathom_international = 6 * foot",
    "pica_ucum = 12 * point_ucum",
    "point_ucum = inch / 72",
    "Btu_thermochemical = 1054.350 * joule",
    "permille = 0.001",
    "ppb = 1e-9",
    "gauss_si = 1e-4 * tesla",
)


@cache
def registry() -> pint.UnitRegistry[Any]:
    """The registry, with our own definitions added."""
    import pint

    made: pint.UnitRegistry[Any] = pint.UnitRegistry()
    for line in _DEFINITIONS:
        name = line.split(" ", 1)[0]
        if name not in made:
            made.define(line)
    return made
