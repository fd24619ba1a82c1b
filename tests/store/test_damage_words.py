"""What a person is told of a store that was damaged: every sentence, as it is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchconsole.errors import StoreDamaged
from benchconsole.store.damage_words import in_words
from benchconsole.store.repository import TinyRepository
from tests.store.damaged_worlds import Sample, World

SAMPLE = Sample.of(8, apart=2)
BODY, LINES, TIP = SAMPLE.body, SAMPLE.lines, SAMPLE.tip
COPY = "2026-03-28T08-00-00Z.json"
ALL_THERE = "No tap is known to be lost."


def spoiled(*numbers: int) -> bytes:
    """The log with these lines spoiled."""
    return b"".join(
        b"x" + line[1:] if number in numbers else line for number, line in enumerate(LINES)
    )


def without(*numbers: int) -> bytes:
    """The log without these lines."""
    return b"".join(line for number, line in enumerate(LINES) if number not in numbers)


CUT = BODY[:-9]
CASES: dict[str, tuple[World, tuple[str, ...]]] = {
    "whole": (World(body=BODY, tip=TIP), ()),
    "one line end gone": (World(body=BODY[:-1], tip=TIP), ()),
    "spoiled, nothing to bring back": (
        World(body=spoiled(3, 4, 7), tip=TIP),
        (
            "The store shop.json was damaged: 3 stretches of it could not be read.",
            "Found nowhere: up to 3 taps (numbers 3 to 4, 7).",
            "5 taps are in it now.",
        ),
    ),
    "spoiled, brought back": (
        World(body=spoiled(3), tip=TIP, copies=(BODY,)),
        (
            "The store shop.json was damaged: 1 stretch of it could not be read.",
            f"1 tap was brought back from the copy {COPY}.",
            ALL_THERE,
            "8 taps are in it now.",
        ),
    ),
    "a line gone, and no tip": (
        World(body=without(5), tip=None),
        (
            "The store shop.json was damaged: lines of it were missing or in the wrong place.",
            "Found nowhere: tap number 5.",
            "Whether anything was tapped after number 8 cannot be told.",
            "7 taps are in it now.",
        ),
    ),
    "an older file": (
        World(body=b"".join(LINES[:7]), tip=TIP, copies=(b"".join(LINES[:8]),)),
        (
            "The store shop.json ended before the last tap that was confirmed here: was it "
            "replaced by an older one?",
            f"1 tap was brought back from the copy {COPY}.",
            "Found nowhere: tap number 8.",
            "7 taps are in it now.",
        ),
    ),
    "an editor was at it": (
        World(body=BODY.replace(b"\n", b"\r\n"), tip=TIP),
        (
            "The store shop.json was changed by another program, but every line of it could be "
            "read.",
            ALL_THERE,
            "8 taps are in it now.",
        ),
    ),
    "both sides of a merge": (
        World(
            body=b"".join(
                (*LINES[:7], b"<<<<<<<\n", *LINES[7:], *SAMPLE.other_body.splitlines(True)[7:])
            ),
            tip=TIP,
        ),
        (
            "The store shop.json was damaged: 1 stretch of it could not be read.",
            "3 taps of another history stood in it and were left out.",
            ALL_THERE,
            "8 taps are in it now.",
        ),
    ),
    "gone, but for a copy": (
        World(body=None, tip=TIP, copies=(BODY,)),
        (
            "The store shop.json was gone, and the newest copy of it was taken.",
            f"8 taps were brought back from the copy {COPY}.",
            ALL_THERE,
            "8 taps are in it now.",
        ),
    ),
    "emptied, but for a copy": (
        World(body=b"", tip=TIP, copies=(BODY,)),
        (
            "The store shop.json was empty, and the newest copy of it was taken.",
            f"8 taps were brought back from the copy {COPY}.",
            ALL_THERE,
            "8 taps are in it now.",
        ),
    ),
    "zeros, but for a copy": (
        World(body=bytes(900), tip=TIP, copies=(BODY,)),
        (
            "The store shop.json was damaged: nothing in it could be read, and the newest copy of "
            "it was taken.",
            f"8 taps were brought back from the copy {COPY}.",
            ALL_THERE,
            "8 taps are in it now.",
        ),
    ),
    "gone": (
        World(body=None, tip=TIP),
        (
            "The store shop.json is gone and there is no copy of it; found nowhere: up to 8 taps "
            "(numbers 1 to 8).",
        ),
    ),
    "emptied": (
        World(body=b"\n", tip=None),
        ("The store shop.json was empty, and there is no copy of it.",),
    ),
    "a tap cut off in the writing": (
        World(body=BODY + b'{"tap":9,"after":"', tip=TIP),
        (
            "A tap was being saved when the program was last stopped; it was never confirmed and "
            "is left out: look at what was done last.",
        ),
    ),
    "rubbish at the end": (
        World(body=BODY + b"rubbish", tip=TIP),
        (
            "Behind the last tap stood something unreadable, as when the power fails while a tap "
            "is saved; it was never confirmed and is left out: look at what was done last.",
        ),
    ),
    "cut, and no tip": (
        World(body=CUT, tip=None),
        (
            "The store breaks off within tap 8, as when the power fails while it is saved; of it, "
            "and after it, nothing is left: look at what was done last.",
        ),
    ),
    "another computer's file": (
        World(body=SAMPLE.other_body, tip=TIP),
        (
            "Something else was confirmed on this computer than the store now says: was the file "
            "replaced by one from elsewhere? What it holds is what you see.",
        ),
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_what_is_told(tmp_path: Path, case: str) -> None:
    """Every sentence, word by word: what was wrong, what came back, what is lost, what is left."""
    world, sentences = CASES[case]
    store = tmp_path / "shop.json"
    with TinyRepository(store, writing=False, disk=world.disk(store)) as reader:
        reader.entries()
        # What is half written a reader leaves to the writer, who may be writing it just now.
        assert reader.notices == (() if case == "a tap cut off in the writing" else sentences)


@pytest.mark.parametrize("case", CASES)
def test_the_file_that_was_set_aside_is_named_and_explained(tmp_path: Path, case: str) -> None:
    """A writer says where the old file is; a report beside it says why."""
    world, sentences = CASES[case]
    store = tmp_path / "shop.json"
    disk = world.disk(store)
    with TinyRepository(store, writing=True, disk=disk) as writer:
        writer.entries()
        told = writer.notices
    asides = {path: body for path, body in disk.files().items() if ".damaged-" in path.name}
    if not asides:
        assert told == sentences
        return
    aside, report = sorted(asides)
    assert told == (*sentences, f"The file as it was is kept as {aside.name}.")
    assert asides[aside] == world.body
    assert report.name == f"{aside.name}.txt"
    assert asides[report].decode() == "".join(f"{sentence}\n" for sentence in sentences)


@pytest.mark.parametrize(
    ("body", "why"),
    [
        (b"milk\n", "no tap is left in it and there is no copy of it"),
        (LINES[0] + b"x" * 99, "no tap is left in it and there is no copy of it"),
    ],
)
def test_what_is_told_where_nothing_is_left(tmp_path: Path, body: bytes, why: str) -> None:
    """The file, the fault, and what to do."""
    store = tmp_path / "shop.json"
    world = World(body=body, tip=TIP)
    with (
        TinyRepository(store, writing=True, disk=world.disk(store)) as writer,
        pytest.raises(StoreDamaged) as caught,
    ):
        writer.entries()
    assert str(caught.value) == (
        f"The store {store} cannot be read, {why}: put a backup copy in its place, or move it "
        "away to begin afresh."
    )


@pytest.mark.parametrize(
    ("spans", "words"),
    [
        ([(7, 7)], "tap number 7"),
        ([(7, 9)], "up to 3 taps (numbers 7 to 9)"),
        ([(7, 9), (12, 12)], "up to 4 taps (numbers 7 to 9, 12)"),
        ([(n, n) for n in range(1, 11, 2)], "up to 5 taps (numbers between 1 and 9)"),
    ],
)
def test_how_much_is_lost_is_told_as_a_limit(spans: list[tuple[int, int]], words: str) -> None:
    """Archiving leaves gaps in the numbers, so in a span of them there may have been fewer taps."""
    assert in_words(spans) == words
