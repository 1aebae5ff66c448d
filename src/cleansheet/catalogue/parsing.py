"""From the text of catalogue files to one checked whole, in plain dicts. Only runs when no cached copy fits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from ..terms import SpecError
from .checking import band_units, form_faults, unit_fault
from .schema import CatalogueFile
from .yaml_source import Place, Source, read_yaml

if TYPE_CHECKING:
    from pathlib import Path

_SECTIONS = ("components", "tests", "tables", "cautions", "caution_by_vehicle")


def parse(files: list[tuple[Path, bytes]], packaged: int) -> dict[str, Any]:
    """Check and merge catalogue files; later ones go over earlier ones. The first `packaged` are the package's own.

    Raises:
        SpecError: all faults, one a line.

    """
    faults: list[str] = []
    merged, origin = gather(files, packaged, faults)
    return check(merged, origin, faults)


Merged = dict[str, Any]
Origin = dict[Place, Source]


def gather(
    files: list[tuple[Path, bytes]], packaged: int | None = None, faults: list[str] | None = None
) -> tuple[Merged, Origin]:
    """The files laid over each other, and which file each key came from; faults of reading go to `faults`."""
    faults = [] if faults is None else faults
    merged: Merged = {section: {} for section in _SECTIONS}
    origin: Origin = {}
    for number, (path, content) in enumerate(files):
        source = _source(path, content, faults, short=packaged is None or number < packaged)
        if source is not None:
            _lay_over(merged, source, origin, faults)
    return merged, origin


def check(merged: Merged, origin: Origin, faults: list[str] | None = None) -> dict[str, Any]:
    """The checked whole in plain form. Raises SpecError with all `faults`, those found before and those found here."""
    faults = [] if faults is None else faults
    plain = _validated(merged, origin, faults)
    if not faults:
        faults += _cross_faults(plain, origin)
    if faults:
        raise SpecError("\n".join(dict.fromkeys(faults)))
    return plain


def _source(path: Path, content: bytes, faults: list[str], *, short: bool) -> Source | None:
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        faults.append(f"{path}: not UTF-8 text (byte {error.start}); save it as UTF-8")
        return None
    try:
        source = read_yaml(path, text)
    except SpecError as error:
        faults.append(str(error))
        return None
    if short:
        source.name = f"catalogue/{path.name}"
    faults += source.faults
    if source.data is None:  # an empty file, or comments only
        return None
    if not isinstance(source.data, dict):
        faults.append(f"{source.name}:1: file: must hold `components:`, `tests:` or `cautions:`")
        return None
    return source


def _lay_over(merged: dict[str, Any], source: Source, origin: dict[Place, Source], faults: list[str]) -> None:
    for key, value in source.data.items():
        if key in _SECTIONS:
            if value is None:
                continue
            if not isinstance(value, dict):
                faults.append(source.fault((key,), "must hold entries, one `id: ...` a line"))
                continue
            for id_, form in value.items():
                merged[key][id_] = _entry((key, id_), merged[key].get(id_), form, source, origin)
        elif key == "authority":
            merged[key] = value
            origin[(key,)] = source
        elif key != "system":
            faults.append(source.fault((key,), "is not a key known here"))


def _entry(spot: tuple[str, str], old: Any, new: Any, source: Source, origin: dict[Place, Source]) -> Any:
    """One component, test or caution: the new keys over the old ones; other names are added to those there are."""
    section, id_ = spot
    origin[(section, id_)] = source  # a fault of the whole is the last file's that touched it
    if not isinstance(new, dict):
        return new
    if section == "components" and "system" not in new and "system" in source.data and not old:
        new = {**new, "system": source.data["system"]}
    for key in new:
        origin[(section, id_, key)] = source
    if not isinstance(old, dict):
        return new
    both = {**old, **new}
    if section == "components" and isinstance(old.get("also"), list) and isinstance(new.get("also"), list):
        both["also"] = list(dict.fromkeys((*old["also"], *new["also"])))
    return both


def _validated(merged: dict[str, Any], origin: dict[Place, Source], faults: list[str]) -> dict[str, Any]:
    def where(place: Place) -> tuple[Source, Place]:
        return _origin(origin, place), place

    try:
        form = CatalogueFile.model_validate(merged)
    except ValidationError as error:
        faults += form_faults(error.errors(include_url=False), where)
        return {}
    whole = form.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    # Sections are there even when empty, and what stands at its default is left out only inside a test.
    return {section: whole.get(section, {}) for section in _SECTIONS} | {"authority": form.authority or ""}


def _origin(origin: dict[Place, Source], place: Place) -> Source:
    for length in range(min(3, len(place)), 0, -1):
        if place[:length] in origin:
            return origin[place[:length]]
    return next(iter(origin.values()), Source("catalogue", None))


def _cross_faults(plain: dict[str, Any], origin: dict[Place, Source]) -> list[str]:
    """Ids that must exist, units that must fit, limits that must be plausible."""
    faults = []
    for id_, form in plain["tests"].items():
        place: Place = ("tests", id_)
        if id_.partition(".")[0] not in plain["components"]:
            faults.append(_origin(origin, place).fault(place, f"no component {id_.partition('.')[0]!r}"))
        for caution in form.get("caution") or ():
            if caution not in plain["cautions"]:
                spot = (*place, "caution")
                faults.append(_origin(origin, spot).fault(spot, f"no caution {caution!r}"))
        finding = form["unit"] == "finding"
        spot = (*place, "plausible", "unit") if finding else (*place, "unit")
        unit = (form.get("plausible") or {}).get("unit") if finding else form["unit"]
        fault = unit_fault(unit, None) if unit is not None else None
        if fault:
            faults.append(_origin(origin, spot).fault(spot, fault))
        elif unit is not None:
            faults += [_origin(origin, spot).fault(spot, fault) for spot, fault in band_units(form, place, unit)]
    for vehicle, ids in plain["caution_by_vehicle"].items():
        place = ("caution_by_vehicle", vehicle)
        faults += [
            _origin(origin, place).fault(place, f"no caution {id_!r}") for id_ in ids if id_ not in plain["cautions"]
        ]
    if not plain["authority"]:
        faults.append(_origin(origin, ("authority",)).fault(("authority",), "is missing"))
    return faults
