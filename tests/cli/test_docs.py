"""docs/commands.md is what the commands say of themselves."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path


def test_the_commands_page_is_current(tmp_path):
    code = f"import sys; sys.path.insert(0, {str(Path(__file__).parent)!r}); import commands_page; sys.stdout.write(commands_page.page())"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    page = Path(__file__).parents[2] / "docs" / "commands.md"
    assert done.stdout == page.read_text(encoding="utf-8"), "run: python tests/cli/commands_page.py"
