#!/usr/bin/env python3
"""Spoil the catalogue one fact at a time and count which faults are caught.

usage: python tests/bench/mutate_catalogue.py [--misses]     --misses prints each fault that nothing caught

Each limit is moved up and down by 5 % (an end at zero by 5 % of the other end), each unit is changed to another, each
condition is dropped, each deciding word (judge, single_limit, must_say, only_if_said, a finding's list) is changed. A
fault is caught by the loader (it refuses the file), by the verdicts of tests/judge/limits.csv, or by
tests/catalogue/facts.txt. Takes some minutes.
"""

from __future__ import annotations

import copy
import importlib.util
import sys
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from cleansheet.catalogue import build
from cleansheet.catalogue.loading import DATA
from cleansheet.catalogue.parsing import check, gather
from cleansheet.terms import SpecError

TESTS = Path(__file__).parents[1]
Change = Callable[[dict[str, Any]], None]
OTHER_UNIT = {
    "bar": "[psi]", "[psi]": "bar", "Ohm": "kOhm", "kOhm": "Ohm", "V": "mV", "mV": "V", "A": "mA", "mA": "A",
    "mm": "[mil_i]", "L/min": "mL/min", "mL/min": "L/min", "Cel": "[degF]", "[in_i'Hg]": "kPa", "%": "[ppm]",
    "[ppm]": "%", "N.m": "[ft_i].[lbf_av]", "g/s": "kg/h", "ms": "s", "deg": "rad", "{rev}/min": "Hz", "1": "%",
}  # fmt: skip
BANDS = ("typical", "plausible")
LISTS = ("variants", "advice")
NUMBERS = (
    "low", "high", "max_spread_percent", "max_drop", "drop_low", "drop_high", "max_difference", "max_percent",
    "min_percent", "max_below_percent", "elapsed_s", "elapsed_min", "divide_by",
)  # fmt: skip


def helper(path: Path) -> Any:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    if spec is None or spec.loader is None:
        raise SystemExit(f"{path}: cannot be loaded")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def setter(place: tuple[str | int, ...], value: Any) -> Change:
    def change(data: dict[str, Any]) -> None:
        inner: Any = data
        for part in place[:-1]:
            inner = inner[part]
        inner[place[-1]] = value

    return change


def dropper(place: tuple[str | int, ...]) -> Change:
    def change(data: dict[str, Any]) -> None:
        inner: Any = data
        for part in place[:-1]:
            inner = inner[part]
        del inner[place[-1]]

    return change


def bands(test_id: str, form: dict[str, Any]) -> Iterator[tuple[tuple[str | int, ...], dict[str, Any]]]:
    for key in (*BANDS, "relative", "also_said"):
        if isinstance(form.get(key), dict):
            yield ("tests", test_id, key), form[key]
    for key in LISTS:
        for number, one in enumerate(form.get(key) or ()):
            yield ("tests", test_id, key, number), one


def mutations(data: dict[str, Any]) -> Iterator[tuple[str, str, Change]]:
    """(kind, what, change) for every single fault."""
    for test_id, form in data["tests"].items():
        for place, band in bands(test_id, form):
            where = ".".join(map(str, place))
            for key in NUMBERS:
                if isinstance(band.get(key), int | float):
                    value = float(band[key])
                    step = 0.05 * abs(value or band.get("high") or band.get("low") or 1.0)
                    for moved in (value - step, value + step):
                        yield "limit moved", f"{where}.{key}: {value:g} -> {moved:g}", setter((*place, key), moved)
            if band.get("unit"):
                other = OTHER_UNIT[band["unit"]]
                yield "unit changed", f"{where}.unit: {band['unit']} -> {other}", setter((*place, "unit"), other)
                yield "unit changed", f"{where}.unit: {band['unit']} -> s/m", setter((*place, "unit"), "kg")
            for key in band.get("when") or ():
                yield "condition dropped", f"{where}.when.{key}", dropper((*place, "when", key))
            for key in ("only_if_said", "said"):
                if band.get(key):
                    yield "condition dropped", f"{where}.{key}", dropper((*place, key))
            if band.get("only_if_said"):

                def both(inner: dict[str, Any], place: tuple[str | int, ...] = place) -> None:
                    dropper((*place, "only_if_said"))(inner)
                    dropper((*place, "said"))(inner)

                yield "condition dropped", f"{where}.only_if_said and said", both
        yield from of_test(test_id, form)
    for table, form in data["tables"].items():
        for number, row in enumerate(form["rows"]):
            for column, cell in enumerate(row):
                if isinstance(cell, int | float):
                    place = ("tables", table, "rows", number, column)
                    yield (
                        "limit moved",
                        f"{table} row {number}: {cell:g}",
                        setter(place, cell * 1.05 + (0 if cell else 1)),
                    )


