"""Finished hides moved to the archive while the console runs, off the event loop.

The desk is asked and told on the loop; what takes time is done in a thread. That something could
not be moved is told and hinders nothing: it stays where it is, and is tried again.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from textual.worker import Worker, WorkerState

from benchconsole.errors import BenchError

if TYPE_CHECKING:
    from benchconsole.console.app import BenchApp
    from benchconsole.desk.moving_out import Asked

GROUP = "archiving"


class ArchiveKeeper:
    """Sees soon after the opening, and then daily, what is ready for the archive."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._worker: Worker[int] | None = None
        self._told = ""

    def look(self) -> None:
        """See about it if it is time; a console that only looks on moves nothing."""
        moving = self._app.desk.moving_out
        if self._worker is not None or not moving.is_due():
            return
        self._worker = self._app.run_worker(
            partial(self._work, moving.ask()), group=GROUP, exit_on_error=False, thread=True
        )

    def _work(self, asked: Asked) -> int:
        """In the thread: the slow steps; the quick ones are done on the loop in between."""
        moving, call = self._app.desk.moving_out, self._app.call_from_thread
        goes, laid = asked.leaving(), None
        if not goes.is_empty:
            laid = moving.lay(asked, goes)
            if not call(moving.record, laid):
                call(moving.go_on_soon)
                return 0
        shorter = moving.shorter(laid)
        is_done = shorter is None or call(moving.shorten, shorter)
        if not is_done or goes.is_full:
            call(moving.go_on_soon)
        return len(goes.event.hides)

    def heard(self, worker: Worker[int], state: WorkerState) -> None:
        """What became of it; a fault is told once, and again when it is another."""
        if worker is not self._worker or state in (WorkerState.PENDING, WorkerState.RUNNING):
            return
        self._worker = None
        fault = _words(worker.error) if state == WorkerState.ERROR else ""
        if fault and fault != self._told:
            self._app.notify(
                f"{fault} Nothing is lost: what was to go to the archive stays on the bench.",
                severity="warning",
                timeout=15,
            )
        self._told = fault
        if state == WorkerState.SUCCESS and worker.result:
            one = worker.result == 1
            many = "1 finished hide was" if one else f"{worker.result} finished hides were"
            self._app.notify(
                f"{many} moved to the archive: F6 finds {'it' if one else 'them'}.", timeout=6
            )
            self._app.look_again()


def _words(fault: BaseException | None) -> str:
    """What went wrong, in a sentence; a defect of ours by its name."""
    cause = getattr(fault, "error", fault)
    if isinstance(cause, BenchError):
        return str(cause)
    return f"The archive could not be seen to ({type(cause).__name__}: {cause})."
