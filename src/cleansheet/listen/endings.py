"""What a sound file's own bytes say of its length and its end, where FFmpeg's libraries pass over it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

_LOOK = 65_307  # bytes: the longest page of an Ogg stream (RFC 3533, section 6)
_LAST_PAGE = 0x04


def states_no_length(path: Path, form: str) -> bool:
    """Whether a length that is told of such a file is only reckoned from its bit rate.

    Frames of AAC (ADTS) and AMR come without any head; an mp3 states its length only in a Xing, Info or VBRI frame.
    """
    if form in ("aac", "amr"):
        return True
    if form != "mp3":
        return False
    with path.open("rb") as file:
        head = file.read(10)
        tag = 0
        if head[:3] == b"ID3" and len(head) == 10:  # its size is written in seven bits a byte (ID3v2.4, section 3.1)
            tag = 10 + sum((byte & 0x7F) << shift for byte, shift in zip(head[6:10], (21, 14, 7, 0), strict=True))
        file.seek(tag)
        first = file.read(8192)
    return not any(name in first for name in (b"Xing", b"Info", b"VBRI"))


def lacks_last_page(path: Path) -> bool:
    """Whether an Ogg file ends without the page that is marked as its last (RFC 3533, section 6, header type flag)."""
    with path.open("rb") as file:
        size = file.seek(0, 2)
        file.seek(max(size - _LOOK, 0))
        tail = file.read()
    at = tail.rfind(b"OggS")
    return at < 0 or at + 5 >= len(tail) or not tail[at + 5] & _LAST_PAGE


def lacks_index(path: Path) -> bool:
    """Whether an MP4, M4A or 3GP file has no `moov` box (ISO 14496-12): recorders write it last, so a cut takes it."""
    try:
        with path.open("rb") as file:
            size = file.seek(0, 2)
            at, first = 0, True
            while at + 8 <= size:
                file.seek(at)
                head = file.read(16)
                length, kind = int.from_bytes(head[:4], "big"), head[4:8]
                if first and kind != b"ftyp":
                    return False
                if kind == b"moov":
                    return False
                if length == 1:
                    length = int.from_bytes(head[8:16], "big")
                if length < 8:  # to the end of the file, or nonsense
                    break
                at, first = at + length, False
            return not first
    except OSError:
        return False
