"""`cleansheet tests`: what the catalogue knows of a part, and what the vehicle's sheet has for it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from .common import JsonOption, VehicleOption, find_sheet, print_json, the_catalogue

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cleansheet.catalogue import Catalogue, Limit, Sheet, Test


def tests(  # a command, not a test
    words: Annotated[list[str], typer.Argument(help="The part, by any of its names.")],
    vehicle: VehicleOption = None,  # noqa: PT028  (see above)
    json_: JsonOption = False,  # noqa: PT028
) -> None:
    """Show what is known of a part: its tests, limits and cautions.

    Example: cleansheet tests ignition coil
    """
    from .naming import component_of

    catalogue = the_catalogue()
    component = catalogue.components[component_of(" ".join(words), catalogue)]
    sheet = find_sheet(vehicle, catalogue)[2] if vehicle else None
    known = catalogue.tests_of(component.id)
    if json_:
        for test in known:
            print_json(_as_json(test, catalogue, sheet))
        raise typer.Exit(0 if known else 1)
    typer.echo("\n".join(_page(component.id, catalogue, sheet)))
    if not known:
        raise typer.Exit(1)


def _page(component_id: str, catalogue: Catalogue, sheet: Sheet | None) -> Iterator[str]:
    from cleansheet.judge import caution_texts, vehicle_cautions

    from .paint import paint, wrap

    component = catalogue.components[component_id]
    also = f" ({', '.join(component.also)})" if component.also else ""
    yield paint(f"{component.name}{also}", "strong")
    known = catalogue.tests_of(component_id)
    if not known:
        yield "  no test is known for it; add one in a catalogue file of your own (docs/catalogue.md)"
    for test in known:
        yield ""
        yield from _test_lines(test, sheet)
    wanted = {caution for test in known for caution in test.cautions}
    if sheet is not None:
        wanted.update(vehicle_cautions(f"{sheet.vehicle.name} {sheet.vehicle.engine}", catalogue))
    texts = caution_texts(wanted, catalogue)
    yield ""
    if texts:
        yield paint("Take care", "look")
        yield from (wrap(text, 4, first="  ! ") for text in texts[:-1])
    yield paint(wrap(catalogue.authority, 0), "dim")


def _test_lines(test: Test, sheet: Sheet | None) -> Iterator[str]:
    from cleansheet.units import show

    from .paint import wrap

    unit = "finding" if test.measure is None else show(test.unit) if test.unit != "finding" else "finding"
    yield f"  {test.name} [{unit}]  {test.id}"
    yield wrap(test.asks, 4)
    for label, text in _facts(test, sheet):
        yield wrap(text, 20, first=f"    {label:<16}")


def _facts(test: Test, sheet: Sheet | None) -> Iterator[tuple[str, str]]:
    from cleansheet.judge import limit_text

    for limit in sheet.specs.get(test.id, ()) if sheet is not None else ():
        yield "this vehicle", f"{limit_text(limit)} ({limit.source})"
    if test.typical is not None:
        yield "usual limit", f"{limit_text(test.typical)}{_how_sure(test)}"
    for variant in test.variants:
        yield "or", f"{limit_text(variant)}{', where it is said' if variant.only_if_said else ''}"
    if test.relative is not None:
        yield "against another", _relative(test)
    if test.judge == "none":
        yield "usual limit", "none: it depends on the vehicle"
    when = _when(test)
    if when:
        yield "holds for", when
    yield "good", ", ".join(sorted(word.replace("_", " ") for word in test.good_findings))
    yield "bad", ", ".join(sorted(word.replace("_", " ") for word in test.bad_findings))
    for level in test.advice:
        yield "plan by", limit_text(level)
    if test.plausible is not None:
        yield "can show", limit_text(test.plausible)
    yield "needs", f"{test.needs}; about {test.minutes:g} min"
    yield "source", test.source


def _how_sure(test: Test) -> str:
    return "; a general rule, it varies with the design" if test.judge == "soft" else ""


def _when(test: Test) -> str:
    from cleansheet.judge import condition_text

    return "; ".join(text for text in (condition_text(test.when), test.when_text) if text)


def _relative(test: Test) -> str:
    from cleansheet.units import show

    rule = test.relative
    if rule is None:
        return ""
    unit = f" {show(rule.unit)}" if rule.unit and rule.unit != "1" else ""
    shapes = (
        (rule.max_drop, f"at most {{:g}}{unit} less than"),
        (rule.max_difference, f"within {{:g}}{unit} of"),
        (rule.min_percent, "at least {:g} % of"),
        (rule.max_percent, "at most {:g} % of"),
        (rule.max_below_percent, "at most {:g} % below"),
    )
    said = [shape.format(value) for value, shape in shapes if value is not None]
    if rule.drop_low is not None and rule.drop_high is not None:
        said.append(f"{rule.drop_low:g} to {rule.drop_high:g}{unit} less than")
    time = (
        f" after {rule.elapsed_min:g} min"
        if rule.elapsed_min
        else f" after {rule.elapsed_s:g} s"
        if rule.elapsed_s
        else ""
    )
    note = f" ({rule.note})" if rule.note else ""
    return f"{', '.join(said)} {rule.of}{time}{note}"


def _as_json(test: Test, catalogue: Catalogue, sheet: Sheet | None) -> dict[str, Any]:
    return {
        "test": test.id,
        "name": test.name,
        "unit": test.unit,
        "asks": test.asks,
        "judge": test.judge,
        "typical": _limit_json(test.typical) if test.typical else None,
        "variants": [_limit_json(limit) for limit in test.variants],
        "sheet": [_limit_json(limit) for limit in (sheet.specs.get(test.id, ()) if sheet is not None else ())],
        "when": {**test.when, **({"text": test.when_text} if test.when_text else {})},
        "good_findings": sorted(test.good_findings),
        "bad_findings": sorted(test.bad_findings),
        "plausible": _limit_json(test.plausible) if test.plausible else None,
        "needs": test.needs,
        "minutes": test.minutes,
        "source": test.source,
        "cautions": [catalogue.cautions[id_] for id_ in test.cautions],
        "authority": catalogue.authority,
    }


def _limit_json(limit: Limit) -> dict[str, Any]:
    from dataclasses import asdict

    return {key: value for key, value in asdict(limit).items() if value not in (None, "", (), {}, False)}
