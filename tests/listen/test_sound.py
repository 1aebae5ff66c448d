"""Decoding: odd files, broken files, channels, dates."""

import os
import random
import struct
from datetime import datetime

import av
import numpy as np
import pytest

from cleansheet.listen.sound import RATE, mixed_down, open_sound, recorded_at
from cleansheet.terms import InputError


def read_all(path):
    sound = open_sound(path)
    return sound, np.concatenate(list(sound.blocks()))


def encode(path, codec, *, rate=16_000, seconds=3.0, **options):
    """A tone of `seconds` in the container that the name of `path` says."""
    at = np.arange(int(rate * seconds)) / rate
    tone = (0.3 * np.sin(2 * np.pi * 440 * at)).astype(np.float32)
    with av.open(str(path), "w", **options) as container:
        stream = container.add_stream(codec, rate=rate, layout="mono")
        size = stream.codec_context.frame_size or 1024
        wanted = stream.codec_context.format.name
        resampler = av.AudioResampler(format=wanted, layout="mono", rate=rate)
        for start in range(0, len(tone) - size + 1, size):
            frame = av.AudioFrame.from_ndarray(tone[None, start : start + size], format="fltp", layout="mono")
            frame.sample_rate, frame.pts = rate, start
            for ready in resampler.resample(frame):
                container.mux(stream.encode(ready))
        container.mux(stream.encode(None))
    return path


FORMATS = [
    ("a.wav", "pcm_s16le", 44_100),
    ("a.flac", "flac", 48_000),
    ("a.mp3", "libmp3lame", 44_100),
    ("a.m4a", "aac", 44_100),
    ("a.opus", "libopus", 48_000),
    ("a.ogg", "libopus", 24_000),
    ("a.webm", "libopus", 48_000),
    ("a.3gp", "aac", 16_000),
    ("a.aiff", "pcm_s16be", 96_000),
    ("a.amr", "libopencore_amrnb", 8_000),
]


@pytest.mark.parametrize(("name", "codec", "rate"), FORMATS)
def test_every_usual_form_becomes_16_khz_mono_of_its_length(tmp_path, name, codec, rate):
    sound, samples = read_all(encode(tmp_path / name, codec, rate=rate))
    assert samples.dtype == np.float32
    assert len(samples) / RATE == pytest.approx(3.0, abs=0.15)
    assert not sound.is_cut
    assert sound.gaps == []


def test_content_counts_not_the_name(tmp_path):
    _, samples = read_all(encode(tmp_path / "x.flac", "flac").rename(tmp_path / "x.mp3"))
    assert len(samples) / RATE == pytest.approx(3.0, abs=0.15)


@pytest.mark.parametrize(
    ("left", "right", "expected"),
    [
        ([0.5, -0.5], [0.0, 0.0], [0.5, -0.5]),
        ([0.0, 0.0], [0.5, -0.5], [0.5, -0.5]),
        ([0.5, -0.5], [-0.5, 0.5], [0.5, -0.5]),
        ([0.5, -0.5], [0.5, -0.5], [0.5, -0.5]),
        ([0.4, 0.4], [0.4, -0.4], [0.4, 0.0]),
        ([0.0, 0.0], [0.0, 0.0], [0.0, 0.0]),
    ],
)
def test_two_channels_become_one_by_what_they_hold(left, right, expected):
    assert mixed_down(np.array([left, right], dtype=np.float32)) == pytest.approx(expected)


def cut_in_the_head(path):
    whole = encode(path, "pcm_s16le").read_bytes()
    path.write_bytes(whole[:30])


def cut_m4a(path):
    whole = encode(path.with_suffix(".m4a"), "aac", seconds=10).read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


def ten_thousand_channels(path):
    head = (
        b"RIFF"
        + struct.pack("<I", 1036)
        + b"WAVEfmt "
        + struct.pack("<IHHIIHH", 16, 1, 10_000, 16_000, 320_000_000, 20_000, 16)
    )
    path.write_bytes(head + b"data" + struct.pack("<I", 1000) + bytes(1000))


def picture_only(path):
    with av.open(str(path), "w", format="mp4") as container:
        stream = container.add_stream("mpeg4", rate=10)
        stream.width = stream.height = 32
        stream.pix_fmt = "yuv420p"
        for _ in range(5):
            frame = av.VideoFrame.from_ndarray(np.zeros((32, 32, 3), np.uint8), format="rgb24")
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))


