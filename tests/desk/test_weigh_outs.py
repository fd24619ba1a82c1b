"""Weigh-outs at the desk: each tap on disk, resumed after a restart, ended once, taken up again."""

from __future__ import annotations

import pytest

from benchconsole.desk.views import WeighOutView
from benchconsole.desk.weigh_outs import read_reading
from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.mixing.targets import Times
from benchconsole.model.shop import Scale, ScaleUnit
from tests.desk.small_bench import Bench


def begun(bench: Bench, formula: str = "salt-citric-pickle") -> WeighOutView:
    """A weigh-out of a formula as written, on the scale."""
    return bench.desk.weigh_outs.begin(bench.desk.worksheet(formula))


def worked_down(bench: Bench, view: WeighOutView) -> WeighOutView:
    """Every line accepted as asked, however many lots that takes."""
    while not view.done:
        view = bench.desk.weigh_outs.accept(view.weigh_out.id)
    return view


def test_from_first_pour_to_liquor(bench: Bench) -> None:
    """Jug, scale, scale, done; the liquor holds what was asked for."""
    goat = bench.take_in()
    view = bench.desk.weigh_outs.begin(bench.desk.worksheet("salt-citric-pickle"), [goat])
    assert view.pour is not None
    assert "water" == view.pour.planned.substance
    view = bench.desk.weigh_outs.read(view.weigh_out.id, "1 gal")
    view = bench.desk.weigh_outs.read(view.weigh_out.id, "454")
    assert view.pour is not None
    assert "citric-acid" == view.pour.planned.substance
    view = bench.desk.weigh_outs.accept(view.weigh_out.id)
    assert (True, None) == (view.done, view.pour)
    liquor = bench.desk.weigh_outs.finish(view.weigh_out.id)
    assert ("L1", (goat,)) == (liquor.id, liquor.hides)
    assert {"salt": 454.0} == {
        line.substance: line.actual_g for line in liquor.lines if line.substance == "salt"
    }
    assert None is bench.desk.weigh_outs.unfinished()
    assert liquor == bench.state.liquors["L1"]


def test_a_restart_between_any_two_taps_changes_nothing(bench: Bench) -> None:
    """A desk opened anew shows the same pour after every tap, an over-pour included."""
    weigh_out = begun(bench).weigh_out.id
    taps = [
        lambda: bench.desk.weigh_outs.set_zero(weigh_out, "-2"),
        lambda: bench.desk.weigh_outs.accept(weigh_out),
        lambda: bench.desk.weigh_outs.read(weigh_out, "500"),
        lambda: bench.desk.weigh_outs.rebalance(weigh_out),
        lambda: bench.desk.weigh_outs.change_mode(weigh_out),
        lambda: bench.desk.weigh_outs.accept(weigh_out),
    ]
    for tap in taps:
        assert tap() == bench.reopened().weigh_outs.view(weigh_out)
        left = bench.reopened().weigh_outs.unfinished()
        assert left is not None
        assert weigh_out == left.id


def test_an_over_pour_asks_and_waits(bench: Bench) -> None:
    """Too much in: it shows what rebalancing would do, and takes any of the three answers."""
    weigh_outs = bench.desk.weigh_outs
    weigh_out = begun(bench).weigh_out.id
    weigh_outs.accept(weigh_out)
    assert weigh_outs.read(weigh_out, "500").over is not None
    assert weigh_outs.carry_on(weigh_out).over is None
    weigh_outs.undo(weigh_out)
    assert weigh_outs.rebalance(weigh_out).bench.factor == pytest.approx(500.0 / 453.59237)
    weigh_outs.undo(weigh_out)
    again = weigh_outs.bowl_again(weigh_out)
    assert again.pour is not None
    assert "salt" == again.pour.planned.substance


