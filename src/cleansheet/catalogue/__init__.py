"""What the trade knows: components and their names, tests, limits, plausible ranges, cautions; and vehicle sheets.

The knowledge is in `data/trade/*.yaml`, one file a system, in a form that a technician can read and extend
(docs/catalogue.md). `load` gives it as plain frozen values; `load_sheet` gives a vehicle's own limits.
"""

from .dates import iso_date, iso_duration
from .identifiers import (
    Identifier,
    check_trouble_code,
    check_vin,
    find_trouble_codes,
    find_tyre_dates,
    find_vins,
)
from .loading import load
from .sheets import load_sheet
from .values import AlsoSaid, Catalogue, Component, Limit, Point, Relative, Sheet, Table, Test, Vehicle

__all__ = [
    "AlsoSaid",
    "Catalogue",
    "Component",
    "Identifier",
    "Limit",
    "Point",
    "Relative",
    "Sheet",
    "Table",
    "Test",
    "Vehicle",
    "check_trouble_code",
    "check_vin",
    "find_trouble_codes",
    "find_tyre_dates",
    "find_vins",
    "iso_date",
    "iso_duration",
    "load",
    "load_sheet",
]
