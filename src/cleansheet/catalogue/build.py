"""From validated forms to the catalogue's values, through plain JSON, so that a cached copy needs no validation."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .values import AlsoSaid, Catalogue, Component, Limit, Point, Relative, Sheet, Table, Test, Vehicle

if TYPE_CHECKING:
    from collections.abc import Mapping

Plain = dict[str, Any]


def catalogue(plain: Plain) -> Catalogue:
    """The catalogue from its plain form (`plain_catalogue` in `loading`)."""
    components = {id_: _component(id_, form) for id_, form in plain["components"].items()}
    tests = {id_: _test(id_, form) for id_, form in plain["tests"].items()}
    by_component: dict[str, list[Test]] = {}
    for test in tests.values():
        by_component.setdefault(test.component, []).append(test)
    return Catalogue(
        components=components,
        tests=tests,
        cautions=plain["cautions"],
        authority=plain["authority"],
        caution_by_vehicle={key: tuple(ids) for key, ids in plain["caution_by_vehicle"].items()},
        tables={id_: _table(id_, form) for id_, form in plain["tables"].items()},
        key=plain["key"],
        by_component={key: tuple(found) for key, found in by_component.items()},
    )


def sheet(plain: Plain, path: str, warnings: tuple[str, ...]) -> Sheet:
    return Sheet(
        vehicle=Vehicle(**plain["vehicle"]),
        specs={
            test_id: tuple(limit(form) for form in (forms if isinstance(forms, list) else [forms]))
            for test_id, forms in plain["specs"].items()
        },
        path=path,
        warnings=warnings,
    )


def limit(form: Mapping[str, Any], source: str = "") -> Limit:
    return Limit(
        low=form.get("low"),
        high=form.get("high"),
        unit=form["unit"],
        when=form.get("when") or {},
        source=form.get("source") or source,
        name=form.get("name"),
        max_spread_percent=form.get("max_spread_percent"),
        only_if_said=bool(form.get("only_if_said")),
        said=tuple(form.get("said") or ()),
        over=form.get("over"),
        points=tuple(Point(row["at"], row.get("low"), row.get("high")) for row in form.get("points") or ()),
        between=form.get("between") or "linear",
    )


def _table(id_: str, form: Plain) -> Table:
    rows = tuple(tuple(row) for row in form["rows"])
    return Table(id_, tuple(form["columns"]), rows, form.get("rule") or "", form["source"])


def _component(id_: str, form: Plain) -> Component:
    return Component(id_, form["name"], tuple(form.get("also") or ()), form.get("system") or "", form.get("position"))


def _test(id_: str, form: Plain) -> Test:
    source = form["source"]
    typical, plausible, relative = form.get("typical"), form.get("plausible"), form.get("relative")
    when = dict(form.get("when") or {})
    text = when.pop("text", "")
    return Test(
        id=id_,
        component=id_.partition(".")[0],
        name=form["name"],
        unit=form["unit"],
        takes_finding=form["unit"] == "finding" or form.get("or") == "finding",
        condition=form.get("condition"),
        asks=form["asks"],
        typical=limit(typical, source) if typical else None,
        variants=tuple(limit(variant, source) for variant in form.get("variants") or ()),
        relative=Relative(**relative) if relative else None,
        judge=form["judge"],
        single_limit=form.get("single_limit") or "nominal",
        nominal_tolerance=form.get("nominal_tolerance"),
        must_say=tuple(form.get("must_say") or ()),
        also_said=AlsoSaid(**form["also_said"]) if form.get("also_said") else None,
        inside_proves_nothing=bool(form.get("inside_proves_nothing")),
        plausible=limit(plausible, source) if plausible else None,
        when=when,
        when_text=text,
        good_findings=frozenset(form["good_findings"]),
        bad_findings=frozenset(form["bad_findings"]),
        cautions=tuple(form.get("caution") or ()),
        minutes=form["minutes"],
        needs=form["needs"],
        source=source,
        advice=tuple(limit(level, source) for level in form.get("advice") or ()),
        warn_spread_percent=form.get("warn_spread_percent"),
    )
