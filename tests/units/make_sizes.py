"""Write units/data/sizes.json: every unit's factor, offset and kind as the conversion library has them.

usage: python tests/units/make_sizes.py        run it again when units.yaml changes; a test says when it must
"""

from __future__ import annotations

import json
from pathlib import Path

from cleansheet.units import table
from cleansheet.units.convert import computed_size

OUT = Path(__file__).resolve().parents[2] / "src" / "cleansheet" / "units" / "data" / "sizes.json"


def sizes() -> dict[str, tuple[float, float, str]]:
    return {code: computed_size(code) for code in table().rows}


if __name__ == "__main__":
    rows = ",\n".join(f"{json.dumps(code)}: {json.dumps(row)}" for code, row in sizes().items())
    OUT.write_text("{\n" + rows + "\n}\n", encoding="utf-8")
