"""Listen to the bench's sounds with plain faster-whisper and with ours, side by side, and keep what was heard.

    python tests/bench/speech/run.py FOLDER HALF OUT [--every N] [--threads N] [--no-plain]

FOLDER was made by make_set.py. Each line of OUT is the sound's line with `plain` and `ours`: text, words with their
probabilities and other hearings, remarks, and seconds of CPU used.
"""

from __future__ import annotations

import argparse
import json
import time
import wave
from pathlib import Path

import numpy as np


def samples_of(path: Path) -> np.ndarray:
    with wave.open(str(path)) as sound:
        return np.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2").astype(np.float32) / 32768


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("half")
    parser.add_argument("out", type=Path)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--levels", default="clean,20,10,5")
    parser.add_argument("--part", type=int, choices=(1, 2), help="natural voice: even sentences in 1; others: odd ones")
    parser.add_argument("--threads", type=int, default=2)
    parser.add_argument("--no-plain", action="store_true")
    asked = parser.parse_args()

    from faster_whisper import WhisperModel

    from cleansheet.catalogue import load
    from cleansheet.listen import listen, ready_weights
    from cleansheet.terms import InputError

    catalogue = load()
    plain = WhisperModel(str(ready_weights()), device="cpu", compute_type="int8", cpu_threads=asked.threads)
    rows = [json.loads(line) for line in (asked.folder / f"{asked.half}.jsonl").read_text().splitlines()]
    levels = {None if one == "clean" else int(one) for one in asked.levels.split(",")}
    rows = [row for row in rows if row["level"] in levels]
    if asked.part:
        rows = [
            row
            for row in rows
            if (int(row["file"].split("/")[1][:3]) + (row["voice"] != "piper-joe")) % 2 == asked.part - 1
        ]
    with asked.out.open("w", encoding="utf-8") as out:
        for row in rows[:: asked.every]:
            path = asked.folder / row["file"]
            if not asked.no_plain:
                start = time.process_time()
                segments, _ = plain.transcribe(samples_of(path), language="en", beam_size=5)
                row["plain"] = {"text": "".join(one.text for one in segments).strip()}
                row["plain"]["cpu_s"] = time.process_time() - start
            start = time.process_time()
            try:
                note = listen(path, catalogue=catalogue, device="cpu", threads=asked.threads, keep=False)
                words = [[one.text, one.start, one.end, one.probability, list(one.heard)] for one in note.words]
                row["ours"] = {"text": note.text, "words": words, "remarks": list(note.remarks)}
            except InputError as fault:
                row["ours"] = {"text": "", "words": [], "remarks": [str(fault)]}
            row["ours"]["cpu_s"] = time.process_time() - start
            row["seconds"] = len(samples_of(path)) / 16_000
            out.write(json.dumps(row) + "\n")
            out.flush()


if __name__ == "__main__":
    main()
