"""What goes to the archive together, and what is left then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from benchconsole.model.archive_events import ArchivedHide
from benchconsole.model.events import Entry


@dataclass(frozen=True, kw_only=True)
class Parcel:
    """What goes to a year's file together, under a ``key`` of its own: entries, in order.

    ``hides`` are those whose stories they tell; ``words`` hold, by id, what each is found by.
    ``whole``: these are all entries of the key there are, else they are added to those there.
    """

    year: int
    key: str
    entries: tuple[Entry, ...]
    hides: tuple[ArchivedHide, ...] = ()
    words: Mapping[str, str] = field(default_factory=dict)
    whole: bool = True


class Prepared(NamedTuple):
    """A shorter history that lies ready; ``log`` is the store's own hold of it."""

    entries: tuple[Entry, ...]
    log: Any
