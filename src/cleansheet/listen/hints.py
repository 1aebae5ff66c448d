"""The words the recogniser is told to expect: units, parts, the job's vehicle and the shop's own names."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from .ear import Context

MOST_HOTWORD_TOKENS = 110  # more does not help and costs time; half the window is the recogniser's own limit


@cache
def packaged_hints() -> dict[str, list[str]]:
    path = Path(__file__).with_name("data") / "hints.yaml"
    data: dict[str, list[str]] = yaml.safe_load(path.read_text(encoding="utf-8"))
    return data


def hotwords(
    count: Callable[[str], int],
    *,
    catalogue: Any = None,
    vehicle: Any = None,
    names: Iterable[str] = (),
    most: int = MOST_HOTWORD_TOKENS,
) -> str:
    """A list of words as the recogniser takes it, within `most` tokens as `count` counts them.

    `names` (the shop's own) go first, then units, then the parts that the vehicle's sheet names, then the usual parts.
    """
    hints = packaged_hints()
    wanted = [*names, *hints["units"], *_sheet_parts(catalogue, vehicle), *hints["parts"]]
    chosen: list[str] = []
    total = 0
    for word in dict.fromkeys(" ".join(str(one).split()) for one in wanted):
        cost = count(word + ",")
        if not word or total + cost > most:
            continue
        chosen.append(word)
        total += cost
    return ", ".join(chosen)


def _sheet_parts(catalogue: Any, vehicle: Any) -> list[str]:
    """The names of the components that a vehicle's sheet has limits for, each once."""
    if catalogue is None or vehicle is None:
        return []
    parts: list[str] = []
    for test_id in getattr(vehicle, "specs", {}):
        component = catalogue.components.get(test_id.partition(".")[0])
        if component is not None and component.name not in parts:
            parts.append(component.name)
    return parts


def context(
    count: Callable[[str], int], *, catalogue: Any = None, vehicle: Any = None, names: Iterable[str] = ()
) -> Context:
    return Context(hotwords=hotwords(count, catalogue=catalogue, vehicle=vehicle, names=names))
