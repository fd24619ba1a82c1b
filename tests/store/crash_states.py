"""What a crash may leave on the disk, at every point of a recording, each state a real folder.

Of the changes not yet durable: all, none, each one missing, each one alone, the first few, each
write torn (at bytes, at sectors, with zeros, old lines or rubbish in its place), and mixtures by
a seeded chance.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from tests.store.simulated_disk import Operation, Recording

SECTOR_BYTES = 512
"""What a disk writes whole or not at all, at least."""
SMALL_BYTES = 160
"""A write up to this size is torn at every byte."""
NAMING = {"mkdir", "create", "link", "replace", "remove"}
FILLING = {"write", "truncate"}
NEVER = 10**9
UNFINISHED = re.compile(r"\.[0-9a-f]{8}\.part$")

Pieces = tuple[tuple[int, bytes], ...]
"""What is left of a torn write: bytes at places in the file."""


@dataclass(frozen=True)
class Depth:
    """How many states are looked at: torn places of a write, mixtures at a point."""

    cuts: int = 12
    mixtures: int = 3
    every_byte: bool = True
    torn: bool = True
    """Whether writes are torn at all."""
    inside: int = 1
    """Of how many different folders one has the crashes while it is cleared up looked at too."""


@dataclass(frozen=True)
class CrashState:
    """A folder after a crash: ``point`` operations had been asked for."""

    point: int
    how: str
    folders: frozenset[str]
    files: Mapping[str, bytes]

    @property
    def key(self) -> frozenset[tuple[str, bytes]]:
        """The same for states that no program could tell from each other.

        The chance part in the name of an unfinished file means nothing.
        """
        files = {(UNFINISHED.sub(".part", name), body) for name, body in self.files.items()}
        return frozenset(files | {(name, b"\0folder") for name in self.folders})

    def put_into(self, root: Path) -> None:
        """Make it a real folder; ``root`` exists and is empty."""
        for name in sorted(self.folders):
            (root / name).mkdir(mode=0o700)
        for name, content in self.files.items():
            path = root / name
            path.touch(mode=0o600)
            path.write_bytes(content)


class Crashes:
    """The crash states of a recording."""

    def __init__(self, recording: Recording, depth: Depth, seed: int = 20260301) -> None:
        self._recording = recording
        self._operations = recording.operations
        self._depth = depth
        self._seed = seed
        self._durable_at = [self._when_durable(place) for place in range(len(recording))]

    def states(self, points: Iterable[int] | None = None) -> Iterator[CrashState]:
        """Every state at every point; the same folder may come more than once."""
        for point in range(len(self._recording) + 1) if points is None else points:
            yield from self._states_at(point)

    def state(self, point: int, *, lost: bool) -> CrashState:
        """At one point, with all that was not durable lost or with all of it there."""
        left = self._pending(point) if lost else []
        return self._built(point, "all lost" if lost else "all there", dict.fromkeys(left, ()))

    # --- what is durable ------------------------------------------------------------------

    def _when_durable(self, place: int) -> int:
        """The point from which no crash can undo an operation."""
        done = self._operations[place]
        for later in range(place + 1, len(self._operations)):
            then = self._operations[later]
            if done.kind in FILLING and then.file == done.file:
                if then.kind == "failed sync":
                    return NEVER  # the system may have dropped it and think it is written
                if then.kind == "sync":
                    return later + 1
            elif (
                done.kind in NAMING
                and then.kind == "sync folder"
                and then.path == str(PurePosixPath(done.path).parent)
            ):
                return later + 1
        return NEVER

    def _pending(self, point: int) -> list[int]:
        return [
            place
            for place in range(point)
            if self._operations[place].kind in NAMING | FILLING and self._durable_at[place] > point
        ]

    # --- which states ---------------------------------------------------------------------

    def _states_at(self, point: int) -> Iterator[CrashState]:
        pending = self._pending(point)
        yield self._built(point, "all there", {})
        yield self._built(point, "all lost", dict.fromkeys(pending, ()))
        for place in pending:
            name = str(self._operations[place])
            others = [other for other in pending if other != place]
            if others:
                yield self._built(point, f"lost: {name}", {place: ()})
                yield self._built(point, f"alone: {name}", dict.fromkeys(others, ()))
                later = [other for other in pending if other > place]
                yield self._built(point, f"up to: {name}", dict.fromkeys(later, ()))
            if self._depth.torn and self._operations[place].kind == "write":
                for how, pieces in self._torn_at(point, place):
                    yield self._built(point, f"{name}: {how}", {place: pieces})
        if len(pending) > 1:
            yield from self._mixtures(point, pending)

    def _mixtures(self, point: int, pending: list[int]) -> Iterator[CrashState]:
        chance = random.Random(f"{self._seed}/{point}")
        for number in range(self._depth.mixtures):
            left: dict[int, Pieces] = {}
            for place in pending:
                luck = chance.random()
                if luck < 0.35:
                    left[place] = ()
                elif luck < 0.6 and self._operations[place].kind == "write":
                    left[place] = chance.choice(list(self._torn(place)))[1]
            yield self._built(point, f"mixture {number}", left)

    def _torn_at(self, point: int, place: int) -> Iterator[tuple[str, Pieces]]:
        """In all ways while the write is the last thing done, in a few while it stays unsynced."""
        if point == place + 1:
            yield from self._torn(place)
            return
        done = self._operations[place]
        half = len(done.body) // 2
        yield "cut in half", ((done.offset, done.body[:half]),)
        yield "zeros", ((done.offset, bytes(len(done.body))),)
        yield "half zeros", ((done.offset, done.body[:half] + bytes(len(done.body) - half)),)

    def _torn(self, place: int) -> Iterator[tuple[str, Pieces]]:
        """Ways in which a write may be half on the disk."""
        done = self._operations[place]
        offset, body = done.offset, done.body
        end = offset + len(body)
        for cut in self._cuts(len(body), offset):
            yield f"cut at {cut}", ((offset, body[:cut]),)
        stale = self._stale(place, len(body))
        for cut in self._cuts(len(body), offset, few=True):
            rest = len(body) - cut
            for what, filler in (("zeros", b"\0" * rest), ("letters", b"x" * rest)):
                yield f"{what} from {cut}", ((offset, body[:cut] + filler),)
            yield f"an old line from {cut}", ((offset, body[:cut] + stale[cut:]),)
        noise = random.Random(place).randbytes(len(body))
        yield "noise", ((offset, noise),)
        yield "noise at the end", ((offset, body[: len(body) // 2] + noise[len(body) // 2 :]),)
        sectors = [(at, min(at + SECTOR_BYTES, end)) for at in _sector_starts(offset, end)]
        for first, last in sectors if len(sectors) > 1 else ():
            missing = body[: max(first - offset, 0)], body[last - offset :]
            for what, filler in (("zeros", b"\0"), ("letters", b"x")):
                hole = filler * (last - max(first, offset))
                yield f"sector at {first} is {what}", ((offset, missing[0] + hole + missing[1]),)
            kept = body[max(first - offset, 0) : last - offset]
            yield f"only the sector at {first}", ((end, b""), (max(first, offset), kept))

    def _cuts(self, length: int, offset: int, *, few: bool = False) -> list[int]:
        if length <= SMALL_BYTES and self._depth.every_byte and not few:
            return list(range(1, length))
        wanted = 3 if few else self._depth.cuts
        evenly = {length * number // (wanted + 1) for number in range(wanted + 1)}
        edges = {at - offset for at in _sector_starts(offset, offset + length)}
        near = {1, length - 1, length - 2} if not few else {length - 1}
        return sorted(cut for cut in evenly | edges | near | {0} if 0 <= cut < length)

    def _stale(self, place: int, length: int) -> bytes:
        """What lay in the blocks before: the last thing that was written to this file, or any."""
        before = [o for o in self._operations[:place] if o.kind == "write"]
        own = [o for o in before if o.file == self._operations[place].file]
        return ((own or before)[-1].body if before else b"").ljust(length, b" ")[:length]

    # --- building one ---------------------------------------------------------------------

    def _built(self, point: int, how: str, left: dict[int, Pieces]) -> CrashState:
        """The folder where of the operations in ``left`` only these pieces are there."""
        folders = set(self._recording.folders)
        names = dict(self._recording.names)
        contents = {number: bytearray(old) for number, old in self._recording.contents.items()}
        for place, done in enumerate(self._operations[:point]):
            if done.kind in FILLING:
                content = contents.setdefault(done.file, bytearray())
                _fill(content, done, left.get(place))
            elif place not in left:
                _name(folders, names, done)
        there = {name for name in names if str(PurePosixPath(name).parent) in folders | {"."}}
        files = {name: bytes(contents.get(names[name], b"")) for name in there}
        kept = frozenset(f for f in folders if all(str(p) in folders | {"."} for p in _above(f)))
        return CrashState(point, how, kept, {n: f for n, f in files.items() if _reached(n, kept)})


def _sector_starts(begin: int, end: int) -> list[int]:
    return list(range(begin // SECTOR_BYTES * SECTOR_BYTES, end, SECTOR_BYTES))


def _above(name: str) -> list[PurePosixPath]:
    return list(PurePosixPath(name).parents)


def _reached(name: str, folders: frozenset[str]) -> bool:
    return all(str(folder) in folders | {"."} for folder in _above(name))


def _fill(content: bytearray, done: Operation, pieces: Pieces | None) -> None:
    if done.kind == "truncate":
        if pieces is None:
            del content[done.size :]
            content.extend(bytes(done.size - len(content)))
        return
    for offset, body in ((done.offset, done.body),) if pieces is None else pieces:
        content.extend(bytes(max(offset - len(content), 0)))
        content[offset : offset + len(body)] = body


def _name(folders: set[str], names: dict[str, int], done: Operation) -> None:
    if done.kind == "mkdir":
        folders.add(done.path)
    elif done.kind == "remove":
        names.pop(done.path, None)
    elif done.kind in NAMING:
        if done.kind == "replace":
            names.pop(done.old, None)
        names[done.path] = done.file
