"""The calendar file: true to the plan, ringing in time, each act under a lasting name."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
import vobject
from dateutil import tz

from benchconsole.exchange.calendar_events import dated
from benchconsole.schedule.planning.plans import Plan
from tests.exchange.planned import DAY, HOUR, NOW, events, plan_of, round_at, visit_of, written

MINUTE = timedelta(minutes=1)


def names(*plans: Plan) -> list[str]:
    """The names of all events, in order."""
    return [event.text("UID") for plan in plans for event in events(written(plan))]


# --- what an event tells --------------------------------------------------------------


def test_a_visit_tells_everything_about_it() -> None:
    """Times, words, window, what spoils and what to have ready; on the wall clock of the shop."""
    (event,) = events(written(plan_of(visit_of()), zone=tz.gettz("Europe/Berlin")))
    assert NOW + DAY + HOUR == event.instant("DTSTART")
    assert NOW + DAY + 2 * HOUR == event.instant("DTEND")
    assert "Brown goat: Rinse and neutralise" == event.text("SUMMARY")
    assert [
        "Rinse, then neutralise.",
        "Monday is full.",
        "Earliest Mon 1 Jun 2026 09:00, due Tue 2 Jun 2026 09:00, "
        "at the latest Thu 4 Jun 2026 09:00.",
        "If it is late: the acid eats the fibre.",
        "Have ready: the mix soda-rinse, tub.",
        "It goes into: tub.",
        "Mill Lane, as it was planned Mon 1 Jun 2026 09:00; all times are by the shop's clock.",
    ] == event.text("DESCRIPTION").splitlines()
    assert "CONFIRMED" == event.text("STATUS")


@pytest.mark.parametrize(
    ("kind", "title"),
    [
        ("begin", "Brown goat: Oil"),
        ("coat", "Brown goat: Oil, next coat"),
        ("check", "Brown goat: Oil, check"),
    ],
)
def test_a_title_says_what_kind_of_act_it_is(kind: str, title: str) -> None:
    """The three acts of one stage are told apart in a list of titles."""
    (event,) = events(written(plan_of(visit_of(kind=kind, stage_name="Oil"))))
    assert title == event.text("SUMMARY")


def test_a_plan_past_the_latest_time_says_so() -> None:
    """No event makes a late act look like one in time."""
    late = visit_of(latest=NOW + DAY)
    assert "This is 1 h past its latest time." in events(written(plan_of(late)))[0].text(
        "DESCRIPTION"
    )


def test_a_round_tells_whom_it_is_for() -> None:
    """Few hides by name, many by number; what to do with each in the description."""
    few, many = events(
        written(plan_of(rounds=(round_at(NOW, "a", "b"), round_at(NOW + HOUR, *"abcd"))))
    )
    assert ("Round: a, b", "Round: 4 hides") == (few.text("SUMMARY"), many.text("SUMMARY"))
    assert "A: stir it.\nB: stir it." in few.text("DESCRIPTION")
    assert few.instant("DTSTART") < few.instant("DTEND")


def test_a_second_library_reads_the_same() -> None:
    """Another program's parser finds the times, texts and alarms that were put in."""
    plan = plan_of(visit_of(hide_name="Grey, old; \\N 🐐"), rounds=(round_at(NOW + 2 * HOUR),))
    whole = vobject.readOne(written(plan).decode())
    whole.validate(raiseException=True)
    walk, visit = whole.vevent_list
    assert "Grey, old; \\N 🐐: Rinse and neutralise" == visit.summary.value
    assert (NOW + DAY + HOUR, NOW + DAY + 2 * HOUR) == (visit.dtstart.value, visit.dtend.value)
    first, last = (alarm.trigger.value for alarm in visit.valarm_list)
    assert (-15 * MINUTE, NOW + 2 * DAY + 10 * HOUR) == (first, last)
    assert [NOW + 2 * HOUR] == [walk.dtstart.value]
    assert "Round: goat" == walk.summary.value


def test_an_empty_plan_is_an_empty_calendar() -> None:
    """Nothing to do is no fault."""
    assert [] == events(written(plan_of()))


def test_a_repeated_hour_is_told_by_its_offset() -> None:
    """02:30 on the morning the clocks go back comes twice, and a calendar is read on any day."""
    berlin = tz.gettz("Europe/Berlin")
    assert berlin is not None
    first, second = (datetime(2026, 10, 25, hour, 30, tzinfo=UTC) for hour in (0, 1))
    assert "Sun 25 Oct 2026 02:30 +02:00" == dated(first, berlin)
    assert "Sun 25 Oct 2026 02:30 +01:00" == dated(second, berlin)
    assert "Sun 25 Oct 2026 03:30" == dated(second + HOUR, berlin)


