"""Thousands of damaged stores: no crash, nothing lost without a word, what was there is kept."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.store import lines, log, recovery
from benchconsole.store.lines import Line, Parsed
from benchconsole.store.log import LogStorage
from tests.store.damage_checks import Judge
from tests.store.damage_counts import DAMAGE_COUNTS, DamageCounts
from tests.store.damaged_worlds import Sample, World
from tests.store.damaging import (
    ALL,
    Damage,
    changed_byte,
    deleted,
    flipped,
    merged,
    mixed,
    older,
    without_lines,
)

SIZES = (1, 7, 11)
ROUNDS = 190
MOST_TOLD = 3


@pytest.fixture(scope="module")
def samples() -> tuple[Sample, ...]:
    """Stores of one tap, of a few and of some more."""
    return tuple(Sample.of(size, apart=min(3, size)) for size in SIZES)


def some_world(random: Random, sample: Sample, damage: Damage) -> World:
    """A damaged log with what may stand beside it: a tip or not, copies or not, damaged or not."""
    tip = random.choice(
        (sample.tip, sample.tip, sample.tip, None, sample.foreign_tip, b"", sample.tip[:20])
    )
    newest = b"".join(sample.lines[: max(len(sample.lines) - random.randrange(4), 2)])
    oldest = b"".join(sample.lines[:2])
    copies: tuple[bytes, ...] = random.choice(
        ((), (), (newest,), (newest, oldest), (sample.foreign_body, newest), (b"{", newest))
    )
    if random.random() < 0.1:
        copies = (damage(random, sample), *copies)
    return World(body=damage(random, sample), tip=tip, copies=copies)


def faults_of(
    damage: Damage, samples: Iterable[Sample], store: Path, rounds: int, counts: DamageCounts
) -> Counter[str]:
    """What went wrong in so many random cases of a kind of damage, and how often."""
    random = Random(f"{damage.__name__} 1")
    faults: Counter[str] = Counter()
    for sample in samples:
        judge = Judge(store, sample, counts)
        for turn in range(rounds):
            world = some_world(random, sample, damage)
            faults.update(judge.faults(world, deeply=turn % 4 == 0))
    return faults


def in_words(faults: Counter[str]) -> str:
    """The most frequent ones."""
    return "\n".join(f"{n}x {fault}" for fault, n in faults.most_common(MOST_TOLD))


@pytest.mark.parametrize("damage", ALL, ids=lambda damage: damage.__name__)
def test_no_damage_loses_a_tap_without_a_word(
    tmp_path: Path, samples: tuple[Sample, ...], damage: Damage
) -> None:
    """Hundreds of random cases of each kind of damage, with and without tip and copies."""
    faults = faults_of(damage, samples, tmp_path / "shop.json", ROUNDS, DAMAGE_COUNTS)
    assert not faults, in_words(faults)


def test_a_file_cut_at_any_byte(tmp_path: Path, samples: tuple[Sample, ...]) -> None:
    """With the tip every cut is told; with a copy of all, nothing is lost by any."""
    sample, faults = samples[1], Counter[str]()
    judge = Judge(tmp_path / "shop.json", sample, DAMAGE_COUNTS)
    for size in range(len(sample.body)):
        copies = (sample.body,) if size % 3 == 0 else ()
        tip = sample.tip if size % 3 < 2 else None
        world = World(body=sample.body[:size], tip=tip, copies=copies)
        faults.update(judge.faults(world, deeply=size % 16 == 0))
    assert not faults, in_words(faults)


ODD_FILES = [
    b"",
    b" \n\n",
    b"null",
    b"[]",
    b'"text"',
    b"17",
    b'{"tap":1}',
    b'{"_default": {"1": {"name": "milk"}}}',
    b'{"schema":"milk.store","version":2,"crc":"00000000"}\n',
    b"[" * 100_000,
    b'{"tap":' * 5_000,
    b'{"tap":' * 300 + b',"crc":"00000000"}' * 300,
    bytes(5_000),
    b"SQLite format 3\x00" + bytes(300),
    "tap;time;hide\r\n1;08:00;Doe\r\n".encode("utf-16"),
    b"<<<<<<< HEAD\n=======\n>>>>>>> theirs\n",
    "\ufeff".encode(),
    b"\xff\xfe",
    b"\xff" * 1_000,
]


@pytest.mark.parametrize("place", range(len(ODD_FILES)))
def test_whatever_is_put_in_the_place_of_the_store(
    tmp_path: Path, samples: tuple[Sample, ...], place: int
) -> None:
    """Refused and untouched if nothing of ours is left; with a copy, that is what opens."""
    sample = samples[1]
    judge = Judge(tmp_path / "shop.json", sample, DAMAGE_COUNTS)
    for tip in (sample.tip, None, sample.foreign_tip):
        for copies in ((), (sample.body,), (b"{", sample.body)):
            world = World(body=ODD_FILES[place], tip=tip, copies=copies)
            assert judge.faults(world, deeply=True) == []


@settings(max_examples=150, deadline=None, derandomize=True)
@given(data=st.data())
def test_damage_of_any_shape(
    data: st.DataObject, tmp_path_factory: pytest.TempPathFactory, samples: tuple[Sample, ...]
) -> None:
    """Cuts and pastes that hypothesis thinks out, of this log and its branch elsewhere."""
    sample = samples[1]
    sources = (
        sample.body,
        sample.other_body,
        b"\n",
        bytes(64),
        b'"}\n{"tap":1',
    )
    parts = st.tuples(st.sampled_from(sources), st.integers(0, 2_000), st.integers(0, 2_000))
    pieces = data.draw(st.lists(parts, max_size=4))
    body = b"".join(source[start : start + length] for source, start, length in pieces)
    copies = data.draw(st.sampled_from([(), (sample.body,), (b"".join(sample.lines[:5]),)]))
    world = World(body=body, tip=sample.tip, copies=copies)
    judge = Judge(tmp_path_factory.getbasetemp() / "shop.json", sample, DAMAGE_COUNTS)
    assert judge.faults(world, deeply=True) == []


def no_history(lines: Iterable[Line], start: object, tip: object) -> tuple[list[Line], int]:
    """The first line of every number, whatever it belongs to."""
    by_tap: dict[int, Line] = {}
    for line in lines:
        by_tap.setdefault(line.tap, line)
    return [by_tap[tap] for tap in sorted(by_tap)], 0


Switch = Callable[[pytest.MonkeyPatch], None]
CHECKS: dict[str, tuple[Switch, tuple[Damage, ...]]] = {
    "the checksum of a line": (
        lambda patch: patch.setattr(lines, "fits", lambda line: True),
        (changed_byte,),
    ),
    "the chain of lines": (
        lambda patch: patch.setattr(Parsed, "breaks", ()),
        (without_lines,),
    ),
    "the tip": (lambda patch: patch.setattr(log, "read_tip", lambda disk, store: None), (older,)),
    "the copies": (lambda patch: patch.setattr(log, "copies", lambda disk, store: ()), (deleted,)),
    "keeping the damaged file": (
        lambda patch: patch.setattr(LogStorage, "_set_aside", lambda self, body, told: self._path),
        (flipped,),
    ),
    "telling histories apart": (
        lambda patch: patch.setattr(recovery, "one_history", no_history),
        (mixed, merged),
    ),
}


@pytest.mark.parametrize("check", CHECKS)
def test_a_check_that_is_switched_off_is_missed(
    tmp_path: Path, samples: tuple[Sample, ...], monkeypatch: pytest.MonkeyPatch, check: str
) -> None:
    """The proof that these tests can fail: without it they find taps lost or files gone."""
    switch, damages = CHECKS[check]
    switch(monkeypatch)
    for damage in damages:
        counts = DamageCounts()
        faults = faults_of(damage, samples[1:2], tmp_path / "shop.json", 80, counts)
        assert faults, damage.__name__
        told = "not kept" if "keeping" in check else "silently lost|could be read|another shop"
        assert re.search(told, "\n".join(faults)), in_words(faults)
