"""Checks: dissolving, keeping, weighing and room, each sentence against figures by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from benchconsole.library import Library
from benchconsole.mixing.checks import Check
from benchconsole.mixing.targets import AsWritten, Target, Times
from benchconsole.mixing.worksheet import worksheet
from benchconsole.model.shop import Scale, Shop


def checks_of(
    library: Library,
    formula: str,
    code: str,
    *,
    celsius: float = 15.0,
    target: Target | None = None,
    step_g: float = 1.0,
) -> dict[tuple[str, str], Check]:
    """The checks of one code by part and substance, in a metric shop with a 5 kg scale."""
    sheet = worksheet(
        library.formulas[formula],
        target or AsWritten(),
        substances=library.substances,
        shop=Shop(measures="metric", scale=Scale(step_g=step_g)),
        water_celsius=celsius,
    )
    return {(each.part, each.substance): each for each in sheet.checks if each.code == code}


def test_alum_in_cold_water(library: Library) -> None:
    """1 lb potassium alum in 1 gal at 10 °C, by hand.

    Anhydrous 453.59 · 258.205 / 474.388 = 246.89 g, crystal water 206.70 g; water 3785.41 mL at
    999.70 kg/m³ = 3784.28 g. 246.89 / 3990.98 · 100 = 6.186 g in 100 g, against 3.99: 155 %.
    Extra water 24689 / 3.99 − 3990.98 = 2196.7 g, 2.2 L. Between 20 °C (5.90) and 30 °C (8.39)
    the logarithm is straight: 20 + 10 · ln(6.186 / 5.90) / ln(8.39 / 5.90) = 21.3, so 22 °C.
    """
    check = alum_check(library, recipe_celsius=None)
    assert not check.ok
    assert 1.550 == pytest.approx(check.value, abs=0.002)
    assert "Warm the water to 22 °C, or add 2.2 L more water." in check.says
    assert "will not all dissolve at 10 °C" in check.says


def alum_check(library: Library, recipe_celsius: float | None) -> Check:
    """The potassium alum of the bath in water at 10 °C, from a recipe that asks for another."""
    bath = library.formulas["alum-salt-soda-bath"]
    parts = tuple(replace(part, celsius=recipe_celsius) for part in bath.parts)
    sheet = worksheet(
        replace(bath, parts=parts),
        AsWritten(),
        substances=library.substances,
        shop=Shop(measures="metric"),
        water_celsius=10.0,
    )
    (check,) = (c for c in sheet.checks if (c.code, c.substance) == ("dissolves", "potassium-alum"))
    return check


@pytest.mark.parametrize(
    ("recipe", "ends"),
    [
        (None, "Warm the water to 22 °C, or add 2.2 L more water."),
        (8.0, "Warm the water to 22 °C, or add 2.2 L more water."),
        (
            20.0,
            "The recipe's 20 °C is not warm enough either. "
            "Warm the water to 22 °C, or add 2.2 L more water.",
        ),
        (22.0, "The recipe's 22 °C is warm enough."),
        (90.0, "The recipe's 90 °C is warm enough."),
    ],
)
def test_the_recipes_own_warmth_is_judged(
    library: Library, recipe: float | None, ends: str
) -> None:
    """The alum wants 21.3 °C (worked out above); the water at hand stays the one that is judged."""
    check = alum_check(library, recipe)
    assert not check.ok
    assert check.says.endswith(f"stays on the bottom. {ends}")


def test_the_shipped_alum_bath_asks_for_water_that_is_warm_enough(library: Library) -> None:
    """Cold water is still told as a fault; the recipe's own 40 °C is the way out, in both units."""
    us = worksheet(
        library.formulas["alum-salt-bath"],
        AsWritten(),
        substances=library.substances,
        shop=Shop(measures="us"),
        water_celsius=8.0,
    )
    (check,) = (c for c in us.checks if c.code == "dissolves" and not c.ok)
    assert "The recipe's 104 °F (40 °C) is warm enough." in check.says


