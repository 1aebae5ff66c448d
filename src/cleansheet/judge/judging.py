"""From items to the draft: each reading gets its limit, its verdict with a reason, and what a reviewer must look at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf
from typing import TYPE_CHECKING

from .. import units
from ..terms import Draft, Expected, Item, Verdict
from .bands import EVERYTHING, Band, band_of, compare, holds, limit_band, reading_band, scale
from .conditions import Said, fit
from .findings import judge_finding
from .general import rule
from .reasons import ORIGIN, arithmetic, band_text, ends_in, reading_text
from .said import SaidLimit, SaidLimits
from .sheets import SheetLimit, sheet_limit
from .slips import Slip, disagree, slip

if TYPE_CHECKING:
    from ..catalogue import Catalogue, Sheet, Test
    from ..terms import Note, Quantity
    from .accuracy import Accuracy

OURS = frozenset({"unit_slip", "spec_conflict", "implausible", "units_disagree"})
# Conditions that stay as they are while the same test is repeated: said once, they hold for the next reading too.
_CARRIED = ("speed_rpm", "temperature_c", "elapsed_min", "engine", "warm")


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
    with `use_catalogue=False`). `accuracy` gives an instrument's error by kind ("voltage") or UCUM code ("V").
    Verdicts and flags of an earlier judging are made anew; all other flags stay.
    """
    from .attach import cautions_for, derive

    bench = _Bench(items, note, catalogue, sheet, accuracy or {}, use_catalogue=use_catalogue)
    judged = tuple(bench.judged(item) if item.kind == "reading" else item for item in items)
    figures, remarks = derive(judged, note, catalogue, sheet)
    return Draft(note=note, items=judged, derived=figures, cautions=cautions_for(judged, catalogue, sheet), remarks=remarks)


