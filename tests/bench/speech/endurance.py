"""Time and memory on long recordings: dictation for N minutes, and hours of near-silence with a sentence now and then.

    python tests/bench/speech/endurance.py FOLDER [--dictation 10] [--hours 1]

FOLDER was made by make_set.py. Prints real-time factors and the peak of resident memory.
"""

from __future__ import annotations

import argparse
import json
import resource
import time
import wave
from pathlib import Path

import numpy as np

RATE = 16_000


def sentences(folder: Path) -> list[np.ndarray]:
    rows = [json.loads(line) for line in (folder / "measuring.jsonl").read_text().splitlines()]
    out = []
    for row in rows:
        if row["level"] is None and row["voice"] == "piper-joe":
            with wave.open(str(folder / row["file"])) as sound:
                out.append(np.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2"))
    return out


def write_long(path: Path, said: list[np.ndarray], seconds: float, pause_s: float) -> None:
    chance = np.random.default_rng(1)
    written, number = 0, 0
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE)
        while written < seconds * RATE:
            pause = (chance.standard_normal(int(pause_s * RATE)) * 10).astype("<i2")
            for piece in (said[number % len(said)], pause):
                sound.writeframes(piece.tobytes())
                written += len(piece)
            number += 1


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--dictation", type=float, default=10.0, help="minutes")
    parser.add_argument("--hours", type=float, default=1.0)
    asked = parser.parse_args()

    from cleansheet.catalogue import load
    from cleansheet.listen import listen

    said = sentences(asked.folder)
    for name, seconds, pause_s in (("dictation", asked.dictation * 60, 1.0), ("long day", asked.hours * 3600, 240.0)):
        if not seconds:
            continue
        path = asked.folder / f"{name.replace(' ', '-')}.wav"
        write_long(path, said, seconds, pause_s)
        start, cpu = time.perf_counter(), time.process_time()
        note = listen(path, catalogue=load(), device="cpu", threads=2, keep=False)
        took, used = time.perf_counter() - start, time.process_time() - cpu
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20
        print(
            f"{name}: {seconds:.0f} s of sound, {len(note.words)} words, {took:.0f} s ({took / seconds:.3f} of real time), "
            f"{used:.0f} s of CPU ({used / 2 / seconds:.3f} per thread), peak so far {peak:.2f} GiB",
            flush=True,
        )


if __name__ == "__main__":
    main()