def test_a_tap_that_does_not_fit_stores_nothing(bench: Bench) -> None:
    """What the pure bench refuses never reaches the history."""
    weigh_out = begun(bench).weigh_out.id
    before = bench.taps
    weigh_outs = bench.desk.weigh_outs
    for tap in (weigh_outs.carry_on, weigh_outs.rebalance, weigh_outs.bowl_again, weigh_outs.undo):
        with pytest.raises(NotPossibleNow):
            tap(weigh_out)
    for text in ("", "a lot", "-1 gal", "5 kg", "nan L"):
        with pytest.raises(BadInput):
            weigh_outs.read(weigh_out, text)
    with pytest.raises(NotPossibleNow):
        weigh_outs.finish(weigh_out)
    assert before == bench.taps


def test_only_one_is_on_the_scale(bench: Bench) -> None:
    """A second has to wait until the first is ended or given up."""
    weigh_out = begun(bench).weigh_out.id
    with pytest.raises(NotPossibleNow, match="resume it, or give it up"):
        begun(bench)
    bench.desk.weigh_outs.give_up(weigh_out)
    second = begun(bench).weigh_out.id
    with pytest.raises(NotPossibleNow, match="resume it, or give it up"):
        bench.desk.weigh_outs.undo(weigh_out)
    assert "w2" == second


def test_it_ends_once(bench: Bench) -> None:
    """Nothing more can be done with it, and no second liquor comes of it."""
    weigh_out = worked_down(bench, begun(bench, "salt-cure")).weigh_out.id
    weigh_outs = bench.desk.weigh_outs
    with pytest.raises(NotPossibleNow, match="Everything is in"):
        weigh_outs.read(weigh_out, "3")
    weigh_outs.finish(weigh_out)
    for act in (weigh_outs.finish, weigh_outs.give_up, weigh_outs.accept, weigh_outs.change_mode):
        with pytest.raises(NotPossibleNow, match="has ended"):
            act(weigh_out)
    assert ["L1"] == list(bench.state.liquors)


def test_the_end_is_taken_back(bench: Bench) -> None:
    """The weigh-out goes on where it was, and its liquor was never made."""
    weigh_out = worked_down(bench, begun(bench)).weigh_out.id
    before = bench.desk.weigh_outs.view(weigh_out)
    bench.desk.weigh_outs.finish(weigh_out)
    assert before == bench.desk.weigh_outs.undo(weigh_out)
    assert {} == bench.state.liquors


def test_a_liquor_in_use_stays_made(bench: Bench) -> None:
    """A hide that lies in it has to come out of the history first."""
    goat = bench.take_in(came="green")
    hides = bench.desk.hides
    while hides.action_of(goat).mix != "salt-cure":
        looks = hides.action_of(goat).kind in ("check", "attend")
        (hides.passed if looks else hides.done)(goat)
    view = bench.desk.weigh_outs.begin(bench.desk.worksheet("salt-cure"), [goat])
    weigh_out = worked_down(bench, view).weigh_out.id
    bench.desk.weigh_outs.finish(weigh_out)
    assert "Brown goat: “First salting” begun with liquor L1" == hides.done(goat)
    with pytest.raises(NotPossibleNow, match="Brown goat was begun with liquor L1"):
        bench.desk.weigh_outs.undo(weigh_out)
    hides.undo(goat)
    bench.desk.weigh_outs.undo(weigh_out)
    assert {} == bench.state.liquors


def test_a_liquor_begins_one_stage_only(bench: Bench) -> None:
    """The salt of the first salting is not taken for that of the second."""
    goat = bench.take_in(came="green")
    hides = bench.desk.hides
    said: list[str] = []
    while hides.get(goat).stage != "soak":
        if hides.action_of(goat).mix and not bench.state.liquors:
            view = bench.desk.weigh_outs.begin(bench.desk.worksheet("salt-cure"), [goat])
            bench.desk.weigh_outs.finish(worked_down(bench, view).weigh_out.id)
        looks = hides.action_of(goat).kind in ("check", "attend")
        said.append((hides.passed if looks else hides.done)(goat))
    assert "Brown goat: “First salting” begun with liquor L1" in said
    assert "Brown goat: “Second salting” begun" in said


