"""Drying hides at the desk: forecast, weighings, covers, and hides that do not dry."""

from __future__ import annotations

from datetime import timedelta

import pytest

from benchconsole.desk.drying import DryingView
from benchconsole.errors import BadInput, NotPossibleNow
from tests.desk.small_bench import NOON, Bench

AIR = {"air": "20 °C, 55 %, still"}


def stretched(bench: Bench, *, begun: bool = True) -> str:
    """A goat that has come as far as stretching; its id."""
    goat = bench.take_in()
    hides = bench.desk.hides
    for _ in range(40):
        hide = hides.get(goat)
        if hide.stage == "stretch" and (hide.begun_at is not None or not begun):
            return goat
        action = hides.action_of(goat)
        (hides.done if action.kind in ("begin", "coat") else hides.passed)(goat)
    raise AssertionError("it never came to stretching")


def seen(bench: Bench, goat: str) -> DryingView:
    """The forecast as it stands."""
    return bench.desk.drying.forecast(goat)


def test_a_hide_in_a_bath_has_no_forecast(bench: Bench) -> None:
    """Whoever asks is told in a sentence, and neither weight nor cover is noted."""
    goat, desk = bench.take_in(), bench.desk
    assert not desk.drying.dries(goat)
    taps = bench.taps
    for ask in (
        lambda: desk.drying.forecast(goat),
        lambda: desk.drying.weigh(goat, "2 kg"),
        lambda: desk.drying.cover(goat, "plastic"),
    ):
        with pytest.raises(NotPossibleNow, match="Brown goat is in no stage that dries it"):
            ask()
    assert taps == bench.taps


def test_without_the_air_it_says_so_and_then_it_knows(bench: Bench) -> None:
    """Setting the air turns "not known" into a window with its doubt and its looks."""
    goat = stretched(bench)
    assert "Not known. Nobody said what air" in seen(bench, goat).words[0]
    assert seen(bench, goat).looks == ()
    bench.desk.settings.set(AIR)
    view = seen(bench, goat)
    assert view.words[0].startswith("Damp for the dressing: from about")
    assert "rests on general figures alone" in " ".join(view.words)
    assert view.looks
    assert all(bench.desk.hides.hours().is_open(look.at) for look in view.looks)
    titles = [working.title for working in view.workings]
    assert "How thirsty the air is" in titles
    assert all(working.source for working in view.workings)


def test_weighings_are_kept_and_narrow_the_window(bench: Bench) -> None:
    """Three weighings by the desk, the day goes on, and the doubt of the window shrinks."""
    goat, desk = stretched(bench), bench.desk
    desk.settings.set(AIR)
    before = seen(bench, goat).forecast.target
    for grams in ("2900 g", "2.61 kg", "2350 g"):
        said = desk.drying.weigh(goat, grams)
        assert "weighed while drying" in said
        bench.clock.advance(hours=3)
    after = seen(bench, goat).forecast
    assert [2900.0, 2610.0, 2350.0] == [each.mass_g for each in after.weighings]
    assert before is not None
    assert before.opens.high is not None
    assert before.opens.low is not None
    assert after.target is not None
    assert after.target.opens.high is not None
    assert after.target.opens.low is not None
    wide = before.opens.high - before.opens.low
    assert after.target.opens.high - after.target.opens.low < wide / 2
    assert after == bench.reopened().drying.forecast(goat).forecast
    assert "taken back" in desk.hides.undo(goat)
    assert 2 == len(seen(bench, goat).forecast.weighings)


def test_a_weighing_before_the_stage_is_begun_counts_for_its_beginning(bench: Bench) -> None:
    """Drained and weighed, then stretched: the curve starts at that weight."""
    goat, desk = stretched(bench, begun=False), bench.desk
    desk.settings.set(AIR)
    desk.drying.weigh(goat, "2900 g")
    with pytest.raises(NotPossibleNow, match="is not begun"):
        desk.drying.cover(goat, "plastic")
    bench.clock.advance(minutes=20)
    desk.hides.done(goat)
    forecast = seen(bench, goat).forecast
    assert [(forecast.starts_at, 2900.0)] == [(e.at, e.mass_g) for e in forecast.weighings]
    assert forecast.starts_at == NOON + timedelta(minutes=20)


def test_plastic_puts_the_window_off_and_begins_anew_with_each_stage(bench: Bench) -> None:
    """Under plastic it hardly dries; the next stage begins uncovered."""
    goat, desk = stretched(bench), bench.desk
    desk.settings.set(AIR)
    bare = seen(bench, goat).forecast.target
    assert "put under plastic" in desk.drying.cover(goat, "Plastic ")
    covered = seen(bench, goat).forecast
    assert "plastic" == covered.cover
    assert bare is not None
    assert bare.opens.mid is not None
    assert covered.target is not None
    assert covered.target.opens.mid is not None
    assert covered.target.opens.mid > bare.opens.mid + timedelta(days=2)
    with pytest.raises(NotPossibleNow, match="put under plastic already"):
        desk.drying.cover(goat, "plastic")
    desk.hides.passed(goat)
    assert () == desk.hides.get(goat).covered


@pytest.mark.parametrize("weight", ["", "0 g", "-3 kg", "12", "nan g", "[/]", "1e9 kg", "2 L"])
def test_a_weight_that_cannot_be_is_refused(bench: Bench, weight: str) -> None:
    """One sentence that names the field; nothing is noted."""
    goat = stretched(bench)
    taps = bench.taps
    with pytest.raises(BadInput, match=r"^weight: "):
        bench.desk.drying.weigh(goat, weight)
    with pytest.raises(BadInput, match=r"^cover: "):
        bench.desk.drying.cover(goat, "tarpaulin")
    assert taps == bench.taps


def test_the_card_tells_weighings_and_covers(bench: Bench) -> None:
    """What was noted while drying stands in the history in words."""
    goat, desk = stretched(bench), bench.desk
    desk.drying.weigh(goat, "1480 g")
    desk.drying.cover(goat, "loose")
    told = [words for _, words in desk.hides.card(goat).history]
    assert "“Stretch and sam”: weighed while drying, 1480 g" in told
    assert "“Stretch and sam”: loosely covered" in told


def test_the_cold_garage_is_told_that_it_never_dries_there(bench: Bench) -> None:
    """At 5 °C and 90 %: damp in a week or more, air-dry never, and what would help."""
    goat = stretched(bench)
    bench.desk.settings.set({"air": "5 °C, 90 %, still"})
    damp, _, dry, *_ = seen(bench, goat).words
    target = seen(bench, goat).forecast.target
    assert target is not None
    assert target.opens.mid is not None
    assert target.opens.mid - bench.clock.now() > timedelta(days=7)
    assert damp.startswith("Damp for the dressing: from about")
    assert dry.startswith("Air-dry: not known. In this air it never gets there")
    assert "Warmer or drier air is needed" in dry
