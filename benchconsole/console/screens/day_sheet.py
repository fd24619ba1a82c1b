"""The day sheet: the next action of every hide, day by day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo
from itertools import groupby

from benchconsole.console.acts import Act
from benchconsole.console.keynames import key_words
from benchconsole.console.screens.bench_acts import TakeIn
from benchconsole.console.screens.pages import PageScreen
from benchconsole.console.screens.writing import action_lines, state_line
from benchconsole.console.widgets.paper import BLANK, Written
from benchconsole.schedule import Action, by_due

EMPTY = f"No hides yet. Go back and press {key_words(TakeIn.keys)} to take one in."


class TimelineFromSheet(Act["DaySheetScreen"]):
    """The plan as a picture: hides by days, with holds, visits and rounds."""

    keys = "z"
    label = "Timeline"

    def run(self, screen: DaySheetScreen) -> None:
        """Open the timeline over the sheet."""
        from benchconsole.console.screens.timeline import TimelineScreen

        screen.app.push_screen(TimelineScreen())


class DaySheetScreen(PageScreen):
    """All hides in due order."""

    ACTS = (TimelineFromSheet,)

    def heading(self) -> str:
        """The day and the hour."""
        desk = self.console.desk
        local = desk.local(desk.now())
        return f"Day sheet  ·  {local:%A %d %B %Y, %H:%M}  ·  {desk.shop.name}"

    def left(self) -> Sequence[Written]:
        """The actions, under their days."""
        desk = self.console.desk
        actions = desk.hides.day_sheet()
        if not actions:
            return [Written(EMPTY)]
        now, zone = desk.now(), desk.zone
        lines: list[Written] = []
        # The sort keeps their order under each heading.
        ordered = sorted(by_due(actions), key=lambda action: _day(action, now, zone)[0])
        for (_, day), group in groupby(ordered, key=lambda action: _day(action, now, zone)):
            lines += [Written(day, "head")]
            for action in group:
                if action.kind == "none":
                    lines.append(state_line(action, of=action.hide_name))
                else:
                    of = action.hide_name
                    lines += [*action_lines(action, now, zone, desk.library, of=of), BLANK]
        return lines


def _day(action: Action, now: datetime, zone: tzinfo) -> tuple[int, str]:
    """The local day of an action, counted from today, and its name."""
    if action.state == "finished":
        return 10**6, "FINISHED"
    today = now.astimezone(zone).date()
    due = action.due.astimezone(zone).date()
    days = (due - today).days
    if action.state == "overdue":
        return -2, "OVERDUE"
    if days < 0:
        return -1, "FROM BEFORE TODAY"
    if days == 0:
        return 0, f"TODAY, {due:%A %d %B}"
    if days == 1:
        return 1, f"TOMORROW, {due:%A %d %B}"
    year = f" {due:%Y}" if due.year != today.year else ""
    return days, f"{due:%A %d %B}{year}".upper()
