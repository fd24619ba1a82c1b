"""The Textual program: screens that ask the desk and draw its answers. No rule of the trade."""

from benchconsole.console.app import BenchApp, run_console

__all__ = ["BenchApp", "run_console"]
