"""The demo shop with every word that a person could have written turned against the reader.

It is what a history of an earlier version, or one that somebody tampered with, may hold.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta, tzinfo
from pathlib import Path
from typing import Any

import msgspec

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.errors import BadFile
from benchconsole.exchange.rehearsal import rehearsal_taps
from benchconsole.library import Library, shipped_library, with_own_files
from benchconsole.model.events import (
    Entry,
    Event,
    HideLost,
    HideTakenIn,
    LotSplit,
    Lying,
    NoteWritten,
    RouteChanged,
    TimerSet,
)
from benchconsole.store import MemoryRepository, TinyRepository
from benchconsole.store.backups import Backups

ALLOWED = (
    "[/]皮[b[@click=app.quit]x עור\u200f\u061c🐐\u200d🧵☀\ufe0f👍🏽🇩🇪e"
    + "\u0301" * 20
    + " \u0301\u00ad\u2060\ufeff\U000e0041\ue000\u3000=1+1"
)
"""What may be typed or stand in a file: markup, joiners, marks, heaps, wide and unseen letters."""

HOSTILE = (
    f"\x1b[1m\u202e[/]皮\u200d{ALLOWED}\x1b[2J\x1b]0;t\x07\x9b31m\x00 "
    "\r\nFORGED \t\v\x85\u2028\u2029\x7f\u202eevil\u202c\u2066\u2067\u2068\u2069\ufdd0\uffff"
)
"""The same with commands to the terminal and all that turns the writing of what follows."""

HALVES = "\ud83d\udcff"
"""Halves of characters, which no file in UTF-8 can hold."""

SHORT = "\u0301皮\u202e[/]"
"""For where there is little room; a mark in front would join our own writing."""

WORDS = frozenset(
    {"name", "text", "why", "of", "spoils", "inspect", "formula_name", "target", "container"}
    | {"then", "pack", "cautions"}
)
"""Fields of the history that hold people's words, or words out of files of theirs."""

IDS = frozenset(
    {"hide", "new_hide", "hides", "out", "species", "route", "stage", "came", "next", "liquor"}
    | {"timer", "weigh_out", "id", "formula", "substance", "part", "only", "about", "stock_g key"}
    | {"rule", "zone", "vessels key", "liquors", "timers", "weigh_outs", "gone", "family"}
)
"""Fields that hold what the program itself made up, chose or read."""

ROUTE = "rabbit-for-mittens"


def hostile_events(events: tuple[Event, ...], text: str) -> tuple[Event, ...]:
    """The same events with every word of a person's replaced."""
    turned = _turned(msgspec.to_builtins(events, builtin_types=(datetime,)), text)
    return msgspec.convert(turned, type=tuple[Event, ...])


def _turned(value: Any, text: str, key: str = "") -> Any:
    if isinstance(value, dict):
        return {name: _turned(inner, text, name) for name, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_turned(inner, text, key) for inner in value]
    return text if isinstance(value, str) and value and key in WORDS else value


def hostile_taps(
    now: datetime, zone: tzinfo, *, halves: str = ""
) -> Iterator[tuple[datetime, tuple[Event, ...]]]:
    """The demo shop's taps and some more, their words replaced; some end in ``halves``."""
    texts = (HOSTILE, HOSTILE, SHORT, HOSTILE + halves)
    for place, (at, events) in enumerate(rehearsal_taps(bootstrap.demo_text(), now, zone)):
        yield at, hostile_events(events, texts[place % 4])
    # Long enough ago for the archive.
    old = HideTakenIn(
        hide="old",
        name=HOSTILE,
        species="goat",
        route="hair-on-alum-pelt",
        stage="trim",
        came="green",
    )
    yield now - timedelta(days=100), (old,)
    yield now - timedelta(days=99), (NoteWritten(hide="old", text=HOSTILE),)
    yield now - timedelta(days=98), (HideLost(hide="old", why=HOSTILE),)
    for minutes, event in enumerate(_more(now, HOSTILE + halves)):
        yield now - timedelta(minutes=30 - minutes), (event,)


def _more(now: datetime, text: str) -> tuple[Event, ...]:
    return (
        HideTakenIn(hide="mine", name=text, species="rabbit", route=ROUTE, stage="soak",
                    came="dried", count=3, mass_g=900.0),
        LotSplit(hide="mine", new_hide="part", of=text, name=text, count=1, mass_g=300.0),
        NoteWritten(hide="part", text=f"{text}\n\n{text * 5}"),
        RouteChanged(hide="part", route="small-fur-skin", stage="pickle",
                     lying=Lying(stage=text, until=now, spoils=text, inspect=text)),
        HideTakenIn(hide="gone", name=text, species="goat", route=f"no-{ROUTE}", stage="soak",
                    came="dried"),
        HideLost(hide="gone", why=text),
        TimerSet(timer="t90", name=text, ends_at=now - timedelta(minutes=1)),
        TimerSet(timer="t92", name=text, ends_at=now - timedelta(minutes=2)),
        TimerSet(timer="t91", name=text, ends_at=now + timedelta(minutes=30)),
    )  # fmt: skip


def own_files() -> tuple[tuple[str, str], ...]:
    """Own files with hostile words in them, one of them with what is refused."""
    folder = Path(__file__).parent.parent / "sample_data" / "own"
    files = []
    for path in sorted(folder.rglob("*.toml")):
        text = path.read_text()
        for name in ("Borax soak", "Rabbit for mittens", "boric acid, powder", "Until limp, a few"):
            text = text.replace(f'"{name}', f'"{ALLOWED.replace(chr(0x3000), "")}')
        files.append((f"{path.parent.name}/{path.name}", text))
    name = "".join(letter for letter in HOSTILE if letter not in "/\0")
    return (*files, (f"formulas/{name}.toml", f'[formula]\nid = "x"\nname = "{HOSTILE}"'))


def hostile_library() -> tuple[Library, tuple[BadFile, ...]]:
    """The shipped library with the own files, and what was refused of them."""
    return with_own_files(shipped_library(), own_files())


def hostile_store(folder: Path, clock: ManualClock) -> Path:
    """The hostile shop in files, with a copy of it from before the last taps."""
    for name, text in own_files():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text)
    path = folder / "shop.json"
    with TinyRepository(path, writing=True) as repository:
        for at, events in hostile_taps(clock.now(), clock.zone):
            repository.append(events, at=at, recorded=at)
    desk = bootstrap.open_desk(path, writing=True, clock=clock)
    desk.moving_out.all()
    desk.close()
    before = b"".join(path.read_bytes().splitlines(keepends=True)[:-12])
    Backups(path).keep(before, clock.now() - timedelta(days=1))
    return path


def hostile_desk(clock: ManualClock, *, halves: str = "") -> Desk:
    """A desk over the hostile shop, in memory."""
    entries: list[Entry] = []
    taps = hostile_taps(clock.now(), clock.zone, halves=halves)
    for tap, (at, events) in enumerate(taps, start=1):
        for event in events:
            seq = len(entries) + 1
            entries.append(Entry(seq=seq, tap=tap, at=at, recorded=at, event=event))
    library, refused = hostile_library()
    return Desk(MemoryRepository(entries), clock, library, refused)
