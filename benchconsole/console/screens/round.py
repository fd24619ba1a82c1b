"""A round: the walk vessel by vessel, what to give at each hide, one tap for all of it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Any, ClassVar

import msgspec
from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Button, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.keynames import key_words
from benchconsole.console.screens.pages import HelpOnPage
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.tick_list import TickLine, TickList
from benchconsole.console.wording import at_the_wall, relative
from benchconsole.errors import NotPossibleNow
from benchconsole.quantities import format_duration

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen
    from benchconsole.desk.views import RoundLine, RoundSheet


class GoRound(Act["BenchScreen"]):
    """Go the round: all that wants stirring, turning or damping now, logged with one tap."""

    keys = "h"
    label = "Round"
    settle_s = 0.5

    def run(self, screen: BenchScreen) -> None:
        """Open the round, or say when the next one is due."""

        def logged(answer: tuple[str, str] | None) -> None:
            screen.look_again()
            if answer is not None:
                hide, sentence = answer
                screen.answered(f"round/{hide}", sentence)

        desk = screen.console.desk
        sheet = desk.rounds.sheet(desk.planning.current)
        screen.app.push_screen(RoundScreen(sheet), logged)


class LogRound(Act["RoundScreen"]):
    """Log everything that is ticked as given now; u on the bench takes all of it back."""

    keys = "enter"
    label = "Log it"
    records = True
    settle_s = 0.5

    def run(self, screen: RoundScreen) -> None:
        """Give it to the desk; a round that has grown old is shown anew."""
        try:
            screen.give()
        except NotPossibleNow:
            screen.renew()
            raise


class Tick(Act["RoundScreen"]):
    """Tick the chosen line, or leave it out of the round; a tap on the line does the same."""

    keys = "space"
    label = "Tick"

    def run(self, screen: RoundScreen) -> None:
        """Turn the tick."""
        screen.turn(screen.walk.chosen)


class LeaveRound(Act["RoundScreen"]):
    """Back to the bench; nothing is logged."""

    keys = "escape"
    label = "Leave"

    def run(self, screen: RoundScreen) -> None:
        """Close the page."""
        screen.dismiss(None)


class RoundScreen(ActScreen["tuple[str, str] | None"]):
    """Dismissed with a hide of the round and the sentence to show, or None."""

    AUTO_FOCUS = "#round-list"
    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (LogRound, Tick, LeaveRound, HelpOnPage)

    walk = query_one("#round-list", TickList)

    def __init__(self, sheet: RoundSheet) -> None:
        super().__init__()
        self._sheet = sheet
        self._by_hand: dict[str, bool] = {}
        self._minute: datetime | None = None

    @property
    def pressed_for(self) -> str:
        """Space counts for the line it is pressed on."""
        return self.walk.chosen if self.is_mounted else ""

    def compose(self) -> ComposeResult:
        """Heading, the walk, a button for every act."""
        yield Static(id="heading", classes="heading", markup=False)
        yield TickList(id="round-list")
        with Horizontal(classes="buttons"):
            for act in (act for act in self.acts() if act.has_button):
                key = key_words(act.keys.split(",")[0])
                yield Button(
                    Content(f"{act.label}  ({key})"), action=f"screen.act('{act.__name__}')"
                )

    def on_mount(self) -> None:
        """Write the page."""
        self.write()

    def look_again(self) -> None:
        """Once a minute the times have changed, and something more may have come up."""
        if not self.is_mounted or not self.console.is_open:
            return
        minute = self.console.desk.now().replace(second=0, microsecond=0)
        if self._minute is not None and self._minute != minute:
            self.renew()
        self._minute = minute
        self.write()

    def renew(self) -> None:
        """The round as it stands now; what was ticked or left out by hand stays so."""
        desk = self.console.desk
        try:
            self._sheet = desk.rounds.sheet(desk.planning.current)
        except NotPossibleNow:
            # What stands there was given meanwhile; logging it will be refused in words.
            return
        self.write()

    def write(self) -> None:
        """Draw heading and lines."""
        lines = [Content(plain(words)) for words in self._heading()]
        self.query_one("#heading", Static).update(Content("\n").join(lines))
        self.walk.show(list(self._lines()), self._ticked())

    def turn(self, line: str) -> None:
        """Tick a line, or take its tick away."""
        if line:
            self._by_hand[line] = line not in self._ticked()
            self.write()

    def give(self) -> None:
        """Log what is ticked, and leave with the answer."""
        ticked = self._ticked()
        gives = tuple(line.given for line in self._sheet.lines if _name(line) in ticked)
        sentence = self.console.desk.rounds.give(
            msgspec.structs.replace(self._sheet.round, gives=gives)
        )
        self.dismiss((gives[0].hide, sentence))

    @on(TickList.Tapped)
    def _tapped(self, event: TickList.Tapped) -> None:
        self.turn(event.line)

    def _ticked(self) -> frozenset[str]:
        """What is needed is ticked, what can wait is not, unless a person turned it."""
        return frozenset(
            name
            for line in self._sheet.lines
            if self._by_hand.get(name := _name(line), line.needed)
        )

    def _heading(self) -> Iterator[str]:
        desk, then = self.console.desk, self._sheet.then
        now = desk.now()
        lines = [line for line in self._sheet.lines if _name(line) in self._ticked()]
        hides = len({line.given.hide for line in lines})
        work = sum((line.work for line in lines), timedelta(0))
        words = [
            f"Round  ·  {desk.local(now):%a %d %b %H:%M}",
            f"{hides} hide{'' if hides == 1 else 's'} ticked"
            + (f", about {format_duration(work)}" if work else ""),
        ]
        if then is not None:
            words.append(f"next {at_the_wall(then, now, desk.zone)}")
        yield "  ·  ".join(words)
        if why := self._sheet.round.why:
            yield f"▲ {why[:1].upper()}{why[1:]}."

    def _lines(self) -> Iterator[TickLine]:
        """The walk: every vessel and stage with the hides in it."""
        for (vessel, stage), group in groupby(
            self._sheet.lines, key=lambda line: (line.vessel, line.stage_name)
        ):
            yield TickLine("", f"{vessel.upper()}  ·  {stage}" if vessel else stage)
            for line in group:
                lot = f" ×{line.count}" if line.count > 1 else ""
                yield TickLine(
                    _name(line),
                    f"{line.given.hide_name}{lot}",
                    (line.given.do, self._times(line)),
                )

    def _times(self, line: RoundLine) -> str:
        now, zone = self.console.desk.now(), self.console.desk.zone
        since = line.since if line.last is None else line.last
        word = "wanted since" if line.last is None else "last"
        times = (
            f"{word} {at_the_wall(since, now, zone)}, {relative(since, now)}; "
            f"every {format_duration(line.every)}, {format_duration(line.at_most)} at most"
        )
        over = now - since - line.at_most
        if over.total_seconds() > 0:
            return f"▲ {times}"
        return times if line.needed else f"can wait for the round after; {times}"


def _name(line: RoundLine) -> str:
    """A word for a line that stays the same from one picture of the round to the next."""
    return f"{line.given.hide}/{line.given.stage}/{line.given.attention}"
