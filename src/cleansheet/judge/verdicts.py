"""One reading against one limit, the note's, the sheet's or the catalogue's: the verdict with its reason."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING, NamedTuple

from .. import units
from ..terms import Expected, Verdict
from .bands import Band, band_of, compare, holds, reading_band, scale
from .general import rule
from .reasons import ORIGIN, arithmetic, band_text, ends_in, reading_text, short_source

if TYPE_CHECKING:
    from ..catalogue import Test
    from ..terms import Item, Quantity
    from .conditions import Said
    from .general import Counting
    from .said import SaidLimit
    from .sheets import SheetLimit

Judged = tuple[Expected | None, Verdict]
_SOFT = "; a general rule, it varies with the design"


class Reading(NamedTuple):
    """A number to judge: its interval in base units, what was said of its conditions, and how far the instrument may be
    off (`slack`, in `unit`). `taken` says how a number said another way was taken.
    """

    quantity: Quantity
    unit: str
    band: Band
    said: Said
    slack: float = 0.0
    taken: str = ""

    def against(self, word: str, limit: Band, ends: tuple[float | None, float | None, str]) -> str:
        said = reading_text(self.quantity, self.unit, self.slack)
        return f"{self.taken}{said} against {band_text(*ends)}: {arithmetic(word, self.band, limit, self.unit)}"


def by_note(reading: Reading, limit: SaidLimit, own: SheetLimit | None) -> Judged:
    """By what the note says. `own` is the sheet's limit, named in the reason where it disagrees."""
    quantity, unit = reading.quantity, reading.unit
    said_unit = (limit.item.quantity.unit if limit.item.quantity is not None else None) or unit
    low, high = ends_in(limit.band, said_unit)
    word = compare(reading.band, limit.band)
    if limit.nominal and word == "too_close" and quantity.value is not None:
        # What was said equals what it should be, as nearly as it was said: "0.4" against "nought point four nought".
        factor, offset, _ = scale(unit)
        if limit.band[0] <= factor * quantity.value + offset <= limit.band[1]:
            word = "in_spec"
    reason = reading.against(word, limit.band, (low, high, said_unit))
    source = f"{ORIGIN['note']}: '{limit.quote}'"
    if limit.nominal:
        source += ", one figure, so near it"
    if own is not None and conflict(limit, own):
        source += f"; the vehicle sheet has {band_text(own.low, own.high, own.unit)}"
    return Expected(low, high, said_unit, "note", limit.quote), Verdict(word, f"{reason} ({source})")


def by_sheet(reading: Reading, own: SheetLimit) -> Judged:
    """By the vehicle's sheet; no verdict where none of its limits holds under the conditions said."""
    if own.band is None:
        return None, Verdict("no_spec", own.why)
    word = compare(reading.band, own.band)
    reason = reading.against(word, own.band, (own.low, own.high, own.unit))
    granted = f"; {', '.join(own.granted)} not said, taken for granted" if own.granted else ""
    expected = Expected(own.low, own.high, own.unit, "sheet", own.source, own.when, own.name)
    return expected, Verdict(word, f"{reason} ({ORIGIN['sheet']}: {short_source(own.source)}{granted})")


def by_catalogue(reading: Reading, test: Test, counts: Counting) -> Judged:
    """By the trade's general rules, of which `counts` are those that hold here."""
    ruling = rule(test, reading.band, counts)
    limit = ruling.limit
    if limit is None:
        return None, Verdict("no_spec", ruling.why)
    word = ruling.word
    reason = reading.against(word, band_of(limit), (limit.low, limit.high, limit.unit))
    name = f", {limit.name}" if limit.name else ""
    tail = _SOFT if test.judge == "soft" else ""
    if word == "in_spec" and test.inside_proves_nothing:
        word, tail = "no_spec", "; inside proves nothing: the limits are the ends of the swing"
    expected = Expected(limit.low, limit.high, limit.unit, "catalogue", limit.source, limit.when, limit.name)
    return expected, Verdict(word, f"{reason} (catalogue{name}: {short_source(limit.source)}{tail})")


def by_fall(reading: Reading, test: Test, start: Item) -> Judged | None:
    """By how far the value may fall in a time, from `start`, the reading that it fell from.

    After the rule's time a fall within it is good; before that time a fall beyond it is already bad. Otherwise the rule
    cannot tell and the answer is None.
    """
    relative, begun = test.relative, start.quantity
    elapsed = reading.said.get("elapsed_min")
    if relative is None or relative.max_drop is None or relative.elapsed_min is None or elapsed is None:
        return None
    if begun is None or begun.unit is None or begun.number is None or reading.quantity.number is None:
        return None
    by, _, kind = scale(relative.unit or test.unit)
    if scale(begun.unit)[2] != kind:
        return None
    top = reading_band(begun, begun.unit)
    most = relative.max_drop * by
    word = compare((top[0] - reading.band[1], top[1] - reading.band[0]), (-inf, most))
    minutes = float(elapsed)
    too_early = word == "in_spec" and minutes < relative.elapsed_min * 0.9
    too_late = word != "in_spec" and minutes > relative.elapsed_min * 1.1
    if too_early or too_late:
        return None
    factor = scale(reading.unit)[0]
    shown = units.show(reading.unit)
    fell = begun.number * scale(begun.unit)[0] / factor - reading.quantity.number
    allowed = f"at most {most / factor:.3g} {shown} in {relative.elapsed_min:g} min"
    reason = f"fell {fell:.3g} {shown} in {minutes:g} min; {allowed}"
    low = ends_in((top[0] - most, inf), reading.unit)[0]
    expected = Expected(low, None, reading.unit, "catalogue", test.source, {"elapsed_min": relative.elapsed_min})
    return expected, Verdict(word, f"{reason} (catalogue: {short_source(test.source)}{_SOFT})")


# A limit said in another unit than the sheet's may be the same one, rounded: "40 to 46 psi" for 2.8 to 3.2 bar.
ROUNDED_SHARE = 0.02


def conflict(note: SaidLimit, own: SheetLimit) -> bool:
    """Whether the limit said and the sheet's disagree: the one said must equal the sheet's or lie within it.

    Only ends that were said are compared, so "at least 120" agrees with a sheet's 120 to 150. A nominal figure agrees
    where it lies within.
    """
    if own.band is None:
        return False
    low, high = note.band
    if note.nominal:
        low = high = (low + high) / 2
    elif low == -inf:
        low = high
    elif high == inf:
        high = low
    quantity = note.item.quantity
    rounded = ROUNDED_SHARE if quantity is not None and quantity.unit != own.unit else 0.0
    slack = rounded * max(abs(low), abs(high))
    return not holds((own.band[0] - slack, own.band[1] + slack), (low, high))
