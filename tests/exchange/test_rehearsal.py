"""The demo shop is of today whenever it is opened: at any hour, over clock and year changes."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo

import pytest
from dateutil import tz

from benchconsole.bootstrap import demo_text
from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.errors import BadFile
from benchconsole.exchange.rehearsal import rehearsal_taps
from benchconsole.library import shipped_library
from benchconsole.store import MemoryRepository

STATES = {
    "grey-rabbits": "overdue",
    "brown-goat": "due",
    "black-kid": "due",
    "white-kid": "ready",
    "roe-doe": "waiting",
    "red-calf": "waiting",
    "autumn-buck": "stored",
    "spotted-goat": "finished",
}
COUNTDOWNS = {"t1": "running", "t2": "paused", "coat/roe-doe/oil/2": "running"}


def zone_of(name: str) -> tzinfo:
    """A zone that is on this computer."""
    zone = tz.gettz(name)
    assert zone is not None
    return zone


def opened_at(now: datetime, zone: tzinfo) -> Desk:
    """The desk over the demo shop as it would be opened at that instant."""
    repository = MemoryRepository()
    for at, events in rehearsal_taps(demo_text(), now, zone):
        repository.append(events, at=at, recorded=at)
    return Desk(repository, ManualClock(now, zone), shipped_library())


def hours_of(first: str, hours: int, zone: tzinfo) -> list[datetime]:
    """Instants of a stretch of time: each full hour, a minute before it and a minute after."""
    start = datetime.fromisoformat(first).replace(tzinfo=zone).astimezone(UTC)
    minutes = timedelta(minutes=1)
    return [
        start + timedelta(hours=hour) + nearby
        for hour in range(hours)
        for nearby in (-minutes, timedelta(0), minutes, 29 * minutes)
    ]


@pytest.mark.parametrize(
    ("zone_name", "first", "hours"),
    [
        ("Europe/Berlin", "2026-03-28T22:00", 9),
        ("Europe/Berlin", "2026-10-24T22:00", 9),
        ("America/Chicago", "2026-03-07T22:00", 9),
        ("America/Chicago", "2026-10-31T22:00", 9),
        ("Asia/Kathmandu", "2026-12-31T20:00", 8),
        ("UTC", "2028-02-28T22:00", 26),
    ],
    ids=["spring night", "autumn night", "US spring", "US autumn", "year end", "leap day"],
)
def test_every_state_is_there_at_any_hour(zone_name: str, first: str, hours: int) -> None:
    """Overdue, due, ready, waiting, stored and finished hides, and running and paused timers."""
    zone = zone_of(zone_name)
    for now in hours_of(first, hours, zone):
        desk = opened_at(now, zone)
        found = {action.hide: action.state for action in desk.hides.day_sheet()}
        counting = {countdown.id: countdown.state for countdown in desk.timers.all()}
        assert (STATES, COUNTDOWNS) == (found, counting), f"{now.astimezone(zone)}"


def test_the_shop_is_open_while_it_is_shown() -> None:
    """Somebody who opens the demo at night does not find a closed shop."""
    zone = zone_of("Europe/Berlin")
    for now in hours_of("2026-03-28T22:00", 30, zone):
        assert opened_at(now, zone).hides.hours().is_open(now), f"{now.astimezone(zone)}"


def test_a_waited_minute_goes_on_from_there() -> None:
    """The coat's wait ends when the demo said it would, and then rings."""
    now = datetime(2026, 6, 1, 12, tzinfo=UTC)
    desk = opened_at(now, UTC)
    coat = next(each for each in desk.timers.all() if each.kind == "coat")
    assert timedelta(minutes=23) == coat.left
    assert (now + coat.left, "running") == (coat.ends_at, coat.state)


def test_the_history_holds_nothing_of_the_future() -> None:
    """Every tap of the demo was given before now, oldest first."""
    now = datetime(2026, 6, 1, 12, tzinfo=UTC)
    at = [when for when, _ in rehearsal_taps(demo_text(), now, UTC)]
    assert sorted(at) == at
    assert max(at) <= now


def test_every_hide_of_the_demo_has_a_card() -> None:
    """The demo names only routes, stages and liquors that there are."""
    desk = opened_at(datetime(2026, 6, 1, 12, tzinfo=UTC), UTC)
    for row in desk.hides.rows():
        card = desk.hides.card(row.hide.id)
        assert row.hide.finished_at or any(mark.place == "here" for mark in card.stages)
        assert row.hide.species in desk.library.species
        assert row.hide.species in desk.library.routes[row.hide.route].species


@pytest.mark.parametrize(
    "text",
    [
        "tap = [",
        "[shop]",
        '[[tap]]\nago = "5 parsecs"\nevent = []',
        '[[tap]]\nago = "1 h"\nevent = [{ type = "hide-lost", hide = "a" }]',
        '[shop]\nmeasures = "cubits"\n[[tap]]\nago = "1 h"\nevent = []',
        "tap = 7",
        'tap = ["a"]',
        "[[tap]]\nago = 7\nevent = []",
        '[[tap]]\nago = "1 h"\nevent = [{ type = "timer-set", timer = "t", name = "n",'
        " ends_ago = 5 }]",
    ],
    ids=["no TOML", "no taps", "unit", "event", "measures", "number", "text", "ago", "ends"],
)
def test_a_wrong_file_is_refused_by_name(text: str) -> None:
    """Whatever is wrong with a rehearsal file, it is told about that file and is no traceback."""
    with pytest.raises(BadFile, match=r"^demo_shop\.toml: "):
        rehearsal_taps(text, datetime(2026, 6, 1, 12, tzinfo=UTC), UTC)
