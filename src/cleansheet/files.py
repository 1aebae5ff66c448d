"""What every layer may ask of a file, without importing anything heavy."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

from .terms import InputError

if TYPE_CHECKING:
    from pathlib import Path


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file's bytes, in hexadecimal. Raises InputError where it cannot be read."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as err:
        raise InputError(f"{path}: cannot be read: {(err.strerror or str(err)).lower()}") from err
