"""Listen to sound that holds no reading, and count the readings made up.

    python tests/bench/speech/invented.py FOLDER [--minutes N] [--seed N]

Silence, engine, compressor, impact wrench, fan, babble, music (chords by arithmetic) and radio talk (other voices, text
without a reading), `minutes` in all. FOLDER takes the sounds. Prints figures with a unit, flagged and not, by kind.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))
from figures import flagged
from make_set import write
from noises import RATE, babble, noise
from scoring import figures
from voices import say

TALK = [
    "And that was the weather for the weekend, with rain in the west and some sunshine later on.",
    "Welcome back to the morning show, we are talking to a man who keeps bees on the roof of a library.",
    "The council has promised to look at the bridge again before the winter, but nobody is holding their breath.",
    "You are listening to the golden oldies, and next up is a song that everybody's grandmother knew by heart.",
    "Traffic is slow on the ring road because a lorry has lost its load of cabbages near the garden centre.",
    "The home side were lucky to come away with a draw, and the manager had no excuses after the whistle.",
    "If you have a story to tell about your first car, give us a ring, we would love to hear from you.",
    "She said the harvest had been poor this year, and that the price of bread was bound to go up again.",
    "Coming up after the news, a gardener explains why your roses are sulking and what to do about it.",
    "The ferry will not sail this afternoon because of the wind, so leave the car at home and take the train.",
    "We asked people in the market square what they would do with a spare hour, and most of them said sleep.",
    "The orchestra is looking for a second oboe, and no, you do not have to own a dinner jacket.",
    "Police are asking anybody who saw a white horse on the bypass last night to get in touch.",
    "That was the winner of our competition, and she is taking her mother to the seaside with the prize.",
    "The school play is sold out, but there may be a few seats at the door if you come early and look hopeful.",
    "Volunteers have painted the old station, and the trains, when there are any, will stop there again.",
    "He was a quiet man who mended clocks, and half the village owed him for a spring or a hand.",
    "Keep those letters coming, even the rude ones, because we read every one of them before the show.",
    "The baker on the corner is closing after a lifetime of early mornings, and the queue went round the block.",
    "If the cat will not come down from the tree, do not climb after it, because then we have two problems.",
]


def music(chance: np.random.Generator, length: int) -> np.ndarray:
    """Plucked chords over a bass and a beat."""
    out = np.zeros(length)
    beat = int(0.5 * RATE)
    fade = np.exp(-np.arange(beat * 2) / (0.35 * RATE))
    root = 110.0
    for number, at in enumerate(range(0, length - beat * 2, beat)):
        if number % 4 == 0:
            root = 110 * 2 ** (chance.choice([0, 5, 7, 9]) / 12)
        for step in (0, 4, 7, 12):
            pitch = root * 2 ** (step / 12) * 2
            tone = sum(np.sin(2 * np.pi * pitch * part * np.arange(beat * 2) / RATE) / part for part in (1, 2, 3))
            out[at : at + beat * 2] += 0.2 * tone * fade
        out[at : at + 800] += 0.3 * chance.standard_normal(800) * np.exp(-np.arange(800) / 200)
    return out


VOICES = ("flite-rms", "flite-awb", "festival-kal", "espeak-gb")


def sounds(seconds: int, seed: int) -> dict[str, np.ndarray]:
    chance = np.random.default_rng(seed)
    length = seconds * RATE
    voices = [say(text, "measuring", VOICES[at % len(VOICES)]) for at, text in enumerate(TALK)]
    radio = np.concatenate(voices * (length // sum(map(len, voices)) + 1))[:length]
    made = {
        "silence": 0.0005 * chance.standard_normal(length),
        "music": music(chance, length),
        "babble": babble(chance, length, voices),
        "radio talk": radio,
        "radio talk through an engine": radio / np.std(radio) + noise("measuring", "engine", length, seed + 1, voices),
    }
    for kind in ("engine", "compressor", "impact wrench", "fan"):
        made[kind] = noise("measuring", kind, length, seed + 2, voices)
    quiet = made.pop("silence")
    return {"silence": quiet, **{kind: 0.3 * one / np.max(np.abs(one)) for kind, one in made.items()}}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--minutes", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=11)
    asked = parser.parse_args()

    from cleansheet.catalogue import load
    from cleansheet.flow import draft
    from cleansheet.listen import listen
    from cleansheet.terms import InputError

    catalogue = load()
    asked.folder.mkdir(parents=True, exist_ok=True)
    made = sounds(int(asked.minutes * 60 / 9), asked.seed)
    print(
        "| sound | seconds | words | figures with a unit | of these not flagged | readings on the sheet "
        "| of these not flagged |\n|---|---|---|---|---|---|---|"
    )
    for kind, samples in made.items():
        path = asked.folder / f"{kind.replace(' ', '-')}.wav"
        write(path, samples)
        try:
            note = listen(path, catalogue=catalogue, device="cpu", threads=2, keep=False)
        except InputError:
            print(f"| {kind} | {len(samples) / RATE:.0f} | 0 | 0 | 0 | 0 | 0 |", flush=True)
            continue
        words = [[one.text, one.start, one.end, one.probability, list(one.heard)] for one in note.words]
        found = figures(note.text)
        united = [one for one in found if one.quantity.unit]
        sure = [one for one in united if not flagged(note.text, words, one.start, one.end)]
        items = [item for item in draft(note, catalogue).items if item.kind == "reading"]
        unasked = [item for item in items if not item.flags]
        counts = f"{len(words)} | {len(united)} | {len(sure)} | {len(items)} | {len(unasked)}"
        print(f"| {kind} | {len(samples) / RATE:.0f} | {counts} |", flush=True)
        for start, end, what in (
            *((one.start, one.end, "figure") for one in sure),
            *((item.start, item.end, "reading") for item in unasked),
        ):
            print(f"  {what} not flagged: {note.text[max(0, start - 40) : end + 20]!r}", file=sys.stderr)


if __name__ == "__main__":
    main()
