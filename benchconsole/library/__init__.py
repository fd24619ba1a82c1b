"""Substances, formulas, routes, species and clashes as TOML, and their loader; nothing computes."""

from benchconsole.library.catalogue import Library
from benchconsole.library.loader import shipped_library, with_own_files

__all__ = ["Library", "shipped_library", "with_own_files"]
