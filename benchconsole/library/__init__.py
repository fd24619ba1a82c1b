"""Substances, formulas, routes and species as readable TOML, and their loader; no code computes."""

from benchconsole.library.catalogue import Library
from benchconsole.library.loader import shipped_library, with_own_files

__all__ = ["Library", "shipped_library", "with_own_files"]
