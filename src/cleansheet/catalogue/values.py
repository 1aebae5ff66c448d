"""What the catalogue is made of: plain frozen values, quick to build and to read. The YAML form is in `schema`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

When = Mapping[str, str | float]


@dataclass(frozen=True, slots=True)
class Point:
    """One row of a table: the limits `low` and `high` at the place `at` (in the table's own quantity)."""

    at: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit: `low` and `high` in `unit` (UCUM code), either end None where it is open.

    `when` holds condition keys of the draft sheet ("engine", "temperature_c" ...) under which it counts.
    `max_spread_percent` is 100 * (highest - lowest) / highest over all positions.
    `only_if_said` marks a design that must be named before its limit counts; `name` is that design and `said` the
    phrases, lower case, any of which names it.
    With `over` ("temperature_c" or "speed_rpm") the limits are a table, `points`, joined by `between` ("linear" or
    "log": the logarithm over the inverse of the absolute temperature, as for a temperature sensor).
    """

    low: float | None
    high: float | None
    unit: str
    when: When = field(default_factory=dict)
    source: str = ""
    name: str | None = None
    max_spread_percent: float | None = None
    only_if_said: bool = False
    said: tuple[str, ...] = ()
    over: str | None = None
    points: tuple[Point, ...] = ()
    between: str = "linear"


@dataclass(frozen=True, slots=True)
class Relative:
    """A rule that needs a second value of the same job: `of` says which one."""

    of: str
    unit: str | None = None
    max_drop: float | None = None
    drop_low: float | None = None
    drop_high: float | None = None
    max_difference: float | None = None
    max_percent: float | None = None
    min_percent: float | None = None
    max_below_percent: float | None = None
    elapsed_s: float | None = None
    elapsed_min: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class AlsoSaid:
    """Another way the trade says a test's number: between `low` and `high` it is `name`, and `divide_by` makes it the
    test's own. A confusion rather than a habit is a `slip`: it is flagged, not judged.
    """

    divide_by: float
    low: float
    high: float
    name: str
    slip: bool = False


@dataclass(frozen=True, slots=True)
class Component:
    """A part: `also` are the other names the trade says, `position` what tells its copies apart (cylinder, corner)."""

    id: str
    name: str
    also: tuple[str, ...] = ()
    system: str = ""
    position: str | None = None


@dataclass(frozen=True, slots=True)
class Test:
    """A test of a component: what to do, what to expect, and how sure the trade is of it.

    `unit` is the UCUM code the trade usually reads it in, or "finding" where nothing is measured; `takes_finding` is
    true for those and for tests that take either. `condition` is what must be said with it, in words.
    `judge` is "firm", "soft" or "none"; `single_limit` says how a limit given as one bare number is meant ("max",
    "min" or "nominal"), `nominal_tolerance` how far a nominal figure may be missed, in `unit` (None: five per cent).
    `inside_proves_nothing` marks a test whose limits are the ends of a swing: outside is bad, inside is no proof.
    `must_say` are condition keys without which a reading cannot be judged by a sheet or the catalogue.
    """

    __test__ = False  # not a test class for pytest

    id: str
    component: str
    name: str
    unit: str
    takes_finding: bool = False
    condition: str | None = None
    asks: str = ""
    typical: Limit | None = None
    variants: tuple[Limit, ...] = ()
    relative: Relative | None = None
    judge: str = "none"
    single_limit: str = "nominal"
    nominal_tolerance: float | None = None
    must_say: tuple[str, ...] = ()
    inside_proves_nothing: bool = False
    also_said: AlsoSaid | None = None
    plausible: Limit | None = None
    when: When = field(default_factory=dict)
    when_text: str = ""
    good_findings: frozenset[str] = frozenset()
    bad_findings: frozenset[str] = frozenset()
    cautions: tuple[str, ...] = ()
    minutes: float | None = None
    needs: str = ""
    source: str = ""
    advice: tuple[Limit, ...] = ()
    warn_spread_percent: float | None = None

    @property
    def measure(self) -> str | None:
        """The unit that a number of this test is judged in: `unit`, or that of its limits where `unit` is "finding"
        (a fuse's continuity, said in ohms); None where a number makes no sense.
        """
        if self.unit != "finding":
            return self.unit
        return self.plausible.unit if self.plausible is not None else None


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the trade: `columns` name what is in each row, with its unit; `rule` says when it holds."""

    id: str
    columns: tuple[str, ...]
    rows: tuple[tuple[float | str, ...], ...]
    rule: str
    source: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Everything the trade knows, by id. Made by `load`; `key` changes whenever any of its files does."""

    components: Mapping[str, Component]
    tests: Mapping[str, Test]
    cautions: Mapping[str, str]
    authority: str
    caution_by_vehicle: Mapping[str, tuple[str, ...]]
    tables: Mapping[str, Table] = field(default_factory=dict)
    key: str = ""
    by_component: Mapping[str, tuple[Test, ...]] = field(default_factory=dict, repr=False)

    def tests_of(self, component_id: str) -> tuple[Test, ...]:
        """The tests of one component, in the catalogue's order; none for an unknown id."""
        return self.by_component.get(component_id, ())


@dataclass(frozen=True, slots=True)
class Vehicle:
    """What a sheet is for. `name` is free text; the rest may be unknown."""

    name: str
    year: int | None = None
    engine: str = ""
    cylinders: int | None = None


@dataclass(frozen=True, slots=True)
class Sheet:
    """A vehicle's own limits, by test id; several limits of one test differ in their conditions.

    `warnings` are things worth a look that do not stop its use, one line each.
    """

    vehicle: Vehicle
    specs: Mapping[str, tuple[Limit, ...]]
    path: str = ""
    warnings: tuple[str, ...] = ()
