"""Shops with any openings, closed days and time away, in the order in which they are kept."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from hypothesis import strategies as st

from benchconsole.desk.typed_rules import Again
from benchconsole.model.opening import (
    DatedOpening,
    DayRule,
    DaySpan,
    OpenRule,
    OpenSpan,
    TimeSpan,
)
from benchconsole.model.shop import Shop
from tests.desk.rules_to_type import AGAIN

DAYS = st.dates(date(2025, 1, 1), date(2035, 12, 31))
_SEASON = datetime(2026, 10, 1, tzinfo=UTC)


def _times(start: int, length: int) -> dict[str, time]:
    end = start + length
    return {
        "opens": time(start // 60, start % 60),
        "closes": time(end // 60 % 24, end % 60),
    }


times = st.builds(_times, st.integers(0, 1200), st.integers(1, 240))


def _by_again(again: Again, clock: dict[str, time]) -> OpenRule:
    return OpenRule(rule=again.rule, starts=again.starts, **clock)


def _ordered(values: Any, *fields: str) -> Any:
    """The values of a set as a tuple in the order of these fields."""
    return values.map(
        lambda found: tuple(sorted(found, key=lambda one: tuple(getattr(one, f) for f in fields)))
    )


# Two openings of one rule would be brought together, so rules are apart here.
_rules = st.lists(st.builds(_by_again, AGAIN, times), max_size=3, unique_by=lambda one: one.rule)
_spans = _ordered(
    st.sets(
        st.builds(
            lambda first, days: DaySpan(first=first, last=first + timedelta(days)),
            DAYS,
            st.integers(0, 40),
        ),
        max_size=3,
    ),
    "first",
    "last",
)
_moments = st.builds(
    lambda minutes, length, seconds: TimeSpan(
        start=_SEASON + timedelta(minutes=minutes),
        end=_SEASON + timedelta(minutes=minutes + length, seconds=seconds),
    ),
    # Six weeks with both autumn changes in them.
    st.integers(0, 42 * 24 * 60),
    st.integers(1, 5000),
    st.sampled_from([0, 0, 0.25, 30]),
)
calendars: st.SearchStrategy[Shop] = st.builds(
    Shop,
    hours=_ordered(
        st.sets(
            st.builds(lambda day, clock: OpenSpan(weekday=day, **clock), st.integers(0, 6), times),
            min_size=1,
            max_size=5,
        ),
        *("weekday", "opens", "closes"),
    ),
    hours_by_rule=_rules.map(tuple),
    closed=_spans,
    closed_by_rule=st.lists(
        st.builds(
            lambda again, days: DayRule(rule=again.rule, starts=again.starts, days=days),
            AGAIN,
            st.integers(1, 100),
        ),
        max_size=3,
        unique=True,
    ).map(tuple),
    extra=_ordered(
        st.sets(
            st.builds(lambda day, clock: DatedOpening(day=day, **clock), DAYS, times), max_size=3
        ),
        *("day", "opens", "closes"),
    ),
    away=_spans,
    away_times=_ordered(st.sets(_moments, max_size=3), "start", "end"),
)
