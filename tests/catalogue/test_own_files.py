"""The shop's own files: names, tests and limits laid over the package's, and every fault with its place."""

from __future__ import annotations

import pytest

from cleansheet.catalogue import load
from cleansheet.catalogue.loading import DATA
from cleansheet.terms import SpecError

CHAIN = """
components:
  drive-chain: {name: drive chain, also: [chain], system: driveline}
tests:
  drive-chain.slack:
    name: slack
    unit: mm
    asks: "Middle of the lower run, up and down, bike on its wheels."
    typical: {low: 25, high: 35, unit: mm}
    judge: soft
    plausible: {low: 0, high: 100, unit: mm}
    when: {engine: off}
    good_findings: [ok]
    bad_findings: [loose, worn]
    caution: [moving-parts]
    minutes: 5
    needs: ruler
    source: common practice
"""


def test_a_new_part_and_test(shop):
    catalogue = load(shop(CHAIN))
    assert catalogue.components["drive-chain"].also == ("chain",)
    test = catalogue.tests["drive-chain.slack"]
    assert (test.typical.low, test.typical.high, test.when) == (25, 35, {"engine": "off"})
    assert catalogue.tests_of("drive-chain") == (test,)
    assert len(catalogue.tests) == len(load().tests) + 1


def test_the_shops_names_are_added(shop):
    catalogue = load(shop("components:\n  radiator-fan: {also: [windmill, fan]}\n"))
    packaged = load().components["radiator-fan"]
    assert catalogue.components["radiator-fan"].also == (*packaged.also, "windmill")
    assert catalogue.components["radiator-fan"].name == packaged.name
    assert catalogue.components["radiator-fan"].system == packaged.system


def test_a_limit_is_overridden_and_the_rest_stays(shop):
    catalogue = load(shop("tests:\n  brake-pad.thickness:\n    typical: {low: 3, unit: mm}\n    source: our shop\n"))
    ours, packaged = catalogue.tests["brake-pad.thickness"], load().tests["brake-pad.thickness"]
    assert (ours.typical.low, ours.source) == (3, "our shop")
    assert (ours.asks, ours.cautions, ours.plausible.high) == (
        packaged.asks,
        packaged.cautions,
        packaged.plausible.high,
    )


def test_several_files_go_in_the_order_of_their_names(shop):
    shop("tests:\n  brake-pad.thickness: {minutes: 20}\n", "a.yaml")
    assert (
        load(shop("tests:\n  brake-pad.thickness: {minutes: 30}\n", "b.yaml")).tests["brake-pad.thickness"].minutes
        == 30
    )


@pytest.mark.parametrize("text", ["", "# nothing here yet\n", "tests:\n", "components: {}\n"])
def test_a_file_with_nothing_in_it(shop, text):
    assert load(shop(text)).tests.keys() == load().tests.keys()


def test_on_and_off_are_words(shop):
    """YAML 1.1 would make them true and false; a technician means the words."""
    catalogue = load(shop("tests:\n  brake-pad.thickness:\n    when: {engine: off, load: on, vacuum_line: off}\n"))
    assert catalogue.tests["brake-pad.thickness"].when == {"engine": "off", "load": "on", "vacuum_line": "off"}


