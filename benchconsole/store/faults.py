"""The sentences for a store that cannot be used, each with what to do about it."""

from __future__ import annotations

import msgspec

from benchconsole.errors import StoreDamaged, StoreTooNew
from benchconsole.store.lines import VERSION


def damaged(name: str, fault: str) -> StoreDamaged:
    """The error for a file that cannot be used, with what to do about it."""
    return StoreDamaged(
        f"The store {name} cannot be read, {fault}: "
        "put a backup copy in its place, or move it away to begin afresh."
    )


def too_new(name: str, version: int) -> StoreTooNew:
    """The error for a file of a newer version, which is never touched."""
    return StoreTooNew(
        f"The store {name} was written by a newer Bench Console (version {version} of the "
        f"store, this program knows {VERSION}): update the program; the store is unchanged."
    )


def told_fault(fault: msgspec.ValidationError) -> str:
    """``event.mass_g: expected float, got str`` from msgspec's own wording."""
    what, _, where = str(fault).partition(" - at `$")
    what = (what[:1].lower() + what[1:]).replace("`", "")
    where = where.rstrip("`").lstrip(".")
    return f"{where}: {what}" if where else what


def count(number: int, one: str, more: str) -> str:
    """``1 tap was``, ``2 taps were``."""
    return f"{number} {one if number == 1 else more}"
