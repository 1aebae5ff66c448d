"""The walls of the house: who may import whom, what is loaded when, what is public, and what no file may say."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from pathlib import Path

import pytest

import cleansheet

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "cleansheet"
STAGES = ("listen", "read", "match", "judge", "review", "journal")
BELOW = {"terms": set(), "files": {"terms"}, "units": {"terms"}, "catalogue": {"terms", "units"}}
# Loaded inside the functions that use them: each costs more than the whole help page may take.
HEAVY = {"av", "ctranslate2", "dateparser", "distributed", "faster_whisper", "matplotlib", "numpy", "pint", "pydantic",
         "rapidfuzz", "rich", "spacy", "sqlite_utils", "ucumvert"}  # fmt: skip
MODULES = sorted(SOURCE.rglob("*.py"))
TEXTS = [
    path
    for folder in ("src", "docs", "tests", "sample_notes", "models_config")
    for path in sorted((ROOT / folder).rglob("*"))
    if path.suffix in {".py", ".md", ".yaml", ".json", ".txt"} and path.is_file()
] + [ROOT / name for name in ("README.md", "DEVELOPERS.md", "pyproject.toml") if (ROOT / name).exists()]


def imports(path: Path) -> set[str]:
    """Absolute names of what a module imports, anywhere in it."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    package = [*path.relative_to(SOURCE.parent).with_suffix("").parts][:-1]
    found: set[str] = set()

    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found.update(name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            module = ".".join([*base, *([node.module] if node.module else [])])
            found.update({module, *(f"{module}.{name.name}" for name in node.names)})
    return found


def packages_used(path: Path) -> set[str]:
    return {name.split(".")[1] for name in imports(path) if name.startswith("cleansheet.")}


@pytest.mark.parametrize("stage", STAGES)
def test_a_stage_imports_no_other_stage_and_no_front_end(stage):
    allowed = {stage, "catalogue", "units", "dates", "files", "terms", "__version__"}
    for path in sorted((SOURCE / stage).rglob("*.py")):
        assert packages_used(path) <= allowed, path


@pytest.mark.parametrize("package", BELOW)
def test_what_lies_below_the_stages_looks_only_down(package):
    for path in sorted((SOURCE / package).rglob("*.py")):
        assert packages_used(path) <= {package, "__version__", *BELOW[package]}, path


def test_terms_need_nothing_but_python():
    standard = importlib.import_module("sys").stdlib_module_names
    for path in sorted((SOURCE / "terms").rglob("*.py")):
        outside = {name.split(".")[0] for name in imports(path)} - {"cleansheet", "__future__"}
        assert outside <= set(standard), path


# What a package may load with itself, beyond the standard library.
MAY_LOAD = {"listen": {"numpy", "pydantic"}}


@pytest.mark.parametrize("name", ["cli.app", "flow", *STAGES, *BELOW])
def test_nothing_heavy_is_loaded_with_a_package(name):
    code = f"import sys, cleansheet.{name}; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) & HEAVY <= MAY_LOAD.get(name, set())


PUBLIC = [name for _, name, is_package in pkgutil.iter_modules([str(SOURCE)]) if is_package]


@pytest.mark.parametrize("name", PUBLIC)
def test_public_names_are_listed_sorted_and_there(name):
    package = importlib.import_module(f"cleansheet.{name}")
    names = package.__all__
    assert list(names) == sorted(names, key=lambda one: (not one.isupper(), one[0].islower(), one))
    assert len(set(names)) == len(names)
    assert [one for one in names if not hasattr(package, one)] == []


@pytest.mark.parametrize("name", PUBLIC)
def test_public_functions_say_what_they_give(name):
    package = importlib.import_module(f"cleansheet.{name}")
    silent = [
        one
        for one in package.__all__
        if inspect.isfunction(getattr(package, one)) and not (inspect.getdoc(getattr(package, one)) or "").strip()
    ]
    assert silent == []


FORBIDDEN = [
    ("paths of a machine", re.compile(r"(?<![\w.])/(?:work|opt|root|home/\w+)/\w")),
    ("a private registry", re.compile(r"https?://(?!pypi\.org|files\.pythonhosted\.org|no-color\.org|docs\.|www\.|github\.com|huggingface\.co|"
                                      r"json-schema\.org|cleansheet)[\w.-]*(?:registry|mirror|nexus|artifactory)", re.IGNORECASE)),
]  # fmt: skip


@pytest.mark.parametrize(("_what", "pattern"), FORBIDDEN, ids=[what for what, _ in FORBIDDEN])
def test_no_file_names_the_machine_it_was_made_on(_what, pattern):
    found = {
        f"{path.relative_to(ROOT)}: {hit.group()}"
        for path in TEXTS
        if path.name != Path(__file__).name
        for hit in pattern.finditer(path.read_text(encoding="utf-8"))
    }
    assert found == set()


def test_the_version_is_one():
    assert re.fullmatch(r"\d+\.\d+\.\d+", cleansheet.__version__)
    assert (SOURCE / "py.typed").is_file()


def test_modules_stay_small():
    """Most modules are of 120 to 350 lines; none may grow into a place where everything lives."""
    sizes = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES}
    assert {str(path): size for path, size in sizes.items() if size > 600} == {}
