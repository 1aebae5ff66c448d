"""The cached copy: used when it fits, made anew when anything changes, never in the way."""

from __future__ import annotations

import sys

import pytest

from cleansheet.catalogue import load, loading, parsing


@pytest.fixture
def counted(monkeypatch, tmp_path):
    """Counts how often YAML is parsed, with a cache folder of its own and nothing in memory."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(loading, "_MEMO", {})
    calls = []
    parse = parsing.parse

    def counting(*args, **kwargs):
        calls.append(1)
        return parse(*args, **kwargs)

    monkeypatch.setattr(parsing, "parse", counting)
    return calls


def forget(monkeypatch):
    monkeypatch.setattr(loading, "_MEMO", {})


def test_second_start_reads_the_copy(counted, shop, monkeypatch):
    folder = shop("components:\n  fuse: {also: [cut-out]}\n")
    first = load(folder)
    assert load(folder) is first
    forget(monkeypatch)
    assert load(folder) == first
    assert len(counted) == 1


def test_a_changed_file_is_seen(counted, shop):
    load(shop("components:\n  fuse: {also: [cut-out]}\n"))
    again = load(shop("components:\n  fuse: {also: [fusible link]}\n"))
    assert "fusible link" in again.components["fuse"].also
    assert len(counted) == 2


def test_a_damaged_copy_is_made_anew(counted, shop, monkeypatch, tmp_path):
    folder = shop("components:\n  fuse: {also: [cut-out]}\n")
    first = load(folder)
    (copy,) = (tmp_path / "cache").rglob("catalogue-*.json")
    for damage in (b"", b"{", b"[]", b'{"key": "other"}', copy.read_bytes()[:-100]):
        copy.write_bytes(damage)
        forget(monkeypatch)
        assert load(folder) == first
    assert len(counted) == 6


def test_a_cache_that_cannot_be_written_is_no_fault(counted, shop, monkeypatch, tmp_path):
    blocked = tmp_path / "blocked"
    blocked.write_text("a file, not a folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(blocked))
    folder = shop("components:\n  fuse: {also: [cut-out]}\n")
    load(folder)
    forget(monkeypatch)
    load(folder)
    assert len(counted) == 2


def test_a_failed_write_leaves_nothing_behind(counted, shop, monkeypatch, tmp_path):
    def full(*args, **kwargs):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(loading.json, "dump", full)
    load(shop(""))
    assert [path.name for path in (tmp_path / "cache").rglob("*") if path.is_file()] == []


def test_old_copies_are_cleared_out(counted, shop, tmp_path):
    for number in range(12):
        load(shop(f"components:\n  fuse: {{also: [name {number}]}}\n"))
    assert len(list((tmp_path / "cache").rglob("catalogue-*.json"))) <= 8


def test_a_faulty_file_is_not_cached(counted, shop, tmp_path):
    from cleansheet.terms import SpecError

    with pytest.raises(SpecError):
        load(shop("tests: 3\n"))
    assert list((tmp_path / "cache").rglob("*.json")) == []


def test_a_start_from_the_copy_needs_no_yaml_and_no_pydantic(tmp_path):
    """What start-up pays for: counted, not timed."""
    import os
    import subprocess

    script = "import sys; from cleansheet.catalogue import load; load(); print(sorted({'yaml', 'pydantic', 'pint'} & set(sys.modules)))"
    env = {**os.environ, "XDG_CACHE_HOME": str(tmp_path)}
    runs = [
        subprocess.run([sys.executable, "-c", script], env=env, capture_output=True, text=True, check=True)
        for _ in range(2)
    ]
    assert "'pydantic', 'yaml'" in runs[0].stdout
    assert runs[1].stdout.strip() == "[]"
