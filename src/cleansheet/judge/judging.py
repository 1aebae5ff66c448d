"""From items to the draft: each reading gets its limit, its verdict with a reason, and what a reviewer must look at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .. import units
from ..terms import Draft, Item, Quantity, Verdict
from .bands import EVERYTHING, Band, band_of, reading_band, scale
from .conditions import fit
from .findings import judge_finding
from .general import Counting, counting, plain_words
from .said import SaidLimits
from .sheets import SheetLimit, sheet_limit
from .slips import Slip, disagree, slip
from .verdicts import Judged, Reading, by_catalogue, by_fall, by_note, by_sheet, conflict

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from ..catalogue import Catalogue, Sheet, Test
    from ..terms import Expected, Note
    from .accuracy import Accuracy
    from .conditions import Said
    from .said import SaidLimit

OURS = frozenset({"unit_slip", "spec_conflict", "implausible", "units_disagree"})
# Conditions that stay as they are while the same test is repeated: said once, they hold for the next reading too.
_CARRIED = ("speed_rpm", "temperature_c", "elapsed_min", "engine", "warm")
_NO_RESISTANCE = frozenset({"open_circuit", "short_circuit"})  # no reading that a limit in ohms could allow
Key = str | tuple[str | tuple[str, str | float], ...]
_BANDS: dict[tuple[str, str], tuple[Band, ...]] = {}
_NO_ACCURACY: Mapping[str, Accuracy] = {}


def judge(
    items: Sequence[Item],
    note: Note,
    catalogue: Catalogue,
    sheet: Sheet | None = None,
    *,
    accuracy: Mapping[str, Accuracy] | None = None,
    use_catalogue: bool = True,
) -> Draft:
    """The draft sheet: the same items in the same order, readings judged, with derived figures, cautions and remarks.

    A limit said in the note goes before the vehicle's `sheet`, and the sheet before the catalogue (which is left out
    with `use_catalogue=False`). `accuracy` gives an instrument's error by kind ("voltage") or UCUM code ("V"). Verdicts
    and flags of an earlier judging are made anew; all other flags stay.
    """
    from .cautions import cautions_for
    from .figures import derive

    bench = _Bench(items, note, catalogue, sheet)
    bench.accuracy = accuracy or _NO_ACCURACY
    bench.use_catalogue = use_catalogue
    judged = tuple(bench.judged(item) if item.kind == "reading" else item for item in items)
    figures, remarks, additions = derive(judged, note, catalogue, sheet)
    if additions:
        judged = tuple(_reason_added(item, additions.get(item.start)) for item in judged)
    cautions = cautions_for(judged, catalogue, sheet, note)
    return Draft(note=note, items=judged, derived=figures, cautions=cautions, remarks=remarks)


class _Bench:
    """What judging one note needs at hand."""

    __slots__ = (
        "_words", "accuracy", "carried", "catalogue", "counting", "items", "own", "said", "sheet", "text",
        "use_catalogue",
    )  # fmt: skip

    def __init__(self, items: Sequence[Item], note: Note, catalogue: Catalogue, sheet: Sheet | None) -> None:
        self.items = items
        self.catalogue = catalogue
        self.sheet = sheet
        self.accuracy = _NO_ACCURACY
        self.use_catalogue = True
        self.said = SaidLimits(items, note, catalogue)
        self.text = note.text
        self._words: str | None = None
        self.carried: dict[str, Said] = {}
        # One test under one set of conditions is judged by one limit, however many positions it was read at.
        self.own: dict[Key, SheetLimit | None] = {}
        self.counting: dict[Key, Counting] = {}

    @property
    def words(self) -> str:
        """The note and the vehicle's description, to look for the names of designs in."""
        if self._words is None:
            vehicle = f"\n{self.sheet.vehicle.name}\n{self.sheet.vehicle.engine}" if self.sheet is not None else ""
            self._words = plain_words(self.text + vehicle)
        return self._words

    def judged(self, item: Item) -> Item:
        """The item with its limit, verdict and flags."""
        test = self.catalogue.tests.get(item.test) if item.test is not None else None
        quantity = item.quantity
        flags = item.flags
        if flags and not OURS.isdisjoint(flags):
            flags = tuple(flag for flag in flags if flag not in OURS)
        if quantity is None or quantity.number is None or not units.known(quantity.unit):
            seen = None if item.finding is None else judge_finding(item.finding, test)
            if seen is not None and seen.word == "no_spec" and test is not None and item.finding in _NO_RESISTANCE:
                limit = self.said.of(item, scale("Ohm")[2]) if self.said else None
                if limit is not None:
                    seen = Verdict(
                        "out_of_spec", f"{item.finding.replace('_', ' ')} against {limit.quote!r} said in this note"
                    )
            if seen is None and quantity is not None:
                what = "unit is known for this number" if quantity.number is not None else "number is known"
                seen = Verdict("no_spec", f"no {what}")
            return _with(item, None, seen, flags)
        if item.second is not None and disagree(quantity, item.second):
            return _with(item, None, None, (*flags, "units_disagree"))
        return self._measured(item, quantity, quantity.unit or "", test, flags)

    def _measured(
        self, item: Item, quantity: Quantity, unit: str, test: Test | None, flags: tuple[str, ...]
    ) -> Item:  # fmt: skip
        kind = scale(unit)[2]
        said = self._conditions(item, test)
        limit = self.said.of(item, kind) if self.said else None
        own = self._sheet_limit(test, kind, said)
        within = EVERYTHING
        taken = ""
        wrong = None
        if test is not None:
            if test.also_said is not None:
                quantity, wrong = _as_test_says(quantity, test)
                if quantity is not item.quantity and item.quantity is not None:
                    taken = f"{item.quantity.number:g} taken as "
            wrong = wrong or self._slip(quantity, test, limit, own, said)
            if wrong is not None:
                return _with(item, None, None, (*flags, wrong.flag), wrong.proposal)
            if test.plausible is not None and (quantity.low is None or quantity.high is None):
                within = band_of(test.plausible)
        slack = self._slack(quantity, kind) if self.accuracy else 0.0
        reading = Reading(quantity, unit, reading_band(quantity, unit, within, slack), said, slack, taken)
        if limit is not None and own is not None and conflict(limit, own):
            flags = (*flags, "spec_conflict")
        expected, verdict = self._ruled(item, reading, test, limit, own)
        if item.finding is not None and test is not None and verdict.word != "out_of_spec":
            seen = judge_finding(item.finding, test)
            if seen.word == "out_of_spec" or verdict.word == "no_spec":
                verdict = Verdict(seen.word, f"{seen.reason}; {verdict.reason}")
        return _with(item, expected, verdict, flags)

    def _ruled(
        self, item: Item, reading: Reading, test: Test | None, limit: SaidLimit | None, own: SheetLimit | None
    ) -> Judged:
        if limit is not None:
            return by_note(reading, limit, own)
        if own is not None:
            return by_sheet(reading, own)
        if test is None or test.measure is None or not self.use_catalogue:
            return None, Verdict("no_spec", "no limit is known for it")
        if scale(test.measure)[2] != scale(reading.unit)[2]:
            return None, Verdict("no_spec", f"{units.show(reading.unit)} does not measure {test.name}")
        if test.relative is not None and test.relative.max_drop is not None and "elapsed_min" in reading.said:
            start = self._last_before(test.relative.of, item)
            fallen = by_fall(reading, test, start) if start is not None else None
            if fallen is not None:
                return fallen
        return by_catalogue(reading, test, self._counting(test, reading.said))

    def _conditions(self, item: Item, test: Test | None) -> Said:
        """What is said of this reading, with what was said of the same test before it where nothing else was."""
        said = item.condition
        if test is None or (not test.must_say and not test.when):
            return said
        before = self.carried.get(test.id)
        if before:
            kept = {key: before[key] for key in _CARRIED if key in before and key not in said}
            if "speed_rpm" in said:
                kept.pop("engine", None)
            elif said.get("engine") in ("idle", "off", "cranking"):
                kept.pop("speed_rpm", None)
            if kept:
                said = {**kept, **said}
        if said:
            self.carried[test.id] = said
        return said

    def _sheet_limit(self, test: Test | None, kind: str, said: Said) -> SheetLimit | None:
        if self.sheet is None or test is None:
            return None
        limits = self.sheet.specs.get(test.id)
        if not limits or scale(limits[0].unit)[2] != kind:
            return None
        key = _key(test, said)
        if key not in self.own:
            self.own[key] = sheet_limit(limits, said, test)
        return self.own[key]

    def _counting(self, test: Test, said: Said) -> Counting:
        key = _key(test, said)
        if key not in self.counting:
            self.counting[key] = counting(test, said, self.words)
        return self.counting[key]

    def _slip(
        self, quantity: Quantity, test: Test, note: SaidLimit | None, own: SheetLimit | None, said: Said
    ) -> Slip | None:  # fmt: skip
        if test.measure is None or scale(test.measure)[2] != scale(quantity.unit or "1")[2]:
            return None
        if note is not None:
            stated_in = note.item.quantity.unit if note.item.quantity is not None else None
            return slip(quantity, test, (note.band, *own.every) if own is not None else (note.band,), stated_in)
        return slip(quantity, test, own.every if own is not None else self._general_bands(test, said))

    def _general_bands(self, test: Test, said: Said) -> tuple[Band, ...]:
        """The catalogue's bands that a number of this test should lie in, whatever the design."""
        key = (self.catalogue.key, test.id)
        found = _BANDS.get(key) if not said else None
        if found is None:
            every = [limit for limit in test.variants if not limit.when or not fit(limit.when, said).clash]
            if test.typical is not None:
                every.insert(0, test.typical)
            found = tuple(band_of(limit) for limit in every if limit.low is not None or limit.high is not None)
            if not said:
                _BANDS[key] = found
        return found

    def _last_before(self, test_id: str, item: Item) -> Item | None:
        """The last reading of a test before a place in the note: the value that something fell from."""
        found = None
        for other in self.items:
            if other.start >= item.start:
                break
            if other.kind == "reading" and other.test == test_id and other.quantity is not None:
                found = other
        return found

    def _slack(self, quantity: Quantity, kind: str) -> float:
        meter = self.accuracy.get(quantity.unit or "") or self.accuracy.get(kind)
        return meter.error(quantity) if meter is not None else 0.0


