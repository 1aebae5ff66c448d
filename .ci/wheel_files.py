# ruff: noqa: INP001 - a script of the checks, no package
"""Says what a built package lacks of the sources' data: `python .ci/wheel_files.py dist/cleansheet-*.whl`.

Every file of src/cleansheet must be in it as it is, and every file of models_config under cleansheet/listen.
"""

from __future__ import annotations

import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
# Where each source folder lies in the package.
FOLDERS = {"src/cleansheet": "cleansheet", "models_config": "cleansheet/listen/models_config"}


def wanted() -> dict[str, Path]:
    """The name in the package of each file that must be there, with the file itself."""
    found = {}
    for folder, inside in FOLDERS.items():
        for path in sorted((ROOT / folder).rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                found[f"{inside}/{path.relative_to(ROOT / folder).as_posix()}"] = path
    return found


def main(wheel: str) -> int:
    files = wanted()
    with zipfile.ZipFile(wheel) as package:
        held = set(package.namelist())
        missing = [name for name in files if name not in held]
        differing = [name for name, path in files.items() if name in held and package.read(name) != path.read_bytes()]
    for name in missing:
        sys.stderr.write(f"{wheel}: {name} is missing\n")
    for name in differing:
        sys.stderr.write(f"{wheel}: {name} differs from its source\n")
    if not missing and not differing:
        sys.stdout.write(f"{Path(wheel).name}: all {len(files)} files\n")
    return 1 if missing or differing else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
