"""What a damaged log and its copies hold together: only what belongs together, as far as known."""

from __future__ import annotations

from benchconsole.store.lines import parsed, whole_log
from benchconsole.store.recovery import Copy, goes_on, is_another, is_cut_short, recovered
from benchconsole.store.tip import Tip
from tests.store.damaged_worlds import NOW, Sample

SAMPLE = Sample.of(8, apart=3)
OURS = parsed(SAMPLE.body)
LINES = SAMPLE.lines
TIP = Tip.of(OURS.lines[-1])
OTHER = Copy("other", SAMPLE.other_body)
FOREIGN = Copy("foreign", SAMPLE.foreign_body)


def copy(count: int, name: str = "copy") -> Copy:
    """A copy of the first taps."""
    return Copy(name, b"".join(LINES[: count + 1]))


def damaged(*numbers: int) -> bytes:
    """The log without these taps."""
    return b"".join(line for number, line in enumerate(LINES) if number not in numbers)


def test_each_copy_gives_what_only_it_has() -> None:
    """The newest first, and then the older ones; what is nowhere is told by its numbers."""
    body = damaged(2, 3, 6, 8)
    half = b"".join(line for number, line in enumerate(LINES) if number not in (2, 6, 8))
    found = recovered(parsed(body), TIP, [Copy("newest", half), copy(5, "older")])
    assert found is not None
    assert [1, 2, 3, 4, 5, 7] == [tap for tap, _ in found.taps]
    assert {"newest": 1, "older": 1} == dict(found.brought_back)
    assert ((6, 6), (8, 8)) == found.lost


def test_a_copy_that_parted_ways_gives_nothing() -> None:
    """After a restore the same numbers stood for other taps; another shop's never are ours."""
    body = b"".join(LINES[:7])
    found = recovered(parsed(body), TIP, [OTHER, FOREIGN])
    assert found is not None
    assert {} == dict(found.brought_back)
    assert ((7, 8),) == found.lost


def test_what_archiving_left_out_is_not_missed() -> None:
    """A gap in the numbers whose lines are chained is none; damage beside it is told as a limit."""
    kept = [(line.tap, line.doc) for line in OURS.lines if line.tap not in (3, 4)]
    shorter = whole_log(NOW, kept)
    assert parsed(shorter).is_whole
    lines = shorter.splitlines(keepends=True)
    found = recovered(parsed(b"".join((*lines[:2], *lines[3:]))), TIP, [])
    assert found is not None
    assert ((2, 4),) == found.lost


def test_a_copy_from_before_archiving_shows_that_nothing_is_missing() -> None:
    """A rewritten log is chained anew; the taps are the same."""
    kept = [(line.tap, line.doc) for line in OURS.lines if line.tap not in (3, 4)]
    lines = whole_log(NOW, kept).splitlines(keepends=True)
    body = b"".join((*lines[:5], b"x" + lines[5][1:], *lines[6:]))
    found = recovered(parsed(body), TIP, [Copy("shorter", b"".join(lines))])
    assert found is not None
    assert [1, 2, 5, 6, 7, 8] == [tap for tap, _ in found.taps]
    assert () == found.lost


def test_without_a_tip_the_newest_whole_copy_says_how_far_it_went() -> None:
    """An older one may go on with what was given up when a copy was restored."""
    short = parsed(b"".join(LINES[:4]))
    assert goes_on(short, [copy(6)])
    assert not goes_on(short, [copy(3), copy(6)])
    assert goes_on(short, [Copy("torn", copy(3).body + b"{"), copy(6)])
    assert not goes_on(short, [FOREIGN])
    found = recovered(short, None, [copy(6)])
    assert found is not None
    assert 6 == len(found.taps)
    assert () == found.lost


def test_nothing_is_nothing() -> None:
    """No line and no copy: there is nothing to put together."""
    assert recovered(parsed(b""), TIP, []) is None
    assert recovered(parsed(LINES[0]), None, [Copy("empty", b"")]) is None


def test_the_tip_knows_an_end_that_is_missing_and_one_that_is_another() -> None:
    """By the number of the last confirmed tap, and by what it said."""
    assert is_cut_short(parsed(b"".join(LINES[:8])), TIP)
    assert not is_cut_short(OURS, TIP) and not is_cut_short(OURS, None)
    assert is_another(parsed(SAMPLE.other_body), TIP)
    assert not is_another(OURS, TIP) and not is_another(OURS, None)
    assert not is_another(OURS, Tip.of(OURS.lines[4]))
