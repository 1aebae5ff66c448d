"""Readings over time as a picture, PNG or SVG, with limits. Needs the extra `plot` (matplotlib)."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from cleansheet.terms import InputError

from .screen import name_of, unit_words

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from cleansheet.catalogue import Catalogue
    from cleansheet.journal import Record, Series

_MOST_PANELS = 8


def plot_story(records: Sequence[Record], catalogue: Catalogue, to: Path) -> Path:
    """Draw every series of measured readings of the records, a panel a test. Raises InputError where that cannot be."""
    from cleansheet.journal import story

    if to.suffix.lower() not in (".png", ".svg"):
        raise InputError(f"{to}: a plot is a .png or a .svg file")
    series = [one for one in story(records).series if any(value is not None for value in one.values)]
    if not series:
        raise InputError("there is no measured reading among these records to draw")
    figure = _figure(series[:_MOST_PANELS], catalogue)
    try:
        figure.savefig(to, dpi=130)
    except OSError as err:
        raise InputError(f"{to}: cannot be written: {(err.strerror or str(err)).lower()}") from err
    return to


def _figure(series: Sequence[Series], catalogue: Catalogue) -> Any:
    try:
        import importlib

        # without pyplot: no window system is touched
        figure_class = importlib.import_module("matplotlib.figure").Figure
    except ImportError as err:
        raise InputError("drawing needs matplotlib: install cleansheet[plot]") from err
    figure = figure_class(figsize=(8.5, 2.7 * len(series)), layout="constrained")
    days = [datetime.fromisoformat(record.happened_at) for one in series for record in one.records]
    margin = max((max(days) - min(days)) * 0.04, timedelta(days=3))
    for place, one in enumerate(series):
        axes = figure.add_subplot(len(series), 1, place + 1)
        _panel(axes, one, catalogue)
        axes.set_xlim(min(days) - margin, max(days) + margin)  # the same time in every panel
    return figure


def _judged(record: Record) -> str | None:
    verdict = record.item.verdict
    return verdict.word if verdict is not None and verdict.word != "no_spec" else None


def _left_open(record: Record, value: float, unit: str | None) -> tuple[float, float]:
    """How far below and above a value its interval reaches, in the unit."""
    from cleansheet.journal.sizes import convert

    quantity = record.item.quantity
    if quantity is None or quantity.unit is None or unit is None:
        return 0.0, 0.0
    low, high = (None if end is None else convert(end, quantity.unit, unit) for end in (quantity.low, quantity.high))
    return max(value - low, 0.0) if low is not None else 0.0, max(high - value, 0.0) if high is not None else 0.0


def _panel(axes: Any, series: Series, catalogue: Catalogue) -> None:
    points = [
        (datetime.fromisoformat(record.happened_at), value, record)
        for record, value in zip(series.records, series.values, strict=True)
        if value is not None
    ]
    # the bars are what rounding and "about" leave open
    left_open = [_left_open(record, value, series.unit) for _, value, record in points]
    axes.errorbar(
        [at for at, _, _ in points],
        [value for _, value, _ in points],
        yerr=[[down for down, _ in left_open], [up for _, up in left_open]],
        color="#8a8f98",
        linewidth=1,
        capsize=3,
        zorder=1,
    )
    for word, shape, colour in (
        ("in_spec", "o", "#2e7d32"),
        ("out_of_spec", "X", "#c62828"),
        ("too_close", "D", "#b26a00"),
        (None, "s", "#555555"),
    ):
        chosen = [
            (at, value) for at, value, record in points
            if _judged(record) == word
        ]  # fmt: skip
        if chosen:
            axes.scatter(*zip(*chosen, strict=True), marker=shape, color=colour, zorder=2, s=42)
    for end, name in zip(series.limits, ("low limit", "high limit"), strict=True):
        if end is not None:
            axes.axhline(end, color="#1f4e79", linestyle="--", linewidth=1)
            axes.annotate(
                name, (0.005, end), xycoords=("axes fraction", "data"), fontsize=7, color="#1f4e79", va="bottom"
            )
    test = catalogue.tests.get(series.test or "")
    part = name_of(series.records[-1].item.component, catalogue)
    which = f" {series.position}" if series.position else ""
    axes.set_title(
        f"{part}{which}: {test.name if test else 'no test named'} ({series.vehicle or 'no vehicle'})",
        fontsize=9,
        loc="left",
    )
    axes.set_ylabel(unit_words(series.unit))
    axes.tick_params(labelsize=8)
    axes.grid(alpha=0.25)
