"""A desk that looks on: what it follows, what it refuses, when it says that it cannot see."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import cast

import pytest

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.desk.looking_on import LASTS_LOOKS, LookingOn
from benchconsole.errors import BenchError, NotPossibleNow, StoreBusy, StoreError
from benchconsole.library import shipped_library
from benchconsole.model.events import Entry, Event, TimerSet
from benchconsole.store import Holder, MemoryRepository, Repository

NOW = datetime(2026, 3, 4, 13, 30, tzinfo=UTC)
WRITER = Holder(who="console", process=4711, computer="bench", since=NOW.replace(hour=13, minute=2))


class Shop:
    """A store in memory that two desks share; it can be lost and found, held and left."""

    def __init__(self) -> None:
        self.written = MemoryRepository()
        self.holder: Holder | None = WRITER
        self.fault = ""
        self.is_gone = False
        self.closed = 0

    def entries(self) -> tuple[Entry, ...]:
        """What a reader sees."""
        if self.fault:
            raise StoreError(self.fault)
        return () if self.is_gone else self.written.entries()

    def append(self, events: Sequence[Event], *, at: datetime, recorded: datetime) -> None:
        """A reader writes nothing."""
        raise AssertionError("a desk that looks on wrote to the store")

    def close(self) -> None:
        """A reader left."""
        self.closed += 1

    @property
    def notices(self) -> tuple[str, ...]:
        """Nothing happens to it."""
        return ()

    def who_writes(self) -> Holder | None:
        """Who does."""
        return self.holder

    def sit_down(self) -> Repository:
        """Write from now on, if nobody does."""
        if self.holder is not None:
            raise StoreBusy("Another console has had this shop open.")
        return self.written

    def tapped(self, *names: str) -> None:
        """The other console sets timers."""
        for name in names:
            event = TimerSet(timer=f"t{name}", name=name, ends_at=NOW + timedelta(minutes=5))
            self.written.append([event], at=NOW, recorded=NOW)


@pytest.fixture
def shop() -> Shop:
    """A shop with one timer."""
    shop = Shop()
    shop.tapped("Rinse")
    return shop


@pytest.fixture
def desk(shop: Shop) -> Desk:
    """A desk that looks on."""
    desk = Desk(cast("Repository", shop), ManualClock(NOW), shipped_library())
    desk.look_on(shop.who_writes, shop.sit_down)
    return desk


def looking(desk: Desk) -> LookingOn:
    """The part of the desk that looks on."""
    assert desk.looking_on is not None
    return desk.looking_on


def look(desk: Desk) -> bool:
    """One look; whether there is anything else to show."""
    return looking(desk).take(looking(desk).look())


def names(desk: Desk) -> list[str]:
    """The names of the timers it shows."""
    return sorted(countdown.name for countdown in desk.timers.all())


def test_it_follows_and_its_version_grows_only_with_news(desk: Desk, shop: Shop) -> None:
    """A look without news changes nothing; one with news moves state, history and version."""
    version = desk.version
    assert not look(desk)
    assert version == desk.version
    shop.tapped("Soak", "Oil")
    assert look(desk)
    assert ["Oil", "Rinse", "Soak"] == names(desk)
    assert version + 1 == desk.version


def test_every_kind_of_tap_is_refused_in_the_same_sentence(desk: Desk) -> None:
    """Whatever would be recorded says who has the shop open, and changes nothing."""
    sheet = desk.worksheet("alum-salt-bath")
    taps = (
        lambda: desk.timers.set("Oil", "5 min"),
        lambda: desk.timers.pause_or_go_on("tRinse"),
        lambda: desk.timers.undo("tRinse"),
        lambda: desk.weigh_outs.begin(sheet, ()),
        lambda: desk.hides.take_in(
            name="goat", species="goat", route="hair-on-alum-pelt", came="green", weight="2 lb"
        ),
    )
    version = desk.version
    for tap in taps:
        with pytest.raises(StoreBusy) as caught:
            tap()
        assert desk.refusal == str(caught.value)
    assert desk.refusal.startswith(
        "Another console has had this shop open since 13:02 (process 4711 on the computer “bench”),"
    )
    assert (version, ["Rinse"]) == (desk.version, names(desk))


def test_what_is_only_tried_out_is_not_refused(desk: Desk) -> None:
    """The shop as it stood, and what if, record nothing in the store."""
    then = desk.as_of(NOW)
    then.timers.set("Oil", "5 min")
    assert ["Oil", "Rinse"] == names(then)
    assert ["Rinse"] == names(desk)


def test_a_failure_is_told_only_when_it_lasts_and_forgotten_when_it_is_over(
    desk: Desk, shop: Shop
) -> None:
    """A file that is being replaced is nothing to tell; a drive that is gone is."""
    shop.fault = "The store cannot be read: input/output error."
    for _ in range(LASTS_LOOKS - 1):
        assert not look(desk)
        assert ("held", "") == (looking(desk).standing, looking(desk).fault)
    assert look(desk)
    assert ("lost", shop.fault) == (looking(desk).standing, looking(desk).fault)
    assert shop.fault in desk.refusal
    assert ["Rinse"] == names(desk)
    assert not look(desk)
    shop.tapped("Soak")
    shop.fault = ""
    assert look(desk)
    assert ("held", "") == (looking(desk).standing, looking(desk).fault)
    assert ["Rinse", "Soak"] == names(desk)


def test_failures_that_do_not_last_are_not_added_up(desk: Desk, shop: Shop) -> None:
    """Every second look fails, for long: it is never told."""
    for _ in range(3 * LASTS_LOOKS):
        shop.fault = "x."
        look(desk)
        shop.fault = ""
        look(desk)
        assert "held" == looking(desk).standing


def test_a_history_that_is_gone_is_no_empty_shop(desk: Desk, shop: Shop) -> None:
    """A drive that was pulled out leaves no file: what was known stays on the screen."""
    shop.is_gone = True
    for _ in range(LASTS_LOOKS):
        look(desk)
    assert "lost" == looking(desk).standing
    assert ["Rinse"] == names(desk)
    shop.is_gone = False
    look(desk)
    assert "held" == looking(desk).standing


def test_an_empty_shop_is_followed_from_its_first_tap() -> None:
    """Two consoles opened on a new shop: the second sees the first tap of the first."""
    shop = Shop()
    desk = Desk(cast("Repository", shop), ManualClock(NOW), shipped_library())
    desk.look_on(shop.who_writes, shop.sit_down)
    assert not look(desk)
    shop.tapped("Soak")
    assert look(desk)
    assert ["Soak"] == names(desk)


def test_it_takes_over_when_nobody_writes_and_not_before(desk: Desk, shop: Shop) -> None:
    """While somebody writes it is refused; then it goes on from what was written last."""
    with pytest.raises(NotPossibleNow, match="Another console"):
        looking(desk).refuse_taking_over()
    with pytest.raises(StoreBusy):
        looking(desk).open_to_write()
    shop.tapped("Soak")
    shop.holder = None
    assert look(desk)
    assert "free" == looking(desk).standing
    assert "F8" in desk.refusal
    shop.tapped("Oil")  # between the last look and the taking over
    looking(desk).refuse_taking_over()
    desk.take_over(*looking(desk).open_to_write())
    assert desk.looking_on is None
    assert "" == desk.refusal
    assert 1 == shop.closed
    assert ["Oil", "Rinse", "Soak"] == names(desk)
    desk.timers.set("Fat", "5 min")
    assert 4 == len(shop.written.entries())


def test_somebody_quicker_keeps_the_shop(desk: Desk, shop: Shop) -> None:
    """Two on-lookers and one free shop: the slower one is told, and looks on."""
    shop.holder = None
    look(desk)
    shop.holder = Holder(who="console", process=4712)
    with pytest.raises(StoreBusy):
        looking(desk).open_to_write()
    assert look(desk)
    assert "process 4712" in desk.refusal


def test_a_shop_that_vanished_is_not_begun_anew(desk: Desk, shop: Shop) -> None:
    """Taking over where the file is gone must not start an empty history."""
    shop.holder = None
    look(desk)
    emptied = MemoryRepository()
    shop.written = emptied
    with pytest.raises(StoreError, match="not where it was"):
        looking(desk).open_to_write()
    with pytest.raises(ValueError, match="closed"):
        emptied.entries()
    assert ["Rinse"] == names(desk)


def test_a_restore_is_waited_for(desk: Desk, shop: Shop) -> None:
    """What no person can close is not asked to be closed."""
    shop.holder = Holder(who="restore")
    assert look(desk)
    assert "A restore of this shop has been running" in desk.refusal
    assert desk.refusal.endswith("wait for it.")
    with pytest.raises(BenchError):
        desk.timers.set("Oil", "5 min")
    shop.holder = None
    assert look(desk)
    assert "the other program is done" in desk.refusal
