"""How many words a second a note is read, matched and judged at, inside a running process on one core.

usage: python tests/bench/bench_read.py [--profile]

The text is the labelled notes joined, cut to 100 to 100,000 words; then each stage and each component of reading by
itself. With --profile, the functions that take longest. Printed, never asserted.
"""

from __future__ import annotations

import argparse
import cProfile
import json
import pstats
import time
from collections import defaultdict
from pathlib import Path

from cleansheet.catalogue import load, load_sheet
from cleansheet.flow import draft
from cleansheet.judge import judge
from cleansheet.match import match
from cleansheet.read import read
from cleansheet.read.parts import part_names
from cleansheet.read.pipeline import pipeline
from cleansheet.terms import Note

DATA = Path(__file__).parents[1] / "data"
SIZES = (100, 1_000, 10_000, 100_000)
CLOCK = time.process_time  # others may be busy on the machine


def dev_texts() -> list[str]:
    return [json.loads(line)["text"] for line in (DATA / "dev.jsonl").read_text("utf-8").splitlines()]


def cut(texts: list[str], words: int) -> str:
    """The notes joined by line ends, again and again until there are `words` words."""
    joined = "\n".join(texts)
    times = words // len(joined.split()) + 1
    spans = "\n".join([joined] * times)
    return " ".join(spans.split(" ")[:words]) if words < 1000 else _first(spans, words)


def _first(text: str, words: int) -> str:
    count, inside = 0, False
    for at, sign in enumerate(text):
        if sign.isspace():
            inside = False
        elif not inside:
            inside, count = True, count + 1
            if count > words:
                return text[:at]
    return text


def best(act, times: int) -> float:
    """Seconds of the quickest of some runs."""
    took = []
    for _ in range(times):
        start = CLOCK()
        act()
        took.append(CLOCK() - start)
    return min(took)


def stages(text: str, catalogue, sheet) -> dict[str, float]:
    note = Note(text)
    out: dict[str, float] = {}
    start = CLOCK()
    mentions = read(note, catalogue)
    out["read"] = CLOCK() - start
    start = CLOCK()
    items = match(mentions, note, catalogue, sheet)
    out["match"] = CLOCK() - start
    start = CLOCK()
    judge(items, note, catalogue, sheet)
    out["judge"] = CLOCK() - start
    return out


def components(text: str, catalogue) -> dict[str, float]:
    nlp = pipeline()
    out: dict[str, float] = defaultdict(float)
    with nlp.memory_zone():
        start = CLOCK()
        doc = nlp.make_doc(text)
        out["words and Doc"] = CLOCK() - start
        doc._.note, doc._.names = Note(text), part_names(catalogue)
        for name, component in nlp.pipeline:
            start = CLOCK()
            doc = component(doc)
            out[name] = CLOCK() - start
    return out


def rates(texts: list[str], catalogue, sheet) -> list[tuple[str, int, float, dict[str, float]]]:
    """Rows of (what, words, seconds, seconds by stage): the notes one by one, and one note of each size."""
    count = sum(len(text.split()) for text in texts)
    alone = best(lambda: [draft(Note(text), catalogue, sheet) for text in texts], 3)
    rows = [(f"{len(texts)} notes one by one", count, alone, {})]
    for size in SIZES:
        text = cut(texts, size)
        tries = [stages(text, catalogue, sheet) for _ in range(3 if size < 50_000 else 1)]
        quickest = min(tries, key=lambda stage: sum(stage.values()))
        rows.append(("one note", len(text.split()), sum(quickest.values()), quickest))
    return rows


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--profile", action="store_true")
    options = parser.parse_args()
    catalogue = load()
    sheet = load_sheet(DATA / "sheets" / "aldern-camper.yaml", catalogue)
    texts = dev_texts()
    for text in texts:  # whatever is made once is made here
        draft(Note(text), catalogue, sheet)
    for what, words, seconds, by_stage in rates(texts, catalogue, sheet):
        shares = ", ".join(f"{name} {took / seconds:.0%}" for name, took in by_stage.items())
        print(f"{what:24} {words:>8,} words {seconds:>8.3f} s {words / seconds:>10,.0f} words/s  {shares}")
    text = cut(texts, 10_000)
    took = components(text, catalogue)
    whole = sum(took.values())
    print("\nreading 10,000 words, by component")
    for name, seconds in took.items():
        print(f"{name:24} {seconds:>8.3f} s {seconds / whole:>6.0%}")
    if options.profile:
        profile = cProfile.Profile()
        profile.runcall(draft, Note(text), catalogue, sheet)
        pstats.Stats(profile).sort_stats("tottime").print_stats(30)


if __name__ == "__main__":
    main()
