"""The day sheet: what is planned day by day; until there is a plan, every hide's next action."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo
from itertools import groupby

from benchconsole.console.acts import Act
from benchconsole.console.keynames import key_words
from benchconsole.console.screens.bench_acts import TakeIn
from benchconsole.console.screens.pages import PageScreen
from benchconsole.console.screens.plan_lines import plan_lines
from benchconsole.console.screens.writing import action_lines, state_line
from benchconsole.console.widgets.paper import BLANK, Written
from benchconsole.schedule import Action, by_due
from benchconsole.schedule.planning.plans import Plan

EMPTY = f"No hides yet. Go back and press {key_words(TakeIn.keys)} to take one in."


REWORKED = "This is the plan of {made}: something happened since, and it is being worked out anew."
"""Above a plan that is no longer true."""


class TimelineFromSheet(Act["DaySheetScreen"]):
    """The plan as a picture: hides by days, with holds, visits and rounds."""

    keys = "z"
    label = "Timeline"

    def run(self, screen: DaySheetScreen) -> None:
        """Open the timeline over the sheet."""
        from benchconsole.console.screens.timeline import TimelineScreen

        screen.app.push_screen(TimelineScreen())


class DaySheetScreen(PageScreen):
    """The plan of the shop in writing, or all hides in due order while there is none."""

    ACTS = (TimelineFromSheet,)

    def heading(self) -> str:
        """The day and the hour."""
        desk = self.console.desk
        local = desk.local(desk.now())
        return f"Day sheet  ·  {local:%A %d %B %Y, %H:%M}  ·  {desk.shop.name}"

    def left(self) -> Sequence[Written]:
        """The planned days; the actions under their days as long as nothing is planned."""
        plan = self.console.plan
        actions = self.console.desk.hides.day_sheet()
        if plan is not None and plan.hides:
            return self._planned(plan, actions)
        return self._each_alone(actions)

    def _moment(self) -> tuple[object, ...]:
        return (*super()._moment(), self.console.plan)

    def _planned(self, plan: Plan, actions: Sequence[Action]) -> list[Written]:
        desk = self.console.desk
        lines: list[Written] = []
        if desk.planning.current is not plan:
            made = f"{desk.local(plan.made_at):%H:%M}"
            lines += [Written(REWORKED.format(made=made), "due"), BLANK]
        lines += plan_lines(plan, desk.now(), desk.zone)
        finished = [action for action in actions if action.state == "finished"]
        if finished:
            lines += [Written("FINISHED", "head")]
            lines += [state_line(action, of=action.hide_name) for action in finished]
        return lines

    def _each_alone(self, actions: Sequence[Action]) -> list[Written]:
        desk = self.console.desk
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
