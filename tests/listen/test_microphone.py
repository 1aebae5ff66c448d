"""Recording without a microphone: blocks from a list, written as a microphone's would be."""

import sys
import wave

import numpy as np
import pytest

from cleansheet.listen.microphone import _new_file, loudness_db, record, write_stream
from cleansheet.listen.sound import RATE
from cleansheet.terms import InputError

LOUD = (np.sin(np.arange(1600) / 3) * 8000).astype("<i2").tobytes()
QUIET = np.zeros(1600, dtype="<i2").tobytes()


def written(tmp_path, blocks, **options):
    source = iter(blocks)
    with (tmp_path / "x.wav").open("wb") as handle:
        seconds = write_stream(handle, lambda: next(source, b""), **options)
    with wave.open(str(tmp_path / "x.wav")) as sound:
        assert (sound.getnchannels(), sound.getsampwidth(), sound.getframerate()) == (1, 2, RATE)
        return seconds, sound.getnframes() / RATE


@pytest.mark.parametrize(
    ("blocks", "expected"),
    [
        ([QUIET] * 5 + [LOUD] * 10 + [QUIET] * 100, 3.5),
        ([QUIET] * 40, 4.0),
        ([QUIET] * 5 + ([LOUD] * 10 + [QUIET] * 10) * 5, 10.5),
    ],
    ids=["stops after silence", "waits for the first word", "goes on over short pauses"],
)
def test_recording_ends_after_silence_behind_something_said(tmp_path, blocks, expected):
    assert written(tmp_path, blocks, silence_s=2.0) == pytest.approx((expected, expected))


def test_a_key_ends_it(tmp_path):
    asked = iter([False, False, True])
    assert written(tmp_path, [LOUD] * 9, stop=lambda: next(asked))[0] == pytest.approx(0.3)


def test_the_longest_time_ends_it(tmp_path):
    assert written(tmp_path, [LOUD] * 50, most_s=2.0)[0] == pytest.approx(2.0)


def test_the_level_is_told_ten_times_a_second(tmp_path):
    seen = []
    written(tmp_path, [QUIET, LOUD], level=lambda seconds, level: seen.append((round(seconds, 1), round(level))))
    assert seen == [(0.1, -120), (0.2, -15)]


def test_a_second_recording_in_the_same_second_does_not_take_the_first_one_s_place(tmp_path):
    files = []
    for _ in range(3):
        path, handle = _new_file(tmp_path)
        handle.close()
        files.append(path)
    assert len(set(files)) == 3
    assert all(path.exists() for path in files)


def test_what_was_recorded_before_a_crash_is_a_whole_file(tmp_path):
    def blocks():
        yield from [LOUD] * 20
        raise RuntimeError("the plug was pulled")

    source = blocks()
    with (tmp_path / "x.wav").open("wb") as handle, pytest.raises(RuntimeError):
        write_stream(handle, lambda: next(source))
    with wave.open(str(tmp_path / "x.wav")) as sound:
        assert sound.getnframes() == 20 * 1600


@pytest.mark.parametrize(("samples", "expected"), [([0, 0], -120), ([32767, -32768], 0), ([3277, -3277], -20)])
def test_loudness_is_below_full_scale(samples, expected):
    assert loudness_db(np.array(samples, dtype="<i2").tobytes()) == pytest.approx(expected, abs=0.01)


def test_without_sounddevice_one_line_says_what_to_install(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    with pytest.raises(InputError, match="pip install sounddevice"):
        record(tmp_path)
