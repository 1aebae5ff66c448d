"""The YAML form of catalogue files and vehicle sheets, as pydantic models. Only loading uses them; the JSON Schema in
docs/schema is made from them. Field descriptions are what a technician reads there.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

Finding = Literal[
    "ok", "faulty", "open_circuit", "short_circuit", "dry", "leaking", "stuck_open", "stuck_closed", "worn", "cracked",
    "corroded", "loose", "fouled", "weak", "strong", "works", "does_not_work", "rises", "falls", "steady", "unsteady",
]  # fmt: skip
Id = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$")]
TestId = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*\.[a-z][a-z0-9]*(-[a-z0-9]+)*$")]
Name = Annotated[str, Field(min_length=1, pattern=r"\S")]
Positive = Annotated[float, Field(gt=0)]
Number = Annotated[float, Field(allow_inf_nan=False)]


class Form(BaseModel):
    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class WhenForm(Form):
    """Conditions under which a limit holds; the keys are those of the draft sheet."""

    engine: Literal["off", "cranking", "idle", "running"] | None = None
    speed_rpm: Annotated[float, Field(ge=0)] | None = Field(None, description="about this speed")
    speed_rpm_from: Annotated[float, Field(ge=0)] | None = Field(None, description="this speed or more")
    temperature_c: Annotated[float, Field(ge=-273.15)] | None = None
    warm: Literal["cold", "hot"] | None = None
    elapsed_min: Annotated[float, Field(ge=0)] | None = None
    vacuum_line: Literal["on", "off"] | None = None
    throttle: Literal["closed", "open"] | None = None
    load: Literal["on", "off"] | None = None


class TestWhenForm(WhenForm):
    __test__ = False
    text: Name | None = Field(None, description="the rest of the conditions, and what to beware of, in words")


class BandForm(Form):
    """A band: at least one end (or a spread), the lower end below the upper one."""

    low: Number | None = None
    high: Number | None = None
    unit: Name
    max_spread_percent: Positive | None = None

    @model_validator(mode="after")
    def ends(self) -> Self:
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(f"low {self.low:g} is above high {self.high:g}")
        return self


class TypicalForm(BandForm):
    @model_validator(mode="after")
    def says_something(self) -> Self:
        if self.low is None and self.high is None and self.max_spread_percent is None:
            raise ValueError("has neither low nor high nor max_spread_percent")
        return self


class PlausibleForm(BandForm):
    @model_validator(mode="after")
    def two_ends(self) -> Self:
        if self.low is None or self.high is None:
            raise ValueError("needs both low and high")
        return self


class VariantForm(TypicalForm):
    name: Name
    when: WhenForm | None = None
    only_if_said: bool = False
    said: list[Name] = Field([], description="phrases, lower case, any of which names the design")

    @model_validator(mode="after")
    def can_be_said(self) -> Self:
        if self.only_if_said != bool(self.said):
            raise ValueError("only_if_said and the phrases in `said` go together")
        return self


class AdviceForm(TypicalForm):
    name: Name


class RelativeForm(Form):
    of: Name
    unit: Name | None = None
    max_drop: Positive | None = None
    drop_low: Number | None = None
    drop_high: Number | None = None
    max_difference: Positive | None = None
    max_percent: Positive | None = None
    min_percent: Positive | None = None
    max_below_percent: Positive | None = None
    elapsed_s: Positive | None = None
    elapsed_min: Positive | None = None
    note: str = ""


class ComponentForm(Form):
    name: Name
    also: list[Name] = []
    position: Literal["cylinder", "corner"] | None = None
    system: Name | None = None


class AlsoSaidForm(Form):
    """Another way the trade says the number: between low and high, divide it to have the test's own."""

    divide_by: Positive
    low: Number
    high: Number
    name: Name
    slip: bool = Field(False, description="a confusion to flag, not a habit to judge by")


