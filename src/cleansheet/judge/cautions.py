"""What can hurt in the tests of a draft, each text once, and the reminder that goes with all of them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ..catalogue import Catalogue, Sheet
    from ..terms import Item, Note


# "Electric" alone is said of fans and pumps too.
_VEHICLE = r"\b{}\b(?! (?:fan|pump|motor|window|mirror|seat|heater|clutch|choke|starter|start|motors|windows))"


def cautions_for(
    items: Sequence[Item], catalogue: Catalogue, sheet: Sheet | None = None, note: Note | None = None
) -> tuple[str, ...]:
    """The cautions of every test that the items hold, in the catalogue's order; none where no test is known.

    A vehicle whose sheet or note says so brings its own. The last line is the reminder of the maker's manual, local
    codes and licensed practice.
    """
    wanted: set[str] = set()
    for item in items:
        test = catalogue.tests.get(item.test) if item.test is not None else None
        if test is not None:
            wanted.update(test.cautions)
    words = note.text if note is not None else ""
    if sheet is not None:
        words += f"\n{sheet.vehicle.name}\n{sheet.vehicle.engine}"
    wanted.update(vehicle_cautions(words, catalogue))
    return caution_texts(wanted, catalogue)


def vehicle_cautions(words: str, catalogue: Catalogue) -> tuple[str, ...]:
    """The ids of the cautions that a vehicle needs whatever is tested, by what its description says.

    "hybrid or electric" in the catalogue stands for a description with either word in it.
    """
    return tuple(
        id_
        for kind, ids in catalogue.caution_by_vehicle.items()
        if any(_said(part.strip(), words) for part in kind.split(" or "))
        for id_ in ids
    )


def _said(kind: str, words: str) -> bool:
    return kind in words.lower() and re.search(_VEHICLE.format(re.escape(kind)), words, re.IGNORECASE) is not None


def caution_texts(ids: Iterable[str], catalogue: Catalogue) -> tuple[str, ...]:
    """The texts of these cautions without the reminder that each ends with, then the reminder once."""
    wanted = set(ids)
    found = [
        text.removesuffix(catalogue.authority).rstrip() for id_, text in catalogue.cautions.items() if id_ in wanted
    ]
    return (*found, catalogue.authority) if found else ()
