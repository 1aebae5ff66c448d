"""Decoding: odd files, broken files, channels, dates."""

import os
import random
import struct
from datetime import datetime

import av
import numpy as np
import pytest

from cleansheet.listen.endings import lacks_index, states_no_length
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


def quiet_then_tone(path, codec, rate, seconds=20.0):
    """Half silence, half tone: what a form with a changing bit rate states of its length is then far off."""
    at = np.arange(int(rate * seconds)) / rate
    loud = np.where(at > seconds / 2, 0.5, 0.0) * np.random.default_rng(1).standard_normal(len(at)).clip(-1, 1)
    with av.open(str(path), "w") as container:
        stream = container.add_stream(codec, rate=rate, layout="mono")
        resampler = av.AudioResampler(
            format=stream.codec_context.format.name,
            layout="mono",
            rate=rate,
            frame_size=stream.codec_context.frame_size,
        )
        frame = av.AudioFrame.from_ndarray(loud.astype(np.float32)[None], format="fltp", layout="mono")
        frame.sample_rate = rate
        for ready in [*resampler.resample(frame), *resampler.resample(None)]:
            container.mux(stream.encode(ready))
        container.mux(stream.encode(None))
    return path


@pytest.mark.parametrize(("name", "codec", "rate"), [("a.aac", "aac", 16_000), ("a.amr", "libopencore_amrnb", 8_000)])
def test_a_whole_file_that_states_no_length_is_not_cut(tmp_path, name, codec, rate):
    sound, samples = read_all(quiet_then_tone(tmp_path / name, codec, rate))
    assert sound.is_estimate
    assert not sound.is_cut
    assert len(samples) / RATE == pytest.approx(20.0, abs=0.2)


def test_an_mp3_without_a_length_is_not_cut_and_one_with_it_is(tmp_path):
    path = encode(tmp_path / "a.mp3", "libmp3lame", seconds=20)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    assert read_all(path)[0].is_cut
    bare = whole[whole.index(b"\xff\xf3", whole.index(b"Info")) :]  # the frames behind the one that states the length
    path.write_bytes(bare)
    sound, samples = read_all(path)
    assert (sound.is_estimate, sound.is_cut) == (True, False)
    assert len(samples) / RATE == pytest.approx(20.0, abs=0.2)


@pytest.mark.parametrize(("size", "tag"), [(0, b""), (300, b"ID3\x04\x00\x00\x00\x00\x02\x2c" + bytes(300))])
@pytest.mark.parametrize(("mark", "expected"), [(b"Xing", False), (b"Info", False), (b"VBRI", False), (b"none", True)])
def test_the_frame_that_states_an_mp3_s_length_is_looked_for_behind_its_tag(tmp_path, size, tag, mark, expected):
    assert len(tag) in (0, size + 10)
    path = tmp_path / "a.mp3"
    path.write_bytes(tag + b"\xff\xf3\x48\xc4" + bytes(9) + mark + bytes(100))
    assert states_no_length(path, "mp3") is expected
    assert states_no_length(path, "flac") is False


def test_an_ogg_file_without_its_last_page_is_told(tmp_path):
    path = encode(tmp_path / "a.ogg", "libopus", rate=48_000, seconds=20)
    assert not read_all(path)[0].is_open
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * 6 // 10])
    sound, samples = read_all(path)
    assert sound.is_open
    assert not sound.is_cut  # nobody knows how long it was: what is there is taken
    assert 8 < len(samples) / RATE < 13


@pytest.mark.parametrize(("name", "part"), [("a.m4a", 0.6), ("a.3gp", 0.9), ("a.mp4", 0.02)])
def test_a_cut_that_took_the_index_is_named(tmp_path, name, part):
    path = encode(tmp_path / name, "aac", seconds=20)
    whole = path.read_bytes()
    path.write_bytes(whole[: int(len(whole) * part)])
    with pytest.raises(InputError, match="is cut off: the list of where its sound lies, which comes last, is missing"):
        read_all(path)


BOXES = [
    (b"", False),
    (b"RIFF1234WAVEfmt ", False),
    (b"\0\0\0\x10ftypM4A \0\0\0\0", True),
    (b"\0\0\0\x10ftypM4A \0\0\0\0" + b"\0\0\0\x08moov", False),
    (b"\0\0\0\x10ftypM4A \0\0\0\0" + b"\0\0\0\x01mdat" + b"\0\0\0\0\0\0\0\x18" + bytes(8) + b"\0\0\0\x08moov", False),
    (b"\0\0\0\x10ftypM4A \0\0\0\0" + b"\0\0\0\0mdat" + bytes(50), True),
    (b"\0\0\0\x10ftypM4A \0\0\0\0" + b"\x7f\0\0\0mdat", True),
]


@pytest.mark.parametrize(("data", "expected"), BOXES)
def test_the_index_is_looked_for_box_by_box(tmp_path, data, expected):
    (tmp_path / "a").write_bytes(data)
    assert lacks_index(tmp_path / "a") is expected


def test_a_form_without_the_needed_size_fields_is_read_to_its_end(tmp_path, human_speech, write_wav):
    """Recorders that write to a pipe, or lose power, leave the sizes at their largest or at nothing."""
    path = write_wav(tmp_path / "a.wav", human_speech)
    whole = path.read_bytes()
    at = whole.index(b"data") + 4
    for riff, data in ((0xFFFFFFFF, 0xFFFFFFFF), (36, 0)):
        path.write_bytes(whole[:4] + struct.pack("<I", riff) + whole[8:at] + struct.pack("<I", data) + whole[at + 4 :])
        sound, samples = read_all(path)
        assert len(samples) == pytest.approx(len(human_speech), abs=10)
        assert not sound.is_cut