class _Bench:
    """What judging one note needs at hand."""

    __slots__ = ("accuracy", "catalogue", "carried", "said", "sheet", "starts", "use_catalogue", "words")

    def __init__(
        self,
        items: Sequence[Item],
        note: Note,
        catalogue: Catalogue,
        sheet: Sheet | None,
        accuracy: Mapping[str, Accuracy],
        *,
        use_catalogue: bool,
    ) -> None:
        self.catalogue = catalogue
        self.sheet = sheet
        self.accuracy = accuracy
        self.use_catalogue = use_catalogue
        self.said = SaidLimits(items, note, catalogue)
        self.words = note.text.lower()
        if sheet is not None:
            self.words += f"\n{sheet.vehicle.name}\n{sheet.vehicle.engine}".lower()
        self.carried: dict[str, Said] = {}
        self.starts = _starts(items)

    def judged(self, item: Item) -> Item:
        test = self.catalogue.tests.get(item.test) if item.test is not None else None
        quantity = item.quantity
        flags = tuple(flag for flag in item.flags if flag not in OURS)
        if quantity is None:
            if item.finding is None:
                return _with(item, None, None, flags, None)
            return _with(item, None, judge_finding(item.finding, test), flags, None)
        if quantity.unit is None or not units.known(quantity.unit):
            return _with(item, None, Verdict("no_spec", "no unit is known for this number"), flags, None)
        if disagree(quantity, item.second):
            return _with(item, None, None, (*flags, "units_disagree"), None)
        return self._measured(item, quantity, test, flags)

    def _measured(self, item: Item, quantity: Quantity, test: Test | None, flags: tuple[str, ...]) -> Item:
        unit = quantity.unit or ""
        kind = scale(unit)[2]
        said = self._conditions(item, test)
        note_limit = self.said.of(item, kind) if self.said else None
        own = self._sheet_limit(test, kind, said)
        if test is not None:
            wrong = self._slip(quantity, test, note_limit, own, said, kind)
            if wrong is not None:
                return _with(item, None, None, (*flags, wrong.flag), wrong.proposal)
        slack = self._slack(quantity, kind)
        within = EVERYTHING
        if test is not None and test.plausible is not None and (quantity.low is None or quantity.high is None):
            within = band_of(test.plausible)
        band = reading_band(quantity, unit, within, slack)
        if note_limit is not None:
            if own is not None and own.band is not None and _conflict(note_limit, own.band):
                flags = (*flags, "spec_conflict")
            expected, verdict = _by_note(band, quantity, unit, note_limit, slack, own)
        elif own is not None:
            expected, verdict = _by_sheet(band, quantity, unit, own, slack)
        elif test is not None and self.use_catalogue and test.measure is not None:
            expected, verdict = self._by_catalogue(band, item, quantity, test, said, slack)
        else:
            expected, verdict = None, Verdict("no_spec", "no limit is known for it")
        if item.finding is not None and test is not None and verdict.word != "out_of_spec":
            seen = judge_finding(item.finding, test)
            if seen.word == "out_of_spec" or verdict.word == "no_spec":
                verdict = Verdict(seen.word, f"{seen.reason}; {verdict.reason}")
        return _with(item, expected, verdict, flags, None)

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
        return sheet_limit(limits, said, test)

    def _slip(
        self, quantity: Quantity, test: Test, note: SaidLimit | None, own: SheetLimit | None, said: Said, kind: str
    ) -> Slip | None:
        if test.measure is None or scale(test.measure)[2] != kind:
            return None
        limits: list[Band] = []
        if note is not None:
            limits.append(note.band)
        if own is not None:
            limits += own.every
        if not limits:
            every = [limit for limit in test.variants if not limit.when or not fit(limit.when, said).clash]
            if test.typical is not None:
                every.insert(0, test.typical)
            limits = [band_of(limit) for limit in every if limit.low is not None or limit.high is not None]
        return slip(quantity, test, limits)

    def _slack(self, quantity: Quantity, kind: str) -> float:
        if not self.accuracy:
            return 0.0
        meter = self.accuracy.get(quantity.unit or "") or self.accuracy.get(kind)
        return meter.error(quantity) if meter is not None else 0.0

    def _by_catalogue(
        self, band: Band, item: Item, quantity: Quantity, test: Test, said: Said, slack: float
    ) -> tuple[Expected | None, Verdict]:
        if scale(test.measure or "")[2] != scale(quantity.unit or "")[2]:
            return None, Verdict("no_spec", f"{units.show(quantity.unit)} does not measure {test.name}")
        fallen = self._by_fall(band, item, quantity, test, said)
        if fallen is not None:
            return fallen
        ruling = rule(test, band, said, self.words)
        limit = ruling.limit
        if limit is None:
            return None, Verdict("no_spec", ruling.why)
        word = ruling.word
        unit = quantity.unit or ""
        reason = _reason(word, band, band_of(limit), quantity, unit, slack, (limit.low, limit.high, limit.unit))
        name = f", {limit.name}" if limit.name else ""
        soft = "; a general rule, it varies with the design" if test.judge == "soft" else ""
        if word == "in_spec" and test.inside_proves_nothing:
            word, soft = "no_spec", "; inside proves nothing: the limits are the ends of the swing"
        expected = Expected(limit.low, limit.high, limit.unit, "catalogue", limit.source, limit.when, limit.name)
        return expected, Verdict(word, f"{reason} (catalogue{name}: {limit.source}{soft})")

    def _by_fall(
        self, band: Band, item: Item, quantity: Quantity, test: Test, said: Said
    ) -> tuple[Expected | None, Verdict] | None:
        """A test that counts how far a value may fall in a time, where the note has the value it fell from.

        After the rule's time a fall within it is good; before the time a fall beyond it is already bad. Otherwise the
        rule cannot tell.
        """
        relative = test.relative
        elapsed = said.get("elapsed_min")
        if relative is None or relative.max_drop is None or relative.elapsed_min is None or elapsed is None:
            return None
        start = self.starts.get(relative.of, {}).get(item.start)
        if start is None or start.quantity is None or start.quantity.unit is None:
            return None
        factor, _, kind = scale(relative.unit or test.unit)
        if scale(start.quantity.unit)[2] != kind:
            return None
        base = reading_band(start.quantity, start.quantity.unit)
        drop = (base[0] - band[1], base[1] - band[0])
        word = compare(drop, (-inf, relative.max_drop * factor))
        minutes = float(elapsed)
        if (word == "in_spec" and minutes < relative.elapsed_min * 0.9) or (
            word != "in_spec" and minutes > relative.elapsed_min * 1.1
        ):
            return None
        unit = quantity.unit or ""
        scale_to = scale(unit)[0]
        shown = units.show(unit)
        fall = ((start.quantity.number or 0.0) * scale(start.quantity.unit)[0] - (quantity.number or 0.0) * scale_to) / scale_to
        low = ends_in((base[0] - relative.max_drop * factor, inf), unit)[0]
        most = relative.max_drop * factor / scale_to
        reason = f"fell {fall:.3g} {shown} in {minutes:g} min; at most {most:.3g} {shown} in {relative.elapsed_min:g} min"
        source = f"catalogue: {test.source}; a general rule, it varies with the design"
        return Expected(low, None, unit, "catalogue", test.source, {"elapsed_min": relative.elapsed_min}), Verdict(
            word, f"{reason} ({source})"
        )


