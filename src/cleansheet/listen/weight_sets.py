"""The descriptions of the speech weights in `models_config`: one YAML file a set, checked on loading."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Annotated, Literal

import yaml
from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from cleansheet.terms import WeightsError

DEFAULT_SET = "base"
Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class WeightFile(_Strict):
    """One file of a set. A `sha256` of null means that nobody has vouched for its bytes yet."""

    bytes: int | None = None
    sha256: Sha256 | None = None


class PackageSource(_Strict):
    """Installed Python packages; each file is its `parts` ("package/path/inside") one after the other."""

    kind: Literal["package"]
    parts: dict[str, list[str]]


class FolderSource(_Strict):
    """A local folder that holds the set's files, named by the user at `weights fetch --from`."""

    kind: Literal["folder"]


class HubSource(_Strict):
    """A model hub repository at a fixed revision; asked only by `weights fetch --hub`."""

    kind: Literal["hub"]
    repository: str = Field(pattern=r"^[\w.-]+/[\w.-]+$")
    revision: str = Field(pattern=r"^[0-9a-f]{40}$")


class WeightSet(_Strict):
    """One set of speech weights, as its YAML file says (see docs/speech.md)."""

    name: str = Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*$")
    summary: str
    languages: str
    parameters: int = Field(gt=0)
    size_bytes: int = Field(gt=0)
    licence: str
    checked: bool
    files: dict[str, WeightFile]
    sources: list[Annotated[PackageSource | FolderSource | HubSource, Field(discriminator="kind")]]

    @model_validator(mode="after")
    def _holds_together(self) -> WeightSet:
        for needed in ("model.bin", "config.json", "tokenizer.json"):
            if needed not in self.files:
                raise ValueError(f"no {needed} among the files")
        for source in self.sources:
            if isinstance(source, PackageSource) and set(source.parts) != set(self.files):
                raise ValueError("the package source does not name the same files as 'files'")
        if self.checked and any(file.sha256 is None for file in self.files.values()):
            raise ValueError("'checked' sets need a sha256 for every file")
        return self

    def source(self, kind: type[PackageSource | HubSource]) -> PackageSource | HubSource | None:
        for candidate in self.sources:
            if isinstance(candidate, kind):
                return candidate
        return None


def config_folder() -> Path:
    """Where the descriptions are: inside the installed package, or at the top of a checkout.

    Raises `WeightsError` where neither is there.
    """
    here = Path(__file__).resolve().parent
    for folder in (here / "models_config", here.parents[2] / "models_config"):
        if folder.is_dir():
            return folder
    raise WeightsError("models_config is missing from this installation; install cleansheet again")


def load_set(path: Path) -> WeightSet:
    """One description. Raises `WeightsError` naming the file and the first fault in it."""
    try:
        data = yaml.safe_load(path.read_text(encoding="utf-8"))
        found = WeightSet.model_validate(data)
    except (OSError, UnicodeDecodeError, yaml.YAMLError) as fault:
        raise WeightsError(f"{path.name}: cannot be read as YAML ({_one_line(fault)})") from fault
    except ValidationError as fault:
        first = fault.errors()[0]
        where = ".".join(str(part) for part in first["loc"]) or "the file"
        raise WeightsError(f"{path.name}: {where}: {first['msg']}") from fault
    if found.name != path.stem:
        raise WeightsError(f"{path.name}: the name inside is {found.name!r}; name the file {found.name}.yaml")
    return found


@cache
def weight_sets() -> dict[str, WeightSet]:
    """Every set this installation knows, the default first, then by size."""
    sets = [load_set(path) for path in sorted(config_folder().glob("*.yaml"))]
    sets.sort(key=lambda one: (one.name != DEFAULT_SET, one.size_bytes))
    return {one.name: one for one in sets}


def weight_set(name: str) -> WeightSet:
    """The set called `name`. Raises `WeightsError` listing the known ones."""
    sets = weight_sets()
    if name not in sets:
        raise WeightsError(f"no speech weights are called {name!r}; known: {', '.join(sets)}")
    return sets[name]


def _one_line(fault: BaseException) -> str:
    return " ".join(str(fault).split())
