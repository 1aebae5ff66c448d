"""Transcripts kept by what they depend on, so that the same sound is never recognised twice.

One file a transcript, one JSON line a finished stretch, flushed as it comes; a last line says that it is whole. The
file's name is a hash of the sound's bytes, the weights, the settings and what the recogniser was told, so a change of
any of them starts afresh. After a crash the next run goes on behind the last finished stretch.
"""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

KEPT = 500  # transcripts; the oldest go first


@dataclass(frozen=True, slots=True)
class KeptWord:
    """A word with its leading space, as it was recognised, with its time in the recording and other hearings."""

    text: str
    start_s: float
    end_s: float
    probability: float
    heard: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Finished:
    """A finished stretch: where it ends in the recording, and its words."""

    end_s: float
    words: tuple[KeptWord, ...]
    doubt: str | None = None


def transcripts_folder() -> Path:
    from platformdirs import user_cache_path

    return Path(user_cache_path("cleansheet", appauthor=False)) / "transcripts"


def key(**parts: Any) -> str:
    """A name for everything a transcript depends on."""
    canonical = json.dumps(parts, sort_keys=True, ensure_ascii=False, default=str)
    return hashlib.sha256(canonical.encode("utf-8")).hexdigest()[:40]


class Transcript:
    """A transcript on disk. A cache that cannot be written costs the resuming, nothing else."""

    def __init__(self, name: str) -> None:
        self.path = transcripts_folder() / f"{name}.jsonl"
        self.finished: list[Finished] = []
        self.summary: dict[str, Any] | None = None
        self._load()

    def _load(self) -> None:
        try:
            lines = self.path.read_text(encoding="utf-8").split("\n")
        except (OSError, UnicodeDecodeError):
            return
        for line in lines[:-1]:  # what follows the last line end was cut off by a crash
            try:
                data = json.loads(line)
                if "whole" in data:
                    self.summary = data["whole"]
                    return
                words = tuple(KeptWord(**{**word, "heard": tuple(word["heard"])}) for word in data["words"])
                self.finished.append(Finished(float(data["end_s"]), words, data.get("doubt")))
            except (ValueError, TypeError, KeyError):
                break

    def add(self, finished: Finished) -> None:
        self._write(_row(finished))
        self.finished.append(finished)

    def close(self, summary: dict[str, Any]) -> None:
        """Mark the transcript as whole; `summary` holds what was learned of the whole recording."""
        self.summary = summary
        self._write({"whole": summary})
        self._forget_old()

    def _write(self, data: dict[str, Any]) -> None:
        try:
            if not self.path.exists() or self._torn():
                self._start_afresh()
            with self.path.open("a", encoding="utf-8") as handle:
                handle.write(json.dumps(data, ensure_ascii=False) + "\n")
                handle.flush()
                os.fsync(handle.fileno())
        except OSError:
            return

    def _torn(self) -> bool:
        with self.path.open("rb") as handle:
            handle.seek(0, os.SEEK_END)
            if handle.tell() == 0:
                return False
            handle.seek(-1, os.SEEK_END)
            return handle.read(1) != b"\n"

    def _start_afresh(self) -> None:
        """Write down again what is whole of a torn file, or make an empty one."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        part = self.path.with_suffix(f".{os.getpid()}.part")
        with part.open("w", encoding="utf-8") as handle:
            for one in self.finished:
                handle.write(json.dumps(_row(one), ensure_ascii=False) + "\n")
        part.replace(self.path)

    def _forget_old(self) -> None:
        try:
            files = sorted(self.path.parent.glob("*.jsonl"), key=lambda path: path.stat().st_mtime)
        except OSError:
            return
        for path in files[:-KEPT]:
            path.unlink(missing_ok=True)


def _row(finished: Finished) -> dict[str, Any]:
    words = [asdict(word) for word in finished.words]
    return {"end_s": finished.end_s, "doubt": finished.doubt, "words": words}
