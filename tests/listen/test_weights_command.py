"""`cleansheet weights`, through the command line's own way of reporting faults."""

import pytest

from cleansheet.cli.app import main
from cleansheet.listen import weight_sets


@pytest.fixture
def run(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))

    def run(*words):
        with pytest.raises(SystemExit) as stop:
            main(["weights", *words])
        out = capsys.readouterr()
        return stop.value.code, out.out, out.err

    return run


def test_list_names_every_set_with_its_size_and_the_default(run):
    code, out, _ = run("list")
    assert code == 0
    starts = [line.split()[:2] for line in out.splitlines()]
    assert ["*", "base"] in starts
    assert all(name in out for name in weight_sets.weight_sets())
    assert "148 MB" in out


@pytest.mark.speech
def test_verify_puts_the_default_together_and_says_that_it_is_whole(run):
    code, out, err = run("verify")
    assert code == 0
    assert out.startswith("base: every file is as described")
    assert err == ""


def test_default_is_kept_and_says_when_the_set_is_not_here(run):
    code, out, _ = run("default", "small.en")
    assert code == 0
    assert "cleansheet weights fetch small.en" in out
    assert ["*", "small.en"] in [line.split()[:2] for line in run("list")[1].splitlines()]


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["verify", "small.en"], "not on this computer"),
        (["fetch", "small.en"], "--from FOLDER"),
        (["fetch", "small.en", "--from", "nowhere"], "holds no model.bin"),
        (["default", "nix"], "known: base"),
    ],
)
def test_faults_are_one_line_and_exit_code_4(run, words, message):
    code, out, err = run(*words)
    assert code == 4
    assert out == ""
    assert message in err
    assert err.count("\n") == 1
