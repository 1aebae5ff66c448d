"""Vehicle sheets: the limits of one vehicle, in YAML."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ..terms import SpecError
from . import build
from .loading import load
from .values import Catalogue, Sheet
from .yaml_source import Source, read_yaml


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
            place = ("specs", test_id, number) if listed else ("specs", test_id)
            _check(form, test_id, place, source, catalogue, faults, warnings)
    if faults:
        raise SpecError("\n".join(faults))
    return build.sheet(plain, str(path), tuple(warnings))


def _check(
    form: dict[str, Any],
    test_id: str,
    place: tuple[str | int, ...],
    source: Source,
    catalogue: Catalogue,
    faults: list[str],
    warnings: list[str],
) -> None:
    from .. import units
    from .checking import unit_fault

    test = catalogue.tests.get(test_id)
    if test is None:
        faults.append(source.fault(place, f"no test {test_id!r} in the catalogue"))
        return
    if test.measure is None:
        faults.append(source.fault(place, "is judged by what is seen, heard or felt: no limit in numbers"))
        return
    fault = unit_fault(form["unit"], test.measure)
    if fault:
        faults.append(source.fault((*place, "unit"), fault))
        return
    if test.plausible is None:
        return
    low, high = (
        units.to_base(test.plausible.low, test.plausible.unit)[0],
        units.to_base(test.plausible.high, test.plausible.unit)[0],
    )
    for row in [form, *form.get("points", ())]:
        for end in ("low", "high"):
            if row.get(end) is not None and not low <= units.to_base(row[end], form["unit"])[0] <= high:
                band = f"{test.plausible.low:g} to {test.plausible.high:g} {units.show(test.plausible.unit)}"
                said = f"{row[end]:g} {units.show(form['unit'])}"
                warnings.append(
                    source.fault((*place, end), f"{said} is outside what this test can show ({band}): check the unit")
                )