def test_between_the_two_sources_it_may_dissolve(library: Library) -> None:
    """1 lb ammonium alum in 1 gal at 20 °C is 5.95 g in 100 g: over one source's 5.20, not 7.74."""
    check = checks_of(library, "alum-salt-bath", "dissolves", celsius=20.0)[
        "alum-jug", "ammonium-alum"
    ]
    assert 5.95 / 5.20 == pytest.approx(check.value, abs=0.003)
    assert "may not all dissolve" in check.says


def test_a_sediment_that_is_meant_is_no_fault(library: Library) -> None:
    """Lime stirred up: 1.6 lb = 725.7 g in 30.26 kg of water, of which 0.170 g in 100 g dissolve.

    725.7 − 51.4 = 674 g stay, whatever is done; nothing is to be warmed or thinned.
    """
    check = checks_of(library, "lime-bath", "dissolves")["lime", "hydrated-lime"]
    assert check.ok
    assert 14.0 == pytest.approx(check.value, abs=0.5)
    assert check.says.endswith("of it is meant to stay as a sediment: stir it up.")


def test_lime_is_not_told_to_be_warmed(library: Library) -> None:
    """Lime dissolves less when warm: where it should all dissolve, 14 times too much says so."""
    bath = library.formulas["lime-bath"]
    (part,) = bath.parts
    water, lime = part.ingredients
    clear = replace(part, ingredients=(water, replace(lime, suspended=False)))
    sheet = worksheet(
        replace(bath, parts=(clear,)),
        AsWritten(),
        substances=library.substances,
        shop=Shop(measures="metric"),
        water_celsius=15.0,
    )
    (check,) = (c for c in sheet.checks if c.code == "dissolves")
    assert not check.ok
    assert "Warm" not in check.says
    assert "more water" not in check.says
    assert "14 times what the water holds, warm or cold" in check.says
    assert "that is meant" in check.says


def test_a_little_lime_asks_for_cooler_water(library: Library) -> None:
    """42.4 g in 29774 g of water at 60 °C is 0.1424 in 100 g; the water holds 0.116 there.

    From 30 °C (0.153) to 40 °C (0.141): 30 + 10 · ln(0.1424 / 0.153) / ln(0.141 / 0.153) = 38.8.
    """
    bath = library.formulas["lime-bath"]
    (part,) = bath.parts
    water, lime = part.ingredients
    thin = replace(lime, mass_g=0.00140 * 30283.0, suspended=False)
    formula = replace(bath, parts=(replace(part, ingredients=(water, thin)),))
    sheet = worksheet(
        formula,
        AsWritten(),
        substances=library.substances,
        shop=Shop(measures="metric"),
        water_celsius=60.0,
    )
    (check,) = (c for c in sheet.checks if c.code == "dissolves")
    assert "Take cooler water, 38 °C, or add" in check.says


@pytest.mark.parametrize(
    ("celsius", "words"),
    [(60.0, ""), (80.0, "No figures are known for warmer water than 60 °C.")],
)
def test_beyond_the_figures_is_said(library: Library, celsius: float, words: str) -> None:
    """Water warmer than the last published point is judged there, and the sentence says so."""
    check = checks_of(library, "borax-rinse", "dissolves", celsius=celsius)["rinse", "borax"]
    assert words in check.says
    assert bool(words) == ("No figures" in check.says)


def test_hot_water_is_also_checked_cooled(library: Library) -> None:
    """A bath mixed at 70 °C is judged at the 20 °C it cools to, also where it has one part only."""
    keeps = checks_of(library, "salt-citric-pickle", "keeps", celsius=70.0)
    assert {"salt", "citric-acid"} == {substance for _, substance in keeps}
    assert all("20 °C" in check.says for check in keeps.values())
    assert {} == checks_of(library, "salt-citric-pickle", "keeps", celsius=15.0)


def test_crystals_that_come_out_again(library: Library) -> None:
    """The joined bath at 5 °C: the alum dissolved warm falls out, and is kept above 12 °C."""
    keeps = checks_of(library, "alum-salt-soda-bath", "keeps", celsius=5.0)
    check = keeps["joined", "potassium-alum"]
    assert not check.ok
    assert "fall out again at 5 °C" in check.says
    assert "Keep it above 12 °C" in check.says


