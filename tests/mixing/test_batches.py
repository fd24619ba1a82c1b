"""From worksheet to plan and from the bench to the record of what was made."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from msgspec.structs import replace

from benchconsole.errors import NotPossibleNow
from benchconsole.library import Library
from benchconsole.mixing.batches import coat_g, liquor_from, plan_for
from benchconsole.mixing.targets import AsWritten, Limit, Target, Times
from benchconsole.mixing.weighing import next_pour, replay, tapped
from benchconsole.mixing.worksheet import Worksheet, worksheet
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Accept, BowlAgain, Liquor, Plan, Read, Rebalance, Tap

NOW = datetime(2026, 3, 1, 8, 0, tzinfo=UTC)
SHOP = Shop(measures="metric")


def sheet_of(library: Library, formula: str, target: Target) -> Worksheet:
    """A shipped formula's worksheet with water at 15 °C."""
    return worksheet(library.formulas[formula], target, substances=library.substances, shop=SHOP)


def made(library: Library, plan: Plan, taps: list[Tap]) -> Liquor:
    """The liquor after these taps and accepting all that is then asked for."""
    bench = replay(plan, taps)
    while next_pour(bench) is not None:
        bench = tapped(bench, Accept())
    return liquor_from(bench, name="L1", made_at=NOW, substances=library.substances)


def test_the_plan_asks_for_what_the_worksheet_shows(library: Library) -> None:
    """Grams, order and measure of every line are carried over, with scale, water and hides."""
    sheet = sheet_of(library, "alum-salt-bath", Times(times=2.0))
    plan = plan_for(sheet, SHOP, hides=("h1",))
    assert [line.mass_g for line in sheet.lines] == [line.grams for line in plan.lines]
    assert ["jug", "scale", "jug", "scale"] == [line.by for line in plan.lines]
    assert (15.0, ("h1",), None) == (plan.water_celsius, plan.hides, plan.limit_g)
    assert "Pour the alum jug slowly into the brine" in plan.parts[1].then


def test_a_dressing_ends_in_equal_coats_of_what_is_in(library: Library) -> None:
    """8 oz in two coats; with 4 g of oil too much each of them takes 2 g more."""
    sheet = sheet_of(library, "oil-ammonia-dressing", AsWritten())
    plan = plan_for(sheet, SHOP)
    assert (2, 0) == (plan.coats, plan_for(sheet_of(library, "salt-cure", AsWritten()), SHOP).coats)
    exact = replay(plan, [Accept()] * 3)
    more = replay(plan, [Read(reading_g=plan.lines[0].grams + 4.0), Accept(), Accept()])
    each = coat_g(exact)
    assert each is not None
    assert 113.398 == pytest.approx(each, abs=0.001)
    assert each + 2.0 == pytest.approx(coat_g(more))
    assert None is coat_g(replay(plan_for(sheet_of(library, "salt-cure", AsWritten()), SHOP), []))


def test_the_plan_carries_what_the_pack_says(library: Library) -> None:
    """At the scale too the right pack is named."""
    plan = plan_for(sheet_of(library, "alum-salt-bath", AsWritten()), SHOP)
    assert [library.substances[line.substance].pack for line in plan.lines] == [
        line.pack for line in plan.lines
    ]
    assert plan.lines[1].pack


def test_the_largest_tub_limits_a_foaming_batch_to_half_of_it(library: Library) -> None:
    """A 40 L tub holds 20 L of the foaming bath, which is 20 L times its density in grams."""
    sheet = sheet_of(library, "alum-salt-soda-bath", Times(times=1.0))
    assert sheet.liquor is not None
    plan = plan_for(sheet, replace(SHOP, tub_l=40.0))
    assert pytest.approx(20.0 * sheet.liquor.density_kg_m3) == plan.limit_g


def test_a_batch_limited_by_stock_cannot_be_raised(library: Library) -> None:
    """All the alum goes into the batch, so too much salt cannot be rebalanced with more alum."""
    limit = Limit(substance="ammonium-alum", mass_g=453.59)
    plan = plan_for(sheet_of(library, "alum-salt-bath", limit), SHOP)
    assert {"ammonium-alum": 453.59} == plan.stock_g
    bench = replay(plan, [Accept(), Read(reading_g=1300)])
    with pytest.raises(NotPossibleNow, match="not enough"):
        tapped(bench, Rebalance())


def test_accepting_all_makes_the_worksheet(library: Library) -> None:
    """With every line exactly in, volume, density and strengths are those of the worksheet."""
    sheet = sheet_of(library, "alum-salt-bath", AsWritten())
    liquor = made(library, plan_for(sheet, SHOP), [])
    assert sheet.liquor is not None
    assert sheet.liquor.volume_l == pytest.approx(liquor.volume_l, rel=1e-12)
    assert sheet.liquor.strengths == liquor.strengths
    assert all(line.target_g == line.actual_g for line in liquor.lines)


def test_a_raised_batch_keeps_its_strength(library: Library) -> None:
    """Salt 10 % over and rebalanced: 1.1 times the volume at the same grams per litre."""
    sheet = sheet_of(library, "alum-salt-bath", AsWritten())
    salt_g = 1.1 * sheet.lines[1].mass_g
    liquor = made(library, plan_for(sheet, SHOP), [Accept(), Read(reading_g=salt_g), Rebalance()])
    assert sheet.liquor is not None
    assert 1.1 == pytest.approx(liquor.factor)
    assert 1.1 * sheet.liquor.volume_l == pytest.approx(liquor.volume_l)
    for asked, got in zip(sheet.liquor.strengths, liquor.strengths, strict=True):
        assert asked.g_per_l == pytest.approx(got.g_per_l)


def test_waste_is_recorded_and_not_in_the_liquor(library: Library) -> None:
    """1500 g of salt thrown away is written beside the 1134 g that went in."""
    sheet = sheet_of(library, "alum-salt-bath", AsWritten())
    taps: list[Tap] = [Accept(), Read(reading_g=1500), BowlAgain()]
    salt = made(library, plan_for(sheet, SHOP), taps).lines[1]
    assert 1500 == salt.wasted_g
    assert 1133.98 == pytest.approx(salt.actual_g, abs=0.01)


def test_a_substance_in_two_parts_has_one_strength(library: Library) -> None:
    """453.6 g of salt in one part and 226.8 g in the other are one strength of 680.4 g."""
    plan = plan_for(sheet_of(library, "alum-salt-soda-bath", AsWritten()), SHOP)
    salted = replace(plan.lines[1], substance="salt")
    without_soda = (plan.lines[0], salted, plan.lines[2], plan.lines[4])
    liquor = made(library, replace(plan, lines=without_soda), [])
    (strength,) = liquor.strengths
    assert 680.39 == pytest.approx(strength.g_per_l * liquor.volume_l, abs=0.01)


def test_a_dry_mix_has_no_volume(library: Library) -> None:
    """The salt cure is grams of salt and nothing else."""
    liquor = made(library, plan_for(sheet_of(library, "salt-cure", AsWritten()), SHOP), [])
    assert (0.0, 0.0, ()) == (liquor.volume_l, liquor.density_kg_m3, liquor.strengths)


def test_an_unfinished_weigh_out_makes_nothing(library: Library) -> None:
    """While something is missing, or an over-pour waits, there is no liquor to record."""
    plan = plan_for(sheet_of(library, "alum-salt-bath", AsWritten()), SHOP)
    for taps in ([], [Accept(), Read(reading_g=3000)]):
        with pytest.raises(NotPossibleNow, match="still missing"):
            liquor_from(replay(plan, taps), name="L1", made_at=NOW, substances=library.substances)
