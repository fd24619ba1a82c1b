"""The console: one app, one second-hand, one desk.

The first frame is one line. Only when it is painted are the bench with its styles and the desk
with its library loaded, off the event loop: a cold start shows at once that it is under way.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from time import monotonic
from typing import TYPE_CHECKING, Any

from textual import work
from textual.app import App, ComposeResult, SystemCommand
from textual.widgets import Static

from benchconsole.console.alarm import Alarm
from benchconsole.console.ending import end_on_signals
from benchconsole.console.themes import THEMES
from benchconsole.console.widgets.cells import plain
from benchconsole.errors import BenchError, NotPossibleNow

if TYPE_CHECKING:
    from datetime import timedelta

    from textual.driver import Driver
    from textual.screen import Screen
    from textual.worker import Worker

    from benchconsole.clock import ClockWatch
    from benchconsole.console.archive_keeper import ArchiveKeeper
    from benchconsole.console.copy_keeper import CopyKeeper
    from benchconsole.console.onlooker import Onlooker
    from benchconsole.console.plan_keeper import PlanKeeper
    from benchconsole.desk import Desk
    from benchconsole.schedule.planning.plans import Plan

WIDTHS = ((0, "-narrow"), (70, "-normal"), (110, "-wide"), (170, "-widest"))
HEIGHTS = ((0, "-low"), (30, "-tall"))
SEEN_FIRST_S = 0.3
"""How long after its opening the bench is given to be drawn before the plan is worked out."""


class BenchApp(App[int]):
    """The bench console over a desk that ``open_desk`` opens.

    ``ticking`` False leaves the second-hand to the tests, which call :meth:`tick`, ``planning``
    False the plan of the whole shop.
    """

    TITLE = "Bench Console"
    ENABLE_COMMAND_PALETTE = True
    HORIZONTAL_BREAKPOINTS = list(WIDTHS)
    VERTICAL_BREAKPOINTS = list(HEIGHTS)

    def __init__(
        self,
        open_desk: Callable[[], Desk],
        *,
        ticking: bool = True,
        settling: bool = True,
        planning: bool = True,
    ) -> None:
        super().__init__()
        self._open_desk = open_desk
        self._ticking = ticking
        self.settling = settling
        self._planning = planning
        self._keeper: PlanKeeper | None = None
        self._copy_keeper: CopyKeeper | None = None
        self._archive_keeper: ArchiveKeeper | None = None
        self.onlooker: Onlooker | None = None
        self.alarm = Alarm(self)
        self._desk: Desk | None = None
        self._watch: ClockWatch | None = None
        self.fault: BenchError | None = None

    def get_driver_class(self) -> type[Driver]:
        """Textual's choice, but where it would hang once the terminal is closed."""
        chosen = super().get_driver_class()
        if sys.platform == "win32":
            return chosen
        from benchconsole.console.lasting_driver import LastingDriver

        return LastingDriver if chosen in LastingDriver.__bases__ else chosen

    @property
    def desk(self) -> Desk:
        """The desk; only asked for once it is open."""
        assert self._desk is not None, "the bench is still opening"
        return self._desk

    @property
    def is_open(self) -> bool:
        """Whether the desk is there."""
        return self._desk is not None

    @property
    def plan(self) -> Plan | None:
        """The newest plan of the whole shop, None while there is none."""
        return self._keeper.plan if self._keeper is not None else None

    def compose(self) -> ComposeResult:
        """The first frame."""
        yield Static("Opening the shop …", markup=False)

    def on_mount(self) -> None:
        """Paint the first frame, then open the shop behind it."""
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = THEMES[0].name
        end_on_signals(self.exit)
        self.call_after_refresh(self.open_the_shop)

    @work(thread=True, exclusive=True, group="opening")
    def open_the_shop(self) -> None:
        """Load bench, library and store off the event loop; a fault ends the console in words."""
        from benchconsole.console.screens.bench import BenchScreen

        try:
            desk = self._open_desk()
        except BenchError as fault:
            self.call_from_thread(self._refuse, fault)
            return
        self.call_from_thread(self._opened, desk, BenchScreen)

    def _refuse(self, fault: BenchError) -> None:
        self.fault = fault
        self.exit(fault.exit_code)

    def _opened(self, desk: Desk, bench: Callable[[], Screen[None]]) -> None:
        self._desk = desk
        self.push_screen(bench())
        for refusal in desk.refused:
            self.notify(f"Left out: {refusal}", severity="warning", timeout=15)
        self.tell_notices()
        if desk.looking_on is not None:
            from benchconsole.console.onlooker import Onlooker

            self.onlooker = Onlooker(self)
            self.onlooker.show()
        from benchconsole.console.copy_keeper import CopyKeeper

        self._copy_keeper = CopyKeeper(self)
        from benchconsole.console.archive_keeper import ArchiveKeeper

        self._archive_keeper = ArchiveKeeper(self)
        if self._planning:
            from benchconsole.console.plan_keeper import PlanKeeper

            self._keeper = PlanKeeper(self)
            self.set_timer(SEEN_FIRST_S, self.keep_plan)
        if self._ticking:
            from benchconsole.clock import ClockWatch

            self._watch = ClockWatch()
            self.set_interval(1.0, self.tick)

    def tell_notices(self) -> None:
        """Say what the person should know about this shop on this computer, the store first."""
        from benchconsole.console.screens.store_report import tell_notices

        tell_notices(self)

    def tick(self) -> None:
        """One second: everything that shows time looks again, and what ended rings."""
        if not self.is_open:
            return
        if self._watch is not None:
            jump = self._watch.look(self.desk.now(), monotonic())
            if jump is not None:
                self._tell_jump(jump)
        self.alarm.ring()
        self.keep_plan()
        self.look_again()
        if self._copy_keeper is not None:
            self._copy_keeper.look()
        if self._archive_keeper is not None:
            self._archive_keeper.look()
        if self.onlooker is not None:
            self.onlooker.look()

    def take_writing_over(self) -> None:
        """Record here from now on; raises ``NotPossibleNow`` while another program does."""
        if self.onlooker is None:
            raise NotPossibleNow("This console records already.")
        self.onlooker.take_over()

    def keep_plan(self) -> None:
        """Have the plan of the shop worked out anew if it is no longer true."""
        if self._keeper is not None:
            self._keeper.look()

    def on_act_screen_acted(self) -> None:
        """Something was done: the plan may be another now."""
        self.keep_plan()

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """What becomes of the planning, of the backup copies and of the archive."""
        for keeper in (self._keeper, self._copy_keeper, self._archive_keeper):
            if keeper is not None:
                keeper.heard(event.worker, event.state)

    def look_again(self) -> None:
        """Let every screen that shows the desk draw its present state."""
        for screen in self.screen_stack:
            look = getattr(screen, "look_again", None)
            if look is None or not screen.is_mounted:
                continue
            try:
                look()
            except BenchError as fault:
                if self.onlooker is None:
                    raise
                self.onlooker.lost_sight(screen, fault)

    def _tell_jump(self, jump: timedelta) -> None:
        """Times are worked out from the clock: that it jumped is for a person to know."""
        from benchconsole.quantities import format_duration

        ahead = jump.total_seconds() > 0
        why = "the computer slept, or it was set" if ahead else "it was set"
        self.notify(
            f"The clock went {'ahead' if ahead else 'back'} by {format_duration(abs(jump))}: {why}."
            " All times are worked out anew.",
            severity="warning",
            timeout=15,
        )

    def notify(self, message: str, **options: Any) -> None:
        """A note over the screen; what people typed is neither markup nor control to it."""
        super().notify(plain(message), **{**options, "markup": False})

    def _handle_exception(self, error: Exception) -> None:
        """The last border: what a person can mend is told, on whatever screen it turned up."""
        if isinstance(error, BenchError):
            self.notify(str(error), severity="error", timeout=15)
        else:
            super()._handle_exception(error)

    def _fatal_error(self) -> None:
        """End, and leave it to who started the console to tell of the defect.

        Textual would print the variables of every frame: names, notes, all that people wrote.
        """
        self._close_messages_no_wait()

    @property
    def defect(self) -> BaseException | None:
        """What ended the console though nobody can mend it by typing; None if nothing did."""
        error: BaseException | None = self._exception
        # What went wrong in a thread comes wrapped, and without its place.
        return getattr(error, "error", error)

    def on_unmount(self) -> None:
        """Let go of the store."""
        if self.onlooker is not None:
            self.onlooker.end()
        if self._keeper is not None:
            self._keeper.end()
        if self._desk is not None:
            self._desk.close()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The palette holds our acts first."""
        commands = getattr(screen, "act_commands", None)
        if commands is not None:
            yield from commands()
        yield from super().get_system_commands(screen)


def run_console(open_desk: Callable[[], Desk]) -> int:
    """Run the console until it is left; 0, or the exit code of what kept it from opening.

    A defect that ended it is raised again, with the terminal as it was before.
    """
    app = BenchApp(open_desk)
    app.run()
    if app.defect is not None:
        raise app.defect
    if app.fault is not None:
        print(f"benchconsole: {app.fault}", file=sys.stderr)
        return app.fault.exit_code
    return 0
