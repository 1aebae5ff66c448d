"""Writes docs/commands.md from the commands themselves: `python tests/cli/commands_page.py`; a test holds it current."""

from __future__ import annotations

import os
from pathlib import Path

PAGE = Path(__file__).parents[2] / "docs" / "commands.md"

HEAD = """# Commands

Made from the commands' own help by `python tests/cli/commands_page.py`; do not edit by hand.

Exit codes: 0 done; 1 the answer is no (nothing found, a check failed); 2 a bad argument, note or recording;
3 a catalogue file or vehicle sheet that does not hold together; 4 speech weights; 5 the journal; 130 stopped with Ctrl-C.

Settings by environment: `CLEANSHEET_JOURNAL` the journal's file; `CLEANSHEET_SHOP` the shop's own folder (`catalogue/` for
names, tests and limits, `sheets/` for vehicle sheets); `CLEANSHEET_WHO` who works; `NO_COLOR` plain text.
"""


def page() -> str:
    """The whole page, whatever the terminal of whoever makes it."""
    os.environ["TERMINAL_WIDTH"] = "100"
    os.environ["COLUMNS"] = "100"
    from cleansheet.cli.app import COMMANDS
    from cleansheet.cli.lazy import load

    parts = [HEAD]
    for name, (where, _) in COMMANDS.items():
        command = load(name, where)
        parts.append(_section(f"cleansheet {name}", command, level="##"))
        for inner, one in getattr(command, "commands", {}).items():
            parts.append(_section(f"cleansheet {name} {inner}", one, level="###"))
    return "\n".join(parts)


def _section(path: str, command: object, *, level: str) -> str:
    context = command.make_context(path, [], resilient_parsing=True, terminal_width=100, max_content_width=100)
    shown = "\n".join(line.rstrip() for line in command.get_help(context).splitlines())
    return f"{level} {path}\n\n```text\n{shown}\n```\n"


if __name__ == "__main__":
    PAGE.parent.mkdir(exist_ok=True)
    PAGE.write_text(page(), encoding="utf-8")
