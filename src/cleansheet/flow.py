"""Strings the stages together: a file or a text goes in, a draft sheet comes out. Nothing is stored here."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .terms import Draft, InputError, Item, Note

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from .journal import Journal, Record, Waiting
    from .journal import Line as SignedLine
    from .review import Judge, Line, Review

TEXT_TYPES = frozenset({".txt", ".md"})
SOUND_TYPES = frozenset(
    {".wav", ".flac", ".opus", ".ogg", ".oga", ".mp3", ".m4a", ".mp4", ".aac", ".webm", ".amr", ".3gp", ".aif", ".aiff"}
)
# A file that lies beside a recording and holds what was said in it; a key for tests and people, not a note.
SAID_SUFFIX = ".said.txt"
# First bytes of the usual sound containers. Source: the formats' own registrations (RIFF, FLAC, RFC 3533 Ogg, ID3v2,
# ISO 14496-12 'ftyp' at byte 4, EBML, AIFF, RFC 4867 AMR).
_SOUND_HEADS = (b"fLaC", b"OggS", b"ID3", b"\x1aE\xdf\xa3", b"#!AMR", b"caff\0")
_MOST_TEXT = 2_000_000


def typed_note(text: str, name: str | None = None, recorded_at: str | None = None) -> Note:
    """A note from typed text, its hash that of the text's UTF-8 bytes. Raises InputError where there are no words."""
    if not text.strip():
        raise InputError(f"{name or 'the note'}: no words in it; nothing to draft")
    digest = hashlib.sha256(text.encode("utf-8", errors="surrogatepass")).hexdigest()
    return Note(text=text, source="typed", recorded_at=recorded_at, sha256=digest, name=name)


def draft(note: Note, catalogue: Any, sheet: Any = None) -> Draft:
    """The note's draft sheet: read, match, judge. `sheet` is a vehicle's spec sheet or None.

    What must be known of the recording (a gap, a stretch that may be made up) leads the draft's remarks, so that it is
    printed and kept with the lines that it bears on.
    """
    from .match import match
    from .read import read

    mentions = read(note, catalogue)
    drafted = _judged(match(mentions, note, catalogue, sheet), note, catalogue, sheet)
    return replace(drafted, remarks=(*note.remarks, *drafted.remarks))


def rejudge(items: Iterable[Item], note: Note, catalogue: Any, sheet: Any = None) -> tuple[Item, ...]:
    """The items judged anew, after a person corrected a value, a unit or a test; same items in the same order."""
    bare = tuple(replace(item, verdict=None, expected=None, proposal=None) for item in items)
    return _judged(bare, note, catalogue, sheet).items


def propose(note: Note, start: int, end: int, catalogue: Any, sheet: Any = None) -> Item | None:
    """What the words `note.text[start:end]` say when a person points at them, or None where no item is found there."""
    whole = [item for item in draft(note, catalogue, sheet).items if item.start >= start and item.end <= end]
    if not whole:
        alone = replace(note, text=note.text[start:end], words=())
        whole = [
            replace(item, start=item.start + start, end=item.end + start)
            for item in draft(alone, catalogue, sheet).items
        ]
    return max(whole, key=lambda item: (item.quantity is not None, item.end - item.start), default=None)


def draft_file(path: Path | str, catalogue: Any, sheet: Any = None, **hearing: Any) -> Draft:
    """The draft sheet of a text or sound file; `hearing` goes to `listen`. Raises InputError for what is no note."""
    return draft(note_file(path, catalogue, **hearing), catalogue, sheet)


def note_file(path: Path | str, catalogue: Any = None, *, recorded_at: str | None = None, **hearing: Any) -> Note:
    """The note in a file, text or sound told apart by content. `recorded_at` defaults to the file's own time."""
    path = Path(path)
    data = _head(path)
    when = recorded_at or _file_time(path)
    if not _is_sound(path, data):
        return typed_note(decode_text(_whole(path), str(path)), str(path), when)
    from .listen import listen

    note = listen(path, catalogue=catalogue, **hearing)
    return replace(note, recorded_at=recorded_at or note.recorded_at or when, name=note.name or str(path))


def is_sound(data: bytes) -> bool:
    """Whether bytes that came without a name are a recording."""
    return _has_sound_head(data[:16])


def is_sound_file(path: Path | str) -> bool:
    """Whether the file is a recording, by its first bytes, or by its name where they do not tell."""
    path = Path(path)
    return _is_sound(path, _head(path))


def decode_text(data: bytes, name: str) -> str:
    """The bytes as UTF-8 text. Raises InputError with the place of the first byte that is not."""
    if not data:
        raise InputError(f"{name}: empty (0 bytes); nothing to draft")
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise InputError(f"{name}: text in UTF-16; save it as UTF-8")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as err:
        raise InputError(
            f"{name}: neither sound nor UTF-8 text (byte {data[err.start]:#04x} at {err.start}); save the text as UTF-8"
        ) from err
    if "\0" in text:
        raise InputError(f"{name}: neither text nor a sound recording of a known kind")
    return text


