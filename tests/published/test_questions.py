"""Questions that people at the bench keep asking, and the answer a calculation has for each.

The questions are paraphrased from public question-and-answer pages and hobby forums, 1999 to
2021; the source of each figure stands beside its test. What only time, a look or a feel can
answer (slipping hair, hard spots) is no sum and is not here.
"""

from __future__ import annotations

from datetime import UTC, datetime, time

import pytest

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.desk.sums import Answer, answer_to, sum_named
from benchconsole.library import shipped_library
from benchconsole.mixing.targets import read_target
from benchconsole.model.shop import OpenSpan, Shop
from benchconsole.model.state import HideState
from benchconsole.schedule import Hours, open_actions
from benchconsole.store import MemoryRepository

METRIC = Shop(measures="metric")
US = Shop(measures="us")


def ask(name: str, shop: Shop = METRIC, /, **texts: str) -> Answer:
    """The answer of a sum; fields by name, ``_`` for the dash."""
    asked = sum_named(name)
    return answer_to(asked, {key.replace("_", "-"): text for key, text in texts.items()}, shop)


def a_desk() -> Desk:
    """A shop that has said nothing of itself yet: US measures, a 1 g scale."""
    clock = ManualClock(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))
    return Desk(MemoryRepository(), clock, shipped_library())


def shown(formula: str, kind: str, text: str, **more: str) -> dict[str, str]:
    """What a worksheet asks for, by substance."""
    sheet = a_desk().worksheet(formula, read_target(kind, text, measures="us", **more))
    return {line.substance: line.show for line in sheet.lines}


def test_how_much_of_what_for_this_skin() -> None:
    """ "How much of what for a 7 lb skin?" By weight, not by cups, from the recipe's float.

    Source of the recipe, 1 lb alum and 2 1/2 lb salt in 5 US gal: "Tanning Deer Hides and Small
    Fur Skins", New Mexico State University Guide L-103. At 6 L/kg (from memory) a hide of 3175 g
    takes 19.05 L, and the 5 gal of the recipe are 19.5 L once salt and alum are in: 0.977 times
    the recipe, 1108 g of salt and 443 g of alum, to 1 %.
    """
    target = read_target("hide-mass", "7 lb", measures="us")
    sheet = a_desk().worksheet("alum-salt-bath", target)
    weighed = [line.mass_g for line in sheet.lines if line.by == "scale"]
    assert sheet.liquor is not None
    assert pytest.approx(19.05, abs=0.01) == sheet.liquor.volume_l
    assert pytest.approx([1108.0, 443.0], rel=0.01) == weighed
    assert "2 lb 7.05 oz" in [line.show for line in sheet.lines]


def test_which_alum() -> None:
    """ "Which alum, is the sulphate the same?" No: 948, 906 and 666 hold the same aluminium.

    Source: The Principles of Leather Manufacture (1903), ch. XIV.
    """
    answer = ask("alum-for-alum", alum="potassium-alum", weight_of_alum="948 g")
    assert answer.says.startswith("906 g of ammonium alum")
    assert answer.lines[0].startswith("666 g of aluminium sulphate")


def test_why_it_swells_in_the_rinse() -> None:
    """ "It went rubbery when I rinsed it": 30 g/L of salt in the rinse of an acid skin.

    Source: public question and answer pages, 1999 to 2022 (30 g/L, 4 oz to the US gallon). A tub
    of 40 L takes 1200 g, one of 10 US gal 40 oz.
    """
    assert "1200 g of salt" in ask("rinse-salt", rinse_water="40 L").says
    by_the_gallon = ask("rinse-salt", US, rinse_water="10 gal", salt_strength="4 oz/gal")
    assert "2 lb 8 oz of salt" in by_the_gallon.says


