"""One history out of the lines of a damaged log, and no mixture of several."""

from __future__ import annotations

import random

from benchconsole.store.chains import follows, one_history
from benchconsole.store.lines import Line, parsed
from benchconsole.store.tip import Tip
from tests.store.damaged_worlds import Sample

SAMPLE = Sample.of(8, apart=3)
OURS = parsed(SAMPLE.body).lines
THEIRS = parsed(SAMPLE.other_body).lines
FOREIGN = parsed(SAMPLE.foreign_body).lines
START = OURS[0].after
TIP = Tip.of(OURS[-1])


def test_a_log_is_its_own_history() -> None:
    """In any order, and with every line twice."""
    lines = list(OURS * 2)
    random.Random(3).shuffle(lines)
    assert one_history(lines, {START}, TIP) == (list(OURS), 0)


def test_of_two_branches_the_confirmed_one_is_kept() -> None:
    """The tip decides; without it the longer. The other branch is counted, not mixed in."""
    both = (*OURS, *THEIRS)
    assert one_history(both, {START}, TIP) == (list(OURS), 4)
    assert one_history(both, {START}, None) == (list(THEIRS), 3)


def test_lines_of_another_shop_are_left_out() -> None:
    """Those with our numbers, and those behind our end while the tip is there."""
    assert one_history((*FOREIGN, *OURS), {START}, TIP) == (list(OURS), len(FOREIGN))


def test_parts_that_lost_their_links_are_joined() -> None:
    """With every second line gone the others still stand in a row."""
    odd = OURS[::2]
    assert one_history(odd, {START}, None) == (list(odd), 0)


def test_thousands_of_parts_are_joined_quickly() -> None:
    """Each line alone, as in a file of which every second one is spoiled."""
    lines = [
        Line(tap=tap, after=f"{tap:08x}", doc={"events": [{"seq": tap}]}, crc=f"{tap + 1:08x}")
        for tap in range(1, 20_000, 2)
    ]
    assert one_history(lines, set(), None) == (lines, 0)


def test_numbers_of_taps_and_events_must_grow() -> None:
    """Every tap has an event; and with no tap in between there is no event in between."""
    first, second, third = OURS[:3]
    assert follows(None, first) and follows(third, None)
    assert follows(first, second) and follows(first, third)
    assert not follows(second, first) and not follows(second, second)
    unlinked = Line(tap=second.tap, after="00000000", doc=second.doc, crc="00000001")
    assert follows(first, unlinked)
    jumped = Line(tap=second.tap, after="00000000", doc=OURS[4].doc, crc="00000001")
    assert not follows(first, jumped)
    early = Line(tap=4, after="00000000", doc={"events": [{"seq": 3}]}, crc="00000001")
    assert not follows(None, early) and not follows(first, early)
    odd = Line(tap=9, after="", doc={"events": "none"}, crc="")
    assert follows(first, odd)
