"""Listening from the command line: its options, the microphone, and the choice among hearings.

The sounds are real and go through the real weights; only the microphone's package is a stand-in, which plays a file.
"""

from __future__ import annotations

import json
import os
import shlex
import sys
import wave
from pathlib import Path

import numpy as np
import pexpect
import pytest
from making import item

from cleansheet import journal as book
from cleansheet.catalogue import load
from cleansheet.cli.hearing import Listening
from cleansheet.cli.hearing_mic import level_bar
from cleansheet.cli.hearings import hearings, replacements
from cleansheet.terms import InputError, Note, Word

SAMPLES = Path(__file__).parents[2] / "sample_notes"
# 'go forward ten meters', said by a person (pocketsphinx 5.1.1, test/data/goforward.raw): 16 kHz, 16 bit, mono.
PERSON = Path(__file__).parents[1] / "listen" / "data" / "goforward.raw"

MICROPHONE = '''
import os, threading, time
from pathlib import Path

class PortAudioError(Exception):
    pass

NAMES = os.environ.get("MIC_NAMES", "HDA Analog" if "MIC_PLAYS" in os.environ else "")
DEVICES = [{"index": 0, "name": "HDMI out", "max_input_channels": 0, "default_samplerate": 48000.0}] + [
    {"index": number, "name": name, "max_input_channels": 2, "default_samplerate": 48000.0}
    for number, name in enumerate(filter(None, NAMES.split("|")), 1)
]

def query_devices(kind=None):
    if kind is None:
        return DEVICES
    if len(DEVICES) == 1:
        raise PortAudioError("Error querying device -1")
    return DEVICES[-1]

def check_input_settings(*, device, samplerate, channels, dtype):
    rates, most = os.environ.get("MIC_TAKES", "16000x1").split("x")
    if (samplerate, channels) != (int(rates), int(most)):
        raise PortAudioError("Invalid sample rate [PaErrorCode -9997]")

class RawInputStream:
    """Plays the file MIC_PLAYS, in real time over and over with MIC_LOOPS, else at once with 12 s of quiet behind it."""

    def __init__(self, *, samplerate, channels, dtype, blocksize, device, callback):
        assert dtype == "int16"
        if (wanted := os.environ.get("MIC_MUST_BE")) and str(device) != wanted:
            raise PortAudioError(f"device {device} is not {wanted}")
        if "MIC_BUSY" in os.environ:
            raise PortAudioError("Device unavailable [PaErrorCode -9985]")
        sound = Path(os.environ["MIC_PLAYS"]).read_bytes()
        self.loops = "MIC_LOOPS" in os.environ
        self.sound = sound if self.loops else sound + bytes(24 * samplerate * channels)
        self.size, self.callback, self.on = 2 * blocksize * channels, callback, True

    def __enter__(self):
        self.thread = threading.Thread(target=self.play, daemon=True)
        self.thread.start()

    def play(self):
        while self.on:
            for at in range(0, len(self.sound), self.size):
                if not self.on:
                    return
                self.callback(self.sound[at : at + self.size], self.size // 2, None, None)
                if self.loops:
                    time.sleep(0.1)
            if not self.loops:
                return

    def __exit__(self, *_):
        self.on = False
        self.thread.join()
'''


@pytest.fixture(scope="module")
def cache(tmp_path_factory):
    """One cache for the module, so that the weights are put together once."""
    return tmp_path_factory.mktemp("cache")


@pytest.fixture
def spoken(cache, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))


@pytest.fixture
def microphone(home, spoken, monkeypatch):
    """The stand-in for the microphone's package, which plays a person's voice."""
    folder = home / "packages"
    folder.mkdir()
    (folder / "sounddevice.py").write_text(MICROPHONE, encoding="utf-8")
    monkeypatch.syspath_prepend(str(folder))
    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    monkeypatch.setenv("MIC_PLAYS", str(PERSON))
    yield folder
    sys.modules.pop("sounddevice", None)


