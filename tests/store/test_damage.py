"""Thousands of damaged stores: no crash, nothing lost without a word, what was there is kept."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from random import Random

import pytest

from tests.store.damage_checks import Judge
from tests.store.damage_counts import DAMAGE_COUNTS
from tests.store.damaged_worlds import Sample, World
from tests.store.damaging import ALL, Damage

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


@pytest.mark.parametrize("damage", ALL, ids=lambda damage: damage.__name__)
def test_no_damage_loses_a_tap_without_a_word(
    tmp_path: Path, samples: tuple[Sample, ...], damage: Damage
) -> None:
    """Hundreds of random cases of each kind of damage, with and without tip and copies."""
    random = Random(f"{damage.__name__} 1")
    faults: Counter[str] = Counter()
    for sample in samples:
        judge = Judge(tmp_path / "shop.json", sample, DAMAGE_COUNTS)
        for turn in range(ROUNDS):
            world = some_world(random, sample, damage)
            for fault in judge.faults(world, deeply=turn % 4 == 0):
                faults[fault] += 1
    assert not faults, "\n".join(f"{n}x {fault}" for fault, n in faults.most_common(MOST_TOLD))
