"""Speech weights: descriptions, putting together, checking, and what goes wrong with disks."""

import errno
import hashlib
import json
import multiprocessing
import os
from pathlib import Path

import pytest
import yaml

from cleansheet.listen import weight_sets, weights
from cleansheet.terms import WeightsError

CONTENT = {"model.bin": b"m" * 3000, "config.json": b"{}", "tokenizer.json": b"[]"}


def description(name="tiny", **changes):
    data = {
        "name": name,
        "summary": "for tests",
        "languages": "English",
        "parameters": 1,
        "size_bytes": sum(map(len, CONTENT.values())),
        "licence": "MIT",
        "checked": True,
        "files": {
            file: {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()} for file, data in CONTENT.items()
        },
        "sources": [{"kind": "folder"}],
    }
    return {**data, **changes}


@pytest.fixture
def tiny(tmp_path, monkeypatch):
    """A set of three small files, described in a folder of its own, with an empty cache. Yields its source folder."""
    config, source = tmp_path / "config", tmp_path / "source"
    config.mkdir()
    source.mkdir()
    (config / "tiny.yaml").write_text(yaml.safe_dump(description()))
    for file, data in CONTENT.items():
        (source / file).write_bytes(data)
    monkeypatch.setattr(weight_sets, "config_folder", lambda: config)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "conf"))
    weight_sets.weight_sets.cache_clear()
    yield source
    weight_sets.weight_sets.cache_clear()


def test_packaged_descriptions_load_with_the_default_first():
    sets = weight_sets.weight_sets()
    assert list(sets) == ["base", "small.en", "distil-large-v3", "large-v3-turbo"]
    assert all(file.sha256 for one in sets.values() for file in one.files.values())
    assert sets["base"].checked
    assert sets["base"].files["model.bin"].sha256.startswith("d01c3014")


@pytest.mark.speech
def test_base_is_put_together_from_the_installed_packages():
    folder = weights.ready_weights("base")
    assert weights.verify_weights("base") == folder
    assert (folder / "model.bin").stat().st_size == 145_217_532


def test_fetch_from_a_folder_then_ready(tiny):
    folder = weights.fetch_weights("tiny", folder=tiny)
    assert {path.name for path in folder.iterdir()} == {*CONTENT, weights.STAMP}
    assert weights.ready_weights("tiny") == folder


def test_a_second_start_does_not_hash_again(tiny, monkeypatch):
    weights.fetch_weights("tiny", folder=tiny)
    monkeypatch.setattr(weights, "_first_fault", lambda *args: pytest.fail("hashed again"))
    weights.ready_weights("tiny")


def test_a_changed_file_is_hashed_again_and_refused(tiny):
    folder = weights.fetch_weights("tiny", folder=tiny)
    (folder / "model.bin").write_bytes(b"x" * 3000)
    with pytest.raises(WeightsError, match=r"model\.bin has the wrong bytes"):
        weights.ready_weights("tiny")


def test_verify_finds_bytes_that_changed_behind_an_unchanged_stamp(tiny):
    folder = weights.fetch_weights("tiny", folder=tiny)
    status = (folder / "model.bin").stat()
    (folder / "model.bin").write_bytes(b"x" * 3000)
    os.utime(folder / "model.bin", ns=(status.st_atime_ns, status.st_mtime_ns))
    assert weights.ready_weights("tiny") == folder
    with pytest.raises(WeightsError, match="wrong bytes"):
        weights.verify_weights("tiny")


def test_a_half_written_file_is_named(tiny):
    folder = weights.fetch_weights("tiny", folder=tiny)
    (folder / "model.bin").write_bytes(b"m" * 1000)
    with pytest.raises(WeightsError, match="1000 bytes long instead of 3000"):
        weights.ready_weights("tiny")


def test_wrong_bytes_at_the_source_put_nothing_in_place(tiny):
    (tiny / "config.json").write_bytes(b"[]")
    with pytest.raises(WeightsError, match=r"config\.json has the wrong bytes"):
        weights.fetch_weights("tiny", folder=tiny)
    assert list(weights.weights_folder().iterdir()) == []


