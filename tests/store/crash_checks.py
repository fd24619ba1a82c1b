"""Opens what a crash left, with the real program, and says what was lost."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from benchconsole.store.repository import TinyRepository
from tests.store.crash_scripts import NOW, STORE, Played, Taps, note, taps_of
from tests.store.crash_states import Crashes, CrashState, Depth
from tests.store.fault_counts import Counts
from tests.store.simulated_disk import SimulatedDisk

SHALLOW = Depth(cuts=2, mixtures=1, every_byte=False)
"""For crashes while a crash is being cleared up."""
MOST_TOLD = 5
ALARMING = (
    "found nowhere",
    "gone",
    "brought back",
    "of another history",
    "confirmed here",
    "replaced",
)
"""What is told of real damage only: a power cut may leave rubbish at the end, and no more."""
AFTERWARDS = note(999, parts=2)


@contextmanager
def quick_folder() -> Iterator[Path]:
    """A folder in memory where the system has such a thing: thousands are made and removed."""
    memory = Path("/dev/shm")
    place = memory if memory.is_dir() and os.access(memory, os.W_OK) else None
    with tempfile.TemporaryDirectory(prefix="benchconsole-crashes-", dir=place) as folder:
        yield Path(folder)


@dataclass
class Outcome:
    """What became of one folder: the histories that were found in it, and what went wrong."""

    found: set[Taps] = field(default_factory=set)
    faults: list[str] = field(default_factory=list)
    crashes_inside: int = 0


class Examiner:
    """Checks crash states below a folder of its own; equal folders are opened only once.

    ``may_tell`` is for stores that were damaged before: their openings have something to say.
    """

    def __init__(
        self,
        folder: Path,
        counts: Counts,
        depth: Depth,
        disk: Callable[[Path], SimulatedDisk] = SimulatedDisk,
        *,
        may_tell: bool = False,
    ) -> None:
        self._may_tell = may_tell
        self._folder = folder.resolve()
        self._counts = counts
        self._depth = depth
        self._disk = disk
        self._known: dict[object, Outcome] = {}
        self._made = 0

    def examine(self, played: Played, most: int = MOST_TOLD) -> list[str]:
        """Every crash of a played script; the first few things that went wrong, in words."""
        faults = list(played.faults)
        for state in Crashes(played.disk.recording, self._depth).states():
            faults += self._faults_of(state, played)
            if len(faults) >= most:
                break
        return faults[:most]

    def _faults_of(self, state: CrashState, played: Played) -> list[str]:
        sure, allowed = played.promises.sure(state.point), played.promises.allowed(state.point)
        outcome = self._outcome(state)
        self._counts.points += 1
        self._counts.taps += len(sure)
        told = [*outcome.faults]
        for found in outcome.found - allowed:
            lost = sum(tap not in found for tap in sure)
            self._counts.lost += lost
            told.append(f"{lost} of {len(sure)} taps lost, {len(found)} found")
        before = played.disk.recording.operations[: state.point][-1:]
        where = f"after {state.point} operations ({before[0] if before else 'none'})"
        return [f"{where}, {state.how}: {words}" for words in told]

    def _outcome(self, state: CrashState) -> Outcome:
        if state.key not in self._known:
            self._counts.folders += 1
            self._known[state.key] = self._opened(state)
            self._counts.points += self._known[state.key].crashes_inside
        return self._known[state.key]

    def _opened(self, state: CrashState) -> Outcome:
        outcome = Outcome()
        root = self._made_real(state)
        try:
            outcome.found.add(self._read(root))
            disk = self._disk(root)
            kept, opened = self._cleared_up(root, disk)
            outcome.found.add(kept)
            self._check_afterwards(root, disk, kept, opened, outcome)
            if self._counts.folders % self._depth.inside == 0:
                self._crash_inside(disk, opened, outcome)
        except Exception as fault:
            outcome.faults.append(f"{type(fault).__name__}: {fault}")
        finally:
            shutil.rmtree(root)
        return outcome

    def _made_real(self, state: CrashState) -> Path:
        self._made += 1
        root = self._folder / f"crash{self._made}"
        root.mkdir(parents=True)
        state.put_into(root)
        return root

    def _read(self, root: Path) -> Taps:
        """A reader, which may not change a byte."""
        before = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
        with TinyRepository(root / STORE, writing=False) as reader:
            taps = taps_of(reader.entries())
            self._check_notices(reader.notices)
        after = {path: path.read_bytes() for path in root.rglob("*") if path.is_file()}
        if before != after:
            raise AssertionError("a reader changed something")
        return taps

    def _check_notices(self, notices: tuple[str, ...]) -> None:
        """A power cut loses nothing: nobody is told that it did."""
        for notice in notices:
            if not self._may_tell and any(word in notice.lower() for word in ALARMING):
                raise AssertionError(f"told after a mere crash: {notice}")

    def _cleared_up(self, root: Path, disk: SimulatedDisk) -> tuple[Taps, int]:
        """Open for writing; the history, and after how many operations it was shown."""
        with TinyRepository(root / STORE, writing=True, disk=disk) as writer:
            kept = taps_of(writer.entries())
            opened = len(disk.recording)
            self._check_notices(writer.notices)
            writer.append(list(AFTERWARDS), at=NOW, recorded=NOW)
            if taps_of(writer.entries()) != (*kept, AFTERWARDS):
                raise AssertionError("a tap after the crash is not in the history")
        return kept, opened

    def _check_afterwards(
        self, root: Path, disk: SimulatedDisk, kept: Taps, opened: int, outcome: Outcome
    ) -> None:
        """The next opening agrees, and so it does after a power cut then."""
        with TinyRepository(root / STORE, writing=True, disk=self._disk(root)) as again:
            if taps_of(again.entries()) != (*kept, AFTERWARDS):
                outcome.faults.append("the second opening does not agree with the first")
            if again.notices:
                outcome.faults.append(f"the second opening still tells: {again.notices[0]}")
        crashes = Crashes(disk.recording, SHALLOW)
        for point, wanted in ((opened, kept), (len(disk.recording), (*kept, AFTERWARDS))):
            found = self._plainly_read(crashes.state(point, lost=True))
            outcome.crashes_inside += 1
            if found != wanted:
                outcome.faults.append("what was shown after the crash is lost by the next one")

    def _crash_inside(self, disk: SimulatedDisk, opened: int, outcome: Outcome) -> None:
        """Crashes while the first opening clears up."""
        seen: set[object] = set()
        for state in Crashes(disk.recording, SHALLOW).states(range(1, opened + 1)):
            if state.key in seen or state.key in self._known:
                continue
            seen.add(state.key)
            outcome.crashes_inside += 1
            outcome.found.add(self._plainly_read(state))

    def _plainly_read(self, state: CrashState) -> Taps:
        """What a writer finds in a state; once, whoever asks."""
        if (state.key, "plain") not in self._known:
            root = self._made_real(state)
            try:
                with TinyRepository(root / STORE, writing=True, disk=self._disk(root)) as writer:
                    taps = taps_of(writer.entries())
            finally:
                shutil.rmtree(root)
            self._known[state.key, "plain"] = Outcome(found={taps})
        (found,) = self._known[state.key, "plain"].found
        return found
