"""Loading the catalogue: the package's own YAML, then the shop's, checked as one, and kept ready for the next start."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .. import __version__
from ..terms import SpecError
from . import build

if TYPE_CHECKING:
    from .values import Catalogue

DATA = Path(__file__).parent / "data" / "trade"
_FORM = "5"  # of the cached copy; raise it when `build` reads another form
_MEMO: dict[str, Catalogue] = {}


def load(user_folder: Path | None = None) -> Catalogue:
    """The trade's catalogue, with the shop's own files from `user_folder` (every *.yaml in it) laid over it.

    A shop's file has the form of the package's (docs/catalogue.md). A component or test with a known id changes only
    the keys it gives, and its `also` names are added; a new id adds one. The parsed whole is cached on disk by the
    content of all files, so a change is always seen; a cache folder that cannot be written is no fault.

    Raises:
        SpecError: one line a fault, each with file, line and key, all faults of all files at once.

    """
    return _packaged() if user_folder is None else _load(_user_files(user_folder))


@cache
def _packaged() -> Catalogue:
    return _load([])


def _user_files(folder: Path) -> list[Path]:
    if not folder.is_dir():
        raise SpecError(f"{folder}: no such folder for the shop's own catalogue files")
    return sorted(folder.glob("*.yaml"))


def _load(extra: list[Path]) -> Catalogue:
    files = [(path, _bytes(path)) for path in (*sorted(DATA.glob("*.yaml")), *extra)]
    key = _key(files)
    found = _MEMO.get(key)
    if found is None:
        plain = _read_cache(key)
        if plain is None:
            from .parsing import parse

            plain = {**parse(files, packaged=len(files) - len(extra)), "key": key}
            _write_cache(key, plain)
        found = _MEMO[key] = build.catalogue(plain)
    return found


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise SpecError(f"{path}: cannot be read: {error.strerror or error}") from None


def _key(files: list[tuple[Path, bytes]]) -> str:
    digest = hashlib.sha256(f"{_FORM} {__version__}".encode())
    for path, content in files:
        digest.update(f"\0{path.name} {len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()


def _cache_file(key: str) -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("cleansheet") / f"catalogue-{key[:24]}.json"


def _read_cache(key: str) -> dict[str, Any] | None:
    try:
        plain = json.loads(_cache_file(key).read_bytes())
    except (OSError, ValueError):
        return None
    return plain if isinstance(plain, dict) and plain.get("key") == key else None


def _write_cache(key: str, plain: dict[str, Any]) -> None:
    """Put the copy in place whole or not at all, and clear out the copies of earlier contents."""
    try:
        target = _cache_file(key)
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=target.parent, prefix="catalogue-", suffix=".part")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as out:
                json.dump(plain, out, separators=(",", ":"))
            Path(name).replace(target)
        except OSError:
            Path(name).unlink(missing_ok=True)
            return
        _drop_old(target)
    except OSError:
        return  # only a slower next start


def _drop_old(target: Path, keep: int = 8) -> None:
    copies = sorted(target.parent.glob("catalogue-*.json"), key=lambda path: path.stat().st_mtime, reverse=True)
    for path in copies[keep:]:
        path.unlink(missing_ok=True)