@pytest.mark.parametrize(
    ("step_g", "times", "ok", "says"),
    [
        # error = 2 · d · √2 / √12 = 0.8165 d; the borax is 28.35 g; tolerance 2 %
        (0.1, 1.0, True, "good to 0.3 % on your scale"),  # 0.08165 / 28.35
        (1.0, 1.0, False, "off by 3 %. Mix at least 1.5 times"),  # 2.88 %, 1.44 times the 2 %
        (1.0, 2.0, True, "good to 1.4 % on your scale"),
        (1.0, 0.01, False, "cannot weigh so little. Mix at least 145 times"),  # 144.005, upward
        (1.0, 0.001, False, "cannot weigh so little. Use a finer scale."),  # 1441 times: no batch
    ],
)
def test_the_step_of_the_scale(
    library: Library, step_g: float, times: float, ok: bool, says: str
) -> None:
    """The rounding of two readings against the tolerance, and the batch that would meet it."""
    found = checks_of(
        library, "borax-rinse", "scale-step", target=Times(times=times), step_g=step_g
    )
    assert ok == found["rinse", "borax"].ok
    assert says in found["rinse", "borax"].says


def test_the_batch_named_does_meet_the_tolerance(library: Library) -> None:
    """Following the advice ends it: 1.5 times the rinse passes on the same scale."""
    again = checks_of(library, "borax-rinse", "scale-step", target=Times(times=1.5))
    assert again["rinse", "borax"].ok


def test_more_than_the_scale_carries(library: Library) -> None:
    """11.34 kg of salt on a 5 kg scale are 3 lots; 4.54 kg of alum need no word."""
    found = checks_of(library, "alum-salt-bath", "scale-capacity", target=Times(times=10.0))
    assert [("brine", "salt")] == list(found)
    assert "weighed in 3 lots" in found["brine", "salt"].says


def test_room_for_foam(library: Library) -> None:
    """The foaming bath of 6.05 L asks for a container of twice that, 12.1 L."""
    (check,) = checks_of(library, "alum-salt-soda-bath", "container").values()
    assert "holds at least 12.1 L" in check.says


def test_a_tub_that_is_too_small_is_told(library: Library) -> None:
    """Twelve litres with the foam do not go into ten, and do go into twenty."""
    for tub_l, fits in ((10.0, False), (20.0, True)):
        sheet = worksheet(
            library.formulas["alum-salt-soda-bath"],
            AsWritten(),
            substances=library.substances,
            shop=Shop(measures="metric", tub_l=tub_l),
        )
        (check,) = (each for each in sheet.checks if each.code == "container")
        assert fits is check.ok
        assert fits is ("largest tub holds 10 L" not in check.says)


def test_faults_come_first(library: Library) -> None:
    """Whatever needs doing is read before what is in order."""
    sheet = worksheet(
        library.formulas["alum-salt-soda-bath"],
        AsWritten(),
        substances=library.substances,
        shop=Shop(),
        water_celsius=5.0,
    )
    in_order = [check.ok for check in sheet.checks]
    assert sorted(in_order) == in_order
    assert not in_order[0]


def test_a_clear_liquor_says_how_cold_it_may_get(library: Library) -> None:
    """The soda bath holds 75 g/L of potassium alum; at 15 degC it is clear, near 10 degC not.

    The published points are 3.99 g (10 degC) and 5.90 g (20 degC) anhydrous in 100 g of water;
    the recipe's 453.6 g in 5678 mL is 4.20 g with the crystals' own water, reached at 11.3 degC
    on the line of logarithms between them (Seidell / Lange / International Critical Tables
    family). So 12 degC is the coldest whole degree that holds it.
    """
    says = [
        check.says
        for check in worksheet(
            library.formulas["alum-salt-soda-bath"],
            AsWritten(),
            substances=library.substances,
            shop=Shop(measures="metric", water_celsius=15.0),
        ).checks
        if (check.code, check.substance) == ("keeps", "potassium-alum")
    ]
    assert ["Below 12 °C crystals fall out."] == [words[-30:] for words in says]


def test_what_holds_at_every_warmth_says_nothing_of_cold(library: Library) -> None:
    """Salt at a third of saturation never falls out between 0 and 60 degC."""
    checks = checks_of(library, "salt-citric-pickle", "dissolves")
    assert checks
    assert not [check for check in checks.values() if "fall out" in check.says]
