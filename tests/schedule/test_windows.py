"""Windows brought inside the hours: which way a due time moves, and what is said about it."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, tzinfo

import pytest

from benchconsole.model.shop import OpenSpan
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.windows import as_asked, inside_hours, said_if_closed


def _utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


@pytest.mark.parametrize(
    ("earliest", "ideal", "latest", "due", "why"),
    [
        ("2026-03-02 06:00", "2026-03-02 12:00", "2026-03-03 00:00", "2026-03-02 12:00", ""),
        (
            "2026-02-28 06:00",
            "2026-03-01 12:00",
            "2026-03-02 17:00",
            "2026-03-02 08:00",
            "closed Sunday; Monday 08:00 is still 9 h inside the window",
        ),
        (
            "2026-03-02 19:00",
            "2026-03-02 20:00",
            "2026-03-03 08:00",
            "2026-03-03 08:00",
            "closed Monday 20:00; Tuesday 08:00 is the very end of the window",
        ),
        (
            "2026-02-28 18:00",
            "2026-03-01 12:00",
            "2026-03-02 07:59",
            "2026-02-28 18:00",
            "closed Sunday and the next opening is too late; "
            "Saturday 18:00 is the last open moment before",
        ),
        (
            "2026-02-28 18:01",
            "2026-03-01 12:00",
            "2026-03-02 07:59",
            "2026-03-01 12:00",
            "closed Sunday and no open time fits: somebody must come in",
        ),
        (
            "2026-03-02 19:00",
            "2026-03-02 20:00",
            None,
            "2026-03-03 08:00",
            "closed Monday 20:00; Tuesday 08:00 is the next opening",
        ),
        (
            "2026-03-02 01:00",
            "2026-03-02 20:00",
            "2026-03-02 04:00",
            "2026-03-03 08:00",
            "closed Monday 20:00; Tuesday 08:00 is the next opening",
        ),
    ],
)
def test_where_a_due_time_goes(
    hours: Hours, earliest: str, ideal: str, latest: str | None, due: str, why: str
) -> None:
    """Kept if open; then the next opening; then the last open moment; else kept and said."""
    window = inside_hours(_utc(earliest), _utc(ideal), (latest and _utc(latest)) or None, hours)
    assert (_utc(due), _utc(ideal), why) == (window.due, window.ideal, window.why)


def test_never_open_keeps_the_time_and_says_so() -> None:
    """Without open hours nothing can be moved; the hide still has its time."""
    noon = _utc("2026-03-02 12:00")
    window = inside_hours(noon, noon, None, Hours((), (), UTC))
    assert noon == window.due
    assert window.why == "the shop has no open hours, so this time stands"


def test_a_holiday_is_named_by_its_weekday(weekday_spans: tuple[OpenSpan, ...]) -> None:
    """A closed day reads like any day without openings."""
    hours = Hours(weekday_spans, (date(2026, 3, 4),), UTC)
    at = _utc("2026-03-04 12:00")
    window = inside_hours(at, at, at + timedelta(hours=24), hours)
    assert window.why == "closed Wednesday; Thursday 08:00 is still 4 h inside the window"


def test_words_are_in_the_shops_own_time(
    weekday_spans: tuple[OpenSpan, ...], chicago: tzinfo
) -> None:
    """Over the American spring change the margin is elapsed hours, the times wall-clock ones."""
    hours = Hours(weekday_spans, (), chicago)
    ideal = _utc("2026-03-08 02:00")  # Saturday 20:00, winter time
    window = inside_hours(ideal, ideal, ideal + timedelta(hours=36), hours)
    assert _utc("2026-03-09 13:00") == window.due  # Monday 08:00, summer time, 35 h later
    assert window.why == "closed Saturday 20:00; Monday 08:00 is still 1 h inside the window"


def test_a_time_far_off_carries_its_date(weekday_spans: tuple[OpenSpan, ...]) -> None:
    """A weekday alone would be read as this week's: a week away the date is said too."""
    shut = tuple(date(2026, 12, 24) + timedelta(days=days) for days in range(11))
    window = inside_hours(
        _utc("2026-12-24 12:00"),
        _utc("2026-12-24 12:00"),
        None,
        Hours(weekday_spans, shut, UTC),
    )
    assert window.why == "closed Thursday; Monday 4 January 08:00 is the next opening"


