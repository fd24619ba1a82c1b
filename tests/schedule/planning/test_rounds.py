"""Rounds by example: nights, Sundays, visits, what a walk now gives. Figures invented."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from benchconsole.schedule.planning.plans import Round
from benchconsole.schedule.planning.rounds import Tended, WalkNow, rounds_for, walk_now

MONDAY = datetime(2026, 6, 1, tzinfo=UTC)
HOUR = timedelta(hours=1)
WEEK = tuple(
    (MONDAY + day * 24 * HOUR + 8 * HOUR, MONDAY + day * 24 * HOUR + 18 * HOUR)
    for day in range(14)
    if day % 7 != 6
)
SUNDAYS = tuple(
    (MONDAY + day * 24 * HOUR + 8 * HOUR, MONDAY + day * 24 * HOUR + 18 * HOUR) for day in (6, 13)
)


def on(day: int, hour: float) -> datetime:
    """An hour of a day of the week, Monday being 0."""
    return MONDAY + (24 * day + hour) * HOUR


def bath(
    name: str, every: float, at_most: float, since: datetime, until: datetime | None = None
) -> Tended:
    """Something to stir since an instant."""
    return Tended(
        hide=name.replace(" ", "-"),
        hide_name=name,
        stage="bath",
        attention=0,
        do="Stir.",
        every=every * HOUR,
        at_most=at_most * HOUR,
        since=since,
        until=until,
    )


def _rounds(*tended: Tended, now: datetime, days: int = 2) -> tuple[Round, ...]:
    return rounds_for(tended, WEEK, now, now + days * 24 * HOUR, come_in=SUNDAYS)


def _times(rounds: tuple[Round, ...]) -> list[datetime]:
    return [each.at for each in rounds]


def test_hides_that_come_due_one_after_another_share_a_walk() -> None:
    """The first limit calls for the walk, and what could not wait for the next goes with it."""
    rounds = _rounds(bath("A", 8, 24, on(0, 8)), bath("B", 8, 24, on(0, 9)), now=on(0, 9.5), days=1)
    assert _times(rounds)[0] == on(0, 16)
    assert [given.hide for given in rounds[0].gives] == ["A", "B"]
    assert rounds[0].latest == on(1, 8)
    assert rounds[0].why == ""


def test_an_attention_waits_for_a_walk_that_comes_anyway() -> None:
    """Beside a hide worked every half hour a bath is stirred every 8 h, not at each walk."""
    rounds = _rounds(
        bath("bath", 8, 24, on(0, 8)), bath("skin", 0.5, 16, on(0, 8)), now=on(0, 8), days=1
    )
    stirred = [each.at for each in rounds if any(g.hide == "bath" for g in each.gives)]
    assert stirred[0] == on(0, 16)
    assert len(rounds) > 20


def test_a_night_is_slept_through_where_the_attention_can_wait() -> None:
    """Given at 16:00, 8 h end at midnight: opening time is 16 h after, and soon enough."""
    assert _times(_rounds(bath("A", 8, 16, on(0, 16)), now=on(0, 17)))[0] == on(1, 8)


def test_before_a_night_that_is_too_long_it_is_given_at_closing() -> None:
    """Given at 15:00 it cannot wait for 8:00, given at 18:00 it can; the reason says so."""
    (first, second, *_) = _rounds(bath("A", 8, 16, on(0, 15)), now=on(0, 15.5))
    assert (first.at, second.at) == (on(0, 18), on(1, 8))
    assert first.why == "before closing: “A” cannot wait for the next opening"


def test_a_night_that_is_too_long_anyway_asks_somebody_to_stay() -> None:
    """The round at closing says that it will be left too long, the one at opening how much."""
    night = _rounds(bath("A", 2, 6, on(0, 16)), now=on(0, 16))
    assert _times(night)[:2] == [on(0, 18), on(1, 8)]
    assert night[0].why.startswith("nobody comes for 14 h after this, longer than the 6 h that “A”")
    assert "somebody must stay or come in" in night[0].why
    assert night[1].why == "“A” past the limit: 8 h longer than the 6 h it may be left"


def test_a_closed_day_that_is_too_long_asks_somebody_to_come_in_at_a_decent_hour() -> None:
    """Saturday 18:00 to Monday 8:00 is 38 h: once on Sunday at 8:00, then 24 h to Monday."""
    rounds = _rounds(bath("A", 12, 24, on(5, 18)), now=on(5, 18), days=2)
    assert _times(rounds)[:2] == [on(6, 8), on(7, 8)]
    assert rounds[0].why == ("the shop is closed then and no open time fits: somebody must come in")


def test_coming_in_on_a_closed_day_is_asked_for_once_for_all() -> None:
    """One may wait until 14:00 at the latest, one until 12:00: both are given at one walk.

    The first lasts 20 h, so that from 12:00 it just reaches Monday 8:00.
    """
    rounds = _rounds(
        bath("A", 12, 20, on(5, 18)), bath("B", 12, 18, on(5, 18)), now=on(5, 18), days=1.6
    )
    assert _times(rounds) == [on(6, 12), on(7, 8)]
    assert [g.hide for g in rounds[0].gives] == ["A", "B"]
    assert "nobody comes for 20 h after this, longer than the 18 h that “B”" in rounds[0].why
    assert rounds[1].why == "“B” past the limit: 2 h longer than the 18 h it may be left"


def test_what_is_late_is_given_at_once_or_at_opening() -> None:
    """At an open hour now; at night when the shop opens, with the lateness said."""
    late = bath("A", 2, 6, on(0, 8))
    (first, *_) = _rounds(late, now=on(0, 17))
    assert first.at == on(0, 17)
    assert "3 h longer than the 6 h" in first.why
    (first, *_) = _rounds(late, now=on(0, 23))
    assert first.at == on(1, 8)


def test_a_walk_stands_before_the_visit_it_would_fall_into() -> None:
    """The limit is 16:00 and hands are busy from 15:00 to 17:00: the walk is at 15:00."""
    rounds = rounds_for(
        [bath("A", 8, 16, on(0, 8))], WEEK, on(0, 9), on(0, 17), busy=[(on(0, 15), on(0, 17))]
    )
    assert _times(rounds) == [on(0, 15)]
    (during, *_) = rounds_for(
        [bath("A", 1, 16, on(0, 15))], WEEK, on(0, 15), on(0, 17), busy=[(on(0, 15), on(0, 17))]
    )
    assert during.at == on(0, 16)
    assert during.why == "the hands are at a visit then: break off for it"


def test_what_moves_on_before_its_interval_is_over_needs_no_round() -> None:
    """A hide that is looked at 16:00 is not stirred for it."""
    assert _rounds(bath("A", 8, 24, on(0, 9), on(0, 16)), now=on(0, 9)) == ()


def _walk(*tended: Tended, now: datetime) -> WalkNow | None:
    return walk_now(tended, WEEK, now, now + 72 * HOUR, come_in=SUNDAYS)


def test_a_walk_now_gives_what_cannot_wait_for_the_one_after() -> None:
    """The bath due at 17:00 goes along with the one due now; the next walk is tomorrow."""
    walk = _walk(bath("A", 8, 24, on(0, 8)), bath("B", 8, 24, on(0, 9)), now=on(0, 16))
    assert walk is not None
    assert [given.hide for given in walk.round.gives] == ["A", "B"]
    assert walk.may == ()
    assert walk.then == on(1, 8)


def test_a_walk_now_may_give_what_can_wait_and_leaves_what_was_just_given() -> None:
    """Beside a skin worked every half hour the bath can wait; one given an hour ago is left out."""
    walk = _walk(
        bath("skin", 0.5, 16, on(0, 11.5)),
        bath("bath", 8, 24, on(0, 9)),
        bath("fresh", 8, 24, on(0, 11)),
        now=on(0, 12),
    )
    assert walk is not None
    assert [given.hide for given in walk.round.gives] == ["skin"]
    assert [given.hide for given in walk.may] == ["bath"]
    assert walk.then == on(0, 12.5)
    assert _walk(bath("fresh", 8, 24, on(0, 11)), now=on(0, 12)) is None


def test_a_walk_at_the_planned_time_gives_what_was_planned() -> None:
    """The page that is opened when a round is due lists what the round was said to give."""
    tended = (
        bath("A", 8, 24, on(0, 8)),
        bath("B", 6, 24, on(0, 10)),
        bath("C", 12, 24, on(0, 9)),
        bath("D", 1, 16, on(0, 14)),
    )
    (planned, *_) = _rounds(*tended, now=on(0, 14), days=3)
    walk = _walk(*tended, now=planned.at)
    assert walk is not None
    assert walk.round.gives == planned.gives
    assert [given.hide for given in planned.gives] == ["D"]
