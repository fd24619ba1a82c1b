"""Real processes killed at random moments of opening and writing: what they confirmed is there."""

from __future__ import annotations

import random
from itertools import groupby
from pathlib import Path

from benchconsole.model.events import Entry, NoteWritten
from benchconsole.store.repository import TinyRepository
from tests.store.fault_counts import COUNTS
from tests.store.killed_writers import PARTS, Writers

KILLS = 60
LONGEST_S = 0.012
"""Some writes, or an opening and a few of them."""


def whole_taps(entries: tuple[Entry, ...]) -> list[int]:
    """The numbers of the taps, each found whole and unchanged."""
    taps = []
    for tap, group in groupby(entries, lambda entry: entry.tap):
        events = [entry.event for entry in group]
        text = f"tap {tap} " + "thin belly " * (tap % 7 * 20)
        assert [NoteWritten(hide=f"h{part}", text=text) for part in range(PARTS)] == events
        taps.append(tap)
    return taps


def test_a_killed_writer_loses_nothing_it_confirmed(store: Path) -> None:
    """kill -9 over and over on one store: a reader, and the next writer, find every tap whole."""
    chance = random.Random(20260301)
    told = 0
    with Writers(store) as writers:
        for kill in range(KILLS):
            waits = chance.choice([0, 0, 1, 3]) if kill else 1
            said = writers.killed_after(chance.random() * LONGEST_S, confirmed=waits)
            assert said == list(range(told + 1, told + 1 + len(said)))
            with TinyRepository(store, writing=False) as reader:
                found = whole_taps(reader.entries())
            assert found == list(range(1, len(found) + 1))
            assert told + len(said) <= len(found) <= told + len(said) + 1
            told = len(found)  # it was shown: the next one may not lose it either
            COUNTS.kills += 1
            COUNTS.taps += told
    with TinyRepository(store, writing=True) as writer:
        assert whole_taps(writer.entries()) == list(range(1, told + 1))


def test_a_kill_leaves_no_lock_and_no_litter(store: Path) -> None:
    """The next writer gets in at once, and after it no half-written file is left."""
    with Writers(store) as writers:
        for _ in range(6):
            writers.killed_after(0.001, confirmed=1)
            COUNTS.kills += 1
    with TinyRepository(store, writing=True) as writer:
        assert writer.entries()
    assert [path for path in store.parent.iterdir() if path.suffix == ".part"] == []
