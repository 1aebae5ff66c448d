"""Word error rate on real speech: the recordings with transcripts in pocketsphinx's source package.

    pip download --no-deps --no-binary :all: pocketsphinx==5.1.1   # and unpack it
    python tests/bench/speech/people.py FOLDER                     # the unpacked folder

Compared by jiwer after both sides are put into the canonical form of `listen.alike` (numbers by value, one spelling).
"""

from __future__ import annotations

import re
import sys
import tempfile
import wave
from pathlib import Path

import jiwer
import numpy as np

RAW = {"goforward.raw": "go forward ten meters", "tidigits/dhd.2934z.raw": "two nine three four zero"}


def recordings(folder: Path, scratch: Path):
    data = folder / "test" / "data"
    for group in ("cards", "librivox"):
        listing = data / group / ("cards.transcription" if group == "cards" else "transcription")
        for line in listing.read_text().splitlines():
            found = re.match(r"<s>\s*(.*?)\s*</s>\s*\((.+)\)", line)
            if found:
                yield group, data / group / f"{found[2]}.wav", found[1]
    for name, said in RAW.items():
        path = scratch / (Path(name).stem + ".wav")
        with wave.open(str(path), "wb") as sound:
            sound.setnchannels(1)
            sound.setsampwidth(2)
            sound.setframerate(16_000)
            sound.writeframes((data / name).read_bytes())
        yield "commands and digits", path, said


def canonical(text: str) -> str:
    from cleansheet.listen.alike import tokens

    return " ".join(one.form for one in tokens(text.split())) or "-"


def main(folder: Path) -> None:
    from faster_whisper import WhisperModel

    from cleansheet.catalogue import load
    from cleansheet.listen import listen, ready_weights
    from cleansheet.terms import InputError

    plain = WhisperModel(str(ready_weights()), device="cpu", compute_type="int8", cpu_threads=2)
    heard: dict[str, list[tuple[str, str, str]]] = {}
    with tempfile.TemporaryDirectory() as scratch:
        for group, path, said in recordings(folder, Path(scratch)):
            with wave.open(str(path)) as sound:
                samples = np.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2").astype(np.float32) / 32768
                assert sound.getframerate() == 16_000
            segments, _ = plain.transcribe(samples, language="en", beam_size=5)
            without = "".join(one.text for one in segments)
            try:
                ours = listen(path, catalogue=load(), device="cpu", threads=2, keep=False).text
            except InputError:
                ours = ""
            heard.setdefault(group, []).append((said, without, ours))
            print(f"{said!r}\n  plain {without.strip()!r}\n  ours  {ours!r}", file=sys.stderr)
    print("| recordings | sentences | words | plain, word error % | ours, word error % |\n|---|---|---|---|---|")
    for group, rows in heard.items():
        said = [canonical(row[0]) for row in rows]
        errors = [100 * jiwer.wer(said, [canonical(row[way]) for row in rows]) for way in (1, 2)]
        words = sum(len(one.split()) for one in said)
        print(f"| {group} | {len(rows)} | {words} | {errors[0]:.0f} | {errors[1]:.0f} |")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
