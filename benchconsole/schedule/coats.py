"""Coats of a dressing: one after another, with a timed wait between."""

from __future__ import annotations

from datetime import datetime

from benchconsole.model.routes import CoatWaits
from benchconsole.quantities import format_duration
from benchconsole.schedule.actions import Action
from benchconsole.schedule.standing import Act, Standing
from benchconsole.schedule.windows import as_asked, said_if_closed
from benchconsole.schedule.wording import ordinal


def coats_left(coats: CoatWaits | None, given: int) -> int:
    """How many coats are still to give."""
    return 0 if coats is None else max(0, coats.count - given)


def coat_action(standing: Standing, coats: CoatWaits) -> Action:
    """The next coat. Its wait is short and counts as elapsed time, so hours do not move it."""
    last: datetime = standing.hold_from
    coat = len(standing.hide.coats_at) + 1
    window = said_if_closed(
        as_asked(last + coats.wait_min, last + coats.wait_target, last + coats.wait_max),
        standing.hours,
    )
    gone_on = ordinal(coat - 1).lower()
    spoiled = f"; the rest is spoiled ({why}): make it anew" if (why := _spoiled(standing)) else ""
    act = Act(
        kind="coat",
        words=f"{ordinal(coat)} of {coats.count} coats: put on {_part(coat, coats.count)}, "
        "shaken again.",
        because=f"the {gone_on} coat went on {standing.wall(last)} and wants "
        f"{format_duration(coats.wait_target)}{spoiled}",
        early=f"before {standing.wall(window.earliest)} the skin has not taken it up",
        harm=standing.stage,
        coat=coat,
    )
    return standing.action(act, window)


def _spoiled(standing: Standing) -> str:
    return standing.hide.spoiled_why if standing.hide.spoiled_at is not None else ""


def _part(coat: int, count: int) -> str:
    if count == 2:
        return "the other half"
    return "the last part" if coat == count else "the next part"
