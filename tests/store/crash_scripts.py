"""Days at the bench as scripts: taps, failures, kills; played on a recording disk.

While one is played a log is kept of what the person was told: which tap was confirmed, and what
an opened store showed, each with the number of disk operations done by then.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from benchconsole.errors import StoreError
from benchconsole.model.events import Entry, Event, NoteWritten, Undone
from benchconsole.store.repository import TinyRepository
from tests.store.simulated_disk import BROKEN, FULL, Fault, Killed, SimulatedDisk

NOW = datetime(2026, 3, 1, 8, tzinfo=UTC)
STORE = "shop/shop.json"

Tap = tuple[Event, ...]
Taps = tuple[Tap, ...]


@dataclass(frozen=True)
class Note:
    """A tap of ``parts`` events with so many letters in each."""

    parts: int = 1
    letters: int = 8


@dataclass(frozen=True)
class TakeBack:
    """The last tap is undone."""


@dataclass(frozen=True)
class Reopen:
    """The console is closed and opened again."""


@dataclass(frozen=True)
class Break:
    """From here on the disk fails in this way."""

    kind: str
    number: int
    nth: int = 0
    times: int = 1
    share: float = 0.5
    after: bool = False


@dataclass(frozen=True)
class Kill:
    """The process is killed so many changes on, whatever it then does, and started again."""

    changes: int


@dataclass(frozen=True)
class Do:
    """Anything else asked of the open store; no tap goes by it unless ``leads_to`` says so."""

    act: Callable[[TinyRepository], object]
    leads_to: Callable[[Taps], Taps] = lambda taps: taps


Step = Note | TakeBack | Reopen | Break | Kill | Do


@dataclass
class Promises:
    """What was told, in order: at which point, and the history the person then relied on."""

    told: list[tuple[int, Taps]] = field(default_factory=list)
    tried: list[tuple[int, Tap]] = field(default_factory=list)
    changing: list[tuple[int, Taps]] = field(default_factory=list)
    """Since when something was asked that makes another history of it, and which."""
    settled: list[int] = field(default_factory=list)
    """When it was clear what had become of the taps tried before: a confirmation, an opening."""

    def sure(self, point: int) -> Taps:
        """What no crash at this point may lose."""
        return [taps for at, taps in self.told if at <= point][-1]

    def allowed(self, point: int) -> set[Taps]:
        """What may be found after a crash: that, and at most one tap that was not confirmed.

        A tap that was refused may come back, too: a failing disk cannot be made to forget.
        """
        sure = self.sure(point)
        since = max((at for at in self.settled if at <= point), default=0)
        changed = {taps for at, taps in self.changing if since <= at < point}
        return {sure, *changed, *((*sure, tap) for at, tap in self.tried if since <= at < point)}


@dataclass
class Played:
    """A script that was played to its end."""

    disk: SimulatedDisk
    promises: Promises
    faults: list[str]
    """What was wrong while it ran, before any crash."""


def taps_of(entries: Iterable[Entry]) -> Taps:
    """The history as whole taps, each the events that share its number."""
    together: dict[int, list[Event]] = {}
    for entry in entries:
        together.setdefault(entry.tap, []).append(entry.event)
    return tuple(tuple(events) for events in together.values())


def note(number: int, parts: int = 1, letters: int = 8) -> Tap:
    """The events of a tap that is like no other."""
    words = f"tap {number} " + "thin belly " * (letters // 11)
    return tuple(NoteWritten(hide=f"h{part}", text=words) for part in range(parts))


class Player:
    """Plays a script in an empty folder, or in one that ``prepare`` has filled."""

    def __init__(
        self,
        root: Path,
        *,
        disk: Callable[[Path], SimulatedDisk] = SimulatedDisk,
        prepare: Callable[[Path], object] | None = None,
    ) -> None:
        self._path = root.resolve() / STORE
        if prepare is not None:
            prepare(self._path)
        with TinyRepository(self._path, writing=False) as reader:
            begun = taps_of(reader.entries())
        self._disk = disk(root)
        self._played = Played(self._disk, Promises(told=[(0, begun)]), [])
        self._repository: TinyRepository | None = None
        self._count = 0
        self.kills = 0
        """How often the program was killed."""

    def play(self, script: Sequence[Step]) -> Played:
        """All steps; what was told, and what went wrong without any crash.

        A kill that stands first may come while the store is opened.
        """
        for step in script[:1]:
            if isinstance(step, Kill):
                self._take(step)
        self._open()
        for place, step in enumerate(script):
            if place or not isinstance(step, Kill):
                self._take(step)
        self._close()
        return self._played

    def _take(self, step: Step) -> None:
        match step:
            case Note():
                self._count += 1
                self._tap(note(self._count, step.parts, step.letters))
            case TakeBack():
                self._tap((Undone(tap=max(len(self._known), 1)),))
            case Reopen():
                self._close()
                self._open()
            case Break():
                self._disk.faults.append(Fault(**vars(step)))
            case Kill():
                self._disk.kill_in = step.changes
            case Do():
                point = len(self._disk.recording)
                self._played.promises.changing.append((point, step.leads_to(self._known)))
                self._guarded(lambda: step.act(self._opened))
                self._shown()
                self._played.promises.settled.append(len(self._disk.recording))

    def _tap(self, events: Tap) -> None:
        promises = self._played.promises
        promises.tried.append((len(self._disk.recording), events))
        before = self._known
        kept = self._guarded(lambda: self._opened.append(list(events), at=NOW, recorded=NOW))
        if kept:
            promises.told.append((len(self._disk.recording), (*before, events)))
            promises.settled.append(len(self._disk.recording))
        self._shown()

    def _guarded(self, act: Callable[[], object]) -> bool:
        """Whether it was done; a kill starts the program again, a refusal is a sentence."""
        before = self._disk.struck
        try:
            act()
        except StoreError as refusal:
            if not str(refusal).endswith("."):
                self._fault(f"not a sentence: {refusal}")
            if self._disk.struck == before:
                self._fault(f"refused although the disk did its work: {refusal}")
            return False
        except Killed:
            self._begin_again()
            return False
        return True

    def _shown(self) -> None:
        """What the screen now shows is relied on from here on."""
        try:
            taps = taps_of(self._opened.entries())
        except StoreError:
            return
        point = len(self._disk.recording)
        if taps not in self._played.promises.allowed(point + 1):
            self._fault(f"at {point} the console shows {len(taps)} taps, not {len(self._known)}")
        self._played.promises.told.append((point, taps))

    def _open(self) -> None:
        try:
            self._repository = TinyRepository(self._path, writing=True, disk=self._disk)
            self._shown()
        except Killed:
            self._begin_again()

    def _begin_again(self) -> None:
        self.kills += 1
        self._close()
        self._disk.restart()
        self._open()
        self._played.promises.settled.append(len(self._disk.recording))

    def _close(self) -> None:
        if self._repository is None:
            return
        try:
            self._repository.close()
        except Killed:
            self._repository.close()
        self._repository = None

    def _fault(self, words: str) -> None:
        self._played.faults.append(words)

    @property
    def _opened(self) -> TinyRepository:
        assert self._repository is not None
        return self._repository

    @property
    def _known(self) -> Taps:
        return self._played.promises.told[-1][1]


BREAKABLE = (
    *("write", "sync", "sync folder", "replace", "create", "open", "close", "truncate", "remove"),
    *("link", "read", "mark"),
)


def chance_script(seed: int, length: int = 8) -> list[Step]:
    """A day nobody planned: taps, and whatever may come between them."""
    chance = random.Random(seed)
    script: list[Step] = []
    for _ in range(length):
        match chance.randrange(10):
            case 0:
                script.append(Reopen())
            case 1:
                script.append(Kill(chance.randint(1, 6)))
            case 2 | 3:
                script.append(
                    Break(
                        chance.choice(BREAKABLE),
                        chance.choice([FULL, BROKEN]),
                        nth=chance.randrange(3),
                        times=chance.choice([1, 1, 2]),
                        share=chance.random(),
                        after=chance.random() < 0.3,
                    )
                )
            case 4:
                script.append(TakeBack())
        script.append(Note(parts=chance.randint(1, 3), letters=chance.choice([8, 60, 700])))
    return script
