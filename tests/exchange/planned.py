"""Plans made by hand, for the tests of what leaves the shop."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta, tzinfo

import msgspec

from benchconsole.exchange.calendar import calendar_events, calendar_file
from benchconsole.exchange.calendar_events import CalendarEvent
from benchconsole.schedule.planning.plans import Given, HidePlan, Plan, Round, Visit
from tests.exchange.calendar_grammar import Component, read_strictly

NOW = datetime(2026, 6, 1, 7, tzinfo=UTC)
"""A Monday."""
HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def visit_of(**given: object) -> Visit:
    """The goat is rinsed tomorrow from eight to nine, apart from what is given."""
    plain = Visit(
        hide="brown-goat",
        hide_name="Brown goat",
        stage="neutralise",
        stage_name="Rinse and neutralise",
        kind="begin",
        action="Rinse, then neutralise.",
        starts=NOW + DAY + HOUR,
        ends=NOW + DAY + 2 * HOUR,
        earliest=NOW,
        due=NOW + DAY,
        latest=NOW + 3 * DAY,
        spoils="The acid eats the fibre.",
        ready=("the mix soda-rinse", "tub"),
        why="Monday is full.",
        vessel="tub",
    )
    return msgspec.structs.replace(plain, **given)


def round_at(at: datetime, *hides: str) -> Round:
    """A round that stirs some hides."""
    return Round(
        at=at,
        gives=tuple(
            Given(hide=hide, hide_name=hide, stage="alum", attention=0, do="Stir it.")
            for hide in hides or ("goat",)
        ),
        latest=at + 2 * HOUR,
    )


def plan_of(*visits: Visit, rounds: tuple[Round, ...] = (), **given: object) -> Plan:
    """A plan of five weeks for a shop that is open from 08:00 to 18:00 in UTC every day."""
    hides = dict.fromkeys((visit.hide, visit.hide_name) for visit in visits)
    plain = Plan(
        made_at=NOW,
        until=NOW + 35 * DAY,
        hides=tuple(
            HidePlan(
                hide=hide,
                hide_name=name,
                lies_in="soak",
                since=None,
                visits=tuple(visit for visit in visits if visit.hide == hide),
            )
            for hide, name in hides
        ),
        openings=tuple((NOW + HOUR + day * DAY, NOW + 11 * HOUR + day * DAY) for day in range(35)),
        rounds=rounds,
    )
    return msgspec.structs.replace(plain, **given)


def written(
    plan: Plan,
    *,
    now: datetime = NOW,
    zone: tzinfo = UTC,
    name: str = "Mill Lane",
    tag: str = "tag",
    until: datetime | None = None,
    earlier: Sequence[CalendarEvent] = (),
) -> bytes:
    """The calendar file of a plan for a shop in UTC, apart from what is given."""
    events = calendar_events(
        plan, zone=zone, shop_name=name, shop_tag=tag, now=now, until=until, earlier=earlier
    )
    return calendar_file(events, shop_name=name, shop_tag=tag, now=now)


def events(body: bytes) -> list[Component]:
    """The events of a file that the strict grammar takes."""
    return read_strictly(body).parts