def test_windows_in_disorder_are_put_in_order() -> None:
    """A due or latest time before the earliest is raised to it."""
    early, late = _utc("2026-03-02 08:00"), _utc("2026-03-02 12:00")
    window = as_asked(late, early, early)
    assert (late, late, late) == (window.earliest, window.due, window.latest)


def test_a_short_wait_is_not_moved_but_its_closed_end_is_said(hours: Hours) -> None:
    """Waits between coats stay as they are."""
    end = _utc("2026-03-02 18:30")
    window = said_if_closed(as_asked(end, end, None), hours)
    assert end == window.due
    assert window.why == "the shop is closed then (Monday 18:30): somebody must stay"
    in_time = as_asked(end - timedelta(hours=1), end - timedelta(hours=1), None)
    assert in_time == said_if_closed(in_time, hours)


_KEPT = "closed Sunday and no open time fits: somebody must come in"


@pytest.mark.parametrize(
    ("earliest", "ideal", "latest", "due", "why"),
    [
        ("01 00:00", "01 02:00", "01 12:00", "01 08:00", f"{_KEPT}, best Sunday 08:00"),
        ("01 00:00", "01 02:00", "01 07:59", "01 02:00", _KEPT),
        ("01 10:00", "01 11:00", "01 20:00", "01 11:00", _KEPT),
        ("01 10:00", "01 22:00", "02 02:00", "01 18:00", f"{_KEPT}, best Sunday 18:00"),
        ("01 18:30", "01 22:00", "02 02:00", "01 22:00", _KEPT),
    ],
)
def test_an_hour_that_people_keep(
    hours: Hours, earliest: str, ideal: str, latest: str, due: str, why: str
) -> None:
    """On a closed day nobody comes in at two in the night if eight will do."""
    asked = [_utc(f"2026-03-{at}") for at in (earliest, ideal, latest)]
    window = inside_hours(asked[0], asked[1], asked[2], hours)
    assert (_utc(f"2026-03-{due}"), why) == (window.due, window.why)


@pytest.mark.parametrize(
    ("seen", "latest", "due", "why"),
    [
        (
            "2026-03-01 08:00",
            "2026-03-02 00:00",
            "2026-03-02 08:00",
            "closed Sunday and seen to Sunday 08:00; "
            "Monday 08:00 is 8 h late: come in before if you can",
        ),
        (
            "2026-03-01 08:00",
            "2026-03-02 09:00",
            "2026-03-02 08:00",
            "closed Sunday; Monday 08:00 is still 1 h inside the window",
        ),
        ("2026-02-28 18:30", "2026-03-01 20:00", "2026-03-01 09:00", _KEPT),
    ],
)
def test_once_on_a_closed_day(hours: Hours, seen: str, latest: str, due: str, why: str) -> None:
    """Seen to on Sunday it waits for Monday; on Saturday evening, after closing, it does not."""
    window = inside_hours(
        _utc("2026-03-01 08:30"),
        _utc("2026-03-01 09:00"),
        _utc(latest),
        hours,
        seen=_utc(seen),
    )
    assert (_utc(due), why) == (window.due, window.why)


def test_once_on_each_of_two_closed_days(weekday_spans: tuple[OpenSpan, ...]) -> None:
    """Seen to on a closed Saturday, it is wanted on the Sunday, at the hour of opening."""
    hours = Hours(weekday_spans[:5], (), UTC)
    window = inside_hours(
        _utc("2026-02-28 08:30"),
        _utc("2026-02-28 09:00"),
        _utc("2026-03-01 12:00"),
        hours,
        seen=_utc("2026-02-28 08:00"),
    )
    assert _utc("2026-03-01 08:00") == window.due
    assert window.why == ("closed Saturday and seen to Saturday 08:00; Sunday 08:00 is soon enough")
