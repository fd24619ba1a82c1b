"""Past moments as people type them: read as meant, or refused with an example that works."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk.typed_past import EXAMPLE, read_past
from benchconsole.desk.words import moment_words
from benchconsole.errors import BadInput

NOW = datetime(2026, 6, 10, 12, 30, tzinfo=UTC)
"""A Wednesday."""
WAS = datetime(2026, 6, 8, 9, 15, 40, tzinfo=UTC)
BERLIN = tz.gettz("Europe/Berlin")
assert BERLIN is not None


def read(text: str) -> datetime:
    """The one moment meant, in a shop in London's winter time."""
    (only,) = read_past(text, was=WAS, now=NOW, zone=UTC)
    return only


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("14:10", "2026-06-08 14:10"),
        ("2pm", "2026-06-08 14:00"),
        ("8.05 am", "2026-06-08 08:05"),
        ("at 0:00", "2026-06-08 00:00"),
        ("today 9:30", "2026-06-10 09:30"),
        ("Yesterday 14:10", "2026-06-09 14:10"),
        ("yesterday at 14:10", "2026-06-09 14:10"),
        ("Tue 14:10", "2026-06-09 14:10"),
        ("wednesday 12:30", "2026-06-10 12:30"),
        ("Wed 12:31", "2026-06-03 12:31"),
        ("3 May 14:10", "2026-05-03 14:10"),
        ("May 3, 14:10", "2026-05-03 14:10"),
        ("Sun 3 May 14:10", "2026-05-03 14:10"),
        ("24 Dec 9:00", "2025-12-24 09:00"),
        ("10 Jun 12:31", "2025-06-10 12:31"),
        ("29 Feb 9:00", "2024-02-29 09:00"),
        ("2026-05-03 14:10", "2026-05-03 14:10"),
        ("3 May 2024 14:10", "2024-05-03 14:10"),
        ("  3  may   14:10 ", "2026-05-03 14:10"),
    ],
)
def test_a_moment_is_read(text: str, expected: str) -> None:
    """An hour alone is on the day of what is corrected; a day without a year is the last such."""
    assert expected == f"{read(text):%Y-%m-%d %H:%M}"
    assert (0, 0) == (read(text).second, read(text).microsecond)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("20 min earlier", WAS - timedelta(minutes=20)),
        ("1 h 10 min before", WAS - timedelta(minutes=70)),
        ("2 days sooner", WAS - timedelta(days=2)),
        ("5 min later", WAS + timedelta(minutes=5)),
        ("3 h ago", NOW - timedelta(hours=3)),
    ],
)
def test_a_shift_is_read(text: str, expected: datetime) -> None:
    """To the second, from the time that is corrected or from now."""
    assert expected == read(text)


@pytest.mark.parametrize(
    "text",
    [
        *("", "   ", "noon", "8", "20", "3 May", "25:00", "12:60", "24:00", "13pm", "0am"),
        *("31 Feb 9:00", "29 Feb 2025 9:00", "Mon 3 May 2026 9:00", "3 Mayday 9:00", "Xday 9:00"),
        *("9999-99-99 9:00", "0 min earlier", "-5 min earlier", "nan h ago", "9:00 ?"),
        *("3 May 12026 9:00", "999999999 days earlier", "1e99 days ago", "9:00" * 500),
        *("\x00", "[b]9:00[/]"),
    ],
)
def test_what_is_no_moment_is_refused_with_an_example(text: str) -> None:
    """One sentence that names the field, not a traceback, whatever was typed."""
    with pytest.raises(BadInput) as refused:
        read(text)
    assert "time" == refused.value.field
    assert refused.value.example
    assert 300 > len(str(refused.value))


def test_the_example_works() -> None:
    """Every one of the moments that a refusal names can be typed."""
    for example in EXAMPLE.replace(" or ", ", ").split(", "):
        assert read(example) <= NOW


def test_an_hour_that_comes_twice_is_two_moments() -> None:
    """The night the clock goes back; which is meant is for the one who asked to see."""
    was = datetime(2025, 10, 26, 9, tzinfo=UTC)
    first, second = read_past("2:30", was=was, now=NOW, zone=BERLIN)
    assert datetime(2025, 10, 26, 0, 30, tzinfo=UTC) == first
    assert timedelta(hours=1) == second - first


def test_an_hour_that_is_skipped_is_the_one_after() -> None:
    """The night the clock goes ahead, half past two is half past three."""
    was = datetime(2026, 3, 29, 9, tzinfo=UTC)
    assert (datetime(2026, 3, 29, 1, 30, tzinfo=UTC),) == read_past(
        "2:30", was=was, now=NOW, zone=BERLIN
    )


@settings(max_examples=200, deadline=None)
@given(
    minutes=st.integers(0, 8 * 365 * 24 * 60),
    zone=st.sampled_from([UTC, BERLIN, tz.gettz("America/New_York"), tz.gettz("Asia/Kolkata")]),
)
def test_a_moment_as_we_write_it_is_read_back(minutes: int, zone: tz.tzfile) -> None:
    """What a screen shows can be typed again and means the same minute."""
    at = NOW - timedelta(minutes=minutes)
    assert at in read_past(moment_words(at, zone), was=WAS, now=NOW, zone=zone)


@settings(max_examples=200, deadline=None)
@given(text=st.text(max_size=30) | st.from_regex(r"[0-9a-z :.,-]{0,20}", fullmatch=True))
def test_anything_is_read_or_refused(text: str) -> None:
    """No text ends in anything but moments with a zone or a sentence."""
    try:
        moments = read_past(text, was=WAS, now=NOW, zone=BERLIN)
    except BadInput as refused:
        assert str(refused).startswith("time: ")
    else:
        assert 1 <= len(moments) <= 2
        assert all(at.utcoffset() == timedelta(0) for at in moments)