def note_files(paths: Iterable[Path | str]) -> Iterator[Path]:
    """The notes that the paths name, folders opened in name order (see `is_note_name`); '-' passes through.

    Raises InputError for a path that is not there and for a folder without notes, before anything is read.
    """
    found: list[Path] = []
    for given in paths:
        path = Path(given)
        if str(given) == "-" or path.is_file():
            found.append(path)
        elif path.is_dir():
            inside = sorted(entry for entry in path.rglob("*") if is_note_name(entry, path) and entry.is_file())
            if not inside:
                raise InputError(
                    f"{path}: no notes in this folder (text: .txt .md; sound: .wav .flac .opus and others)"
                )
            found += inside
        elif path.exists():
            raise InputError(f"{path}: neither a file nor a folder")
        else:
            raise InputError(f"{path}: no such file or folder")
    yield from dict.fromkeys(found)


def is_note_name(path: Path, root: Path | None = None) -> bool:
    """Whether a file met in a folder is taken as a note: text or sound, not hidden, no README, no `.said.txt` key."""
    name = path.name.lower()
    inner = path.relative_to(root).parts if root is not None else (path.name,)
    if any(part.startswith(".") for part in inner) or name.startswith("readme") or name.endswith(SAID_SUFFIX):
        return False
    return path.suffix.lower() in TEXT_TYPES | SOUND_TYPES


def _judged(items: tuple[Item, ...], note: Note, catalogue: Any, sheet: Any) -> Draft:
    from .judge import judge

    return judge(items, note, catalogue, sheet)


def _is_sound(path: Path, head: bytes) -> bool:
    return _has_sound_head(head) or (bool(head) and path.suffix.lower() in SOUND_TYPES)


def _has_sound_head(head: bytes) -> bool:
    if head.startswith(_SOUND_HEADS) or head[4:8] == b"ftyp" or _is_mpeg_frame(head):
        return True
    return (head[:4], head[8:12]) in {(b"RIFF", b"WAVE"), (b"FORM", b"AIFF"), (b"FORM", b"AIFC")}


def _is_mpeg_frame(head: bytes) -> bool:
    # ISO 11172-3: eleven set bits start a frame; a layer of 0 and a bit rate of 15 are reserved. UTF-16's mark FF FE
    # has layer 3's bits too, so it is told apart first.
    if len(head) < 4 or head[:2] == b"\xff\xfe":
        return False
    return head[0] == 0xFF and head[1] & 0xE0 == 0xE0 and head[1] & 0x06 != 0 and head[2] & 0xF0 != 0xF0


def _head(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(16)
    except OSError as err:
        raise InputError(f"{path}: {_plain(err)}") from err


def _whole(path: Path) -> bytes:
    try:
        size = path.stat().st_size
        if size > _MOST_TEXT:
            raise InputError(f"{path}: {size / 1e6:.1f} MB of text is no shop note; split it")
        return path.read_bytes()
    except OSError as err:
        raise InputError(f"{path}: {_plain(err)}") from err


def _plain(err: OSError) -> str:
    return (err.strerror or str(err)).lower()


def _file_time(path: Path) -> str:
    return datetime.fromtimestamp(path.stat().st_mtime).astimezone().replace(tzinfo=None).isoformat(timespec="seconds")


def judge_for(catalogue: Any, sheet: Any = None) -> Callable[[Sequence[Item], Note], tuple[Item, ...]]:
    """What the review judges corrected items with."""
    return lambda items, note: rejudge(items, note, catalogue, sheet)


def sign_kept(
    journal: Journal,
    waiting: Waiting,
    review: Review,
    *,
    who: str,
    at: str,
    judge: Judge | None = None,
    only_clean: bool = False,
) -> tuple[Review, int]:
    """Sign the kept lines of a review into the journal, and its state with them, all or nothing.

    With `only_clean` only those that need no eyes.

    Returns the review after it and the draft's new revision. Raises InputError where nothing is kept, JournalError
    where somebody else reviewed the note meanwhile.
    """
    from . import journal as book
    from . import review as desk

    step = desk.sign(review, who, at, only_clean=only_clean)
    after = desk.apply(review, step, judge)
    lines = [_to_sign(after.line(number)) for number in step["lines"]]
    revision = book.sign(
        journal,
        waiting.note_id,
        lines,
        steps=[dict(one) for one in after.steps],
        revision=waiting.revision,
        finished=after.finished,
        who=step["who"],
        at=at,
    )
    return after, revision


def _to_sign(line: Line) -> SignedLine:
    from .journal import Line as SignedLine

    return SignedLine(line.number, line.item, line.drafted if line.changed else None)


def amend_line(
    journal: Journal,
    old: Record,
    fields: Mapping[str, Any],
    catalogue: Any,
    sheet: Any = None,
    *,
    who: str,
    at: str,
    why: str,
) -> Record:
    """Change a signed line, judged anew, as a new revision. Raises InputError for fields that do not fit."""
    from .journal import note_of, revise
    from .review import corrected

    note = note_of(journal, old.note_id)
    item = rejudge((corrected(old.item, fields),), note, catalogue, sheet)[0]
    return revise(journal, old.id, item, revision=old.revision, who=who, at=at, why=why)
