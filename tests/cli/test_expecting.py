"""What is open on a job is told to the recogniser before it hears the job's next recording."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from making import draft, item, signed

from cleansheet import journal as book
from cleansheet.catalogue import load
from cleansheet.cli.expecting import MOST, open_names
from cleansheet.terms import InputError

SAMPLES = Path(__file__).parents[2] / "sample_notes"
TEXT = (
    "Aldern camper. Check the rotor arm gap next. Is the knock sensor alive? Crank sensor 720 ohms. "
    "Coil primary 9 ohms. Replaced the fuel pump relay."
)


@pytest.fixture(scope="module")
def catalogue():
    return load()


@pytest.fixture
def journal(home):
    """A journal with one open job: a next step, a question, a good part, a failed one and one that was worked on."""
    with book.open_journal(book.default_path()) as opened:
        signed(opened, draft(
            TEXT,
            item(TEXT, "Check the rotor arm gap next", "todo", component="spark-plug", test="spark-plug.gap"),
            item(TEXT, "Is the knock sensor alive?", "question", component="ignition-module"),
            item(TEXT, "720 ohms", value=720, unit="Ohm", test="crank-sensor.resistance", verdict="in_spec"),
            item(TEXT, "9 ohms", value=9, unit="Ohm", test="ignition-coil.primary-resistance", verdict="out_of_spec"),
            item(TEXT, "Replaced the fuel pump relay", "action", component="fuel-pump-relay"),
        ), vehicle="Aldern camper")  # fmt: skip
        yield opened


def test_next_steps_come_first_then_questions_then_what_failed(journal, catalogue):
    names = open_names(journal, catalogue, job="2026-001", vehicle=None)
    assert names[:5] == ("spark plug", "electrode gap", "ignition module", "ignition coil", "fuel pump relay")
    assert "crankshaft position sensor" not in names  # proven good
    assert len(names) == MOST  # filled up with what nobody looked at


@pytest.mark.parametrize(("job", "vehicle", "some"), [
    ("2026-001", None, True), (None, "aldern camper", True), (None, "Brindle twin", False), (None, None, False),
])  # fmt: skip
def test_the_job_is_the_one_given_or_the_vehicle_s_open_one(journal, catalogue, job, vehicle, some):
    assert bool(open_names(journal, catalogue, job=job, vehicle=vehicle)) is some


def test_a_job_that_is_not_there_is_told_before_anything_is_heard(journal, catalogue):
    with pytest.raises(InputError, match="no job"):
        open_names(journal, catalogue, job="2031-009", vehicle=None)


@pytest.mark.speech
def test_the_names_reach_the_telling_within_its_limit(journal, run, home, monkeypatch, tmp_path_factory):
    from cleansheet.listen import listening
    from cleansheet.listen.ear import MOST_CONTEXT_TOKENS

    journal.close()
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
    shutil.copy(SAMPLES / "visit-2-crank-sensor.opus", home / "bench.opus")
    real, told = listening.hear, []

    def hear(ear, samples, tellings, known):
        contexts = (*tellings.first, tellings.again(()))
        told.append((contexts, [ear.count(f"{one.hotwords} {one.prompt}") for one in contexts]))
        return real(ear, samples, tellings, known)

    monkeypatch.setattr(listening, "hear", hear)
    code, out, _ = run("take", "bench.opus", "--job", "2026-001")
    assert code == 0
    assert "720 Ω" in out
    contexts, counts = told[0]
    for context, tokens in zip(contexts, counts, strict=True):
        names = context.hotwords.split(", ")
        assert names[:5] == ["spark plug", "electrode gap", "ignition module", "ignition coil", "fuel pump relay"]
        assert len(names) > MOST  # the usual ones are still told behind them
        assert tokens <= MOST_CONTEXT_TOKENS

    told.clear()
    shutil.copy(SAMPLES / "visit-1-fuel.opus", home / "other.opus")
    assert run("take", "other.opus")[0] == 0  # no job, no vehicle: nothing but the usual
    assert not told[0][0][0].hotwords.startswith("spark plug, electrode gap")
