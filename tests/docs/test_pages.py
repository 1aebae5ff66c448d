"""The pages are complete: every command, field, word and check has its place, and every link leads somewhere."""

from __future__ import annotations

import re
import subprocess
from dataclasses import fields
from pathlib import Path

import pytest
from page_examples import blocks

from cleansheet.cli.app import COMMANDS
from cleansheet.terms import (
    FINDINGS,
    FLAGS,
    KINDS,
    VERDICTS,
    Audio,
    Derived,
    Draft,
    Expected,
    Item,
    Note,
    Quantity,
    RunnerUp,
    Verdict,
    Word,
)
from cleansheet.terms.draft_json import draft_from_json, draft_to_json

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "sample_notes" / "README.md", *sorted(DOCS.glob("*.md"))]


def text(*path: str) -> str:
    return ROOT.joinpath(*path).read_text(encoding="utf-8")


def full_draft() -> Draft:
    """A draft with every field filled."""
    quantity = Quantity(2.5, 2.45, 2.55, "bar")
    item = Item(
        "reading", 0, 7, quantity, "ok", "fuel-rail", "fuel-rail.static-pressure", "1", {"engine": "off"},
        Expected(2.4, 2.6, "bar", "sheet", "invented"), Verdict("in_spec", "inside"), ("unit_slip",), 0.9, ("a rule",),
        (RunnerUp("fuel-rail", "fuel-rail.hold-pressure", 0.1, "no time said"),), quantity, "kPa", Audio(0.1, 0.9),
        at="2026-03-13",
    )  # fmt: skip
    note = Note(
        "2.5 bar",
        "spoken",
        "2026-03-14T16:20:00",
        "00",
        (Word("2.5", 0, 3, 0.1, 0.5, 0.9, ("25",)),),
        "a.wav",
        ("a gap",),
    )
    figure = Derived("spread", 3.0, "%", "so", "in_spec", "cylinder", "cylinder.compression")
    return Draft(note, (item,), (figure,), ("take care",), ("a remark",))


def field_names(value) -> set[str]:
    if isinstance(value, dict):
        return {key for key in value if key != "engine"} | {name for one in value.values() for name in field_names(one)}
    if isinstance(value, list):
        return {name for one in value for name in field_names(one)}
    return set()


def test_the_full_draft_is_full():
    """Whoever adds a field to the draft sheet adds it here, and so to the page."""
    draft = full_draft()
    inner = (draft, draft.note, *draft.items, *draft.derived, draft.items[0].quantity, draft.items[0].runners_up[0])
    empty = {f"{type(one).__name__}.{field.name}" for one in inner for field in fields(one)
             if getattr(one, field.name) in (None, (), "")}  # fmt: skip
    assert empty <= {"Item.group"}  # kept in Python only
    assert draft_from_json(draft_to_json(draft)) == draft


@pytest.mark.parametrize("name", sorted(field_names(draft_to_json(full_draft()))))
def test_every_field_of_the_draft_sheet_is_explained(name):
    assert (
        f"`{name}`" in text("docs", "draft-sheet.md")
        or f'`{{"{name}"' in text("docs", "draft-sheet.md")
        or (f'"{name}"}}`' in text("docs", "draft-sheet.md"))
    )


@pytest.mark.parametrize("word", [*KINDS, *FINDINGS, *VERDICTS, *FLAGS])
def test_every_word_of_the_draft_sheet_is_explained(word):
    assert f"`{word}`" in text("docs", "draft-sheet.md")


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_met_in_the_readme(name):
    assert re.search(rf"cleansheet {name}\b", text("README.md"))


def shown_commands() -> list[str]:
    """Every `cleansheet NAME` that a page says there is."""
    found = set()
    for page in PAGES:
        for line in page.read_text(encoding="utf-8").splitlines():
            if (
                line.startswith(("$ cleansheet", "    cleansheet", "    $ cleansheet", "| `cleansheet"))
                or "`cleansheet " in line
            ):
                found.update(re.findall(r"\bcleansheet ([a-z]+)", line))
    return sorted(found)


@pytest.mark.parametrize("name", shown_commands())
def test_a_command_that_is_shown_is_there(name):
    assert name in COMMANDS


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_links_lead_somewhere(page):
    for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
        if not target.startswith(("http://", "https://")):
            assert (page.parent / target).exists(), target


@pytest.mark.parametrize("page", sorted(path.name for path in DOCS.glob("*.md")))
def test_the_index_names_every_page(page):
    assert page == "index.md" or f"]({page})" in text("docs", "index.md")


@pytest.mark.parametrize("word", ["fuel", "high voltage", "battery", "hot", "lift", "refrigerant", "fumes"])
def test_the_readme_shows_the_usual_cautions(word):
    cautions = text("README.md").partition("## Take care")[2].partition("\n## ")[0].lower()
    assert word in cautions
    assert "maker's" in cautions
    assert "local codes" in cautions
    assert "licensed" in cautions


def test_the_readme_s_exit_codes_are_the_program_s():
    from cleansheet.terms import CleansheetError

    listed = {int(code) for code in re.findall(r"^\| (\d+) \|", text("README.md"), re.MULTILINE)}
    used = {kind.exit_code for kind in (CleansheetError, *CleansheetError.__subclasses__())}
    assert used <= listed
    assert listed == {0, 1, 2, 3, 4, 5, 130}


def test_the_two_commands_stand_in_the_readme_and_are_there():
    commands = [line for _, lines in blocks(text("README.md"), "sh") for line in lines if line.startswith("bash .ci/")]
    assert commands == ["bash .ci/demo", "bash .ci/test"]
    for command in commands:
        assert (ROOT / command.split()[1]).is_file()


@pytest.mark.parametrize("script", ["demo", "run", "setup", "test"])
def test_the_scripts_hold_no_slip_of_the_shell(script):
    subprocess.run(["bash", "-n", str(ROOT / ".ci" / script)], check=True)


def benches() -> list[str]:
    return sorted(path.relative_to(ROOT).as_posix() for path in (ROOT / "tests" / "bench").rglob("*.py"))


@pytest.mark.parametrize("bench", [one for one in benches() if "__main__" in text(one)])
def test_every_bench_that_can_be_run_is_listed(bench):
    assert bench in text("DEVELOPERS.md")


PATHS = re.compile(r"`((?:src|tests|docs|models_config|sample_notes|\.ci)/[\w./-]*[\w/])`")


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_paths_that_are_named_are_there(page):
    gone = [path for path in PATHS.findall(page.read_text(encoding="utf-8")) if not (ROOT / path).exists()]
    assert gone == []
