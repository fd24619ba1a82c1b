"""One writer at a time, across processes."""

from __future__ import annotations

from pathlib import Path

from benchconsole.errors import StoreBusy, StoreError
from benchconsole.store.disk import FILE_MODE, shown, words_for


class WriterLock:
    """The right to write to a store, held from construction to ``release``.

    The lock is the operating system's, on ``<store>.lock``: it ends with the process however
    that ends. The file itself stays, for a removed file could be locked twice.
    The folder must exist. Raises StoreBusy, at once, if another console holds it.
    """

    def __init__(self, store: Path) -> None:
        from filelock import FileLock, Timeout

        path = store.with_name(f"{store.name}.lock")
        # Not bound to a thread: a worker may open the store that the main thread closes.
        self._lock = FileLock(path, timeout=0, mode=FILE_MODE, thread_local=False)
        try:
            self._lock.acquire()
        except Timeout as fault:
            raise StoreBusy(
                "Another console has this shop open, so nothing can be recorded from here: "
                "use that one or close it (“today” and “mix” work meanwhile)."
            ) from fault
        except OSError as fault:
            raise StoreError(
                f"The lock {shown(path)} cannot be set: {words_for(fault)}."
            ) from fault

    def release(self) -> None:
        """Let the next writer in; harmless when done twice."""
        self._lock.release()
