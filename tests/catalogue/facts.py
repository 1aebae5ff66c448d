"""Every number, unit and condition of the catalogue as one line each, to hold against facts.txt."""

from __future__ import annotations

from pathlib import Path

KEPT = Path(__file__).with_name("facts.txt")


def lines(catalogue):
    found = []
    for test in catalogue.tests.values():
        found += [f"{test.id} {field}: {text}" for field, text in _facts(test) if text]
    for table in catalogue.tables.values():
        found += [f"{table.id} row: {', '.join(_cell(cell) for cell in row)}" for row in table.rows]
    return sorted(found)


def _facts(test):
    yield "unit", test.unit + (" or finding" if test.takes_finding and test.unit != "finding" else "")
    yield "judge", test.judge
    yield "typical", _limit(test.typical)
    for variant in test.variants:
        yield "variant", _limit(variant)
    yield "plausible", _limit(test.plausible)
    for level in test.advice:
        yield "advice", _limit(level)
    yield "when", _when(test.when)
    yield "must say", ", ".join(test.must_say)
    yield "relative", _relative(test.relative)
    yield "spread worth a remark", _cell(test.warn_spread_percent)
    yield "single limit", f"{test.single_limit} {_cell(test.nominal_tolerance)}".strip() if test.measure else ""
    other = test.also_said
    yield "also said", f"{_cell(other.low)} to {_cell(other.high)} / {_cell(other.divide_by)}" if other else ""
    yield "good", " ".join(sorted(test.good_findings))
    yield "bad", " ".join(sorted(test.bad_findings))
    yield "caution", " ".join(test.cautions)


def _limit(limit):
    if limit is None:
        return ""
    name = f"[{limit.name}] " if limit.name else ""
    spread = f" spread {_cell(limit.max_spread_percent)}" if limit.max_spread_percent is not None else ""
    said = " if said" if limit.only_if_said else ""
    when = f" when {_when(limit.when)}" if limit.when else ""
    return f"{name}{_cell(limit.low)}..{_cell(limit.high)} {limit.unit}{spread}{said}{when}"


def _relative(rule):
    if rule is None:
        return ""
    names = (
        "max_drop", "drop_low", "drop_high", "max_difference", "max_percent", "min_percent", "max_below_percent",
        "elapsed_s", "elapsed_min",
    )  # fmt: skip
    said = [f"{name} {_cell(getattr(rule, name))}" for name in names if getattr(rule, name) is not None]
    return f"{', '.join(said)} {rule.unit or ''} of {rule.of}"


def _when(when):
    return ", ".join(f"{key} {_cell(value)}" for key, value in when.items())


def _cell(value):
    return "" if value is None else f"{value:g}" if isinstance(value, float | int) else str(value)
