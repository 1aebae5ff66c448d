#!/usr/bin/env python3
"""Write the JSON Schemas of catalogue files and vehicle sheets from the forms that check them.

usage: python docs/schema/make.py [--check]     --check only says whether they are current (exit code 1 if not)
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from cleansheet.catalogue.schema import CatalogueFile, SheetFile

HERE = Path(__file__).resolve().parent
FORMS = {"catalogue.schema.json": CatalogueFile, "vehicle-sheet.schema.json": SheetFile}


def text_of(name: str) -> str:
    """The schema's text, as it should stand in the file `name`."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **FORMS[name].model_json_schema()}
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def main() -> int:
    stale = [name for name in FORMS if not (HERE / name).exists() or (HERE / name).read_text("utf-8") != text_of(name)]
    if "--check" in sys.argv[1:]:
        sys.stdout.writelines(f"{name} is not current: run python docs/schema/make.py\n" for name in stale)
        return 1 if stale else 0
    for name in FORMS:
        (HERE / name).write_text(text_of(name), "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