def test_unknown_names_are_told(bench: Bench) -> None:
    """A hide or a weigh-out that is not there."""
    with pytest.raises(NotKnown, match="No hide is called “ghost”"):
        bench.desk.weigh_outs.begin(bench.desk.worksheet("salt-cure"), ["ghost"])
    with pytest.raises(NotKnown, match="No weigh-out is called “w9”"):
        bench.desk.weigh_outs.view("w9")
    assert 0 == bench.taps


def test_a_batch_larger_than_the_scale_goes_in_lots(bench: Bench) -> None:
    """Forty recipes of salt on a 5 kg scale: more than one lot, and all of it in the liquor."""
    sheet = bench.desk.worksheet("salt-cure", Times(times=40.0))
    view = bench.desk.weigh_outs.begin(sheet)
    assert view.pour is not None
    assert 2 <= view.pour.lots
    liquor = bench.desk.weigh_outs.finish(worked_down(bench, view).weigh_out.id)
    assert sheet.lines[0].mass_g == pytest.approx(liquor.lines[0].actual_g)


@pytest.mark.parametrize(
    ("text", "shows", "grams"),
    [
        ("1234", "g", 1234.0),
        ("1.234", "kg", 1234.0),
        ("1,5", "kg", 1500.0),
        ("-3", "g", -3.0),
        ("−3", "g", -3.0),
        ("2", "oz", 56.69904625),
        ("2", "lb oz", 56.69904625),
        ("1 lb 2 oz", "lb oz", 510.29141625),
        ("500 g", "kg", 500.0),
        ("0", "g", 0.0),
    ],
)
def test_a_bare_reading_is_in_the_unit_the_scale_shows(
    text: str, shows: ScaleUnit, grams: float
) -> None:
    """The scale's display has a unit, so its readings need none; any other is still read."""
    scale = Scale(shows=shows)
    assert grams == pytest.approx(read_reading(text, scale, "reading"))


def test_a_liquor_belongs_to_the_stage_its_hides_begin_with_it(bench: Bench) -> None:
    """Both saltings take the same formula: the liquor is for the one that comes next."""
    goats = [bench.take_in("Green goat", came="green"), bench.take_in("Other", came="green")]
    for goat in goats:
        bench.desk.hides.done(goat)
        bench.desk.hides.passed(goat)
    view = bench.desk.weigh_outs.begin(bench.desk.worksheet("salt-cure"), goats)
    assert "first-salting" == view.weigh_out.plan.stage
    liquor = bench.desk.weigh_outs.finish(worked_down(bench, view).weigh_out.id)
    assert "first-salting" == bench.state.liquors[liquor.id].stage


def test_a_liquor_of_no_one_stage_names_none(bench: Bench) -> None:
    """No hide, hides at different stages, or a formula that comes later: the stage stays open."""
    green, salted = bench.take_in("Green", came="green"), bench.take_in("Salted")
    bench.desk.hides.done(green)
    bench.desk.hides.passed(green)
    weigh_outs = bench.desk.weigh_outs
    for formula, hides in (
        ("salt-cure", []),
        ("salt-cure", [green, salted]),
        ("alum-salt-bath", [salted]),
    ):
        view = weigh_outs.begin(bench.desk.worksheet(formula), hides)
        assert "" == view.weigh_out.plan.stage
        weigh_outs.give_up(view.weigh_out.id)


def test_a_begun_stage_takes_no_new_liquor(bench: Bench) -> None:
    """While a hide lies in its soak, another soak liquor is for no stage it still has to begin."""
    goat = bench.take_in()
    bench.desk.hides.done(goat)
    view = bench.desk.weigh_outs.begin(bench.desk.worksheet("soak-salted"), [goat])
    assert "" == view.weigh_out.plan.stage