def _starts(items: Sequence[Item]) -> dict[str, dict[int, Item]]:
    """For each test, which of its readings last came before a place in the note: the value something fell from."""
    found: dict[str, dict[int, Item]] = {}
    last: dict[str, Item] = {}
    for item in items:
        if item.kind != "reading" or item.quantity is None or item.test is None:
            continue
        for test_id, start in last.items():
            found.setdefault(test_id, {})[item.start] = start
        last[item.test] = item
    return found


def _conflict(note: SaidLimit, own: Band) -> bool:
    """Whether the limit said and the sheet's disagree: the one said must equal the sheet's or lie within it.

    Only ends that were said are compared, so "at least 120" agrees with a sheet's 120 to 150. A nominal figure agrees
    where it lies within.
    """
    low, high = note.band
    if note.nominal:
        middle = (low + high) / 2
        return not holds(own, (middle, middle))
    if low == -inf and high == inf:
        return False
    inner = (own[0] if low == -inf and own[0] != -inf else low, own[1] if high == inf and own[1] != inf else high)
    if inner[0] > inner[1]:
        return True
    if low == -inf:
        inner = (high, high)
    elif high == inf:
        inner = (low, low)
    return not holds(own, inner)


def _by_note(
    band: Band, quantity: Quantity, unit: str, limit: SaidLimit, slack: float, own: SheetLimit | None
) -> tuple[Expected, Verdict]:
    said_unit = (limit.item.quantity.unit if limit.item.quantity is not None else None) or unit
    low, high = ends_in(limit.band, said_unit)
    word = compare(band, limit.band)
    if limit.nominal and word == "too_close" and quantity.value is not None:
        # What was said equals what it should be, as nearly as it was said: "0.4" against "nought point four nought".
        factor, offset, _ = scale(unit)
        if limit.band[0] <= factor * quantity.value + offset <= limit.band[1]:
            word = "in_spec"
    reason = _reason(word, band, limit.band, quantity, unit, slack, (low, high, said_unit))
    source = f"{ORIGIN['note']}: '{limit.quote}'"
    if limit.nominal:
        source += ", one figure, so near it"
    if own is not None and own.band is not None and _conflict(limit, own.band):
        source += f"; the vehicle sheet has {band_text(own.low, own.high, own.unit)}"
    return Expected(low, high, said_unit, "note", limit.quote), Verdict(word, f"{reason} ({source})")


def _by_sheet(
    band: Band, quantity: Quantity, unit: str, own: SheetLimit, slack: float
) -> tuple[Expected | None, Verdict]:
    if own.band is None:
        return None, Verdict("no_spec", own.why)
    word = compare(band, own.band)
    reason = _reason(word, band, own.band, quantity, unit, slack, (own.low, own.high, own.unit))
    granted = f"; {', '.join(own.granted)} not said, taken for granted" if own.granted else ""
    expected = Expected(own.low, own.high, own.unit, "sheet", own.source, own.when, own.name)
    return expected, Verdict(word, f"{reason} ({ORIGIN['sheet']}: {own.source}{granted})")


def _reason(
    word: str,
    band: Band,
    limit: Band,
    quantity: Quantity,
    unit: str,
    slack: float,
    shown: tuple[float | None, float | None, str],
) -> str:
    return f"{reading_text(quantity, unit, slack)} against {band_text(*shown)}: {arithmetic(word, band, limit, unit)}"


def _with(
    item: Item, expected: Expected | None, verdict: Verdict | None, flags: tuple[str, ...], proposal: str | None
) -> Item:
    return Item(
        item.kind, item.start, item.end, item.quantity, item.finding, item.component, item.test, item.position,
        item.condition, expected, verdict, flags, item.confidence, item.why, item.runners_up, item.second, proposal,
        item.audio, item.group,
    )  # fmt: skip
