"""Opens a damaged store with the real program and says what it did wrong, if anything.

Nothing here shares code with what mends: taps are compared as text, lines as bytes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from benchconsole.errors import StoreError, StoreTooNew
from benchconsole.model.events import Entry, NoteWritten
from benchconsole.store.entries import document_of
from benchconsole.store.repository import TinyRepository
from benchconsole.store.tip import tip_path
from tests.store.damage_counts import DamageCounts
from tests.store.damaged_worlds import NOW, Sample, Told, World, cut, exactly, taps_in
from tests.store.memory_disk import MemoryDisk

LONGEST_NOTICE = 220
BLANK = b" \r\n\t\xef\xbb\xbf"
_SPAN = re.compile(r"(\d+)(?: to (\d+))?")


@dataclass(frozen=True)
class Opening:
    """What came of opening a store: its taps and what was told, or why it was refused."""

    taps: tuple[Told, ...]
    notices: tuple[str, ...]
    refused: StoreError | None = None


class Judge:
    """Judges how the program takes the damage done to one sample."""

    def __init__(self, store: Path, sample: Sample, counts: DamageCounts) -> None:
        self._store = store
        self._sample = sample
        self._counts = counts
        self._taps = taps_in(sample.lines)
        self._bare = {
            tap: line[:-1] for tap, line in zip(self._taps, sample.lines[1:], strict=True)
        }
        self._known = {*self._taps, *taps_in(cut(sample.other_body))}

    def faults(self, world: World, *, deeply: bool) -> list[str]:
        """What went wrong with it. ``deeply`` also reads it, opens it again, and taps on."""
        self._counts.files += 1
        disk = world.disk(self._store)
        before = disk.files()
        faults = []
        read = self._opened(disk, writing=False) if deeply else None
        if disk.files() != before:
            faults.append("a reader wrote something")
        written = self._opened(disk, writing=True)
        if read and (read.taps, read.refused is None) != (written.taps, written.refused is None):
            faults.append("a reader and a writer do not agree")
        faults += self._faults_told(written)
        if written.refused is not None:
            return [*faults, *self._faults_refused(world, written, disk.files() == before)]
        faults += self._faults_lost(world, written)
        faults += self._faults_kept(world, disk)
        return [*faults, *(self._faults_afterwards(disk, written) if deeply else ())]

    def _opened(self, disk: MemoryDisk, *, writing: bool) -> Opening:
        try:
            with TinyRepository(self._store, writing=writing, disk=disk) as repository:
                by_tap: dict[int, list[Entry]] = {}
                for entry in repository.entries():
                    by_tap.setdefault(entry.tap, []).append(entry)
                taps = tuple(
                    (tap, exactly(document_of(entries))) for tap, entries in by_tap.items()
                )
                return Opening(taps, repository.notices)
        except StoreError as refused:
            return Opening((), (), refused)

    def _faults_told(self, opening: Opening) -> list[str]:
        """Every sentence is one, and short enough to be read."""
        told = [*opening.notices, *([str(opening.refused)] if opening.refused else [])]
        return [
            f"badly told: {sentence}"
            for sentence in told
            if not sentence.endswith((".", "?"))
            or "\n" in sentence
            or "`" in sentence
            or len(sentence.replace(str(self._store), "shop.json")) > LONGEST_NOTICE
        ]

    def _faults_refused(self, world: World, opening: Opening, untouched: bool) -> list[str]:
        """Only what holds nothing of ours may be refused, and it stays as it was."""
        faults = [] if untouched else ["a refused store was written to"]
        if self._readable(world) and not isinstance(opening.refused, StoreTooNew):
            faults.append(f"refused, though {len(self._readable(world))} taps could be read")
        return faults

    def _readable(self, world: World) -> set[Told]:
        """Those of the sample's taps that stand somewhere, every byte of them."""
        found = self._standing_in(world.body or b"", *world.copies)
        if world.tip == self._sample.tip:
            return found
        # Without the tip, the newest whole copy says how far the history went: an older one may
        # go on with what was given up when a copy was restored.
        whole = (copy for copy in world.copies if copy and self._sample.body.startswith(copy))
        newest = next((copy for copy in whole if copy.endswith(b"\n")), b"")
        known = self._standing_in(world.body or b"", newest)
        return {tap for tap in found if tap <= max(known, default=(0, ""))}

    def _standing_in(self, *places: bytes) -> set[Told]:
        return {tap for tap, line in self._bare.items() if any(line in body for body in places)}

    def _faults_lost(self, world: World, opening: Opening) -> list[str]:
        found = set(opening.taps)
        faults = [
            f"tap {number} could be read and is left out"
            for number, _ in sorted(self._readable(world) - found)
            if not self._is_branch(world, found)
        ]
        told = _numbers_told(opening.notices)
        lost = [number for number, _ in self._taps if (number, _) not in found]
        # In the place of a lost tap nobody can tell another shop's from it.
        others = {number for number, _ in found - self._known} if opening.notices else set[int]()
        untold = [number for number in lost if number not in told | others]
        if untold and self._is_branch(world, found):
            untold = [] if opening.notices else untold
        if untold and self._looks_whole(world, lost):
            self._counts.unknowable += 1
            untold = []
        self._counts.lost += len(untold)
        self._counts.told += len(lost) - len(untold)
        if untold:
            faults.append(f"silently lost: {untold}; told: {opening.notices}")
        odd = found - self._known
        is_mixed = bool(found & self._known) and world.tip == self._sample.tip and not lost
        if odd and (is_mixed or not opening.notices):
            faults.append(f"taps of another shop were taken in: {sorted(odd)[:2]}")
        numbers = [number for number, _ in opening.taps]
        if numbers != sorted(set(numbers)):
            faults.append(f"out of order: {numbers}")
        return faults

    def _is_branch(self, world: World, found: set[Told]) -> bool:
        """Whether another history that was in the file was taken, and nothing spoke against it."""
        own = self._standing_in(world.body or b"")
        is_known = world.tip == self._sample.tip and self._taps[-1] in self._readable(world)
        return bool(found - set(self._taps)) and not (own and is_known)

    def _looks_whole(self, world: World, lost: list[int]) -> bool:
        """Whether nothing that is left can show that the end is missing."""
        kept = len(self._taps) - len(lost)
        whole = b"".join(self._sample.lines[: kept + 1])
        known = {number for number, _ in self._readable(world)}
        is_prefix = (world.body or b"").rstrip() == whole.rstrip()
        return is_prefix and world.tip != self._sample.tip and not known & set(lost)

    def _faults_kept(self, world: World, disk: MemoryDisk) -> list[str]:
        """What was there is still there, under whatever name, but for blanks."""
        body, files = _without_blanks(world.body or b""), disk.files()
        if any(_without_blanks(file).startswith(body) for file in files.values()):
            return []
        added = body.removeprefix(self._sample.body)
        looks_cut = re.match(rb'\{?"?t?a?p?"?:?\d*(,"after":.*)?\Z', added)
        if looks_cut and added != body and world.tip == self._sample.tip:
            return []  # indeed what a write leaves that was cut off before it was confirmed
        return ["the damaged file was not kept"]

    def _faults_afterwards(self, disk: MemoryDisk, opening: Opening) -> list[str]:
        """The next opening is clean; a tap can be added, and is there at the one after."""
        second = self._opened(disk, writing=True)
        if second.taps != opening.taps or (second.notices and opening.taps):
            return [f"a second opening is not clean: {second.notices or second.refused}"]
        event = NoteWritten(hide="h0", text="afterwards")
        with TinyRepository(self._store, writing=True, disk=disk) as repository:
            repository.append([event], at=NOW, recorded=NOW)
            body = disk.files()[self._store]
        last = opening.taps[-1][0] if opening.taps else 0
        again = self._opened(disk, writing=False)
        if len(again.taps) != len(opening.taps) + 1 or again.taps[-1][0] != last + 1:
            return [f"a tap afterwards is not there: {again.refused}"]
        if again.notices or disk.files()[self._store] != body:
            return [f"the opening after the next tap is not clean: {again.notices}"]
        return [] if tip_path(self._store) in disk.files() else ["no tip was written"]


def _without_blanks(body: bytes) -> bytes:
    return b"\n".join(line.strip(BLANK) for line in body.split(b"\n")).strip()


def _numbers_told(notices: tuple[str, ...]) -> set[int]:
    """The numbers of taps that the notices call missing, or say that nothing is known of."""
    told: set[int] = set()
    for notice in notices:
        if "was empty" in notice or "is gone" in notice:
            told.update(range(1000))
        if between := re.search(r"between (\d+) and (\d+)", notice):
            told.update(range(int(between[1]), int(between[2]) + 1))
        elif "ound nowhere" in notice:
            _, _, spans = notice.partition("number")
            for first, last in _SPAN.findall(spans):
                told.update(range(int(first), int(last or first) + 1))
        if after := re.search(r"after number (\d+) cannot", notice):
            told.update(range(int(after[1]) + 1, 1000))
        if within := re.search(r"breaks off within tap (\d+)", notice):
            told.update(range(int(within[1]), 1000))
    return told
