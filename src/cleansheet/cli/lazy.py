"""A command group that knows its commands by name and loads each one's module only when it is called.

`--help` prints the table's own lines, so it imports no command; a test holds each line to the command's docstring.
"""

from __future__ import annotations

import importlib
from typing import Any, ClassVar

import typer
import typer.main
from typer.core import TyperGroup

# name -> (module:object, the line shown in --help)
Table = dict[str, tuple[str, str]]


class LazyGroup(TyperGroup):
    """A typer group over a class attribute `table`; an object is a plain function or a `typer.Typer`."""

    table: ClassVar[Table] = {}

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002 - the framework's signature
        return list(self.table)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:  # noqa: ARG002 - the framework's signature
        if cmd_name not in self.table:
            return None
        return load(cmd_name, self.table[cmd_name][0])

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        # typer proposes near names out of `commands`, which is empty here.
        if args and args[0] not in self.table and not args[0].startswith("-"):
            import difflib

            near = difflib.get_close_matches(args[0], self.table, n=2)
            hint = f"; did you mean {' or '.join(near)}?" if near else "; see cleansheet --help"
            ctx.fail(f"no command {args[0]!r}{hint}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: Any, formatter: Any) -> None:  # noqa: ARG002 - the framework's signature
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in self.table.items()])


def load(name: str, where: str) -> Any:
    """The command object behind "module:attribute"; a plain function becomes a command of that name."""
    module, attribute = where.split(":")
    found = getattr(importlib.import_module(module), attribute)
    if isinstance(found, typer.Typer):
        found.rich_markup_mode = None
        command = typer.main.get_command(found)
    else:
        alone = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)
        alone.command(name)(found)
        command = typer.main.get_command(alone)
    command.name = name
    return command
