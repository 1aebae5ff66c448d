"""The words the recogniser is told to expect: units, parts, the job's vehicle and the shop's own names."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from cleansheet.units.data_files import packaged

from .ear import MOST_CONTEXT_TOKENS, Context

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

MOST_EXTRA_TOKENS = 60  # for names of the job and the shop; the usual names give way


def packaged_hints() -> dict[str, Any]:
    return packaged("listen", "hints.yaml")


@dataclass(frozen=True, slots=True)
class Tellings:
    """What the recogniser is told of every stretch, and how to tell it once more of one that was ill heard."""

    first: tuple[Context, ...]
    extra: tuple[str, ...]
    count: Callable[[str], int]

    def again(self, names: Iterable[str]) -> Context:
        """A further telling: `names` that sound like what was heard, then those of the job and the shop and the usual."""
        usual = packaged_hints()["again"]
        return _context(self.count, [*names, *self.extra], usual["names"], usual["sentences"])


def tellings(
    count: Callable[[str], int], *, catalogue: Any = None, vehicle: Any = None, names: Iterable[str] = ()
) -> Tellings:
    """What to tell, each telling within the recogniser's text window as `count` counts tokens.

    The shop's own `names` go first, then the parts that the vehicle's sheet has limits for and the usual list lacks.
    """
    hints = packaged_hints()
    first = [(one["names"], one["sentences"]) for one in hints["tellings"]]
    usual = {name.lower() for names, _ in first for name in names}
    own = [" ".join(str(name).split()) for name in names]
    own += [name for name in _sheet_parts(catalogue, vehicle) if name.lower() not in usual]
    extra = listed(own, count, MOST_EXTRA_TOKENS)
    told = tuple(_context(count, extra, usual_names, sentences) for usual_names, sentences in first)
    return Tellings(told, tuple(extra), count)


def _context(count: Callable[[str], int], extra: list[str], names: list[str], sentences: str) -> Context:
    room = MOST_CONTEXT_TOKENS - count(sentences) - 2
    return Context(hotwords=", ".join(listed([*extra, *names], count, room)), prompt=sentences)


def listed(names: Iterable[str], count: Callable[[str], int], most: int) -> list[str]:
    """As many of the names as fit into `most` tokens, in order, each once."""
    chosen: list[str] = []
    total = 0
    for name in dict.fromkeys(name for name in names if name):
        cost = count(name + ",")
        if total + cost > most:
            break
        chosen.append(name)
        total += cost
    return chosen


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
