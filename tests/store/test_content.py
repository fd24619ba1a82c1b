"""A log in memory: the bytes that are on the disk, and where they end."""

from __future__ import annotations

import pytest

from benchconsole.store.content import Content
from benchconsole.store.lines import parsed
from benchconsole.store.tip import Tip
from tests.store.damaged_worlds import NOW, Sample

BODY = Sample.of(5).body
LINES = parsed(BODY).lines


def test_a_line_that_was_added_is_as_if_it_had_been_read() -> None:
    """Bytes, tip and taps are those of the longer log."""
    start = BODY[: BODY.rindex(b"\n", 0, -1) + 1]
    grown, whole = Content.of(start), Content.of(BODY)
    grown.add(grown.line(5, LINES[4].doc), 5, LINES[4].doc)
    assert (bytes(grown.body), grown.tip, grown.began) == (BODY, whole.tip, NOW)
    assert grown.taps() == whole.taps() == tuple((line.tap, line.doc) for line in LINES)
    assert whole.tip == Tip.of(LINES[-1])


def test_taps_that_were_given_out_are_the_callers_own() -> None:
    """TinyDB edits what it reads."""
    content = Content.of(BODY)
    content.taps()[0][1].clear()
    assert content.taps()[0][1] == LINES[0].doc


@pytest.mark.parametrize("body", [b"", BODY[:-1], BODY[1:], BODY + b"{"])
def test_what_is_not_whole_is_no_content(body: bytes) -> None:
    """To write on behind it would be a defect."""
    with pytest.raises(AssertionError):
        Content.of(body)