class TestForm(Form):
    __test__ = False

    name: Name
    unit: Name = Field(description="UCUM code the trade usually reads it in, or 'finding'")
    or_: Literal["finding"] | None = Field(None, alias="or", description="a finding is an answer too")
    condition: Name | None = Field(None, description="what must be said with the reading, in words")
    asks: Name = Field(description="what to connect where, and what the result means")
    typical: TypicalForm | None = None
    variants: list[VariantForm] = []
    relative: RelativeForm | None = None
    judge: Literal["firm", "soft", "none"]
    single_limit: Literal["max", "min", "nominal"] = Field(
        "nominal", description="how a limit said as one bare number is meant: 'limit is 0.5' for carbon monoxide is max"
    )
    nominal_tolerance: Positive | None = Field(
        None, description="how far a nominal figure may be missed, in `unit`; five per cent where nothing stands here"
    )
    must_say: list[Literal["speed_rpm", "temperature_c", "elapsed_min", "throttle", "engine"]] = Field(
        [], description="conditions without which the reading is worth nothing"
    )
    also_said: AlsoSaidForm | None = None
    inside_proves_nothing: bool = Field(
        False, description="the limits are the ends of a swing: a number outside is bad, one inside is no proof"
    )
    plausible: PlausibleForm | None = None
    when: TestWhenForm | None = None
    good_findings: list[Finding] = Field(min_length=1)
    bad_findings: list[Finding] = Field(min_length=1)
    caution: list[Id] = []
    minutes: Positive
    needs: Name
    source: Name
    advice: list[AdviceForm] = []
    warn_spread_percent: Positive | None = None

    @model_validator(mode="after")
    def holds_together(self) -> Self:
        both = set(self.good_findings) & set(self.bad_findings)
        if both:
            raise ValueError(f"good and bad at once: {', '.join(sorted(both))}")
        measured = self.unit != "finding" or self.typical is not None or bool(self.variants)
        if measured and self.plausible is None:
            raise ValueError("a measured test needs plausible {low, high, unit}")
        if self.judge == "none" and self.typical is not None:
            raise ValueError("judge: none, but there is a `typical` to judge by")
        return self


class TableForm(Form):
    """A table of the trade, for figures that are looked up."""

    columns: list[Name] = Field(min_length=2)
    rows: list[list[Number | str]] = Field(min_length=2)
    rule: str = ""
    source: Name

    @model_validator(mode="after")
    def even_rows(self) -> Self:
        wrong = [number for number, row in enumerate(self.rows, 1) if len(row) != len(self.columns)]
        if wrong:
            raise ValueError(f"row {wrong[0]} has not {len(self.columns)} entries")
        return self


class CatalogueFile(Form):
    """One catalogue file. A file of the shop's own may hold any part of it."""

    system: Name | None = Field(None, description="the system that this file's components belong to")
    components: dict[Id, ComponentForm] = {}
    tests: dict[TestId, TestForm] = {}
    tables: dict[Id, TableForm] = {}
    cautions: dict[Id, Name] = {}
    authority: Name | None = None
    caution_by_vehicle: dict[str, list[Id]] = {}


class PointForm(Form):
    at: Number
    low: Number | None = None
    high: Number | None = None

    @model_validator(mode="after")
    def ends(self) -> Self:
        if self.low is None and self.high is None:
            raise ValueError("has neither low nor high")
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(f"low {self.low:g} is above high {self.high:g}")
        return self


class SpecForm(BandForm):
    """One limit of a vehicle sheet: a band, or a table `points` over a temperature or a speed."""

    name: Name | None = None
    when: WhenForm | None = None
    over: Literal["temperature_c", "speed_rpm"] | None = None
    points: list[PointForm] = Field([], description="rows of a table, by rising `at`")
    between: Literal["linear", "log"] = Field(
        "linear", description="log: for temperature sensors, ln R in a straight line over 1/T"
    )
    source: Name

    @model_validator(mode="after")
    def band_or_table(self) -> Self:
        band = self.low is not None or self.high is not None
        if self.points:
            if self.over is None:
                raise ValueError("a table needs `over`: temperature_c or speed_rpm")
            if band:
                raise ValueError("a table has its low and high in `points`")
            self._table()
        elif self.over is not None:
            raise ValueError("`over` needs `points`")
        elif not band and self.max_spread_percent is None:
            raise ValueError("has neither low nor high nor max_spread_percent nor points")
        return self

    def _table(self) -> None:
        places = [point.at for point in self.points]
        if len(places) < 2 or places != sorted(set(places)):
            raise ValueError("a table needs two points or more, each `at` above the one before")
        ends = {(point.low is None, point.high is None) for point in self.points}
        if len(ends) > 1:
            raise ValueError("every point of a table needs the same ends")
        if self.between == "log":
            if self.over != "temperature_c":
                raise ValueError("between: log is for a table over temperature_c")
            if any(value is not None and value <= 0 for point in self.points for value in (point.low, point.high)):
                raise ValueError("between: log needs values above 0")


class VehicleForm(Form):
    name: Name
    year: Annotated[int, Field(ge=1880, le=2100)] | None = None
    engine: str = ""
    cylinders: Annotated[int, Field(ge=1, le=24)] | None = None


class SheetFile(Form):
    """A vehicle's own sheet of limits."""

    vehicle: VehicleForm
    specs: dict[TestId, SpecForm | list[SpecForm]]