@pytest.fixture(scope="module")
def pcm():
    """A spoken sample note as 16-bit samples."""
    pytest.importorskip("av")
    from cleansheet.listen.sound import open_sound

    blocks = list(open_sound(SAMPLES / "visit-2-crank-sensor.opus").blocks())
    return (np.concatenate(blocks) * 32767).astype("<i2").tobytes()


def wav(path, data):
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(16_000)
        sound.writeframes(data)
    return path


@pytest.fixture
def cut(home, pcm):
    """A recording of which the end was lost in copying."""
    path = wav(home / "bench.wav", pcm)
    whole = path.stat().st_size
    os.truncate(path, whole * 6 // 10)
    return path


# --- options


@pytest.mark.parametrize("command", ["take", "read"])
@pytest.mark.parametrize(("option", "value", "message"), [
    ("--device", "gpu", "--device 'gpu': write one of auto, cpu, cuda"),
    ("--device", "", "--device '': write one of auto, cpu, cuda"),
    ("--threads", "0", "--threads 0: write 1 or more"),
    ("--threads", "-2", "--threads -2: write 1 or more"),
])  # fmt: skip
def test_what_cannot_be_meant_is_one_line_before_anything_is_read(run, home, stored, command, option, value, message):
    (home / "a.txt").write_text("Battery 12.6 volts.")
    assert run(command, "a.txt", option, value) == (2, "", f"cleansheet: {message}\n")
    assert not stored.exists()


def test_options_are_those_of_listen():
    import inspect

    from cleansheet.listen import listen

    assert Listening().options() == {"device": "auto", "partial": False}
    whole = Listening("base.en", "cpu", 2, partial=True).options()
    assert whole == {"weights": "base.en", "device": "cpu", "threads": 2, "partial": True}
    assert set(whole) <= set(inspect.signature(listen).parameters)


def test_the_devices_are_the_recogniser_s():
    from cleansheet.cli.hearing import DEVICES
    from cleansheet.listen.ear import DEVICES as KNOWN

    assert set(DEVICES) == set(KNOWN)


@pytest.mark.speech
@pytest.mark.parametrize("command", ["take", "read"])
def test_the_options_reach_the_recogniser(run, home, spoken, monkeypatch, command):
    from cleansheet import listen as stage

    real, seen = stage.listen, []
    monkeypatch.setattr(stage, "listen", lambda path, **told: seen.append(told) or real(path, **told))
    sound = wav(home / "go.wav", PERSON.read_bytes())
    code, out, err = run(command, sound, "--device", "cpu", "--threads", "1", "--partial")
    assert (code, err) == (0, "")
    assert "go.wav" in out
    (told,) = seen
    assert (told["device"], told["threads"], told["partial"]) == ("cpu", 1, True)


@pytest.mark.speech
def test_a_graphics_card_that_is_not_there_is_told(run, home, spoken):
    ctranslate2 = pytest.importorskip("ctranslate2")
    if ctranslate2.get_cuda_device_count():
        pytest.skip("this computer has one")
    sound = wav(home / "twice.wav", PERSON.read_bytes() * 2)  # not heard before: kept words need no recogniser
    code, out, err = run("read", sound, "--device", "cuda")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "no graphics card can be used here" in err


@pytest.mark.speech
def test_a_cut_off_recording_is_taken_only_when_asked_and_the_gap_stays_with_the_draft(run, spoken, cut, stored):
    code, out, err = run("take", cut, "--threads", "2")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "is cut off" in err

    code, out, err = run("take", cut, "--partial")
    assert (code, err) == (0, "")
    (gap,) = [line for line in out.splitlines() if "the recording is cut off:" in line]
    with book.open_journal(stored) as journal:
        (waiting,) = book.waiting(journal)
    assert waiting.draft.remarks[0] == gap.strip().removeprefix("- ")
    assert waiting.draft.note.remarks == waiting.draft.remarks[:1]
    assert run("review", "--list")[1].splitlines()[2] == f"    ! {waiting.draft.remarks[0]}"
    assert [one.quantity.value for one in waiting.draft.items if one.kind == "reading" and one.quantity][:1] == [720]

    code, out, _ = run("read", cut, "--partial", "--json")
    drafted = json.loads(out)
    assert code == 0
    assert drafted["note"]["remarks"] == [waiting.draft.remarks[0]]
    assert drafted["remarks"][0] == waiting.draft.remarks[0]


@pytest.mark.speech
def test_a_recording_without_its_end_is_taken_with_a_remark(run, home, spoken):
    whole = (SAMPLES / "visit-2-crank-sensor.opus").read_bytes()
    (home / "half.opus").write_bytes(whole[: len(whole) // 2])
    code, out, err = run("take", "half.opus")
    assert (code, err) == (0, "")
    assert "720 Ω" in out
    assert "- the recording has no proper end: it may be cut off at" in out


# --- the microphone


@pytest.mark.speech
def test_a_dictation_is_recorded_heard_and_laid_by_for_review(run, microphone, pcm, stored, monkeypatch, home):
    said = home / "said.raw"
    said.write_bytes(pcm)
    monkeypatch.setenv("MIC_PLAYS", str(said))
    code, out, err = run("take", "--mic", "--threads", "2")
    assert code == 0
    assert err == "recording; 8 s of silence after speech ends it\n"
    assert "720 Ω" in out
    assert "1 note waits for review" in out
    (sound,) = (stored.parent / "recordings").glob("*.wav")
    with wave.open(str(sound)) as kept:
        assert kept.readframes(len(pcm) // 2) == pcm
        assert kept.getnframes() / 16_000 == pytest.approx(len(pcm) / 32_000 + 8, abs=1.0)  # ended by the silence
    with book.open_journal(stored) as journal:
        (waiting,) = book.waiting(journal)
        assert journal.rows("SELECT 1 FROM items") == []
    assert waiting.draft.note.source == "spoken"
    assert waiting.sound == str(sound)
    assert f'"{waiting.draft.note.text}"' in " ".join(out.split())  # read back, word for word


@pytest.mark.speech
def test_without_speech_the_recording_is_kept_and_named(run, microphone, stored, monkeypatch, home):
    knock = (np.sin(np.arange(3_200) / 50) * 9000).astype("<i2").tobytes()
    (home / "knock.raw").write_bytes(bytes(32_000) + knock)
    monkeypatch.setenv("MIC_PLAYS", str(home / "knock.raw"))
    code, out, err = run("take", "--mic")
    assert (code, out) == (2, "")
    (sound,) = (stored.parent / "recordings").glob("*.wav")
    line = err.splitlines()[-1]
    assert "no speech is heard in it" in line
    assert line.endswith(f"the recording is kept; to take it: cleansheet take {shlex.quote(str(sound))}")


def test_a_microphone_pulled_out_loses_nothing(run, microphone, stored, monkeypatch, home):
    (home / "hum.raw").write_bytes((np.sin(np.arange(32_000) / 50) * 3000).astype("<i2").tobytes())
    monkeypatch.setenv("MIC_PLAYS", str(home / "hum.raw"))  # a hum alone is nobody speaking: silence does not end it
    code, out, err = run("take", "--mic")
    assert (code, out) == (2, "")
    (sound,) = (stored.parent / "recordings").glob("*.wav")
    line = err.splitlines()[-1]
    assert "the microphone gives no sound" in line
    assert line.endswith(f"the recording is kept; to take it: cleansheet take {shlex.quote(str(sound))}")
    with wave.open(str(sound)) as kept:
        assert kept.getnframes() == 32_000 + 12 * 16_000


def test_without_the_package_one_line_says_what_to_install(run, stored, monkeypatch):
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    code, out, err = run("take", "--mic")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "pip install" in err
    assert not stored.exists()


@pytest.mark.parametrize("args", [("take", "--mic"), ("take", "--microphone", "3"), ("microphones",)], ids=" ".join)
def test_without_a_microphone_one_line_says_so(run, microphone, stored, monkeypatch, args):
    monkeypatch.delenv("MIC_PLAYS")
    code, out, err = run(*args)
    message = "no microphone is found on this computer; plug one in, and allow the program to use it"
    assert (code, out, err) == (2, "", f"cleansheet: {message}\n")
    assert not stored.exists()


def test_a_microphone_in_use_is_told_by_its_name(run, microphone, stored, monkeypatch):
    monkeypatch.setenv("MIC_BUSY", "1")
    code, out, err = run("take", "--mic")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "microphone 1 HDA Analog cannot be opened (Device unavailable" in err
    assert not stored.exists()


def test_microphones_are_listed_by_number_and_name(run, microphone, monkeypatch):
    monkeypatch.setenv("MIC_NAMES", "HDA Analog|USB Lapel|USB Camera")
    assert run("microphones") == (
        0,
        "    1  HDA Analog\n    2  USB Lapel\n*   3  USB Camera\n* is used where no other is named\n",
        "",
    )


@pytest.mark.speech
@pytest.mark.parametrize(("which", "number"), [("2", 2), ("lapel", 2), ("usb camera", 3), ("HDA", 1)])
def test_a_microphone_is_chosen_by_number_or_name(run, microphone, stored, monkeypatch, home, pcm, which, number):
    (home / "said.raw").write_bytes(pcm)
    monkeypatch.setenv("MIC_PLAYS", str(home / "said.raw"))
    monkeypatch.setenv("MIC_NAMES", "HDA Analog|USB Lapel|USB Camera")
    monkeypatch.setenv("MIC_MUST_BE", str(number))
    code, out, _ = run("take", "--microphone", which)  # --mic need not be said as well
    assert code == 0
    assert "720 Ω" in out


@pytest.mark.parametrize(("which", "message"), [
    ("7", "no microphone '7'; see: cleansheet microphones"),
    ("0", "no microphone '0'; see: cleansheet microphones"),  # is there, but gives no sound in
    ("studio", "no microphone 'studio'; see: cleansheet microphones"),
    ("usb", "several microphones fit 'usb' (2 USB Lapel, 3 USB Camera); give the number"),
    (" ", "--microphone: name one, by its number or name; see: cleansheet microphones"),
])  # fmt: skip
def test_a_microphone_that_is_not_clear_is_one_line(run, microphone, stored, monkeypatch, which, message):
    monkeypatch.setenv("MIC_NAMES", "HDA Analog|USB Lapel|USB Camera")
    assert run("take", "--microphone", which) == (2, "", f"cleansheet: {message}\n")
    assert not (stored.parent / "recordings").exists()


@pytest.mark.speech
@pytest.mark.parametrize("takes", ["48000x1", "48000x2"])
def test_a_microphone_with_a_rate_of_its_own_is_recorded_at_that(
    run, microphone, stored, monkeypatch, home, pcm, takes
):
    rate, channels = map(int, takes.split("x"))
    said = np.frombuffer(pcm, dtype="<i2").repeat(rate // 16_000).repeat(channels)
    (home / "said.raw").write_bytes(said.tobytes())
    monkeypatch.setenv("MIC_PLAYS", str(home / "said.raw"))
    monkeypatch.setenv("MIC_TAKES", takes)
    code, out, _ = run("take", "--mic")
    assert code == 0
    assert "720 Ω" in out
    (sound,) = (stored.parent / "recordings").glob("*.wav")
    with wave.open(str(sound)) as kept:
        assert (kept.getframerate(), kept.getnchannels()) == (rate, channels)


def test_without_the_sound_library_one_line_says_so(run, microphone, stored):
    (microphone / "sounddevice.py").write_text("raise OSError('PortAudio library not found')")
    code, out, err = run("take", "--mic")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "needs the library PortAudio" in err


@pytest.mark.parametrize(("args", "message"), [
    (["--mic", "a.txt"], "give notes or --mic, not both"),
    ([], "no note given"),
    (["--mic", "--device", "gpu"], "--device 'gpu'"),
    (["--mic", "--at", "yesterday"], "write the time as"),
    (["--mic", "--vehicle", "no/such.yaml"], "no such vehicle sheet"),
])  # fmt: skip
def test_a_slip_is_told_before_anybody_speaks(run, microphone, stored, home, args, message):
    (home / "a.txt").write_text("Battery 12.6 volts.")
    code, out, err = run("take", *args)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert message in err
    assert not (stored.parent / "recordings").exists()


@pytest.fixture
def dictating(microphone):
    """The command in a terminal, with somebody who speaks on and on."""
    env = {**os.environ, "PYTHONPATH": str(microphone), "MIC_LOOPS": "1", "TERM": "dumb"}
    env.pop("COLUMNS", None)
    args = ["-m", "cleansheet.cli", "take", "--mic", "--threads", "2"]
    child = pexpect.spawn(sys.executable, args, dimensions=(40, 80), encoding="utf-8", env=env, timeout=120)
    child.expect("recording; a key or 8 s of silence after speech ends it")
    child.expect(r"\[=+ +\] +-\d+ dB  [2-9] s")
    yield child
    child.close(force=True)


@pytest.mark.speech
def test_a_key_ends_the_dictation_and_answers_nothing_else(dictating, stored):
    dictating.send("x")
    dictating.expect("1 note waits for review")
    dictating.expect(pexpect.EOF)
    assert dictating.wait() == 0
    with book.open_journal(stored) as journal:
        (waiting,) = book.waiting(journal)
    assert Path(waiting.sound).parent == stored.parent / "recordings"


def test_ctrl_c_keeps_what_was_recorded(dictating, stored):
    dictating.sendcontrol("c")
    dictating.expect(pexpect.EOF)
    shown = dictating.before
    assert dictating.wait() == 130
    (sound,) = (stored.parent / "recordings").glob("*.wav")
    said = " ".join(shown.split())
    assert "cleansheet: stopped; the recording is kept; to take it: cleansheet take" in said
    assert sound.name in said
    assert "Traceback" not in shown
    with wave.open(str(sound)) as kept:
        assert kept.getnframes() >= 2 * 16_000  # as much as was shown
    assert not stored.exists()


@pytest.mark.parametrize(("loudness_db", "filled"), [(-120, 0), (-60, 0), (-30, 14), (0, 28), (3, 28)])
def test_the_level_bar_is_as_wide_at_any_level(loudness_db, filled):
    assert level_bar(loudness_db) == f"[{'=' * filled}{' ' * (28 - filled)}]"


# --- the choice among hearings


def heard_note(text, **heard):
    """A spoken note; `heard` gives other hearings by the word's number ("w2")."""
    words, place = [], 0
    for number, word in enumerate(text.split()):
        start = text.index(word, place)
        place = start + len(word)
        others = heard.get(f"w{number}", ())
        words.append(Word(word, start, place, number * 0.5, number * 0.5 + 0.4, 0.4 if others else 0.97, others))
    return Note(text, "spoken", words=tuple(words), sha256="0" * 64)


RUNS = [
    ("one word", "Compression fifteen bar.", "fifteen bar", {"w1": ("fifty",)}, [("fifteen", "fifty")]),
    ("a run of two", "Compression fourteen to bar.", "fourteen to bar",
     {"w1": ("forty two",), "w2": ("forty two",)}, [("fourteen to", "forty two")]),
    ("a run over the item's edge", "Compression is for tea bar.", "tea bar",
     {"w2": ("forty one",), "w3": ("forty one",)}, [("for tea", "forty one")]),
    ("several words for one", "Compression forty bar.", "forty bar", {"w1": ("four tea",)}, [("forty", "four tea")]),
    ("one word beside two words", "Compression fifteen fifteen bar.", "fifteen fifteen bar",
     {"w1": ("fifty",), "w2": ("fifty",)}, [("fifteen", "fifty"), ("fifteen", "fifty")]),
    ("one word beside a number in two", "Compression one fifteen psi.", "one fifteen psi",
     {"w1": ("150",), "w2": ("150",)}, [("one fifteen", "150")]),
    ("one word beside a number in three", "Rail two point fife bar.", "two point fife bar",
     dict.fromkeys(("w1", "w2", "w3"), ("2.5",)), [("two point fife", "2.5")]),
    ("one word beside a unit in three", "Vacuum 18 inches of mercury.", "18 inches of mercury",
     dict.fromkeys(("w2", "w3", "w4"), ("minutes",)), [("inches of mercury.", "minutes")]),
    ("the same number in two said twice", "Compression one fifteen, one fifteen psi.", "one fifteen, one fifteen psi",
     dict.fromkeys(("w1", "w2", "w3", "w4"), ("150",)), [("one fifteen,", "150"), ("one fifteen", "150")]),
    ("two hearings of one run", "Compression one fifteen psi.", "one fifteen psi",
     {"w1": ("150", "one fifty"), "w2": ("150", "one fifty")}, [("one fifteen", "150"), ("one fifteen", "one fifty")]),
    ("two runs apart", "Compression nine tea and nine tea bar.", "nine tea and nine tea bar",
     dict.fromkeys(("w1", "w2", "w4", "w5"), ("nine tee",)), [("nine tea", "nine tee"), ("nine tea", "nine tee")]),
    ("too far away", "Fifteen of them, and then the next one has 12 bar.", "12 bar", {"w0": ("fifty",)}, []),
    ("none", "Compression fifteen bar.", "fifteen bar", {}, []),
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "quote", "heard", "expected"), [row[1:] for row in RUNS], ids=[row[0] for row in RUNS]
)
def test_a_hearing_replaces_the_words_that_it_was_heard_for(text, quote, heard, expected):
    note = heard_note(text, **heard)
    found = replacements(note, item(text, quote, value=1, unit="bar"))
    assert [(word.text, other) for word, other in found] == expected
    assert all(note.text[word.start : word.end] == word.text for word, _ in found)


@pytest.mark.parametrize(("text", "quote", "heard", "value", "unit"), [
    ("Cylinder compression fifteen bar.", "fifteen bar", {"w2": ("fifty",)}, 50, "bar"),
    ("Cylinder compression one four bar.", "one four bar", {"w2": ("twelve point five",), "w3": ("twelve point five",)}, 12.5, "bar"),
    ("Cylinder compression one fifteen psi.", "one fifteen psi", {"w2": ("150",), "w3": ("150",)}, 150, "[psi]"),
    # the stop behind the replaced word stays, or the next sentence's coil would be part of this one
    ("Cylinder compression twelve volts. Coil primary 0.7 ohms.", "twelve volts", {"w3": ("bar",)}, 12, "bar"),
])  # fmt: skip
def test_the_item_is_what_the_note_would_give_with_the_hearing(text, quote, heard, value, unit):
    catalogue = load()
    note = heard_note(text, **heard)
    was = item(text, quote.rstrip("."), value=15, unit="V", test="cylinder.compression")
    (one,) = hearings(note, was, catalogue)
    assert (one.item.quantity.value, one.item.quantity.unit, one.item.component) == (value, unit, "cylinder")
    assert note.text == text


def test_a_typed_note_has_no_other_hearings():
    text = "Cylinder compression fifteen bar."
    assert hearings(Note(text), item(text, "fifteen bar", value=15, unit="bar"), load()) == []


def test_listening_refuses_at_once():
    with pytest.raises(InputError, match="--threads 0"):
        Listening(threads=0)
