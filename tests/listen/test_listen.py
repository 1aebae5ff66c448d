"""Real sound through the real weights."""

import hashlib
import os
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from cleansheet.catalogue import load
from cleansheet.listen import listen
from cleansheet.listen.alike import tokens
from cleansheet.terms import InputError

pytestmark = pytest.mark.speech
SAMPLES = Path(__file__).parents[2] / "sample_notes"

# sound → the numbers said in it with their units, all of them, in order
SPOKEN = {
    "visit-1-fuel.opus": ["3.1 bar", "10 minute", "2.2 bar", "1.6 litre", "15 ohm"],
    "visit-2-crank-sensor.opus": ["720 ohm", "1400 ohm", "1.1 millimetre"],
    "visit-3-road-test.opus": ["760 ohm", "850 rpm", "14.2 volt", "3000 rpm", "4.2 bar", "40 minute"],
}


def numbers_with_units(text):
    found = tokens(text.split())
    return [f"{one.form} {two.form}" for one, two in pairwise(found) if (one.kind, two.kind) == ("number", "unit")]


def test_human_speech_gives_ten_metres(go_forward):
    note = listen(go_forward, threads=2)
    assert re.search(r"\b(10|ten) met(re|er)s\b", note.text.lower())
    assert note.source == "spoken"
    assert note.sha256 == hashlib.sha256(go_forward.read_bytes()).hexdigest()


def test_every_word_has_its_exact_place_and_its_time(go_forward):
    note = listen(go_forward, threads=2)
    assert [note.text[word.start : word.end] for word in note.words] == [word.text for word in note.words]
    assert " ".join(word.text for word in note.words) == note.text
    times = [(word.start_s, word.end_s) for word in note.words]
    assert times == sorted(times)
    assert all(0 <= start <= end <= 2.9 for start, end in times)
    assert all(0 < word.probability <= 1 for word in note.words)


@pytest.mark.parametrize("name", SPOKEN)
def test_spoken_samples_have_their_numbers_right_and_sure(name):
    note = listen(SAMPLES / name, threads=2, catalogue=load())
    assert numbers_with_units(note.text) == SPOKEN[name]
    sure = " ".join(word.text for word in note.words if word.probability >= 0.5)
    assert set(numbers_with_units(sure)) >= set(SPOKEN[name])
    assert note.remarks == ()


def test_recording_date_comes_from_the_sounds_own_tags():
    assert listen(SAMPLES / "visit-2-crank-sensor.opus", threads=2).recorded_at == "2026-03-19T11:05:00"


def test_progress_ends_at_the_whole_length(go_forward):
    seen = []
    listen(go_forward, threads=2, progress=lambda done, total: seen.append((done, total)))
    assert seen[-1][0] == pytest.approx(seen[-1][1])
    assert seen[-1][0] == pytest.approx(2.786, abs=0.02)


@pytest.mark.parametrize("shape", ["left dead", "right dead", "mirrored", "quiet", "8 kHz", "48 kHz"])
def test_odd_recordings_are_heard_as_well(tmp_path, shape, human_speech, write_wav):
    from scipy.signal import resample_poly

    speech, rate = human_speech, 16_000
    silence = np.zeros_like(speech)
    samples = {
        "left dead": np.stack([silence, speech]),
        "right dead": np.stack([speech, silence]),
        "mirrored": np.stack([speech, -speech]),
        "quiet": speech * 0.01,
        "8 kHz": resample_poly(speech, 1, 2),
        "48 kHz": resample_poly(speech, 3, 1),
    }[shape]
    rate = {"8 kHz": 8_000, "48 kHz": 48_000}.get(shape, rate)
    note = listen(write_wav(tmp_path / "odd.wav", samples, rate), threads=2)
    assert re.search(r"\b(10|ten)\b", note.text.lower())


def test_silence_holds_no_speech(tmp_path, write_wav):
    with pytest.raises(InputError, match="no speech"):
        listen(write_wav(tmp_path / "silence.wav", np.zeros(32_000)), threads=2)


BLOCKED = """
import socket, sys
def refuse(*args, **kwargs):
    print("NETWORK", args, file=sys.stderr)
    raise OSError("no network in this test")
socket.socket.connect = refuse
socket.socket.connect_ex = refuse
socket.getaddrinfo = refuse
socket.create_connection = refuse
from cleansheet.listen import listen
print(listen(sys.argv[1], threads=2).text)
"""


def test_the_default_run_makes_no_network_request(go_forward, tmp_path):
    """From an empty home folder: weights are put together, loaded and used with every connection refused."""
    home = {"HOME": str(tmp_path), "XDG_CACHE_HOME": str(tmp_path / "c"), "HF_HUB_OFFLINE": "0"}
    done = subprocess.run(
        [sys.executable, "-c", BLOCKED, str(go_forward)],
        env={**os.environ, **home},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "NETWORK" not in done.stderr
    assert "forward" in done.stdout
