"""The README and the pages under docs show what the program does: every example is run."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from page_examples import agrees, environment, examples, run

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]
WITH_EXAMPLES = [page for page in PAGES if examples(page.read_text(encoding="utf-8"))]


@pytest.fixture(scope="session")
def cache(tmp_path_factory):
    """One cache for all pages, so that the speech weights are put together once."""
    return tmp_path_factory.mktemp("cache")


@pytest.mark.speech
@pytest.mark.parametrize("page", WITH_EXAMPLES, ids=lambda page: page.name)
def test_the_page_s_examples_run_as_shown(page, tmp_path, cache):
    folder, home = tmp_path / "bench", tmp_path / "home"
    home.mkdir()
    shutil.copytree(ROOT / "sample_notes", folder / "sample_notes")
    shutil.copy(ROOT / "sample_notes" / "aldern-camper.yaml", folder)
    known = environment(home, cache)
    for example in examples(page.read_text(encoding="utf-8")):
        code, shown = run(example.command, folder, known)
        where = f"{page.name}:{example.line}: $ {example.command}"
        assert code == 0, f"{where}\nended with {code} and printed:\n{shown}"
        assert agrees(example.expected, shown), f"{where}\nprinted:\n{shown}"


@pytest.mark.speech
def test_the_walk_is_the_readme_s_tour(tmp_path, cache):
    """What `.ci/demo` runs is what the README shows first."""
    home = tmp_path / "home"
    home.mkdir()
    code, shown = run(f"bash {ROOT / 'sample_notes' / 'walk.sh'}", tmp_path, environment(home, cache))
    assert code == 0, shown
    told = examples((ROOT / "README.md").read_text(encoding="utf-8"))[: shown.count("\n$ ")]
    assert len(told) == 4
    assert agrees(tuple(line for one in told for line in ("...", f"$ {one.command}", *one.expected)), shown), shown
    assert not list(home.rglob("*.sqlite"))  # the user's own journal is left alone


def test_the_pages_hold_examples():
    assert {page.name for page in WITH_EXAMPLES} >= {"README.md", "draft-sheet.md"}


AGREE = [
    (("a", "b"), "a\nb\n", True),
    (("a",), "a  \n\n", True),
    (("a", "..."), "a\n", True),
    (("a", "...", "d"), "a\nb\nc\nd\n", True),
    (("at ... o'clock",), "at 12 o'clock\n", True),
    ((), "", True),
    (("a",), "b\n", False),
    (("a",), "a\nb\n", False),
    (("a", "b"), "a\n", False),
    (("...", "d"), "a\nb\n", False),
    (("a.c",), "abc\n", False),
    ((), "a\n", False),
]


@pytest.mark.parametrize(("expected", "got", "answer"), AGREE)
def test_what_agrees(expected, got, answer):
    assert agrees(expected, got) is answer


BAD_PAGES = ["```console\n```\n", "```console\nno command\n```\n", "```console\n$ ls\n"]


@pytest.mark.parametrize("page", BAD_PAGES)
def test_a_page_that_cannot_be_run_is_told(page):
    with pytest.raises(AssertionError):
        examples(page)


def test_only_console_blocks_are_run():
    page = "```sh\n$ rm -r x\n```\n\n```console\n$ ls\na\n$ ls b\n```\n"
    assert [(one.line, one.command, one.expected) for one in examples(page)] == [(6, "ls", ("a",)), (8, "ls b", ())]
