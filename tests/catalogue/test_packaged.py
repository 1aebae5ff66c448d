"""The packaged catalogue: what it must hold, and that it stays as it was checked."""

from __future__ import annotations

import pytest

from cleansheet import units
from cleansheet.terms import FINDINGS


def test_numbers_units_and_conditions_are_as_checked(catalogue, facts):
    """facts.txt was held line by line against the trade's reference; change both together, and say why in docs."""
    kept = facts.KEPT.read_text("utf-8").splitlines()
    found = facts.lines(catalogue)
    assert sorted(set(found) ^ set(kept)) == []
    assert len(found) == len(kept)


def test_size(catalogue):
    assert len(catalogue.components) >= 72
    assert len(catalogue.tests) >= 108


def test_every_test_says_what_to_do(catalogue):
    for test in catalogue.tests.values():
        assert test.component in catalogue.components
        assert test.asks.endswith(".")
        assert test.needs
        assert test.source
        assert test.minutes > 0
        assert test.good_findings <= set(FINDINGS)
        assert test.bad_findings <= set(FINDINGS)


def test_sources_are_published_or_common_practice(catalogue):
    """A source names a publication, or says "common practice"; what was recalled says "from memory"."""
    published = ("Directive", "CFR", "ASTM", "ISO", "IEC", "common practice")
    for test in catalogue.tests.values():
        assert any(word in test.source for word in published), test.id
    for table in catalogue.tables.values():
        assert any(word in table.source for word in (*published, "computed with")), table.id


def test_every_limit_has_a_known_unit_of_the_right_kind(catalogue):
    for test in catalogue.tests.values():
        for limit in (test.typical, *test.variants, test.plausible, *test.advice):
            if limit is not None:
                assert units.same_kind(limit.unit, test.measure), test.id


def test_limits_lie_within_what_the_test_can_show(catalogue):
    for test in catalogue.tests.values():
        if test.plausible is None:
            continue
        low = units.to_base(test.plausible.low, test.plausible.unit)[0]
        high = units.to_base(test.plausible.high, test.plausible.unit)[0]
        for limit in (test.typical, *test.variants):
            for end in (limit.low, limit.high) if limit is not None else ():
                assert end is None or low <= units.to_base(end, limit.unit)[0] <= high, test.id


def test_tests_of_a_component(catalogue):
    assert [test.id for test in catalogue.tests_of("fuse")] == ["fuse.continuity"]
    assert catalogue.tests_of("ignition-module") == ()
    assert catalogue.tests_of("no-such-part") == ()
    assert sum(len(catalogue.tests_of(part)) for part in catalogue.components) == len(catalogue.tests)


def test_names_are_told_apart(catalogue):
    names = [part.name.lower() for part in catalogue.components.values()]
    assert len(names) == len(set(names))
    for part in catalogue.components.values():
        assert part.name.lower() not in {name.lower() for name in part.also}, part.id


def test_no_maker_is_named(catalogue):
    """Only designs, never makes: a capital inside a name is an abbreviation or a standard's name."""
    for part in catalogue.components.values():
        for name in (part.name, *part.also):
            for word in name.split():
                assert word.islower() or word.isupper() or word == "O2", name


def test_caution_ids_exist(catalogue):
    for test in catalogue.tests.values():
        assert set(test.cautions) <= set(catalogue.cautions)


@pytest.mark.parametrize("value", ["Catalogue", "Test", "Limit", "Component"])
def test_values_are_frozen(value, catalogue):
    import dataclasses

    import cleansheet.catalogue as package

    one = {"Catalogue": catalogue, "Test": catalogue.tests["fuse.continuity"],
           "Limit": catalogue.tests["fuse.continuity"].typical, "Component": catalogue.components["fuse"]}[value]  # fmt: skip
    assert isinstance(one, getattr(package, value))
    field = dataclasses.fields(one)[0].name
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(one, field, "other")