def of_test(test_id: str, form: dict[str, Any]) -> Iterator[tuple[str, str, Change]]:
    place = ("tests", test_id)
    if form["unit"] != "finding":
        other = OTHER_UNIT[form["unit"]]
        yield "unit changed", f"{test_id}.unit: {form['unit']} -> {other}", setter((*place, "unit"), other)
    for key in form.get("when") or ():
        if key != "text":
            yield "condition dropped", f"{test_id}.when.{key}", dropper((*place, "when", key))
    for key in ("must_say", "inside_proves_nothing"):
        if form.get(key):
            yield "condition dropped", f"{test_id}.{key}", dropper((*place, key))
    for key in ("nominal_tolerance", "warn_spread_percent"):
        if form.get(key):
            yield "limit moved", f"{test_id}.{key}", setter((*place, key), form[key] * 1.05)
    judge = {"firm": "soft", "soft": "none", "none": "soft"}[form["judge"]]
    yield "word changed", f"{test_id}.judge: {form['judge']} -> {judge}", setter((*place, "judge"), judge)
    if form.get("single_limit"):
        way = "min" if form["single_limit"] == "max" else "max"
        yield "word changed", f"{test_id}.single_limit -> {way}", setter((*place, "single_limit"), way)
    for key, other in (("good_findings", "bad_findings"), ("bad_findings", "good_findings")):
        for number, word in enumerate(form[key]):

            def swap(data: dict[str, Any], key: str = key, other: str = other, number: int = number) -> None:
                inner = data["tests"][test_id]
                inner[other].append(inner[key].pop(number))

            yield "word changed", f"{test_id}: {word} from {key} to {other}", swap


def main() -> int:
    golden, facts = helper(TESTS / "judge" / "golden.py"), helper(TESTS / "catalogue" / "facts.py")
    rows = defaultdict(list)
    for row in golden.rows():
        rows[row["test"]].append(row)
    kept = sorted(facts.KEPT.read_text("utf-8").splitlines())
    merged, origin = gather([(path, path.read_bytes()) for path in sorted(DATA.glob("*.yaml"))])
    caught: dict[str, Counter[str]] = defaultdict(Counter)
    for number, (kind, what, change) in enumerate(mutations(merged)):
        spoilt = copy.deepcopy(merged)
        change(spoilt)
        by = _caught_by(spoilt, origin, what, golden, rows, facts, kept, key=str(number))
        caught[kind][by] += 1
        if by == "nothing" and "--misses" in sys.argv:
            print(f"not caught: {kind}: {what}")
    ways = ("loader", "verdicts", "facts", "nothing")
    print(f"{'':<18} {'faults':>7} " + " ".join(f"{way:>9}" for way in ways))
    for kind, counts in caught.items():
        print(f"{kind:<18} {counts.total():>7} " + " ".join(f"{counts[way]:>9}" for way in ways))
    total = sum(caught.values(), Counter())
    print(f"{'all':<18} {total.total():>7} " + " ".join(f"{total[way]:>9}" for way in ways))
    return 1 if total["nothing"] else 0


def _caught_by(
    spoilt: dict[str, Any],
    origin: Any,
    what: str,
    golden: Any,
    rows: dict[str, list[dict[str, str]]],
    facts: Any,
    kept: list[str],
    *,
    key: str,
) -> str:
    try:
        catalogue = build.catalogue({**check(spoilt, origin), "key": key})
    except SpecError:
        return "loader"
    touched = [test_id for test_id in rows if test_id in what]
    if any(golden.verdict(row, catalogue) != row["verdict"] for test_id in touched for row in rows[test_id]):
        return "verdicts"
    return "nothing" if facts.lines(catalogue) == kept else "facts"


if __name__ == "__main__":
    sys.exit(main())
