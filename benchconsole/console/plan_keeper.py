"""The plan of the shop kept true while the console runs, off the event loop.

The question is asked on the loop, worked out in a thread and taken back on the loop; the thread
touches nothing of the desk. It gives way to the loop and is ended between two moves of the search
when a newer question stands or the console is left.
"""

from __future__ import annotations

import sys
from functools import partial
from time import perf_counter, sleep
from typing import TYPE_CHECKING

from textual.worker import Worker, WorkerCancelled, WorkerState, get_current_worker

if TYPE_CHECKING:
    from benchconsole.console.app import BenchApp
    from benchconsole.desk.planning import PlanAnswer, PlanQuestion
    from benchconsole.schedule.planning.plans import Plan

GROUP = "planning"
SWITCH_S = 0.0005
"""How long the thread may keep the interpreter while the loop wants it; Python's own 5 ms would
let a key wait for many such turns."""
GIVE_WAY_S = 0.003
"""How long the thread rests when it finds the loop at work."""


class PlanKeeper:
    """Asks for the plan whenever it is wanted, and keeps the answer at the desk."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._worker: Worker[None] | None = None
        self._asked = -1
        self._failed = -1
        self._told = False
        self._switch_s = sys.getswitchinterval()

    @property
    def plan(self) -> Plan | None:
        """The newest plan, though something may have happened since; None while there is none."""
        return self._app.desk.planning.known

    def look(self) -> None:
        """Ask anew if the plan is no longer true; a newer question replaces an older one."""
        desk = self._app.desk
        if not desk.planning.is_wanted or desk.version == self._failed:
            return
        if self._worker is not None and self._asked == desk.version:
            return
        self._asked = desk.version
        sys.setswitchinterval(SWITCH_S)
        self._worker = self._app.run_worker(
            partial(self._work, desk.planning.ask(), desk.planning.known),
            group=GROUP,
            exclusive=True,
            exit_on_error=False,
            thread=True,
        )

    def heard(self, worker: Worker[None], state: WorkerState) -> None:
        """What became of a worker of the group; one that was replaced tells nothing."""
        if worker is not self._worker or state in (WorkerState.PENDING, WorkerState.RUNNING):
            return
        self._worker = None
        sys.setswitchinterval(self._switch_s)
        if state == WorkerState.ERROR:
            self._failed = self._asked
            self._app.desk.planning.forget()
            self._app.look_again()
            self._tell(worker.error)

    def end(self) -> None:
        """The console is left: what is being worked out is given up."""
        if self._worker is not None:
            self._worker.cancel()
            self._worker = None
        sys.setswitchinterval(self._switch_s)

    def _work(self, asked: PlanQuestion, like: Plan | None) -> None:
        """In the thread: work it out and hand it to the loop, and better ones as they are found."""
        from benchconsole.desk.planning import worked_out_better

        worker = get_current_worker()

        def between() -> None:
            if worker.is_cancelled:
                raise WorkerCancelled("a newer question, or the end")
            give_way()

        for answer in worked_out_better(asked, like=like, between=between):
            between()
            self._app.call_from_thread(self._take, worker, answer)

    def _take(self, worker: Worker[None], answer: PlanAnswer) -> None:
        if worker.is_cancelled or not self._app.is_open:
            return
        if self._app.desk.planning.take(answer):
            self._app.look_again()

    def _tell(self, fault: BaseException | None) -> None:
        if self._told:
            return
        self._told = True
        self._app.notify(
            f"The plan of the shop could not be worked out ({type(fault).__name__}: {fault}). "
            "The console goes on without it: every hide is shown by itself.",
            severity="warning",
            timeout=15,
        )


def give_way() -> None:
    """In the thread: let the loop have the interpreter, and rest while it makes use of it."""
    before = perf_counter()
    sleep(0)
    if perf_counter() - before > SWITCH_S:
        # Somebody else had it meanwhile: drawing goes twice as fast alone.
        sleep(GIVE_WAY_S)
