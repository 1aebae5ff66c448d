"""Make the bench's sounds: every sentence of a half in its voices, clean and with noise at 20, 10 and 5 dB.

    python tests/bench/speech/make_set.py FOLDER

Writes FOLDER/<half>/*.wav and FOLDER/<half>.jsonl, one line a sound: file, say, pairs, part, voice, noise, level.
Each sentence is said by the natural voice (where the half has one) and by one other voice, which goes round.
"""

from __future__ import annotations

import json
import sys
import wave
from pathlib import Path

import numpy as np
import yaml

sys.path.insert(0, str(Path(__file__).parent))
from noises import KINDS, in_a_room, mixed, noise
from voices import NATURAL, RATE, VOICES, say

LEVELS = (None, 20, 10, 5)


def write(path: Path, samples: np.ndarray) -> None:
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE)
        sound.writeframes((np.clip(samples, -1, 1) * 32767).astype("<i2").tobytes())


def main(folder: Path) -> None:
    sentences = yaml.safe_load((Path(__file__).parent / "sentences.yaml").read_text(encoding="utf-8"))
    for half, rows in sentences.items():
        (folder / half).mkdir(parents=True, exist_ok=True)
        others = [name for name in VOICES[half] if name != NATURAL]
        said = {
            (number, name): say(row["say"], half, name)
            for number, row in enumerate(rows)
            for name in ([NATURAL] if NATURAL in VOICES[half] else []) + [others[number % len(others)]]
        }
        crowd = list(said.values())[:40]
        with (folder / f"{half}.jsonl").open("w", encoding="utf-8") as listing:
            for (number, name), speech in said.items():
                room = in_a_room(speech, number) if number % 2 else speech
                for step, level in enumerate(LEVELS):
                    kind = KINDS[half][(number + step) % len(KINDS[half])] if level is not None else "none"
                    other = noise(half, kind, len(room), 1000 * number + step, crowd)
                    file = f"{half}/{number:03d}-{name}-{'clean' if level is None else f'{level}db'}.wav"
                    write(folder / file, mixed(room, other, level))
                    line = {"file": file, "voice": name, "noise": kind, "level": level, **rows[number]}
                    listing.write(json.dumps(line) + "\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
