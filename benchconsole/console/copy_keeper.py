"""Backup copies made while the console runs, off the event loop.

The job is asked for on the loop and done in a thread, which touches nothing of the desk. That a
copy could not be made is told and hinders nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.worker import Worker, WorkerState

from benchconsole.errors import BenchError

if TYPE_CHECKING:
    from benchconsole.console.app import BenchApp

GROUP = "copying"


class CopyKeeper:
    """Makes a copy after the opening and then hourly while something changes."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._worker: Worker[bool] | None = None
        self._told = ""

    def look(self) -> None:
        """See about a copy if it is time; a console that only looks on makes none."""
        desk = self._app.desk
        if self._worker is not None or not desk.copies.is_due():
            return
        self._worker = self._app.run_worker(
            desk.copies.copying(), group=GROUP, exit_on_error=False, thread=True
        )

    def heard(self, worker: Worker[bool], state: WorkerState) -> None:
        """What became of a copy; a fault is told once, and again when it is another."""
        if worker is not self._worker or state in (WorkerState.PENDING, WorkerState.RUNNING):
            return
        self._worker = None
        if state == WorkerState.SUCCESS:
            self._app.desk.copies.copied(bool(worker.result))
        fault = _words(worker.error) if state == WorkerState.ERROR else ""
        if fault and fault != self._told:
            self._app.notify(
                f"{fault} Your taps are saved all the same. “benchconsole check” says more.",
                severity="warning",
                timeout=15,
            )
        self._told = fault


def _words(fault: BaseException | None) -> str:
    """What went wrong, in a sentence; a defect of ours by its name."""
    if isinstance(fault, BenchError):
        return str(fault)
    return f"No backup copy was made ({type(fault).__name__}: {fault})."
