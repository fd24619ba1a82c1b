"""A console that looks on while another one records: it follows, says so, and may take over.

Everything that touches the store happens in a thread of its own, which dies with the program: a
drive that never answers stops neither the screen nor the leaving.
"""

from __future__ import annotations

from collections.abc import Callable
from threading import Thread
from time import monotonic
from typing import TYPE_CHECKING, Any

from rich.cells import cell_len
from textual.widgets import Button

from benchconsole.console.acts import ActScreen
from benchconsole.console.terminal_title import borrow_title, give_title_back
from benchconsole.console.widgets.looking_line import show_looking
from benchconsole.errors import BenchError, NotPossibleNow
from benchconsole.schedule.wording import at_the_wall

if TYPE_CHECKING:
    from textual.screen import Screen

    from benchconsole.console.app import BenchApp
    from benchconsole.desk.looking_on import LookingOn, Seen
    from benchconsole.store import Holder, Repository

SILENT_S = 5.0
"""A drive that has not answered for so long is told; our own choice."""


class Onlooker:
    """Follows the store for a console while its desk only looks on, and does nothing else."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._asked_at: float | None = None
        self._taking_over = False
        self._named = False
        self._lost = False
        self._ended = False

    @property
    def looking_on(self) -> LookingOn | None:
        """The desk's part for it; None while this console records."""
        return self._app.desk.looking_on if self._app.is_open else None

    def look(self) -> None:
        """Look at the store, unless a look is under way; draw how it stands."""
        looking = self.looking_on
        if looking is not None and self._asked_at is None and not self._taking_over:
            self._asked_at = monotonic()
            self._in_a_thread(looking.look, self._seen)
        self.show()

    def show(self, screen: Screen[Any] | None = None) -> None:
        """Put the line on one screen, or on all, or take it away."""
        words = self.words()
        for each in self._app.screen_stack if screen is None else (screen,):
            if isinstance(each, ActScreen) and each.is_mounted:
                show_looking(each, words)
                _grey_buttons(each, looks_on=bool(words))
        if bool(words) != self._named:
            self._named = bool(words)
            self._name_window()

    def words(self) -> str:
        """The line; empty while this console records."""
        looking = self.looking_on
        if looking is None:
            return ""
        desk = self._app.desk
        if self._taking_over:
            return " ◎ LOOKING ONLY: taking over the writing …"
        if self._is_silent:
            return " ▲ LOOKING ONLY: the shop's drive gives no answer; this is what was known"
        if looking.standing == "lost":
            since = at_the_wall(looking.since, desk.now(), desk.zone)
            return f" ▲ LOOKING ONLY: the shop cannot be read; this is what was known {since}"
        if looking.standing == "free":
            return f" ◎ LOOKING ONLY: {looking.gone_words()}. F8 or a touch: record here"
        return self._held_words(looking.holder)

    def _held_words(self, holder: Holder) -> str:
        """Who records here, since when and where, the place as whole as there is room for."""
        desk = self._app.desk
        who = "another console" if holder.is_console else "another program"
        since = holder.since_words(desk.now(), desk.zone)
        words = f" ◎ LOOKING ONLY: {who} records here" + (f" since {since}" if since else "")
        for place in (holder.place_words(), holder.short_place_words(), ""):
            whole = f"{words} ({place})" if place else words
            if cell_len(whole) <= self._app.size.width:
                break
        return whole

    def take_over(self) -> None:
        """Take the writing over; ``NotPossibleNow`` while somebody else has it."""
        looking = self.looking_on
        if looking is None:
            raise NotPossibleNow("This console records already.")
        if self._taking_over:
            raise NotPossibleNow("The writing is being taken over already.")
        looking.refuse_taking_over()
        self._taking_over = True
        self._in_a_thread(looking.open_to_write, self._opened)
        self.show()

    def lost_sight(self, screen: Screen[Any], fault: BenchError) -> None:
        """What a page is about was taken away at the other console: say so, and leave the page."""
        if screen is self._app.screen:
            self._app.notify(f"{fault} It was changed at the other console.", severity="warning")
            screen.dismiss(None)

    def end(self) -> None:
        """The console is left: what is under way ends by itself."""
        self._ended = True
        if self._named:
            give_title_back(self._app)

    @property
    def _is_silent(self) -> bool:
        return self._asked_at is not None and monotonic() - self._asked_at > SILENT_S

    def _name_window(self) -> None:
        """Say it in the title, too."""
        if self._named:
            self._app.title = f"{self._app.TITLE}: looking only"
            borrow_title(self._app, self._app.title)
        else:
            self._app.title = str(self._app.TITLE)
            give_title_back(self._app)

    def _seen(self, seen: Seen | BenchError) -> None:
        self._asked_at = None
        looking = self.looking_on
        if looking is None or self._taking_over or isinstance(seen, BenchError):
            return
        changed = looking.take(seen)
        lost = looking.standing == "lost"
        if lost != self._lost:
            self._lost = lost
            self._tell(looking.fault if lost else "The shop can be read again.", fault=lost)
        self.show()
        if changed:
            self._app.keep_plan()
            self._app.look_again()

    def _opened(self, result: tuple[Repository, Seen] | BenchError) -> None:
        self._taking_over = False
        if isinstance(result, BenchError):
            self._tell(str(result), fault=True)
        elif self.looking_on is None:
            result[0].close()
        else:
            self._app.desk.take_over(*result)
            self._tell("This console records from now on.")
            self._app.tell_notices()
            self._app.keep_plan()
        self.show()
        self._app.look_again()

    def _tell(self, sentence: str, *, fault: bool = False) -> None:
        """Say it where the screen in front says such things: a note may cover its answers."""
        screen = self._app.screen
        if isinstance(screen, ActScreen):
            screen.tell(sentence, fault=fault)
        else:
            self._app.notify(sentence, severity="warning" if fault else "information")

    def _in_a_thread(self, work: Callable[[], Any], then: Callable[[Any], None]) -> None:
        """Do the work in a thread, and give its result or its BenchError back to the console."""

        def run() -> None:
            try:
                result = work()
            except BenchError as fault:
                result = fault
            except Exception:
                if self._ended:  # the store was closed under it
                    return
                raise
            if not self._ended:
                self._app.call_later(then, result)
            elif isinstance(result, tuple):
                result[0].close()

        Thread(target=run, name="looking on", daemon=True).start()


def _grey_buttons(screen: ActScreen[Any], *, looks_on: bool) -> None:
    """What would record looks as if it cannot be done; a touch still says why."""
    recording = {f"screen.act('{act.__name__}')" for act in screen.acts() if act.records}
    for button in screen.query(Button):
        button.set_class(looks_on and button.action in recording, "-not-here")
