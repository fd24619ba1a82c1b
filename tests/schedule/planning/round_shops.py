"""Small made-up shops in whole hours, and a plain reading of what rounds have to keep.

The reading goes by the words of the rule, hour by hour, and shares nothing with the planner: an
attention may wait its interval; where the shop is closed at its end it may wait for the very next
open hour, if that is not longer than the most it may be left.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from hypothesis import strategies as st

from benchconsole.schedule.planning.plans import Round
from benchconsole.schedule.planning.rounds import Tended

T0 = datetime(2026, 3, 2, tzinfo=UTC)
HOUR = timedelta(hours=1)


class Shop(NamedTuple):
    """Attentions as (every, at most, since, until, last), open and busy spans, all in hours."""

    wants: tuple[tuple[int, int, int, int, int | None], ...]
    openings: tuple[tuple[int, int], ...]
    busy: tuple[tuple[int, int], ...]
    come_in: tuple[tuple[int, int], ...]
    now: int
    end: int

    @property
    def tended(self) -> tuple[Tended, ...]:
        """The attentions as the planner takes them."""
        return tuple(
            Tended(
                hide=f"h{place}",
                hide_name=f"hide {place}",
                stage="bath",
                attention=0,
                do="Stir.",
                every=every * HOUR,
                at_most=at_most * HOUR,
                since=at(since),
                until=at(until),
                last=None if last is None else at(last),
            )
            for place, (every, at_most, since, until, last) in enumerate(self.wants)
        )

    @property
    def open_hours(self) -> frozenset[int]:
        """Every open whole hour; the hours of opening and closing count."""
        return frozenset(h for opens, closes in self.openings for h in range(opens, closes + 1))

    @property
    def free_hours(self) -> list[int]:
        """The open hours from now on at which no visit is under way."""
        under_way = {hour for begin, end in self.busy for hour in range(begin + 1, end)}
        return sorted(h for h in self.open_hours - under_way if self.now <= h <= self.end)


def at(hour: int) -> datetime:
    """The instant of an hour."""
    return T0 + hour * HOUR


def hour_of(instant: datetime) -> int:
    """The hour of an instant, which must be a whole one."""
    whole = (instant - T0) // HOUR
    assert at(whole) == instant
    return whole


def spans_at(spans: Sequence[tuple[int, int]]) -> tuple[tuple[datetime, datetime], ...]:
    """Spans of hours as instants."""
    return tuple((at(begin), at(end)) for begin, end in spans)


def is_kept(begin: int, end: int, every: int, at_most: int, open_hours: Collection[int]) -> bool:
    """Whether an attention given at one hour may wait to another."""
    if end - begin <= every:
        return True
    wanted = begin + every
    waits_open = any(hour in open_hours for hour in range(wanted, end))
    return not waits_open and end - begin <= at_most


def is_served(shop: Shop, place: int, walks: Sequence[int]) -> bool:
    """Whether some of these walks, all or none, keep one attention within its limits."""
    every, at_most, since, until, last = shop.wants[place]
    begin = since if last is None else max(since, last)
    hours = [begin, *(hour for hour in walks if max(begin, since) < hour < until), until]
    reached = {0}
    for there in range(1, len(hours)):
        if any(
            is_kept(hours[here], hours[there], every, at_most, shop.open_hours) for here in reached
        ):
            reached.add(there)
    return len(hours) - 1 in reached


def given_hours(rounds: Sequence[Round], place: int) -> list[int]:
    """When one attention is given."""
    return [hour_of(each.at) for each in rounds if any(g.hide == f"h{place}" for g in each.gives)]


@st.composite
def shops(draw: st.DrawFn, days: int = 3, most: int = 4, *, closed: bool = False) -> Shop:
    """Shops of a few days and a few attentions, open for some hours of each day, now early on.

    ``closed``: with whole days closed, on which people may be asked to come in.
    """
    openings, come_in, busy = [], [], []
    for day in range(days):
        opens = 24 * day + draw(st.integers(6, 11))
        closes = opens + draw(st.integers(2, 8))
        shut = closed and draw(st.booleans())
        (come_in if shut else openings).append((opens, closes))
        if not shut and draw(st.booleans()):
            begin = draw(st.integers(opens, closes - 1))
            busy.append((begin, draw(st.integers(begin + 1, closes))))
    end = 24 * days
    hours = [hour for opens, closes in openings for hour in range(opens, closes + 1)]
    now = draw(st.integers(6, 20))
    wants = []
    for _ in range(draw(st.integers(1, most))):
        every = draw(st.integers(1, 12))
        since = draw(st.integers(0, 24 * days - 12))
        untils = [hour for hour in hours if hour > max(since, now)]
        last = draw(st.none() | st.integers(since, now)) if since <= now else None
        if untils:
            until = draw(st.sampled_from(untils))
            wants.append((every, every + draw(st.integers(0, 20)), since, until, last))
    # Two openings more, so that the planner knows how long the last night is.
    later = [(24 * days + 8, 24 * days + 16), (24 * days + 32, 24 * days + 40)]
    return Shop(tuple(wants), (*openings, *later), tuple(busy), tuple(come_in), now, end)