def test_a_fetch_replaces_a_damaged_set(tiny):
    folder = weights.fetch_weights("tiny", folder=tiny)
    (folder / "model.bin").unlink()
    weights.fetch_weights("tiny", folder=tiny)
    assert weights.verify_weights("tiny") == folder


def test_a_full_disk_ends_in_one_line_and_leaves_nothing(tiny, monkeypatch):
    def full(descriptor):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(WeightsError, match="No space left on device") as caught:
        weights.fetch_weights("tiny", folder=tiny)
    assert "\n" not in str(caught.value)
    assert list(weights.weights_folder().iterdir()) == []


def test_a_cache_that_is_a_file_ends_in_one_line(tiny, tmp_path):
    (tmp_path / "cache").write_text("not a folder")
    with pytest.raises(WeightsError, match="cannot be put into"):
        weights.fetch_weights("tiny", folder=tiny)


@pytest.mark.parametrize("call", [weights.ready_weights, weights.verify_weights, weights.fetch_weights])
def test_what_is_not_here_says_how_to_get_it(tiny, call):
    with pytest.raises(WeightsError, match="cleansheet weights fetch tiny --from FOLDER"):
        call("tiny")


def test_an_unknown_name_lists_the_known(tiny):
    with pytest.raises(WeightsError, match="known: tiny"):
        weights.ready_weights("huge")


def test_the_default_can_be_chosen_and_survives_a_set_that_is_gone(tiny):
    assert weights.default_weights() == "base"
    weights.set_default_weights("tiny")
    assert weights.default_weights() == "tiny"
    weights._default_file().write_text("gone\n")
    assert weights.default_weights() == "base"


def _fetch(source):
    weights.fetch_weights("tiny", folder=source)
    return weights.ready_weights("tiny").name


def test_several_processes_at_once_leave_one_whole_set(tiny):
    with multiprocessing.get_context("fork").Pool(4) as pool:
        assert pool.map(_fetch, [Path(tiny)] * 8) == ["tiny"] * 8
    assert [path.name for path in weights.weights_folder().iterdir()] == ["tiny"]


def test_hashes_that_nobody_vouched_for_are_recorded_at_the_first_fetch(tiny, tmp_path):
    data = description(checked=False)
    data["files"]["model.bin"] = {}
    (tmp_path / "config" / "tiny.yaml").write_text(yaml.safe_dump(data))
    weight_sets.weight_sets.cache_clear()
    folder = weights.fetch_weights("tiny", folder=tiny)
    stamp = json.loads((folder / weights.STAMP).read_text())
    assert stamp["model.bin"]["sha256"] == hashlib.sha256(CONTENT["model.bin"]).hexdigest()
    (folder / "model.bin").write_bytes(b"x" * 3000)
    with pytest.raises(WeightsError, match="wrong bytes"):
        weights.verify_weights("tiny")


BAD_DESCRIPTIONS = [
    ("no model", {"files": {"config.json": {}, "tokenizer.json": {}}}, r"no model\.bin"),
    ("bad hash", {"files": {**description()["files"], "model.bin": {"sha256": "abc"}}}, "sha256"),
    ("checked without hash", {"files": {**description()["files"], "model.bin": {}}}, "need a sha256"),
    ("unknown source", {"sources": [{"kind": "ftp"}]}, "sources"),
    ("moving revision", {"sources": [{"kind": "hub", "repository": "a/b", "revision": "main"}]}, "revision"),
    ("other name", {"name": "other"}, "name the file other.yaml"),
    ("unknown key", {"colour": "red"}, "colour"),
]


@pytest.mark.parametrize(
    ("changes", "message"), [case[1:] for case in BAD_DESCRIPTIONS], ids=[c[0] for c in BAD_DESCRIPTIONS]
)
def test_a_description_with_a_fault_is_named_in_one_line(tmp_path, changes, message):
    path = tmp_path / "tiny.yaml"
    path.write_text(yaml.safe_dump({**description(), **changes}))
    with pytest.raises(WeightsError, match=message) as caught:
        weight_sets.load_set(path)
    assert "tiny.yaml" in str(caught.value)
    assert "\n" not in str(caught.value)
