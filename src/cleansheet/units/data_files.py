"""The package's own YAML files, read once. Only `true` and `false` are truth values: "no" and "on" are words here."""

from __future__ import annotations

import re
from functools import cache
from importlib import resources
from typing import Any

import yaml

_Base: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_Texts: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_BOOL = "tag:yaml.org,2002:bool"


class _Loader(_Base):  # type: ignore[misc]
    """A safe loader for which words such as "no", "on" and "off" stay words."""


_Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in resolvers if tag != _BOOL]
    for first, resolvers in _Base.yaml_implicit_resolvers.items()
}
_Loader.add_implicit_resolver(_BOOL, re.compile(r"^(?:true|false)$"), list("tf"))


@cache
def packaged(package: str, name: str, *, texts: bool = False) -> dict[str, Any]:
    """`data/NAME` of the package `cleansheet.PACKAGE` as plain dicts and lists; with `texts` every scalar stays text.

    Do not change what comes back.
    """
    text = resources.files(f"cleansheet.{package}").joinpath("data", name).read_text(encoding="utf-8")
    loaded: dict[str, Any] = yaml.load(text, Loader=_Texts if texts else _Loader)  # noqa: S506 - safe loaders
    return loaded
