"""Reading YAML so that an error can say which line it is on.

YAML 1.1 turns a bare `off` into false and `1:30` into 90; a technician who writes `engine: off` means the word. So
only `true`, `false`, `null` and plain numbers are taken for more than text here, as YAML 1.2 has it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..terms import SpecError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

Place = tuple[str | int, ...]

_INT = re.compile(r"[-+]?[0-9]+\Z")
_FLOAT = re.compile(r"[-+]?(?:[0-9]+\.[0-9]*|\.[0-9]+|[0-9]+)(?:[eE][-+]?[0-9]+)?\Z")
_WORDS = {"true": True, "false": False, "null": None, "~": None, "": None}


@dataclass(slots=True)
class Source:
    """One file's content, with the line (from 1) of every key and list entry, and faults found while reading."""

    name: str
    data: Any
    lines: dict[Place, int] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def line(self, place: Place) -> int:
        """The line of `place`, or of the nearest thing around it."""
        while place and place not in self.lines:
            place = place[:-1]
        return self.lines.get(place, 1)

    def fault(self, place: Place, message: str) -> str:
        """One line that names file, line and key: `fuel.yaml:21: tests.fuel-pump.flow.minutes: ...`."""
        key = ".".join(str(part) for part in place) or "file"
        return f"{self.name}:{self.line(place)}: {key}: {message}"


def read_yaml(path: Path, text: str | None = None) -> Source:
    """Read one YAML file (`text` instead of the file's content, where it is at hand).

    Raises:
        SpecError: the file is not there, is not UTF-8 or is not YAML. Keys written twice are kept as `faults`.

    """
    import yaml

    if text is None:
        text = read_text(path)
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        node = yaml.compose(text, Loader=loader)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        where = f"{path}:{mark.line + 1}" if mark else str(path)
        what = getattr(error, "problem", None) or str(error).splitlines()[0]
        raise SpecError(f"{where}: not readable as YAML: {what}") from None
    source = Source(str(path), None)
    source.data = None if node is None else _build(node, (), source)
    return source


def read_text(path: Path) -> str:
    """A file's text; SpecError with one clear line where it cannot be read."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise SpecError(f"{path}: not UTF-8 text (byte {error.start}); save it as UTF-8") from None
    except OSError as error:
        raise SpecError(f"{path}: cannot be read: {error.strerror or error}") from None


def _build(node: Any, place: Place, source: Source) -> Any:
    source.lines.setdefault(place, node.start_mark.line + 1)
    if node.id == "scalar":
        return _scalar(node)
    if node.id == "sequence":
        return [_build(child, (*place, number), source) for number, child in enumerate(node.value)]
    return dict(_pairs(node, place, source))


def _pairs(node: Any, place: Place, source: Source) -> Iterator[tuple[Any, Any]]:
    seen = set()
    for key_node, value_node in node.value:
        key = key_node.value if key_node.id == "scalar" else str(key_node.value)
        inner = (*place, key)
        source.lines.setdefault(inner, key_node.start_mark.line + 1)
        if key in seen:
            line = key_node.start_mark.line + 1
            source.faults.append(f"{source.name}:{line}: {'.'.join(map(str, inner))}: written twice")
        seen.add(key)
        yield key, _build(value_node, inner, source)


def _scalar(node: Any) -> Any:
    text: str = node.value
    if node.style:  # quoted or a block: always text
        return text
    if text in _WORDS:
        return _WORDS[text]
    if _INT.match(text):
        return int(text)
    if _FLOAT.match(text):
        return float(text)
    return text
