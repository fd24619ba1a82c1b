"""When the plan of the shop has a hide's next visit, in few words for the bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.wording import at_the_wall, relative

if TYPE_CHECKING:
    from collections.abc import Sequence

    from benchconsole.desk import Desk
    from benchconsole.desk.views import HideRow

REWORKED = "…"
"""Behind a time of a plan that is being worked out anew, since something happened."""


def planned_times(desk: Desk, rows: Sequence[HideRow]) -> dict[str, str]:
    """``planned Thu 12:45`` for every hide whose next action the plan has at another time."""
    now, mark = desk.now(), "" if desk.planning.current else REWORKED
    found = {}
    for row in rows:
        visit = desk.planning.moved(row.hide, row.action)
        if visit is not None:
            found[row.hide.id] = f"planned {at_the_wall(visit.starts, now, desk.zone)}{mark}"
    return found


def planned_words(desk: Desk, row: HideRow | None) -> str:
    """The same of one hide as a line: with the reason, or what visit comes after its rounds."""
    if row is None or (visit := desk.planning.next_visit(row.hide)) is None:
        return ""
    now = desk.now()
    at = f"{at_the_wall(visit.starts, now, desk.zone)} ({relative(visit.starts, now)})"
    anew = "" if desk.planning.current else "; the plan is being worked out anew"
    if desk.planning.moved(row.hide, row.action) is not None:
        return f"planned {at}{f': {visit.why}' if visit.why else ''}{anew}"
    if row.action.kind == "attend":
        return f"next visit planned {at}: {visit.stage_name}{anew}"
    return ""