def test_days_ahead_limit_what_is_written() -> None:
    """What begins at the limit is left out, what begins before it is in."""
    plan = plan_of(visit_of(), visit_of(number=2, starts=NOW + 2 * DAY, ends=NOW + 3 * DAY))
    assert 1 == len(events(written(plan, until=NOW + 2 * DAY)))
    assert 2 == len(events(written(plan, until=NOW + 2 * DAY + MINUTE)))


# --- when it rings --------------------------------------------------------------------


def rings(**given: object) -> list[timedelta | datetime]:
    """When the one visit of a plan rings."""
    (event,) = events(written(plan_of(visit_of(**given))))
    return [alarm.trigger for alarm in event.parts]


def test_the_last_call_comes_in_open_hours() -> None:
    """Something spoils at seven in the morning, so the call comes before the evening's closing."""
    closing = NOW + 2 * DAY + 11 * HOUR
    assert [-15 * MINUTE, closing - HOUR] == rings(latest=NOW + 3 * DAY)


def test_the_last_call_leaves_time_for_the_work() -> None:
    """Three hours of work are called for three hours before the latest time."""
    starts = NOW + DAY
    long = {"starts": starts, "ends": starts + 3 * HOUR, "latest": NOW + 3 * DAY + 9 * HOUR}
    assert [-15 * MINUTE, NOW + 3 * DAY + 6 * HOUR] == rings(**long)


def test_one_alarm_is_enough_where_nothing_spoils() -> None:
    """No latest time, no harm, or a latest time while somebody is at it: the first alarm alone."""
    assert 2 == len(rings())
    assert 1 == len(rings(latest=None))
    assert 1 == len(rings(spoils=""))
    assert 1 == len(rings(latest=NOW + DAY + 3 * HOUR))
    assert 1 == len(rings(latest=NOW))


def test_beyond_the_known_openings_the_last_call_is_not_moved() -> None:
    """A latest time after the plan's end is not called for at the last opening that is planned."""
    assert NOW + 59 * DAY - HOUR == rings(latest=NOW + 59 * DAY)[1]


# --- names ----------------------------------------------------------------------------


def test_an_act_that_moves_keeps_its_name() -> None:
    """Other times, words and hide names change nothing; nor does a new name of the shop."""
    moved = visit_of(
        starts=NOW + 5 * DAY, ends=NOW + 6 * DAY, hide_name="Goat", why="", vessel="drum"
    )
    assert names(plan_of(visit_of())) == names(plan_of(moved))
    (renamed,) = events(written(plan_of(visit_of()), name="Other name"))
    assert names(plan_of(visit_of())) == [renamed.text("UID")]


def test_different_acts_have_different_names() -> None:
    """Hide, stage, kind and number each count, and so does the shop."""
    plans = [
        plan_of(visit_of(**changed))
        for changed in (
            {},
            {"hide": "goat"},
            {"stage": "soak"},
            {"kind": "check"},
            {"number": 2},
            {"hide": "brown-goat/neutralise", "stage": ""},
        )
    ]
    (elsewhere,) = events(written(plans[0], tag="other"))
    given_names = [*names(*plans), elsewhere.text("UID")]
    assert len(plans) + 1 == len(set(given_names))


def test_a_stage_that_is_gone_through_twice_in_one_plan_makes_two_events() -> None:
    """Even acts that the plan numbers alike stay two; the first keeps its name."""
    once = visit_of()
    twice = visit_of(starts=NOW + 9 * DAY, ends=NOW + 9 * DAY + HOUR)
    both = names(plan_of(once, twice))
    assert 2 == len(set(both))
    assert names(plan_of(once)) == both[:1]


def test_rounds_keep_their_names_as_the_day_goes_on() -> None:
    """What is left of the day at noon is named as it was in the morning."""
    rounds = tuple(round_at(NOW + hours * HOUR) for hours in (1, 4, 8, 25))
    assert names(plan_of(rounds=rounds))[1:] == names(plan_of(rounds=rounds[1:]))


def test_a_round_belongs_to_its_local_day() -> None:
    """Late in the evening in the west it is tomorrow in UTC, and still today's last round."""
    west = tz.gettz("America/Los_Angeles")
    evening = round_at(datetime(2026, 6, 2, 5, tzinfo=UTC))  # 22:00 on 1 June there
    noon = round_at(datetime(2026, 6, 1, 19, tzinfo=UTC))
    here, there = (written(plan_of(rounds=(noon, evening)), zone=zone) for zone in (UTC, west))
    assert events(here)[1].text("UID") != events(there)[1].text("UID")
