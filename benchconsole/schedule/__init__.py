"""What next and when, as pure functions of routes, history, hours and ``now``.

No drawing, no storing, no reading of the clock.
"""

from benchconsole.schedule.actions import STATE_ORDER, Action, ActionKind, ActionState
from benchconsole.schedule.beginnings import lying_in
from benchconsole.schedule.countdowns import Countdown, countdowns
from benchconsole.schedule.day_sheet import action_of, by_due, by_urgency, day_sheet
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.moving import attended_there, lies_in_it
from benchconsole.schedule.next_action import next_action, open_actions
from benchconsole.schedule.steps import (
    Allowed,
    allowed_acts,
    events_for_attended,
    events_for_done,
    events_for_not_yet,
)

__all__ = [
    "STATE_ORDER",
    "Action",
    "ActionKind",
    "ActionState",
    "Allowed",
    "Countdown",
    "Hours",
    "action_of",
    "allowed_acts",
    "attended_there",
    "by_due",
    "by_urgency",
    "countdowns",
    "day_sheet",
    "events_for_attended",
    "events_for_done",
    "events_for_not_yet",
    "lies_in_it",
    "lying_in",
    "next_action",
    "open_actions",
]
