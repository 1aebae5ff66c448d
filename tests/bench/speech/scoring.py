"""What of the dictated pairs is in a transcript: figures by `cleansheet.read.find_quantities`, compared with what was said.

*Found*: the transcript reads as the value and the unit. *Repaired*: it does so once a word beside the number is taken for
the unit it sounds like (`Figure.misheard`), or another way to take the number is taken; a reviewer sees such an item flagged.
*Lost*: neither. *Wrong*: a figure with a unit that nobody said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

SAME_UNIT = {"deg": "Cel", "[degF]": "Cel"}  # "degrees" alone: the test tells which


@dataclass(frozen=True)
class Score:
    said: int
    found: int
    repaired: int
    wrong: tuple[tuple[float, str, int, int], ...]
    lost: tuple[tuple[float, str], ...]


def figures(text: str) -> list[Any]:
    from cleansheet.read.quantities import find_quantities
    from cleansheet.read.words import words

    return list(find_quantities(list(words(text)), text))


def _same(value: float, unit: str, quantity: Any) -> bool:
    if quantity.value is None or quantity.unit is None:
        return False
    mine, its = SAME_UNIT.get(unit, unit), SAME_UNIT.get(quantity.unit, quantity.unit)
    return mine == its and abs(abs(value) - abs(quantity.value)) <= 1e-6 + 1e-4 * abs(value)


def score(text: str, pairs: list[list[Any]]) -> Score:
    """`pairs` are (value, UCUM unit). A list of numbers before one unit takes that unit ("1.45, 1.50 psi")."""
    flat = [part for one in figures(text) for part in (one.parts or (one,))]
    unit = None
    units: list[str | None] = []
    for one in reversed(flat):
        unit = (
            one.quantity.unit
            or (unit if one.form in ("list", "plain", "numeral", "words", "decimal") else None)
            or unit
        )
        units.append(one.quantity.unit or unit)
    units.reverse()
    open_pairs = [(float(value), code) for value, code in pairs]
    used: set[int] = set()
    found = repaired = 0

    def take(matches: Any) -> int:
        count = 0
        for pair in list(open_pairs):
            for place, one in enumerate(flat):
                if place not in used and matches(pair, one, units[place]):
                    used.add(place)
                    open_pairs.remove(pair)
                    count += 1
                    break
        return count

    found = take(lambda pair, one, _: _same(*pair, one.quantity))
    found += take(
        lambda pair, one, carried: one.quantity.unit is None and carried == pair[1] and one.quantity.value == pair[0]
    )
    repaired = take(lambda pair, one, _: any(_same(*pair, other) for other in (*one.misheard, *one.alternatives)))
    wrong = tuple(
        (one.quantity.value, one.quantity.unit, one.start, one.end)
        for place, one in enumerate(flat)
        if place not in used and one.quantity.unit is not None and one.quantity.value is not None
    )
    return Score(len(pairs), found, repaired, wrong, tuple(open_pairs))
