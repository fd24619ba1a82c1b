"""The command line: reads what was typed, asks the desk, prints. It draws nothing itself."""

from benchconsole.cli.commands import main

__all__ = ["main"]
