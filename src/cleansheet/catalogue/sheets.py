"""Vehicle sheets: the limits of one vehicle, in YAML."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..terms import SpecError
from . import build
from .loading import load
from .yaml_source import Place, Source, read_yaml

if TYPE_CHECKING:
    from .values import Catalogue, Sheet, Test


def load_sheet(path: Path, catalogue: Catalogue | None = None) -> Sheet:
    """The vehicle sheet in the file at `path`, checked against `catalogue` (the packaged one by default).

    A limit outside what the test can plausibly show becomes a line in `warnings`.

    Raises:
        SpecError: one line a fault with file, line and key, all at once: an unknown test, a unit of the wrong kind, a
            low above its high ...

    """
    from pydantic import ValidationError

    from .checking import form_faults
    from .schema import SheetFile

    catalogue = catalogue or load()
    source = read_yaml(Path(path))
    if not isinstance(source.data, dict):
        raise SpecError(f"{path}:1: file: a vehicle sheet holds `vehicle:` and `specs:`")
    faults = list(source.faults)
    try:
        plain = SheetFile.model_validate(source.data).model_dump(mode="json", exclude_none=True)
    except ValidationError as error:
        faults += form_faults(error.errors(include_url=False), lambda place: (source, place))
        raise SpecError("\n".join(faults)) from None
    warnings: list[str] = []
    for test_id, forms in plain["specs"].items():
        listed = isinstance(forms, list)
        for number, form in enumerate(forms if listed else [forms]):
            place: Place = ("specs", test_id, number) if listed else ("specs", test_id)
            fault = _fault(form, test_id, place, source, catalogue)
            if fault is not None:
                faults.append(fault)
            elif not faults:
                warnings += _warnings(form, catalogue.tests[test_id], place, source)
    if faults:
        raise SpecError("\n".join(faults))
    return build.sheet(plain, str(path), tuple(warnings))


def _fault(form: dict[str, Any], test_id: str, place: Place, source: Source, catalogue: Catalogue) -> str | None:
    """What keeps a limit from being used: no such test, nothing to measure, a unit of another kind."""
    from .checking import unit_fault

    test = catalogue.tests.get(test_id)
    if test is None:
        return source.fault(place, f"no test {test_id!r} in the catalogue")
    if test.measure is None:
        return source.fault(place, "is judged by what is seen, heard or felt: no limit in numbers")
    fault = unit_fault(form["unit"], test.measure)
    return source.fault((*place, "unit"), fault) if fault else None


def _warnings(form: dict[str, Any], test: Test, place: Place, source: Source) -> list[str]:
    """A line for each end that a healthy or faulty part could not show: mostly a unit mistaken for another."""
    from .. import units

    limit = test.plausible
    if limit is None or limit.low is None or limit.high is None:
        return []
    low, high = units.to_base(limit.low, limit.unit)[0], units.to_base(limit.high, limit.unit)[0]
    band = f"{limit.low:g} to {limit.high:g} {units.show(limit.unit)}"
    lines = []
    for row in [form, *form.get("points", ())]:
        for end in ("low", "high"):
            if row.get(end) is not None and not low <= units.to_base(row[end], form["unit"])[0] <= high:
                said = f"{row[end]:g} {units.show(form['unit'])}"
                line = f"{said} is outside what this test can show ({band}): check the unit"
                lines.append(source.fault((*place, end), line))
    return lines
