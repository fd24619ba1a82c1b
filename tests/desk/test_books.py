"""The shop's books: all hides and all events, also what was taken back and what was archived."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.desk import Desk

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday morning."""
    return ManualClock(NOW)


@pytest.fixture
def desk(tmp_path: Path, clock: ManualClock) -> Desk:
    """A shop on disk with a goat that was lost long ago, and a lot that was split."""
    desk = bootstrap.open_desk(tmp_path / "shop.json", writing=True, clock=clock)
    for name, count in (("old goat", "1"), ("kids", "5")):
        desk.hides.take_in(
            name=name, species="goat", route="hair-on-alum-pelt", came="green", count=count,
            weight="2 kg",
        )  # fmt: skip
    clock.advance(hours=1)
    desk.moves.out_of_work("old-goat", "hair slips")
    desk.moves.split("kids", count="2", name="kids, thin")
    desk.hides.note("kids", "fine")
    clock.advance(minutes=5)
    desk.hides.undo("kids")
    return desk


def test_every_hide_is_a_line_the_first_first(desk: Desk) -> None:
    """What came, when, what it is in now; a part of a lot came when the lot came."""
    old, kids, thin = desk.books.hides()
    assert ("old-goat", "old goat", "out of work", "hair slips") == (
        old.id, old.name, old.state, old.why_out,
    )  # fmt: skip
    assert (NOW, NOW + timedelta(hours=1), None) == (old.taken_in, old.out, old.due)
    assert [("kids", 3, 1200.0), ("kids-thin", 2, 800.0)] == [
        (hide.id, hide.count, hide.mass_g) for hide in (kids, thin)
    ]
    assert NOW == kids.taken_in == thin.taken_in
    assert ("in work", "Hair-on alum pelt", False) == (thin.state, thin.route, thin.archived)
    assert kids.due is not None


def test_every_event_is_a_line_in_order(desk: Desk) -> None:
    """What was taken back is among them, with when; so is the taking back."""
    events = desk.books.history()
    assert list(range(1, len(events) + 1)) == [event.seq for event in events]
    assert ["taken in green", "taken in green, a lot of 5"] == [e.words for e in events[:2]]
    note = next(event for event in events if event.words == "note: fine")
    assert (True, NOW + timedelta(hours=1, minutes=5)) == (note.taken_back, note.taken_back_at)
    assert ("hide/kids",) == note.subjects
    assert "kids" == note.about
    assert f"tap {note.tap} taken back" == events[-1].words
    assert [note] == [event for event in events if event.taken_back]


def test_a_corrected_time_is_the_one_that_is_told(desk: Desk, clock: ManualClock) -> None:
    """When it really was, and when it was written down."""
    tap = desk.books.history()[0].tap
    desk.taps.correct_time(tap, "20 min earlier")
    first = desk.books.history()[0]
    assert (NOW - timedelta(minutes=20), NOW) == (first.at, first.recorded)
    assert NOW - timedelta(minutes=20) == desk.books.hides()[0].taken_in


def test_what_lies_in_the_archive_is_in_the_books(desk: Desk, clock: ManualClock) -> None:
    """After a month the lost goat leaves the history; hides and events stay as they were."""
    hides, events = desk.books.hides(), desk.books.history()
    clock.advance(days=40)
    assert 1 == desk.moving_out.all()
    assert "old-goat" not in {row.hide.id for row in desk.hides.rows()}
    [old] = [hide for hide in desk.books.hides() if hide.id == "old-goat"]
    assert old.archived
    assert hides[0].why_out == old.why_out
    assert events == desk.books.history()


def test_a_lost_archive_leaves_what_is_known(
    desk: Desk, clock: ManualClock, tmp_path: Path
) -> None:
    """Its file and its copy are gone: dates and name stay a line, and a notice says so."""
    clock.advance(days=40)
    desk.moving_out.all()
    desk.close()
    for path in tmp_path.rglob("2026*"):
        path.unlink()
    again = bootstrap.open_desk(tmp_path / "shop.json", writing=False, clock=clock)
    [old] = [hide for hide in again.books.hides() if hide.id == "old-goat"]
    assert ("old goat", "out of work", True, None) == (
        old.name, old.state, old.archived, old.mass_g,
    )  # fmt: skip
    assert old.taken_in == NOW
    assert any("archive of 2026" in notice for notice in again.archive.notices)
