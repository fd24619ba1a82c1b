"""Moving to the archive and bringing back, cut off at any point: nothing lost, nothing twice."""

from __future__ import annotations

import errno
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.errors import StoreError
from benchconsole.library import shipped_library
from benchconsole.store import TinyRepository
from benchconsole.store.disk import Disk
from tests.store.crash_checks import ALARMING, quick_folder
from tests.store.crash_states import Crashes, Depth
from tests.store.simulated_disk import FULL, Fault, SimulatedDisk

LIBRARY = shipped_library()
NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)
MONTH_LATER = NOON + timedelta(days=31)
STORE = "shop/shop.json"
DEPTH = Depth(cuts=1, mixtures=1, every_byte=False)
Stories = dict[str, tuple[tuple[datetime, str], ...]]


@contextmanager
def opened(store: Path, at: datetime, disk: Disk | None = None) -> Iterator[Desk]:
    """A desk over the store, at an instant."""
    with TinyRepository(store, writing=True, disk=disk) as repository:
        yield Desk(repository, ManualClock(at), LIBRARY)


def fill(store: Path) -> Stories:
    """A lot that was split, in a liquor with another hide; the lot is out of work. All stories."""
    with opened(store, NOON) as desk:
        for name in ("Brown goat", "Black kid"):
            desk.hides.take_in(
                name=name, species="goat", route="hair-on-alum-pelt", came="salted", count="3"
            )
        desk.moves.split("brown-goat", count="1", name="Thin one")
        for hide in ("brown-goat", "thin-one", "black-kid"):
            desk.moves.move(hide, stage="alum")
        view = desk.weigh_outs.begin(
            desk.worksheet("alum-salt-bath"), ("brown-goat", "thin-one", "black-kid")
        )
        while not view.done:
            view = desk.weigh_outs.accept("w1")
        desk.weigh_outs.finish("w1")
        for hide in ("brown-goat", "thin-one", "black-kid"):
            desk.hides.done(hide)
        desk.hides.note("thin-one", "belly thin")
        desk.moves.spoil("L1", "it smells")
        desk.moves.out_of_work("brown-goat", "sold raw")
        desk.moves.out_of_work("thin-one", "given away")
        return stories(desk)


def stories(desk: Desk) -> Stories:
    """The history on every card, of the hides here and of those in the archive.

    A hide that is in both, or in none, or is told in two ways, is a fault.
    """
    here, away = set(desk.hides.ids()), set(desk._ledger.state.archived)
    assert here.isdisjoint(away)
    told = {hide: desk.hides.card(hide).history for hide in here}
    for hide in away:
        told[hide] = desk.in_archive(hide).hides.card(hide).history
    listed = [row.hide.id for row in desk.archive.finished()]
    assert len(listed) == len(set(listed))
    assert away <= set(listed)
    return {
        hide: tuple(line for line in lines if "from the archive" not in line[1])
        for hide, lines in told.items()
    }


def move(desk: Desk) -> None:
    """Move all that is ready."""
    assert 2 == desk.moving_out.all()


def bring_back(desk: Desk) -> None:
    """Bring the lot back."""
    desk.archive.bring_back("thin-one")


def played(root: Path, what: Callable[[Desk], None]) -> tuple[SimulatedDisk, Stories]:
    """Do something on a disk that writes down every operation; what was there before."""
    store = root / STORE
    before = fill(store)
    if what is bring_back:
        with opened(store, MONTH_LATER) as desk:
            move(desk)
    disk = SimulatedDisk(root)
    with opened(store, MONTH_LATER, disk) as desk:
        what(desk)
    return disk, before


@pytest.mark.parametrize("what", [move, bring_back])
def test_a_power_cut_at_any_point_loses_nothing(
    tmp_path: Path, what: Callable[[Desk], None]
) -> None:
    """Whatever it leaves, each hide is in one place with its whole story, and it can go on."""
    disk, before = played(tmp_path, what)
    seen = set()
    with quick_folder() as folder:
        for number, state in enumerate(Crashes(disk.recording, DEPTH).states()):
            if state.key in seen:
                continue
            seen.add(state.key)
            root = folder / str(number)
            root.mkdir()
            state.put_into(root)
            where = f"{state.point} operations, {state.how}"
            with opened(root / STORE, MONTH_LATER) as desk:
                told = " ".join(desk.notices)
                assert not any(word in told for word in ALARMING), where
                assert before == stories(desk), where
                desk.moving_out.all()
                assert before == stories(desk), where
            with opened(root / STORE, MONTH_LATER + timedelta(days=31)) as desk:
                desk.moving_out.all()
                assert {"brown-goat", "thin-one"} == set(desk._ledger.state.archived), where
                assert before == stories(desk), where
                assert b"belly thin" not in (root / STORE).read_bytes(), where
    assert len(seen) > 20


@pytest.mark.parametrize("kind", ["create", "write", "sync", "replace", "sync folder"])
@pytest.mark.parametrize("what", [move, bring_back])
def test_a_disk_that_refuses_leaves_it_all_as_it_was(
    tmp_path: Path, kind: str, what: Callable[[Desk], None]
) -> None:
    """Each operation fails once: told in a sentence, every story is still there, once."""
    for nth in range(100):
        root = tmp_path / str(nth)
        if not struck(root, kind, nth, what):
            break
    assert 1 <= nth < 100


def struck(root: Path, kind: str, nth: int, what: Callable[[Desk], None]) -> bool:
    """Whether there was an ``nth`` operation of the kind to fail; checks what became of it."""
    store = root / STORE
    before = fill(store)
    if what is bring_back:
        with opened(store, MONTH_LATER) as desk:
            move(desk)
    disk = SimulatedDisk(root)
    with opened(store, MONTH_LATER, disk) as desk:
        disk.faults = [Fault(kind, FULL if nth % 2 else errno.EIO, nth=nth)]
        try:
            what(desk)
        except StoreError as fault:
            assert str(fault).endswith(".")
        disk.restart()
        if not desk.doubt:
            assert before == stories(desk)
    with opened(store, MONTH_LATER) as desk:
        assert before == stories(desk)
        desk.moving_out.all()
        assert before == stories(desk)
    return disk.struck > 0


def test_a_damaged_line_after_a_move_is_mended_from_a_copy_of_before(tmp_path: Path) -> None:
    """What the copy brings back of archived hides is in the archive all the same, and not twice."""
    store = tmp_path / STORE
    before = fill(store)
    copies = tmp_path / f"{STORE}.backups"
    copies.mkdir(mode=0o700)
    (copies / "2026-06-01T120000Z.json").write_bytes(store.read_bytes())
    with opened(store, MONTH_LATER) as desk:
        move(desk)
    body = store.read_bytes()
    place = body.index(b"Black kid")
    store.write_bytes(body[:place] + b"Slack" + body[place + 5 :])
    with opened(store, MONTH_LATER) as desk:
        assert desk.notices
        assert before == stories(desk)
        desk.moving_out.all()
        assert before == stories(desk)
    assert b"belly thin" not in store.read_bytes()
