"""Where the history is kept: durable files, one writer, events in and entries out.

No rule of the trade belongs here, and nothing that draws; state is folded in ``model``.
"""

from benchconsole.store.repository import MemoryRepository, Repository, TinyRepository

__all__ = ["MemoryRepository", "Repository", "TinyRepository"]
