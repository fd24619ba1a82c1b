"""Where the history is kept: durable files, one writer, events in and entries out.

No rule of the trade belongs here, and nothing that draws; state is folded in ``model``.
"""

from benchconsole.store.holders import Holder
from benchconsole.store.lock import holder_of
from benchconsole.store.memory import MemoryRepository
from benchconsole.store.repository import Repository, TinyRepository

__all__ = ["Holder", "MemoryRepository", "Repository", "TinyRepository", "holder_of"]
