"""What a person asks of the journal, as a plain value: every filter that `find` knows."""

from __future__ import annotations

from dataclasses import dataclass, field, fields


@dataclass(frozen=True, slots=True)
class Span:
    """A value to look for, in base units of its `kind`: anything that overlaps `low` to `high`; either end may be open.

    `said` is how it was asked. `inside` is true for "above", "below" and "between", which look at the value itself;
    false for a bare number, which looks at what its rounding and the reading's leave open.
    """

    kind: str
    low: float | None
    high: float | None
    said: str
    inside: bool = True
    open_low: bool = False
    open_high: bool = False


@dataclass(frozen=True, slots=True)
class Query:
    """All filters must hold; several values of one filter are alternatives.

    `since` and `until` are ISO dates, `until` exclusive. `text` are words said (full-text search), each a word or a
    phrase. `guessed` says which names were taken for which part ("ignitoin coil" for "ignition coil"); `unknown` the
    words that name nothing known and were looked up as words said.
    """

    components: tuple[str, ...] = ()
    tests: tuple[str, ...] = ()
    positions: tuple[str, ...] = ()
    values: tuple[Span, ...] = ()
    verdicts: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    vehicles: tuple[str, ...] = ()
    jobs: tuple[str, ...] = ()
    who: tuple[str, ...] = ()
    since: str | None = None
    until: str | None = None
    text: tuple[str, ...] = ()
    guessed: tuple[tuple[str, str], ...] = ()
    unknown: tuple[str, ...] = ()
    said: str = ""
    latest: bool = field(default=False)

    @property
    def only_parts(self) -> bool:
        """Whether it asks for parts alone, at most of a vehicle, a job or a time."""
        skip = {"guessed", "unknown", "said", "components", "vehicles", "jobs", "since", "until"}
        others = any(getattr(self, one.name) for one in fields(self) if one.name not in skip)
        return bool(self.components) and not others

    @property
    def asks_something(self) -> bool:
        """Whether any filter is set."""
        skip = {"guessed", "unknown", "said", "latest"}
        return any(getattr(self, one.name) for one in fields(self) if one.name not in skip)
