"""Every intent of the desk can be taken back, and what is taken back is as if it never was."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path

import pytest

from benchconsole.desk import Desk
from benchconsole.desk.ids import next_id
from benchconsole.desk.ledger import Ledger
from benchconsole.errors import NotPossibleNow, StoreError
from benchconsole.library import Library
from benchconsole.model.events import Entry, Event, NoteWritten, StageBegun, StageLeft
from benchconsole.model.state import ShopState
from benchconsole.store import MemoryRepository, TinyRepository
from benchconsole.store.disk import Disk, Mark
from tests.desk.small_bench import Bench

Intent = Callable[[Desk], object]
GOAT, TIMER = "brown-goat", "t1"

INTENTS: dict[str, tuple[Intent, Intent]] = {
    "take in": (
        lambda desk: desk.hides.take_in(
            name="Doe", species="deer", route="hair-on-alum-pelt", came="green"
        ),
        lambda desk: desk.hides.undo("doe"),
    ),
    "done": (lambda desk: desk.hides.done(GOAT), lambda desk: desk.hides.undo(GOAT)),
    "passed": (lambda desk: desk.hides.passed(GOAT), lambda desk: desk.hides.undo(GOAT)),
    "not yet": (lambda desk: desk.hides.not_yet(GOAT), lambda desk: desk.hides.undo(GOAT)),
    "attended": (lambda desk: desk.hides.attended(GOAT), lambda desk: desk.hides.undo(GOAT)),
    "note": (lambda desk: desk.hides.note(GOAT, "thin"), lambda desk: desk.hides.undo(GOAT)),
    "set timer": (lambda desk: desk.timers.set("a", "1 h"), lambda desk: desk.timers.undo("t2")),
    "extend": (lambda desk: desk.timers.extend(TIMER, "1 h"), lambda desk: desk.timers.undo(TIMER)),
    "pause": (
        lambda desk: desk.timers.pause_or_go_on(TIMER),
        lambda desk: desk.timers.undo(TIMER),
    ),
    "rename": (lambda desk: desk.timers.rename(TIMER, "b"), lambda desk: desk.timers.undo(TIMER)),
    "cancel": (lambda desk: desk.timers.cancel(TIMER), lambda desk: desk.timers.undo(TIMER)),
    "tap": (lambda desk: desk.weigh_outs.accept("w1"), lambda desk: desk.weigh_outs.undo("w1")),
    "zero": (
        lambda desk: desk.weigh_outs.set_zero("w1", "-2"),
        lambda desk: desk.weigh_outs.undo("w1"),
    ),
    "mode": (
        lambda desk: desk.weigh_outs.change_mode("w1"),
        lambda desk: desk.weigh_outs.undo("w1"),
    ),
    "give up": (
        lambda desk: desk.weigh_outs.give_up("w1"),
        lambda desk: desk.weigh_outs.undo("w1"),
    ),
}


@pytest.fixture
def busy(bench: Bench) -> Bench:
    """A goat in the soak, a running timer, and a weigh-out on the scale."""
    bench.take_in()
    bench.desk.hides.done(GOAT)
    bench.desk.timers.set("Rinse", "2 h")
    bench.desk.weigh_outs.begin(bench.desk.worksheet("alum-salt-bath"), [GOAT])
    return bench


@pytest.mark.parametrize("intent", INTENTS)
def test_an_intent_is_taken_back(busy: Bench, intent: str) -> None:
    """The state before comes back, on this desk and on one that is opened later."""
    before, counted = busy.state, busy.counts
    give, take_back = INTENTS[intent]
    give(busy.desk)
    assert counted != busy.counts
    take_back(busy.desk)
    assert counted == busy.counts
    assert before == busy.state == _state(busy.desk) == _state(busy.reopened())


def _state(desk: Desk) -> ShopState:
    """What this desk goes by."""
    return desk.hides._ledger.state


@pytest.mark.parametrize("intent", INTENTS)
def test_a_tap_after_a_restart_is_the_same_tap(busy: Bench, library: Library, intent: str) -> None:
    """A desk opened over the history continues exactly where the other would have."""
    twin = Bench(library)
    twin.take_in()
    twin.desk.hides.done(GOAT)
    twin.desk.timers.set("Rinse", "2 h")
    twin.desk.weigh_outs.begin(twin.desk.worksheet("alum-salt-bath"), [GOAT])
    INTENTS[intent][0](busy.desk)
    INTENTS[intent][0](twin.reopened())
    assert busy.repository.entries() == twin.repository.entries()


def test_taking_back_walks_to_the_beginning(busy: Bench) -> None:
    """One tap after another about one hide, the last first; nothing about others is touched."""
    busy.desk.hides.note(GOAT, "thin")
    said = [busy.desk.hides.undo(GOAT) for _ in range(3)]
    assert [
        "Brown goat: taken back: note: thin",
        "Brown goat: taken back: “Soak” begun",
        "Brown goat: taken back: taken in salted",
    ] == said
    assert {} == busy.state.hides
    assert [TIMER] == [countdown.id for countdown in busy.desk.timers.all()]


def test_nothing_is_left_to_take_back(bench: Bench) -> None:
    """The end of the road is a sentence."""
    with pytest.raises(NotPossibleNow, match="nothing to take back"):
        bench.desk.timers.undo("t1")


def test_a_heard_ringing_is_taken_back(bench: Bench) -> None:
    """A timer silenced by mistake rings again."""
    bench.desk.timers.set("Rinse", "1 min")
    bench.clock.advance(minutes=2)
    bench.desk.timers.acknowledge("t1")
    assert "Taken back: timer heard" == bench.desk.timers.undo("t1")
    assert ["ringing"] == [countdown.state for countdown in bench.desk.timers.all()]


def test_names_are_not_given_twice(bench: Bench) -> None:
    """What was taken back keeps its name: the history still speaks of it."""
    desk = bench.desk
    bench.take_in()
    desk.hides.undo(GOAT)
    desk.timers.set("a", "1 h")
    desk.timers.undo("t1")
    desk.timers.set("b", "1 h")
    assert "brown-goat-2" == bench.take_in()
    assert ["t2"] == [countdown.id for countdown in desk.timers.all()]
    sheet = desk.worksheet("salt-cure")
    names = []
    for _ in range(2):
        weigh_out = desk.weigh_outs.begin(sheet).weigh_out.id
        desk.weigh_outs.accept(weigh_out)
        names += [weigh_out, desk.weigh_outs.finish(weigh_out).id]
        desk.weigh_outs.undo(weigh_out)
        desk.weigh_outs.give_up(weigh_out)
    assert ["w1", "L1", "w2", "L2"] == names


@pytest.mark.parametrize(
    ("used", "expected"),
    [((), "t1"), (("t1", "t2"), "t3"), (("t7",), "t8"), (("x3", "t", "tea", "t-4"), "t1")],
)
def test_the_next_name_is_past_all_others(used: tuple[str, ...], expected: str) -> None:
    """Gaps and foreign names do not lead to a name that is taken."""
    assert expected == next_id("t", used)


# --- one tap, several things ----------------------------------------------------------


def ledger_of(bench: Bench, library: Library) -> Ledger:
    """A ledger over the history of that shop."""
    return Ledger(bench.repository, bench.clock, library)


ROUND: tuple[Event, ...] = (
    NoteWritten(hide="one", text="turned"),
    NoteWritten(hide="two", text="turned"),
    NoteWritten(hide="three", text="turned"),
)


def test_a_tap_about_several_hides_stands_or_falls_whole(bench: Bench, library: Library) -> None:
    """A round is one tap: taken back for one hide it is taken back for all."""
    for name in ("one", "two", "three"):
        bench.take_in(name)
    ledger = ledger_of(bench, library)
    before = ledger.state
    ledger.record(ROUND)
    assert 4 == bench.taps
    assert ROUND == ledger.undo("hide/two")
    assert before == ledger.state == bench.state
    assert [] == [e for e in ledger.history("hide/one") if isinstance(e.event, NoteWritten)]


def test_a_stage_that_is_over_at_once_is_one_tap(bench: Bench, library: Library) -> None:
    """Begun and left together, taken back together."""
    bench.take_in()
    ledger = ledger_of(bench, library)
    before = ledger.state
    ledger.record(
        [StageBegun(hide=GOAT, stage="soak"), StageLeft(hide=GOAT, stage="soak", next="flesh")]
    )
    ledger.undo(f"hide/{GOAT}")
    assert before == ledger.state


def test_the_version_tells_a_screen_to_look_again(bench: Bench) -> None:
    """It grows with every tap and with every one taken back."""
    seen = [bench.desk.version]
    bench.take_in()
    seen.append(bench.desk.version)
    bench.desk.hides.undo(GOAT)
    seen.append(bench.desk.version)
    assert [0, 1, 2] == seen


# --- a disk that fails ----------------------------------------------------------------


class Torn(MemoryRepository):
    """A repository whose writes fail when told so, before or after the tap got through."""

    fails = ""

    def append(
        self, events: Sequence[Event], *, at: datetime, recorded: datetime
    ) -> tuple[Entry, ...]:
        """Keep the tap or not, and fail."""
        if self.fails == "before":
            raise StoreError("The disk is full.")
        new = super().append(events, at=at, recorded=recorded)
        if self.fails.startswith("after"):
            raise StoreError("The folder cannot be written.")
        return new

    def entries(self) -> tuple[Entry, ...]:
        """The history, unless it cannot be read just now; ``append`` itself needs no look."""
        if self.fails.endswith("read") and super().entries():
            raise StoreError("The store cannot be read.")
        return super().entries()


@pytest.mark.parametrize(("fails", "kept"), [("before", 1), ("after", 2)])
def test_after_a_failed_write_the_desk_goes_by_the_disk(
    bench: Bench, library: Library, fails: str, kept: int
) -> None:
    """Whether the tap got through or not, screen and disk say the same."""
    repository = Torn()
    desk = Desk(repository, bench.clock, library)
    desk.timers.set("a", "1 h")
    repository.fails = fails
    with pytest.raises(StoreError):
        desk.timers.set("b", "1 h")
    repository.fails = ""
    assert kept == len(desk.timers.all())
    assert _state(Desk(repository, bench.clock, library)) == _state(desk)


# --- a disk that cannot be read either ------------------------------------------------


class SickDisk(Disk):
    """A real disk that is full, and may then refuse to be read as well."""

    full = False
    unreadable = False

    def write(self, descriptor: int, body: bytes) -> None:
        """Nothing gets on a full disk."""
        if self.full:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        super().write(descriptor, body)

    def mark(self, path: Path) -> Mark | None:
        """The first thing every reading asks."""
        if self.unreadable:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return super().mark(path)

    def sync_folder(self, folder: Path) -> None:
        """The last step of a write; an unreadable disk fails here, with the tap in its place."""
        super().sync_folder(folder)
        if self.unreadable:
            raise OSError(errno.EIO, os.strerror(errno.EIO))


@pytest.fixture
def disk() -> SickDisk:
    """A disk that is well until told otherwise."""
    return SickDisk()


@pytest.fixture
def on_disk(
    bench: Bench, library: Library, tmp_path: Path, disk: SickDisk
) -> Iterator[tuple[Desk, Path]]:
    """A desk with one timer over a real file, and the file."""
    path = tmp_path / "shop.json"
    with TinyRepository(path, writing=True, disk=disk) as repository:
        desk = Desk(repository, bench.clock, library)
        desk.timers.set("a", "1 h")
        yield desk, path


def test_a_full_disk_costs_the_one_tap(on_disk: tuple[Desk, Path], disk: SickDisk) -> None:
    """It is refused in a sentence; once there is room again the next tap is kept."""
    desk, path = on_disk
    disk.full = True
    for _ in range(2):
        with pytest.raises(StoreError, match=r"^Nothing was saved.*the disk is full\.$"):
            desk.timers.set("b", "1 h")
    assert ["t1"] == [countdown.id for countdown in desk.timers.all()]
    assert "" == desk.doubt
    disk.full = False
    desk.timers.set("b", "1 h")
    assert 2 == path.read_text().count("timer-set")


def test_a_full_disk_that_cannot_be_read_keeps_the_last_picture(
    on_disk: tuple[Desk, Path], disk: SickDisk
) -> None:
    """What was known can still be looked at, and every tap is refused until the disk is back."""
    desk, path = on_disk
    before, version = _state(desk), desk.version
    disk.unreadable = True
    with pytest.raises(StoreError, match="cannot be read"):
        desk.timers.set("b", "1 h")
    assert "cannot be read" in desk.doubt
    assert version < desk.version
    refused = r"^Nothing more is saved, .*: the store .*\.$"
    with pytest.raises(StoreError, match=refused):
        desk.timers.set("c", "1 h")
    with pytest.raises(StoreError, match=refused):
        desk.timers.undo("t1")
    assert before == _state(desk)
    assert ["t1"] == [countdown.id for countdown in desk.timers.all()]
    disk.unreadable = False
    desk.timers.set("c", "1 h")
    assert "" == desk.doubt
    assert 2 == path.read_text().count("timer-set")


def test_a_tap_that_came_through_after_all_is_not_written_twice(
    bench: Bench, library: Library
) -> None:
    """Told that it failed, the person taps again; the desk first shows that it is there."""
    repository = Torn()
    desk = Desk(repository, bench.clock, library)
    repository.fails = "after, and cannot be read"
    with pytest.raises(StoreError):
        desk.timers.set("a", "1 h")
    assert () == desk.timers.all()
    repository.fails = ""
    with pytest.raises(NotPossibleNow, match="the tap that failed before is in it"):
        desk.timers.set("a", "1 h")
    assert ["a"] == [countdown.name for countdown in desk.timers.all()]
    desk.timers.set("b", "1 h")
    assert _state(Desk(repository, bench.clock, library)) == _state(desk)


def test_a_store_replaced_from_outside_is_left_alone(on_disk: tuple[Desk, Path]) -> None:
    """Another program's file is never written over; the desk goes on showing what it knew."""
    desk, path = on_disk
    foreign = path.read_bytes().replace(b'"a"', b'"z"')
    path.unlink()
    path.write_bytes(foreign)
    before = _state(desk)
    for start in ("Another program changed", "Nothing more is saved", "Nothing more is saved"):
        with pytest.raises(StoreError, match=rf"^{start}.*close this console and open it again\.$"):
            desk.timers.set("b", "1 h")
    assert before == _state(desk)
    assert foreign == path.read_bytes()
