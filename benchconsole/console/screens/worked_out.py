"""What all pages share whose answer is worked out beside the console: a list, words, buttons."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import PurePath
from typing import Any, ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Static
from textual.worker import Worker, WorkerCancelled, WorkerState, get_current_worker

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.plan_keeper import give_way
from benchconsole.console.screens.pages import HelpOnPage
from benchconsole.console.widgets.act_buttons import act_buttons
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.paper import Paper, Written
from benchconsole.console.widgets.pick_list import PickLine, PickList
from benchconsole.errors import BenchError

A = TypeVar("A")
R = TypeVar("R")

WAITS = "Working it out …"


class WordsBelow(Act["WorkedOutScreen[Any, Any]"]):
    """Scroll the words below the list, where they are more than there is room for."""

    keys = "pagedown"
    label = "Read on"
    has_button = False

    def run(self, screen: WorkedOutScreen[Any, Any]) -> None:
        """Scroll them down."""
        screen.words.scroll_page_down(animate=False)


class WordsAbove(Act["WorkedOutScreen[Any, Any]"]):
    """Scroll the words below the list back."""

    keys = "pageup"
    label = "Read back"
    has_button = False

    def run(self, screen: WorkedOutScreen[Any, Any]) -> None:
        """Scroll them up."""
        screen.words.scroll_page_up(animate=False)


class LeaveAnswer(Act["WorkedOutScreen[Any, Any]"]):
    """Leave all as it is."""

    keys = "escape,q"
    label = "Leave"

    def run(self, screen: WorkedOutScreen[Any, Any]) -> None:
        """Close the page; what is still being worked out is given up."""
        screen.dismiss(None)


class WorkedOutScreen(ActScreen[R], Generic[R, A]):
    """A list over words about the picked line; a subclass says what is worked out and written.

    :meth:`job` is called on the loop and gives the work to do in a thread, which touches nothing
    of the desk.
    """

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/worked_out.tcss"
    AUTO_FOCUS = "#picks"
    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (WordsBelow, WordsAbove, LeaveAnswer, HelpOnPage)

    picks = query_one("#picks", PickList)
    words = query_one("#words", Paper)

    def __init__(self) -> None:
        super().__init__()
        self.answer: A | None = None

    def heading(self) -> str:
        """The line on top."""
        raise AssertionError("a page says what it is")

    def job(self) -> Callable[[Callable[[], None]], A]:
        """The work, which calls what it is given now and then; raises ``BenchError``."""
        raise AssertionError("a page has something worked out")

    def taken(self, answer: A) -> None:
        """Let the desk keep what it can of an answer."""

    def lines(self, answer: A) -> Sequence[PickLine]:
        """The lines to pick from."""
        raise AssertionError("an answer has lines")

    def about(self, answer: A, picked: str) -> Sequence[Written]:
        """The words about the picked line."""
        raise AssertionError("a line has words")

    def first_picked(self, answer: A) -> str:
        """The line that is picked to begin with."""
        return ""

    def compose(self) -> ComposeResult:
        """Heading, list, words, a button for every act."""
        yield Static(id="heading", classes="heading", markup=False)
        yield Static(WAITS, id="waits", markup=False)
        yield PickList(id="picks")
        yield Paper(id="words")
        with Horizontal(classes="buttons"):
            yield from act_buttons(self.acts())

    def on_mount(self) -> None:
        """Begin to work it out."""
        self.words.can_focus = False
        self._show(drawn=False)
        self.begin()

    def begin(self) -> None:
        """Work it out, from how things stand now."""
        self.query_one("#heading", Static).update(Content(plain(self.heading())))
        try:
            job = self.job()
        except BenchError as fault:
            self._cannot(str(fault))
            return
        self.run_worker(
            partial(self._work, job),
            group="working-out",
            exclusive=True,
            exit_on_error=False,
            thread=True,
        )

    def _work(self, job: Callable[[Callable[[], None]], A]) -> None:
        """In the thread: work it out and hand it to the loop."""
        worker = get_current_worker()

        def between() -> None:
            if worker.is_cancelled:
                raise WorkerCancelled("the page was left")
            give_way()

        try:
            answer = job(between)
        except BenchError as fault:
            self.app.call_from_thread(self._cannot, str(fault))
            return
        between()
        self.app.call_from_thread(self._take, answer)

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """A defect is told, and the console goes on."""
        if event.state == WorkerState.ERROR:
            fault = event.worker.error
            self._cannot(f"It could not be worked out ({type(fault).__name__}: {fault}).")

    def _cannot(self, sentence: str) -> None:
        if self.is_mounted:
            self._show(drawn=False)
            self.query_one("#waits", Static).update(Content(plain(f"▲ {sentence}")))

    def _take(self, answer: A) -> None:
        if not self.is_mounted:
            return
        self.answer = answer
        self.taken(answer)
        self._show(drawn=True)
        self.write(self.first_picked(answer))
        self.picks.focus()

    def write(self, picked: str = "") -> None:
        """Draw heading and lines anew."""
        if self.answer is None:
            return
        self.query_one("#heading", Static).update(Content(plain(self.heading())))
        self.picks.show(self.lines(self.answer), picked)
        self._write_words()

    def _show(self, *, drawn: bool) -> None:
        self.query_one("#waits").display = not drawn
        self.picks.display = self.words.display = drawn

    @on(PickList.Picked)
    def _picked(self) -> None:
        self._write_words()

    def _write_words(self) -> None:
        if self.answer is not None:
            self.words.show(self.about(self.answer, self.picks.picked))
            self.words.scroll_home(animate=False)
