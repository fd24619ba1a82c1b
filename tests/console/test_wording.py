"""Words for times, and text made safe and fitted to cells."""

from __future__ import annotations

import unicodedata
from datetime import UTC, datetime, timedelta

import pytest
from dateutil import tz
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from benchconsole.console.widgets.cells import fitted, plain
from benchconsole.console.wording import at_the_wall, relative

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("ahead", "long", "short"),
    [
        (timedelta(0), "now", "now"),
        (timedelta(seconds=59), "now", "now"),
        (timedelta(seconds=-59), "now", "now"),
        (timedelta(minutes=1), "in 1 min", "in 1 min"),
        (timedelta(minutes=89, seconds=59), "in 1 h 29 min", "in 1 h"),
        (timedelta(minutes=-130), "2 h 10 min ago", "2 h ago"),
        (timedelta(days=2, hours=3), "in 2 d 3 h", "in 2 d"),
        (timedelta(days=-40), "40 d ago", "40 d ago"),
    ],
)
def test_how_far_an_instant_lies(ahead: timedelta, long: str, short: str) -> None:
    """In two units or one, never longer than it is."""
    assert long == relative(NOW + ahead, NOW)
    assert short == relative(NOW + ahead, NOW, short=True)


@pytest.mark.parametrize(
    ("instant", "words"),
    [
        (datetime(2026, 3, 4, 14, 5, tzinfo=UTC), "15:05"),
        (datetime(2026, 3, 4, 23, 30, tzinfo=UTC), "Thu 00:30"),
        (datetime(2026, 3, 10, 9, 0, tzinfo=UTC), "Tue 10 Mar 10:00"),
        (datetime(2026, 3, 11, 9, 0, tzinfo=UTC), "Wed 11 Mar 10:00"),
        (datetime(2026, 3, 3, 9, 0, tzinfo=UTC), "Tue 10:00"),
        (datetime(2027, 1, 2, 9, 0, tzinfo=UTC), "Sat 2 Jan 2027 10:00"),
    ],
)
def test_the_time_on_the_wall(instant: datetime, words: str) -> None:
    """In the shop's zone; day, date and year are named as soon as another could be meant."""
    zone = tz.gettz("Europe/Berlin")
    assert zone is not None
    assert words == at_the_wall(instant, NOW, zone)


@given(st.text(), st.integers(min_value=0, max_value=60))
def test_fitted_text_has_exactly_its_cells(text: str, width: int) -> None:
    """Wide and joining characters too."""
    assert width == cell_len(fitted(plain(text), width))


@pytest.mark.parametrize(
    ("text", "width", "shown"),
    [
        ("goat", 6, "goat  "),
        ("brown goat", 6, "brown…"),
        ("", 2, "  "),
        ("x", 0, ""),
        ("山羊皮", 4, "山… "),
    ],
)
def test_what_is_cut_ends_in_an_ellipsis(text: str, width: int, shown: str) -> None:
    """And what is not is padded."""
    assert shown == fitted(text, width)


@given(st.text())
def test_plain_text_moves_no_cursor(text: str) -> None:
    """Nothing is left that a terminal would act on, and nothing is added."""
    safe = plain(text)
    assert len(safe) <= len(text)
    assert not {unicodedata.category(c) for c in safe} & {"Cc", "Cf", "Cs", "Zl", "Zp"}
