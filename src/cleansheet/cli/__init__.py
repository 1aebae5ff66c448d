"""The command line: a thin front end over the stages. Each command's module is loaded when it is called."""

from .app import main

__all__ = ["main"]