BAD = [
    ("empty file", lambda path: path.write_bytes(b""), "empty"),
    ("noise bytes", lambda path: path.write_bytes(bytes(range(256)) * 40), "not a sound file"),
    ("text", lambda path: path.write_text("fuel pressure 3 bar\n" * 50), "not a sound file"),
    ("cut in the head", cut_in_the_head, "cut off|not a sound"),
    ("cut m4a", cut_m4a, "cut off"),
    ("ten thousand channels", ten_thousand_channels, "channels|not a sound"),
    ("picture only", picture_only, "no sound track"),
    ("folder", lambda path: path.mkdir(), "folder"),
    ("missing", lambda path: None, "no such file"),
]


@pytest.mark.parametrize(("make", "message"), [case[1:] for case in BAD], ids=[case[0] for case in BAD])
def test_what_is_no_sound_ends_in_one_clear_line(tmp_path, make, message):
    path = tmp_path / "bad.wav"
    make(path)
    with pytest.raises(InputError, match=message) as caught:
        read_all(path)
    assert "\n" not in str(caught.value)
    assert str(path) in str(caught.value)


def test_a_cut_wav_is_told_by_its_own_size_field(tmp_path, human_speech, write_wav):
    path = write_wav(tmp_path / "cut.wav", human_speech)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    sound, samples = read_all(path)
    assert sound.is_cut
    assert sound.stated_s == pytest.approx(2.786, abs=0.02)
    assert len(samples) / RATE == pytest.approx(1.39, abs=0.05)


@pytest.mark.parametrize(("name", "codec"), [("c.mp3", "libmp3lame"), ("c.flac", "flac"), ("c.webm", "libopus")])
def test_a_cut_file_is_shorter_than_it_states(tmp_path, name, codec):
    path = encode(tmp_path / name, codec, rate=48_000, seconds=20)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    try:
        sound, _ = read_all(path)
    except InputError:
        return
    assert sound.is_cut


@pytest.mark.parametrize(
    ("tags", "expected"),
    [
        ({"creation_time": "2026-03-14T16:20:00"}, "2026-03-14T16:20:00"),
        ({"DATE": "2026-03-14 16:20:05.25"}, "2026-03-14T16:20:05"),
        ({"date": "2026-03-14", "creation_time": "16:20:00"}, "2026-03-14T16:20:00"),
        ({"creation_time": "1904-01-01T00:00:00.000000Z"}, None),
        ({"date": "1999"}, None),
        ({}, None),
    ],
)
def test_recording_time_from_tags_or_the_files_time(tmp_path, tags, expected):
    path = tmp_path / "x"
    path.write_bytes(b"")
    os.utime(path, (1_700_000_000, 1_700_000_000))
    fallback = datetime.fromtimestamp(1_700_000_000).isoformat()  # noqa: DTZ006 - local time is meant
    assert recorded_at(path, tags) == (expected or fallback)


def test_recording_time_in_another_zone_becomes_local(tmp_path):
    path = tmp_path / "x"
    path.write_bytes(b"")
    said = datetime.fromisoformat("2026-03-14T15:20:00+00:00").astimezone().replace(tzinfo=None)
    assert recorded_at(path, {"creation_time": "2026-03-14T15:20:00.000000Z"}) == said.isoformat()


@pytest.mark.parametrize("damage", ["zeroed", "random", "left out"])
@pytest.mark.parametrize(
    ("name", "codec"),
    [
        ("c.mp3", "libmp3lame"),
        ("c.flac", "flac"),
        ("c.opus", "libopus"),
        ("c.webm", "libopus"),
        ("c.amr", "libopencore_amrnb"),
    ],
)
def test_what_is_readable_of_a_damaged_file_is_kept_and_the_gap_is_said(tmp_path, name, codec, damage):
    path = encode(tmp_path / name, codec, rate=8_000 if "amr" in codec else 48_000, seconds=30)
    data = bytearray(path.read_bytes())
    start, end = int(len(data) * 0.45), int(len(data) * 0.55)
    middle = {"zeroed": bytes(end - start), "random": random.Random(1).randbytes(end - start), "left out": b""}[damage]
    data[start:end] = middle
    path.write_bytes(data)
    sound, samples = read_all(path)
    assert not sound.is_cut or damage == "left out"
    assert 20 < len(samples) / RATE <= 30.1
    if codec in ("flac", "libopus"):
        ((gap_start, gap_end),) = sound.gaps
        assert 12 < gap_start < 15 < gap_end < 20.5
