"""The timer pane: the nearest countdown in big digits, the others in lines under it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import var
from textual.widget import Widget
from textual.widgets import Static

from benchconsole.console.widgets.big_figure import BigFigure
from benchconsole.console.widgets.cells import fitted, plain
from benchconsole.quantities import format_countdown, format_duration

if TYPE_CHECKING:
    from benchconsole.schedule import Countdown

MARKS = {"ringing": "◆", "running": "▸", "paused": "‖", "heard": "■"}
WORDS = {"ringing": "RINGING", "running": "RUNNING", "paused": "PAUSED", "heard": "ENDED"}


class TimerLines(Widget, can_focus=True):
    """All countdowns but drawn as lines; one is chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "Timer above", show=False),
        Binding("down", "step(1)", "Timer below", show=False),
    ]
    chosen: var[str] = var("", init=False)

    @dataclass
    class Chosen(Message):
        """The person moved to a countdown."""

        timer: str

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._countdowns: tuple[Countdown, ...] = ()

    def show(self, countdowns: tuple[Countdown, ...]) -> None:
        """Draw these, the chosen one marked."""
        if countdowns == self._countdowns:
            return
        grown = len(countdowns) != len(self._countdowns)
        self._countdowns = countdowns
        names = self._names
        if self.chosen not in names:
            self.chosen = names[0] if names else ""
        self.refresh(layout=grown)

    @property
    def _names(self) -> list[str]:
        return [countdown.id for countdown in self._countdowns]

    def render(self) -> Content:
        """The lines, as wide as the pane is now."""
        if not self._countdowns:
            return Content("No timer runs; t sets one.")
        width = self.content_size.width
        return Content("\n").join(
            _line(countdown, width, countdown.id == self.chosen) for countdown in self._seen()
        )

    def _seen(self) -> tuple[Countdown, ...]:
        """As many as there are lines for, the chosen one among them."""
        room = max(self.content_size.height, 1)
        names = self._names
        place = names.index(self.chosen) if self.chosen in names else 0
        first = max(0, min(place - room // 2, len(names) - room))
        return self._countdowns[first : first + room]

    def on_click(self, event: events.Click) -> None:
        """Choose by mouse or finger."""
        seen = self._seen()
        if 0 <= event.y < len(seen):
            self.chosen = seen[event.y].id
            self.post_message(self.Chosen(self.chosen))
            self.focus()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """A line a countdown."""
        return max(len(self._countdowns), 1)

    def action_step(self, by: int) -> None:
        """Move the choice."""
        names = self._names
        if names:
            place = names.index(self.chosen) if self.chosen in names else 0
            self.chosen = names[min(max(place + by, 0), len(names) - 1)]
            self.post_message(self.Chosen(self.chosen))

    def watch_chosen(self) -> None:
        """Mark the one chosen now."""
        self.refresh()


class TimerBoard(Vertical):
    """Countdowns: what rings or ends soonest is large."""

    BORDER_TITLE = "Timers"

    def compose(self) -> ComposeResult:
        """Name, big digits, the list."""
        yield Static("", id="timer-name", markup=False)
        yield BigFigure("", id="timer-figure")
        yield TimerLines(id="timer-lines")

    @property
    def is_ringing(self) -> bool:
        """Whether anything rings."""
        return self.has_class("-ringing")

    @property
    def chosen(self) -> str:
        """The chosen countdown's id, empty if there is none."""
        return self.query_one(TimerLines).chosen

    def show(self, countdowns: tuple[Countdown, ...]) -> None:
        """Draw the countdowns of the desk."""
        first = next((c for c in countdowns if c.state in ("ringing", "running")), None)
        name, title = self.query_one("#timer-name", Static), _title(first)
        if title != name.content:
            name.update(title)
        figure = self.query_one(BigFigure)
        figure.show("" if first is None else _figure(first))
        figure.set_class(first is None, "-empty")
        self.set_class(first is not None and first.state == "ringing", "-ringing")
        self.query_one(TimerLines).show(countdowns)


def _figure(countdown: Countdown) -> str:
    span = countdown.left if countdown.state == "running" else countdown.over
    # Hours only where there are some: fewer figures are larger ones.
    return format_countdown(span).removeprefix("0:")


def _title(countdown: Countdown | None) -> Content:
    if countdown is None:
        return Content("")
    if countdown.state == "ringing":
        return Content.styled(
            f"{MARKS['ringing']} TIME IS UP: {plain(countdown.name)}", "bold $text-error"
        )
    return Content.styled(f"{MARKS[countdown.state]} {plain(countdown.name)}", "bold")


def _line(countdown: Countdown, width: int, chosen: bool) -> Content:
    state = f"{MARKS[countdown.state]} {WORDS[countdown.state]:<8}"
    if countdown.state in ("running", "paused"):
        tail = f" {format_countdown(countdown.left)}"
    else:
        minutes = countdown.over // timedelta(minutes=1)
        ago = f"{format_duration(timedelta(minutes=minutes))} ago" if minutes else "just now"
        tail = f" {ago}"
    room = max(width - len(state) - len(tail) - 1, 4)
    edge = "▌" if chosen else " "
    colour = {"ringing": "$text-error", "running": "$text-success"}.get(countdown.state, "")
    return Content.assemble(
        edge,
        (state, f"bold {colour}".strip()),
        (fitted(plain(countdown.name), room), "bold" if chosen else ""),
        tail,
    )
