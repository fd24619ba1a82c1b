"""Times and places in words."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo

import pytest

from benchconsole.schedule.wording import local_day_name, ordinal, sentences, wall_time

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
"""A Monday."""


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (0, "Monday 12:00"),
        (-5, "Wednesday 12:00"),
        (5.99, "Sunday 11:45"),
        (6, "Sunday 8 March 12:00"),
        (-62, "Tuesday 30 December 12:00"),
        (-300, "Tuesday 6 May 2025 12:00"),
        (728, "Monday 28 February 2028 12:00"),
        (729, "Tuesday 29 February 2028 12:00"),
    ],
)
def test_a_day_is_named_so_that_no_other_is_meant(days: float, words: str) -> None:
    """Weekday alone within six days, then the date, and the year when it may be another."""
    assert words == wall_time(NOON + timedelta(days=days), UTC, NOON)


def test_the_wall_is_the_shops(chicago: tzinfo, berlin: tzinfo) -> None:
    """The same instant is another hour, or another day, elsewhere."""
    midnight = datetime(2026, 3, 3, tzinfo=UTC)
    assert "Monday 18:00" == wall_time(midnight, chicago, NOON)
    assert "Tuesday 01:00" == wall_time(midnight, berlin, NOON)
    assert "Monday" == local_day_name(midnight, chicago, NOON)


@pytest.mark.parametrize(
    ("place", "words"),
    [(1, "First"), (8, "Eighth"), (9, "9th"), (11, "11th"), (21, "21st"), (112, "112th")],
)
def test_ordinals(place: int, words: str) -> None:
    """Written out while they are short, in figures after."""
    assert words == ordinal(place)


def test_sentences_are_whole() -> None:
    """Each part gets its capital and its stop once; what says nothing is left out."""
    assert "One thing. “Two” things! Three." == sentences(
        "one thing", "", "“Two” things!", "three."
    )
