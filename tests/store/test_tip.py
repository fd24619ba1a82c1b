"""The tip: one small file, written over in place, believed only when it is whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchconsole.store.tip import LENGTH, Tip, read_tip, tip_path, write_tip
from tests.store.memory_disk import MemoryDisk

STORE = Path("/shop/shop.json")
TIP = Tip(41, "1a2b3c4d")


def test_a_tip_is_read_as_it_was_written() -> None:
    """Also a much larger one over it: the length never changes."""
    disk = MemoryDisk()
    for tip in (TIP, Tip(10**9, "ffffffff"), Tip(1, "00000000")):
        write_tip(disk, STORE, tip)
        assert read_tip(disk, STORE) == tip
        assert len(disk.files()[tip_path(STORE)]) == LENGTH


def test_a_tip_with_any_turned_bit_is_no_tip() -> None:
    """A wrong one would call taps lost that never were; blanks behind it do not count."""
    disk = MemoryDisk()
    write_tip(disk, STORE, TIP)
    body = disk.files()[tip_path(STORE)]
    for place in range(8 * len(body.rstrip())):
        turned = bytearray(body)
        turned[place // 8] ^= 1 << place % 8
        disk.put(tip_path(STORE), bytes(turned))
        assert read_tip(disk, STORE) is None


@pytest.mark.parametrize("body", [b"", b"\n", b"{}", b"\xff" * 64, bytes(64), b'{"tip":1}'])
def test_anything_else_is_no_tip(body: bytes) -> None:
    """It is only a hint: what cannot be read is not there."""
    assert read_tip(MemoryDisk({tip_path(STORE): body}), STORE) is None


def test_a_disk_that_refuses_the_tip_is_put_up_with() -> None:
    """The tap is safe already; the tip then lags behind."""
    disk = MemoryDisk()
    write_tip(disk, STORE, TIP)
    disk.fails_in = 1
    write_tip(disk, STORE, Tip(42, "1a2b3c4d"))
    assert read_tip(disk, STORE) == TIP
