"""The copies a desk makes of its own store: when, for weeks, and what putting one back does."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.errors import NotPossibleNow, StoreError
from benchconsole.store.backups import Backups

HOUR = datetime(2026, 3, 18, 8, 0, tzinfo=UTC)


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday morning."""
    return ManualClock(HOUR)


@pytest.fixture
def path(tmp_path: Path, clock: ManualClock) -> Path:
    """The demo shop on disk."""
    store = tmp_path / "shop.json"
    bootstrap.fill_demo(store, clock)
    return store


@pytest.fixture
def desk(path: Path, clock: ManualClock) -> Iterator[Desk]:
    """The desk that records in it."""
    opened = bootstrap.open_desk(path, writing=True, clock=clock)
    yield opened
    opened.close()


def see_about_a_copy(desk: Desk, path: Path) -> bool:
    """What the console does every second; whether a copy was made."""
    before = len(Backups(path).all())
    if desk.copies.is_due():
        desk.copies.copied(desk.copies.copying()())
    return len(Backups(path).all()) > before


def test_weeks_without_a_restart(desk: Desk, path: Path, clock: ManualClock) -> None:
    """Ten hours of taps a day for five weeks: hours, days, all of them whole, and no more."""
    made = 0
    for day in range(35):
        for hour in range(10):
            desk.hides.note("brown-goat", f"day {day}, hour {hour}")
            desk.copies.copied(desk.copies.copying()())
            made += Backups(path).all()[0].at == clock.now()
            clock.advance(hours=1)
        clock.advance(hours=14)
    copies = Backups(path).all()
    assert made == 350
    newest = HOUR + timedelta(days=34, hours=9)
    hours = [copy.at for copy in copies if copy.at > newest - timedelta(days=2)]
    assert len([at for at in hours if at.date() == newest.date()]) == 10
    assert {(newest - timedelta(days=n)).date() for n in range(30)} <= {c.at.date() for c in copies}
    # Three of the days are among those of the hours, the month among the days.
    assert len(copies) == 24 + 30 - 3
    listing = desk.copies.listing()()
    assert [row.holding.fault for row in listing] == [""] * len(copies)
    taps = [row.holding.taps for row in listing]
    assert taps == sorted(taps, reverse=True)


def test_nothing_is_due_while_nothing_changes(desk: Desk, path: Path, clock: ManualClock) -> None:
    """Looking on for a month makes no copies."""
    assert see_about_a_copy(desk, path)
    clock.advance(days=30)
    assert not desk.copies.is_due()
    desk.hides.note("brown-goat", "soft")
    assert see_about_a_copy(desk, path)


def test_the_last_tap_before_a_pause_is_copied_within_the_hour(
    desk: Desk, path: Path, clock: ManualClock
) -> None:
    """Opened twenty minutes after a copy, one tap, then nothing: the tap is not left out."""
    assert see_about_a_copy(desk, path)
    clock.advance(minutes=20)
    desk.hides.note("brown-goat", "the last of the day")
    made = []
    for minute in range(120):
        clock.advance(minutes=1)
        if see_about_a_copy(desk, path):
            made.append(minute)
    (at,) = made
    assert at < 46
    backups = Backups(path)
    assert b"the last of the day" in backups.read(backups.all()[0])
    assert not desk.copies.is_due()


@pytest.mark.parametrize("jump", [timedelta(days=-400), timedelta(days=400)])
def test_a_clock_that_jumps_does_not_stop_the_copies(
    desk: Desk, path: Path, clock: ManualClock, jump: timedelta
) -> None:
    """Set back or ahead by a year: the next tap is copied, and none of the earlier ones go."""
    assert see_about_a_copy(desk, path)
    before = Backups(path).all()
    clock.move_to(clock.now() + jump)
    for number in range(5):
        desk.hides.note("brown-goat", f"note {number}")
        assert see_about_a_copy(desk, path)
        clock.advance(hours=1)
    copies = Backups(path).all()
    assert set(before) < set(copies)
    assert len(copies) == 6


def test_putting_back_changes_the_desk_at_once(desk: Desk, path: Path, clock: ManualClock) -> None:
    """State, history and version are those of the copy; the next tap follows on from there."""
    see_about_a_copy(desk, path)
    clock.advance(hours=1)
    desk.hides.note("brown-goat", "to be gone")
    version = desk.version
    (row,) = desk.copies.listing()()
    look = desk.copies.looking(row)()
    assert [words for _, words in look.change.gone] == ["Brown goat: note: to be gone"]
    assert look.change.back == ()
    said = desk.copies.put_back(look)
    assert said.startswith(f"Put back: {row.holding.taps} taps, as copied 08:00.")
    assert desk.version > version
    assert "to be gone" not in str(desk.hides.card("brown-goat"))
    desk.hides.note("brown-goat", "from here on")
    assert "from here on" in str(desk.hides.card("brown-goat"))
    newest, before, _ = desk.copies.listing()()
    assert (newest.backup.before, before.backup.before) == ("", "restore")
    look = desk.copies.looking(before)()
    assert [w for _, w in look.change.gone] == ["Brown goat: note: from here on"]
    assert [w for _, w in look.change.back] == ["Brown goat: note: to be gone"]


def test_what_was_recorded_meanwhile_is_not_put_away(desk: Desk, path: Path) -> None:
    """The person agreed to what was shown, and to nothing else."""
    see_about_a_copy(desk, path)
    (row,) = desk.copies.listing()()
    look = desk.copies.looking(row)()
    desk.hides.note("brown-goat", "just now")
    body = path.read_bytes()
    with pytest.raises(NotPossibleNow, match="Something was recorded since"):
        desk.copies.put_back(look)
    assert path.read_bytes() == body


def test_who_only_looks_puts_nothing_back(desk: Desk, path: Path, clock: ManualClock) -> None:
    """The list and the look are there for a reader too; putting back is refused in a sentence."""
    see_about_a_copy(desk, path)
    reader = bootstrap.open_desk(path, writing=False, clock=clock)
    (row,) = reader.copies.listing()()
    look = reader.copies.looking(row)()
    body, copies = path.read_bytes(), Backups(path).all()
    with pytest.raises(StoreError, match="opened only to look at"):
        reader.copies.put_back(look)
    assert path.read_bytes() == body
    assert Backups(path).all() == copies


def test_a_copy_that_cannot_be_put_back_leaves_the_desk_as_it_was(desk: Desk, path: Path) -> None:
    """It was damaged between the look and the yes: a sentence, and taps go on."""
    see_about_a_copy(desk, path)
    (row,) = desk.copies.listing()()
    look = desk.copies.looking(row)()
    row.backup.path.write_bytes(b"\0" * 100)
    hides = desk.hides.rows()
    with pytest.raises(StoreError, match="holds no taps of Bench Console"):
        desk.copies.put_back(look)
    assert desk.hides.rows() == hides
    assert desk.doubt == ""
    desk.hides.note("brown-goat", "and on")