@pytest.mark.parametrize(
    ("salt", "said"),
    [("0 g", "too little"), ("800 g", "too little"), ("1.6 kg", "least"), ("2.4 kg", "enough")],
)
def test_whether_salt_goes_in_before_the_acid(salt: str, said: str) -> None:
    """ "Do I need salt before the pickle?" Yes, above 5 °Bé, better 100 g/L; salt in it counts.

    Sources: an industry guide to pickling (5 to 8 °Bé before the acid); Bookbinding and the
    Conservation of Books: a dictionary (1982), over 10 %. In 20 L: nothing, 40, 80 and 120 g/L.
    """
    answer = ask(
        "pickle-ph",
        which_acid="formic",
        acid_strength="85 %",
        acid_amount="100 g",
        salt=salt,
        volume="20 L",
        temperature="18 °C",
    )
    assert said in answer.lines[0]
    assert (said == "too little") == answer.says.startswith("Put no skin in")
    assert (said != "enough") == ("salt first, then the acid" in " ".join(answer.lines))


def test_how_much_oil_and_where_to_stop() -> None:
    """ "How much oil, and when?" By the area, in two halves, and by what the bottle weighs.

    Source: one recipe of 8 US fl oz (237 mL) dresses a deer skin of 0.65 to 1 m², so 0.24 to
    0.36 L/m² (our arithmetic). 0.8 m² takes 240 mL in two coats of 120 mL; a bottle of 62 g that
    weighs 290 g filled is at its half when it weighs 176 g.
    """
    assert "240 mL of dressing" in ask("dressing-for-area", area="0.8 m²").says
    assert "2 coats of 120 mL" in ask("dressing-for-area", area="0.8 m²").says
    marks = ask(
        "coats-by-weight", full_bottle="290 g", known="empty", known_weight="62 g", coats="2"
    )
    assert "176 g" in marks.lines[0]


def test_how_many_rinses() -> None:
    """ "How many rinses take the salt out?" 1 L held and 9 L of water leave 10 %, twice 1 %.

    Source: conservation of salt, 1 ÷ (1 + 9) each time (our arithmetic). From 120 g/L down to
    5 g/L takes two.
    """
    held = {"liquor_held": "1 L", "strength": "120 g/L", "water": "9 L"}
    once = ask("rinses", **held, strength_wanted="12 g/L")
    assert "1 rinse of 9 L leaves 10 %" in once.says
    twice = ask("rinses", **held, strength_wanted="5 g/L")
    assert "2 rinses of 9 L leave 1 %" in twice.says


def test_how_many_eggs() -> None:
    """ "Eggs or brains: how many?" People say 1 to 12 eggs to a deer; six yolks are taken.

    Source: public forum threads (no agreement); six yolks of 18 g is common practice, no source.
    Two deer hides take 216 g of yolk, or 2 lb of brain (1 lb in 2 gal of warm water for one:
    outdoor and hobby how-to pages on tanning deer hides).
    """
    assert "7.6 oz" == shown("egg-dressing", "hides", "2", species="deer")["egg-yolk"]
    assert "2 lb" == shown("brain-dressing", "hides", "2", species="deer")["brain"]


@pytest.mark.parametrize(
    ("species", "due_days", "latest_days"), [("rabbit", 2, 4), ("deer", 5, 7), ("goat", 5, 7)]
)
def test_how_long_in_the_bath(species: str, due_days: int, latest_days: int) -> None:
    """Question 7: the alum bath takes a rabbit 2 days, a deer 5, and neither for ever.

    Two days and five: New Mexico State University Guide L-103, salt and alum passage; the latest,
    4 and 7 days, is common practice, no source (hair sheds from about day 7 in a stale bath,
    a rabbit leaflet).
    """
    begun = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
    hide = HideState(
        id="h",
        name="h",
        species=species,
        route="hair-on-alum-pelt",
        came="salted",
        count=1,
        mass_g=None,
        stage="alum",
        arrived_at=begun,
        begun_at=begun,
        coats_at=(begun,),
    )
    route = shipped_library().route("hair-on-alum-pelt")
    daily = tuple(OpenSpan(weekday=day, opens=time(0), closes=time(0)) for day in range(7))
    asked = open_actions(hide, route, hours=Hours(daily, ()), now=begun)
    (look,) = (action for action in asked if action.kind == "check")
    assert look.latest is not None
    assert (due_days, latest_days) == ((look.due - begun).days, (look.latest - begun).days)
