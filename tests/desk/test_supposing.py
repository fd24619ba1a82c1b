"""What if, at the desk: read as typed, nothing stored until accepted, one tap to take back."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest

from benchconsole.desk.supposing import WhatIfAnswer, work_out_what_if
from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.model.opening import DatedOpening, DaySpan, TimeSpan
from benchconsole.schedule.planning.changes import (
    HANDS,
    Away,
    Change,
    Closed,
    ComeIn,
    Means,
    OpenToo,
    StartAt,
)
from tests.desk.small_bench import Bench


def in_the_bath(bench: Bench) -> str:
    """A goat put into the soak a moment ago."""
    hide = bench.take_in()
    bench.desk.hides.done(hide)
    return hide


def answered(bench: Bench, *changes: Change) -> WhatIfAnswer:
    """What would be, worked out."""
    return work_out_what_if(bench.desk.supposing.ask(changes))


THIRD = date(2026, 6, 3)
AWAY = Away(days=(DaySpan(first=date(2026, 6, 2), last=date(2026, 6, 12)),))


def test_supposing_stores_nothing(bench: Bench) -> None:
    """Asked and worked out, the history is as it was."""
    in_the_bath(bench)
    before = bench.repository.entries()
    answer = answered(bench, AWAY)
    assert bench.desk.supposing.take(answer)
    assert answer.what.difference.breaks
    assert bench.repository.entries() == before


@pytest.mark.parametrize("with_a_way_out", [False, True])
def test_accepting_is_one_tap_and_taken_back_as_one(bench: Bench, with_a_way_out: bool) -> None:
    """Settings and start are stored together; undo leaves the state as before."""
    in_the_bath(bench)
    other = bench.take_in("White goat")
    before, taps = bench.state, bench.taps
    start = StartAt(hide=other, hide_name="White goat", at=datetime(2026, 6, 15, 9, tzinfo=UTC))
    answer = answered(bench, AWAY, start)
    way = answer.what.ways_out[0] if with_a_way_out else None
    subject, sentence = bench.desk.supposing.accept(answer, way)
    assert subject == "shop/"
    assert "Accepted: away 2 Jun to 12 Jun; begin White goat Monday 15 June 09:00" in sentence
    assert bench.taps == taps + 1
    assert bench.desk.hides.get(other).start_at == start.at
    if way is None:
        assert bench.desk.shop.away == AWAY.days
    else:
        assert "; come in " in sentence
        came = [change for change in way.changes if isinstance(change, ComeIn)]
        assert [opening.day for opening in bench.desk.shop.extra] == [
            change.start.date() for change in came
        ]
    bench.desk.settings.undo()
    after = bench.state
    assert (after.shop, after.hides) == (before.shop, before.hides)


def test_the_accepted_plan_is_the_one_shown(bench: Bench) -> None:
    """Right after it is accepted the desk has its plan, which keeps to what was accepted."""
    in_the_bath(bench)
    answer = answered(bench, AWAY)
    way = answer.what.ways_out[0]
    bench.desk.supposing.accept(answer, way)
    assert bench.desk.planning.current == way.after
    remade = bench.desk.planning.plan()
    assert remade.of("brown-goat") == way.after.of("brown-goat")


def test_only_a_start_is_about_its_hide(bench: Bench) -> None:
    """Undo then goes to the hide, whose card tells it."""
    hide = bench.take_in()
    start = StartAt(hide=hide, hide_name="Brown goat", at=datetime(2026, 6, 8, 9, tzinfo=UTC))
    subject, _ = bench.desk.supposing.accept(answered(bench, start))
    assert subject == f"hide/{hide}"
    bench.desk.hides.undo(hide)
    assert bench.desk.hides.get(hide).start_at is None


def test_an_old_answer_is_not_accepted(bench: Bench) -> None:
    """Something was noted meanwhile: nothing is stored."""
    in_the_bath(bench)
    answer = answered(bench, AWAY)
    bench.take_in("White goat")
    taps = bench.taps
    with pytest.raises(NotPossibleNow, match="ask again"):
        bench.desk.supposing.accept(answer)
    assert bench.taps == taps


def test_a_start_after_which_the_hide_spoils_is_not_accepted(bench: Bench) -> None:
    """It may be supposed, to see what breaks; it is refused as on the card, and nothing stored."""
    hide = bench.take_in("Green goat", came="green")
    latest = bench.desk.hides.action_of(hide).latest
    assert latest is not None
    late = StartAt(hide=hide, hide_name="Green goat", at=latest + timedelta(days=1))
    answer = answered(bench, late)
    taps = bench.taps
    with pytest.raises(NotPossibleNow, match="choose a time before"):
        bench.desk.supposing.accept(answer)
    assert bench.taps == taps


@pytest.mark.parametrize(
    ("kind", "text", "change"),
    [
        ("away", "2-12 Jun", AWAY),
        (
            "away",
            "2 Jun 14:00 - 3 Jun 9:00",
            Away(
                times=(
                    TimeSpan(
                        start=datetime(2026, 6, 2, 14, tzinfo=UTC),
                        end=datetime(2026, 6, 3, 9, tzinfo=UTC),
                    ),
                )
            ),
        ),
        (
            "closed",
            "3 June",
            Closed(days=(DaySpan(first=date(2026, 6, 3), last=date(2026, 6, 3)),)),
        ),
        (
            "open",
            "7 Jun 9-12",
            OpenToo(openings=(DatedOpening(day=date(2026, 6, 7), opens=time(9), closes=time(12)),)),
        ),
        ("more", "hands", Means(kind=HANDS, more=1)),
        ("more", "tub", Means(kind="tub", more=1)),
        ("fewer", "2 tubs", Means(kind="tub", more=-2)),
        (
            "start",
            "8 Jun 9:30",
            StartAt(
                hide="brown-goat",
                hide_name="Brown goat",
                at=datetime(2026, 6, 8, 9, 30, tzinfo=UTC),
            ),
        ),
        (
            "start",
            "Mon 8 June 9",
            StartAt(
                hide="brown-goat", hide_name="Brown goat", at=datetime(2026, 6, 8, 9, tzinfo=UTC)
            ),
        ),
    ],
)
def test_changes_are_read_as_the_settings_are(
    bench: Bench, kind: str, text: str, change: Change
) -> None:
    """The same words mean the same here as in the settings."""
    hide = bench.take_in()
    bench.desk.settings.set({"vessels": "3 tubs", "zone": "UTC"})
    assert bench.desk.supposing.read(kind, text, hide) == (change,)


@pytest.mark.parametrize(
    ("kind", "text", "words"),
    [
        ("away", "soon", "for example 3-6 Dec"),
        ("away", "", "nothing is typed yet"),
        ("closed", "every Monday", "comes again"),
        ("open", "7 Jun", "for example 6 Dec 9-12"),
        ("more", "cauldron", "no route uses “cauldron”"),
        ("more", "0 tubs", "for example tub"),
        ("fewer", "hands", "not 0"),
        ("more", "frame", "was not said"),
        ("start", "8 Jun", "for example 7 Dec 9:00"),
        ("start", "1 Jun 9:00", "is past"),
        ("", "x", "nothing is chosen yet"),
    ],
)
def test_what_cannot_be_read_is_told_in_one_sentence(
    bench: Bench, kind: str, text: str, words: str
) -> None:
    """The field, the fault and an example; nothing is stored."""
    hide = bench.take_in()
    bench.desk.settings.set({"vessels": "3 tubs", "zone": "UTC"})
    taps = bench.taps
    with pytest.raises((BadInput, NotPossibleNow), match=words) as refused:
        bench.desk.supposing.read(kind, text, hide)
    if isinstance(refused.value, BadInput):
        assert refused.value.field in ("what", "when or which")
    assert bench.taps == taps


def test_a_start_needs_a_hide_that_waits(bench: Bench) -> None:
    """None chosen, one in a stage, one that is not known."""
    hide = in_the_bath(bench)
    with pytest.raises(NotPossibleNow, match="No hide is chosen"):
        bench.desk.supposing.read("start", "8 Jun 9:00")
    with pytest.raises(NotPossibleNow, match="waits for no start"):
        bench.desk.supposing.read("start", "8 Jun 9:00", hide)
    with pytest.raises(NotKnown):
        bench.desk.supposing.read("start", "8 Jun 9:00", "nobody")
