"""Samples of stores to be damaged: their logs, their tips, their copies, their neighbours."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from benchconsole.model.events import (
    Attended,
    Event,
    HideCorrected,
    HideTakenIn,
    NoteWritten,
    StageBegun,
    TimerSet,
    Undone,
)
from benchconsole.store.copies import copies_folder
from benchconsole.store.repository import TinyRepository
from benchconsole.store.tip import tip_path
from tests.store.memory_disk import MemoryDisk

NOW = datetime(2026, 3, 1, 8, tzinfo=UTC)
TEXTS = (
    "thin belly",
    'a "quoted" \\ back\\slash {"tap":3,"after":"00000000","crc":"12345678"}',
    "line\nend\r\n\x00",
    "🦌 עור é",
    "",
)


def some_taps(count: int, shop: str = "h") -> list[list[Event]]:
    """Taps of one and of several events, with texts that look like lines, in a fixed order."""
    taps: list[list[Event]] = []
    for number in range(count):
        hide = f"{shop}{number // 5}"
        match number % 5:
            case 0:
                first = HideTakenIn(
                    hide=hide, name=hide, species="goat", route="r", stage="soak", came="salted"
                )
                taps.append([first, HideCorrected(hide=hide, name=hide, count=2, mass_g=2140.5)])
            case 1:
                taps.append([StageBegun(hide=hide, stage="soak")])
            case 2:
                taps.append([NoteWritten(hide=hide, text=TEXTS[number // 5 % len(TEXTS)])] * 3)
            case 3:
                taps.append([Attended(hide=hide, stage="soak", attention=0)])
            case _:
                at = NOW + timedelta(days=number, microseconds=number)
                taps.append([Undone(tap=number), TimerSet(timer="t", name="", ends_at=at)])
    return taps


def log_of(taps: list[list[Event]], began: datetime = NOW) -> tuple[bytes, bytes]:
    """The log and the tip that the program writes for these taps."""
    path = Path("/tmp/sample.json")
    disk = MemoryDisk()
    with TinyRepository(path, writing=True, disk=disk) as repository:
        for number, events in enumerate(taps):
            at = began + timedelta(hours=number)
            repository.append(events, at=at, recorded=at)
    files = disk.files()
    return files[path], files[tip_path(path)]


def cut(body: bytes) -> tuple[bytes, ...]:
    """The lines of a file, each with its end."""
    *lines, rest = body.split(b"\n")
    return (*(line + b"\n" for line in lines), *((rest,) if rest else ()))


Told = tuple[int, str]
"""A tap: its number and its document, exactly."""


def taps_in(lines: tuple[bytes, ...]) -> tuple[Told, ...]:
    """The taps that whole lines tell."""
    found = [json.loads(line) for line in lines]
    return tuple((line["tap"], exactly(line["doc"])) for line in found if "tap" in line)


def exactly(document: Any) -> str:
    """A document as text, letter by letter."""
    return json.dumps(document, ensure_ascii=True)


@dataclass(frozen=True, kw_only=True)
class Sample:
    """A store and what may be mixed into it.

    ``other_lines`` are those of the same shop on another computer, which parted from it
    ``apart`` taps ago; ``foreign_lines`` those of another shop.
    """

    body: bytes
    tip: bytes
    other_body: bytes
    foreign_body: bytes
    foreign_tip: bytes
    apart: int

    @classmethod
    def of(cls, count: int, apart: int = 3) -> Sample:
        """A sample with so many taps."""
        taps = some_taps(count)
        body, tip = log_of(taps)
        parted: list[list[Event]] = [
            [NoteWritten(hide="h0", text=f"on the other computer {number}")]
            for number in range(apart + 1)
        ]
        # The events of no two shops fall into taps in the same way; by that lines are told apart.
        foreign_body, foreign_tip = log_of(some_taps(count + 11, "f")[2:], NOW + timedelta(days=3))
        return cls(
            body=body,
            tip=tip,
            other_body=log_of(taps[:-apart] + parted)[0],
            foreign_body=foreign_body,
            foreign_tip=foreign_tip,
            apart=apart,
        )

    @property
    def lines(self) -> tuple[bytes, ...]:
        """The log's lines, with their ends."""
        return cut(self.body)

    @property
    def other_lines(self) -> tuple[bytes, ...]:
        """Those of the other computer's log."""
        return cut(self.other_body)

    @property
    def foreign_lines(self) -> tuple[bytes, ...]:
        """The taps of the other shop's log."""
        return cut(self.foreign_body)[1:]

    def with_body(self, body: bytes) -> Sample:
        """The same with another log, to be damaged further."""
        return replace(self, body=body)


@dataclass(frozen=True, kw_only=True)
class World:
    """What is on the disk when the program is opened."""

    body: bytes | None
    tip: bytes | None
    copies: tuple[bytes, ...] = ()
    """The newest first."""

    def disk(self, store: Path) -> MemoryDisk:
        """As files."""
        files = {
            copies_folder(store) / f"2026-03-{28 - age:02}T08-00-00Z.json": body
            for age, body in enumerate(self.copies)
        }
        if self.body is not None:
            files[store] = self.body
        if self.tip is not None:
            files[tip_path(store)] = self.tip
        return MemoryDisk(files)