# text, line, what the message holds
FAULTS = [
    ("tests:\n  brake-pad.thickness:\n    minuts: 5\n", 3, "tests.brake-pad.thickness.minuts: is not a key known here"),
    ("tests:\n  brake-pad.thickness:\n    minutes: soon\n", 3, "tests.brake-pad.thickness.minutes: "),
    ("tests:\n  brake-pad.thickness:\n    minutes: -5\n", 3, "greater than 0"),
    ("tests:\n  brake-pad.thickness:\n    judge: maybe\n", 3, "'firm', 'soft' or 'none'"),
    ("tests:\n  brake-pad.thickness:\n    typical: {low: 3, high: 2, unit: mm}\n", 3, "low 3 is above high 2"),
    ("tests:\n  brake-pad.thickness:\n    typical: {unit: mm}\n", 3, "neither low nor high"),
    ("tests:\n  brake-pad.thickness:\n    typical: {low: 3}\n", 3, "unit: is missing"),
    ("tests:\n  brake-pad.thickness:\n    typical: {low: 3, unit: furlong}\n", 3, "'furlong' is not a known UCUM code"),
    ("tests:\n  brake-pad.thickness:\n    typical: {low: 3, unit: V}\n", 3, "cannot measure this test"),
    ("tests:\n  brake-pad.thickness:\n    plausible: {low: 0, unit: mm}\n", 3, "needs both low and high"),
    ("tests:\n  brake-pad.thickness:\n    caution: [loud-noise]\n", 3, "no caution 'loud-noise'"),
    ("tests:\n  brake-pad.thickness:\n    good_findings: [lovely]\n", 3, "Input should be"),
    ("tests:\n  brake-pad.thickness:\n    good_findings: [ok, worn]\n", 2, "good and bad at once: worn"),
    ("tests:\n  brake-pad.thickness:\n    when: {engine: revving}\n", 3, "Input should be"),
    ("tests:\n  brake-pad.thickness:\n    when: {engine_state: off}\n", 3, "is not a key known here"),
    (
        "tests:\n  brake-pad.thickness:\n    variants:\n      - {name: x, low: 1, unit: mm, only_if_said: true}\n",
        4,
        "go together",
    ),
    ("tests:\n  brake-pad.wobble:\n    name: wobble\n", 2, "is missing"),
    ("tests:\n  brake-pad: {name: x}\n", 2, "is not a usable name"),
    ("tests:\n  Brake Pad.Wear: {name: x}\n", 2, "is not a usable name"),
    ("tests: [a, b]\n", 1, "must hold entries"),
    ("tests:\n  brake-pad.thickness: 3\n", 2, "tests.brake-pad.thickness: "),
    ("componets: {}\n", 1, "componets: is not a key known here"),
    ("components:\n  drive-chain: {also: [chain]}\n", 2, "name: is missing"),
    ("components:\n  drive-chain: {name: ''}\n", 2, "name"),
    ("components:\n  brake-pad: {also: [a]}\n  brake-pad: {also: [b]}\n", 3, "written twice"),
    ("components:\n  brake-pad: {also: [a}\n", 2, "not readable as YAML"),
    ("tables:\n  t: {columns: [a, b], rows: [[1, 2], [3]], source: x}\n", 2, "row 2 has not 2 entries"),
    ("- a\n- b\n", 1, "must hold"),
]


@pytest.mark.parametrize(("text", "line", "holds"), FAULTS)
def test_a_fault_names_file_line_and_key(shop, text, line, holds):
    with pytest.raises(SpecError) as caught:
        load(shop(text))
    message = str(caught.value)
    assert holds in message
    assert f"own.yaml:{line}: " in message


def test_all_faults_of_all_files_at_once(shop):
    shop("tests:\n  brake-pad.thickness: {minuts: 5}\n  tyre.pressure: {minutes: soon}\n", "a.yaml")
    folder = shop("components:\n  fuse: {systm: x}\n", "b.yaml")
    with pytest.raises(SpecError) as caught:
        load(folder)
    lines = str(caught.value).splitlines()
    assert len(lines) == 3
    assert [line.rpartition("/")[2].split(":")[0] for line in sorted(lines)] == ["a.yaml", "a.yaml", "b.yaml"]


def test_a_folder_that_is_not_there(tmp_path):
    with pytest.raises(SpecError, match="no such folder"):
        load(tmp_path / "nowhere")


def test_text_that_is_not_utf8(shop, tmp_path):
    folder = shop("")
    (folder / "own.yaml").write_bytes("name: Kühler".encode("latin-1"))
    with pytest.raises(SpecError, match="not UTF-8"):
        load(folder)


def test_a_fault_in_the_packages_own_files_would_name_them(monkeypatch, tmp_path, shop):
    from cleansheet.catalogue import loading

    copy = tmp_path / "trade"
    copy.mkdir()
    for path in DATA.glob("*.yaml"):
        (copy / path.name).write_text(path.read_text("utf-8"), "utf-8")
    broken = (copy / "cooling.yaml").read_text("utf-8").replace('unit: "Cel"', 'unit: "V"', 1)
    (copy / "cooling.yaml").write_text(broken, "utf-8")
    monkeypatch.setattr(loading, "DATA", copy)
    with pytest.raises(SpecError, match=r"catalogue/cooling\.yaml:\d+: .*cannot measure"):
        load(shop(""))