def _reason_added(item: Item, text: str | None) -> Item:
    """The item with something more in its verdict's reason. The verdict stays: its limit is the reading's own."""
    verdict = item.verdict
    if text is None or verdict is None or item.kind != "reading":
        return item
    return _with(item, item.expected, Verdict(verdict.word, f"{verdict.reason}; but {text}"), item.flags, item.proposal)


def _key(test: Test, said: Said) -> Key:
    return (test.id, *said.items()) if said else test.id


def _as_test_says(quantity: Quantity, test: Test) -> tuple[Quantity, Slip | None]:
    """A number said the trade's other way ("1265" for a specific gravity of 1.265) as the test's own; or, where that
    way is a confusion (an air-fuel ratio for lambda), what to ask the reviewer.
    """
    other, value = test.also_said, quantity.number
    if other is None or value is None or quantity.unit != test.measure or not other.low <= value <= other.high:
        return quantity, None
    by = other.divide_by
    if other.slip:
        offer = f"{value:g} looks like the {other.name}: divided by {by:g} it is {value / by:.3f}"
        return quantity, Slip("unit_slip", offer)
    one, low, high = (None if end is None else end / by for end in (quantity.value, quantity.low, quantity.high))
    return Quantity(one, low, high, quantity.unit, quantity.comparator, quantity.approximate), None


def _with(
    item: Item,
    expected: Expected | None,
    verdict: Verdict | None,
    flags: tuple[str, ...],
    proposal: str | None = None,
) -> Item:
    """The item judged; a plain construction, a third of the time of `dataclasses.replace`."""
    return Item(
        item.kind, item.start, item.end, item.quantity, item.finding, item.component, item.test, item.position,
        item.condition, expected, verdict, flags, item.confidence, item.why, item.runners_up, item.second, proposal,
        item.audio, item.group, item.at,
    )  # fmt: skip
