"""The library that comes with the program: whole, resolved, and sourced figure by figure."""

import time
import tomllib
from collections.abc import Iterator
from datetime import timedelta
from importlib.resources import files
from typing import Any, get_args

import msgspec
import pytest

from benchconsole.errors import NotKnown
from benchconsole.library import Library, shipped_library
from benchconsole.library.lines import line_of
from benchconsole.model.formulas import Formula
from benchconsole.model.record import Mark
from benchconsole.model.routes import Route

LIBRARY = shipped_library()
FORMULAS = list(LIBRARY.formulas.values())
ROUTES = list(LIBRARY.routes.values())
TEXTS = {
    f"{folder}/{file.name}": file.read_text(encoding="utf-8")
    for folder in ("substances", "formulas", "routes", ".")
    for file in (files("benchconsole.library") / folder).iterdir()
    if file.name.endswith(".toml")
}


def marked(value: object, path: str) -> Iterator[tuple[str, object]]:
    """Every record below ``value`` that carries a mark, with the way to it."""
    if isinstance(value, msgspec.Struct):
        if hasattr(value, "mark"):
            yield path, value
        for name in value.__struct_fields__:
            yield from marked(getattr(value, name), f"{path}.{name}")
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from marked(inner, f"{path}.{key}")
    elif isinstance(value, tuple):
        for place, inner in enumerate(value):
            yield from marked(inner, f"{path}[{place}]")


def test_the_promised_formulas_and_routes_are_there() -> None:
    """Formulas for every wet stage from cure to dressing and eleven whole routes are shipped."""
    promised = {
        "alum-salt-bath",
        "alum-salt-soda-bath",
        "oil-ammonia-dressing",
        "salt-citric-pickle",
        "borax-rinse",
        "soak-salted",
        "salt-cure",
        "brine-cure",
        "soak-borax",
        "soap-wash",
        "salt-formic-pickle",
        "salt-acid-pickle",
        "salt-oxalic-pickle",
        "pickle-neutralising-rinse",
        "alum-soda-paste",
        "basic-alum-stock",
        "bark-liquor-first",
        "willow-bark-liquor",
        "lime-ash-bath",
        "lactic-delime",
        "bran-drench",
        "oil-soap-emulsion",
        "egg-dressing",
        "brain-dressing",
    }
    assert len(LIBRARY.formulas) >= 50
    assert promised - set(LIBRARY.formulas) == set()
    assert {
        "hair-on-alum-pelt": {"green", "salted", "dried"},
        "hair-on-pickled-pelt": {"green", "salted", "dried", "pickled"},
        "small-fur-skin": {"green", "salted", "dried"},
        "hair-off-bark-leather": {"green", "salted", "dried"},
        "hair-off-white-leather": {"green", "salted", "dried"},
        "smoked-buckskin": {"green", "salted", "dried"},
        "rawhide": {"green", "salted", "dried"},
        "parchment": {"green", "salted", "dried"},
        "salt-and-store": {"green", "salted"},
        "dry-and-store": {"green", "salted", "dried"},
        "freeze-and-store": {"green", "frozen"},
    } == {route.id: set(route.starts) for route in ROUTES}


def test_every_figure_has_a_source_and_a_known_mark() -> None:
    """No figure is without the words of its source and one of the five marks."""
    everything = list(marked(LIBRARY, "library"))
    assert len(everything) > 150
    for path, record in everything:
        assert getattr(record, "source", "").strip(), path
        assert getattr(record, "mark", "") in get_args(Mark), path


def test_figures_that_stand_alone_have_sources_beside_them() -> None:
    """Molar masses, amounts and durations, which carry no source of their own, have one above."""
    for substance in LIBRARY.substances.values():
        assert substance.sources, substance.id
        assert substance.hazard is not None or substance.form == "water", substance.id
    for formula in FORMULAS:
        assert formula.sources, formula.id
    for route in ROUTES:
        for stage in route.stages:
            assert stage.sources, f"{route.id} {stage.id}"


def test_practice_is_marked_as_practice() -> None:
    """What says it has no source carries the mark "practice", and nothing else does not."""
    for path, record in marked(LIBRARY, "library"):
        if str(getattr(record, "source", "")).startswith("common practice, no source"):
            assert getattr(record, "mark", "") == "practice", path


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.id)
def test_every_name_in_a_formula_resolves(formula: Formula) -> None:
    """Substances, stand-ins, species and joined parts of a formula are all known."""
    for part in formula.parts:
        for ingredient in part.ingredients:
            assert LIBRARY.substance(ingredient.substance)
            assert (ingredient.mass_g is None) != (ingredient.volume_l is None)
            for other in ingredient.instead:
                assert LIBRARY.substance(other.substance)
    for joining in formula.joinings:
        assert formula.part(joining.add) != formula.part(joining.into)
    for serving in formula.servings:
        for species in serving.species:
            assert LIBRARY.animal(species)
    assert formula.cautions
    assert not formula.own


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_every_name_in_a_route_resolves(route: Route) -> None:
    """Formulas, species and starting stages of a route are known, and each hold covers all."""
    for stage_id in route.starts.values():
        assert route.stage(stage_id)
    assert route.starts["green"] == route.stages[0].id
    assert route.cautions
    for stage in route.stages:
        if stage.mix:
            assert LIBRARY.formula(stage.mix)
        for species in route.species:
            assert LIBRARY.animal(species)
            assert (stage.hold_for(species) is None) == (not stage.hold)
        assert stage.inspect, stage.id
        assert stage.gate, stage.id


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_coats_of_a_stage_are_those_of_its_dressing(route: Route) -> None:
    """A stage that gives coats and the dressing it uses never tell different waits."""
    coated = [stage for stage in route.stages if stage.coats is not None]
    for stage in route.stages:
        if stage.mix and LIBRARY.formula(stage.mix).coats is not None:
            assert stage in coated
    for stage in coated:
        coats = LIBRARY.formula(stage.mix).coats
        assert coats is not None
        assert stage.coats is not None
        for name in ("count", "wait_min", "wait_target", "wait_max"):
            assert getattr(coats, name) == getattr(stage.coats, name)


def test_drying_stages_say_how_dry_they_end() -> None:
    """A stage that is left damp, or soft while it dries, is marked so, and no wet stage is."""
    marked = {stage.id: stage.dries_to for route in ROUTES for stage in route.stages}
    expected = {"stretch": "damp", "sam": "damp", "break": "soft", "dry": "dry", "soak": None}
    assert expected == {stage: marked[stage] for stage in expected}
    for stage in (stage for route in ROUTES for stage in route.stages if stage.dries_to):
        assert stage.vessel != "tub"
        assert stage.check is not None


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_no_hide_can_lie_without_a_limit(route: Route) -> None:
    """After a stage without a hold, the next says how soon; a green hide's first stage does too."""
    assert route.stages[0].soon is not None
    for before in route.stages[:-1]:
        after = route.after(before.id)
        assert after is not None
        assert before.hold or after.soon is not None, after.id


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_no_attention_keeps_anybody_up_all_night(route: Route) -> None:
    """What is asked for to the end of a hold of a day or more may wait from 18:00 to 08:00."""
    night = timedelta(hours=14)
    for stage in route.stages:
        longest = max((hold.max for hold in stage.hold), default=timedelta(0))
        if longest >= timedelta(hours=24):
            for attention in stage.attend:
                assert attention.until is not None or attention.at_most >= night, stage.id


def test_what_gives_off_poison_with_bleach_says_so() -> None:
    """Acids, the alums (acid too) and ammonia: the caution comes with the substance."""
    for substance in LIBRARY.substances.values():
        if {"acid", "ammonia", "ammonium"} & {*substance.groups}:
            assert any("bleach" in caution for caution in substance.cautions), substance.id


def test_a_caution_of_a_formula_fits_its_stand_ins_too() -> None:
    """A sheet with bicarbonate does not warn of borax: what one substance does it says itself."""
    for formula in FORMULAS:
        swapped = {
            LIBRARY.substance(ingredient.substance).name
            for part in formula.parts
            for ingredient in part.ingredients
            if ingredient.instead
        }
        for words in (*formula.cautions, *(part.do for part in formula.parts)):
            assert not any(name in words.lower() for name in swapped), words


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.id)
def test_a_part_that_wants_warm_water_says_how_warm(formula: Formula) -> None:
    """A person at the kettle reads the figure in the sentence, in both scales."""
    for part in formula.parts:
        if part.celsius is not None:
            told = f"{part.celsius:.0f} °C ({part.celsius * 1.8 + 32:.0f} °F)"
            assert told in part.do, part.id


@pytest.mark.parametrize("name", sorted(TEXTS))
def test_the_line_of_every_key_is_found(name: str) -> None:
    """For each value of each shipped file the line told is one on which its key stands."""
    text = TEXTS[name]
    rows = text.split("\n")

    def look(value: Any, path: tuple[str | int, ...]) -> None:
        row = rows[line_of(text, path) - 1] if path else ""
        if path and isinstance(path[-1], str):
            assert path[-1] in row, (path, row)
        if isinstance(value, dict):
            for key, inner in value.items():
                look(inner, (*path, key))
        elif isinstance(value, list):
            for place, inner in enumerate(value):
                look(inner, (*path, place))
        elif isinstance(value, str) and not isinstance(path[-1], int):
            assert value in row, (path, row)

    look(tomllib.loads(text), ())


def test_an_unknown_name_says_what_there_is() -> None:
    """Each door of the library answers an unknown id with the ids it has."""
    for door, kind in (
        (LIBRARY.substance, "substance"),
        (LIBRARY.formula, "formula"),
        (LIBRARY.route, "route"),
        (LIBRARY.animal, "species"),
    ):
        with pytest.raises(NotKnown) as caught:
            door("unobtainium")
        assert kind == caught.value.kind
        assert caught.value.known
        assert "unobtainium" in str(caught.value)


def test_an_empty_library_says_only_that_it_is_not_known() -> None:
    """With nothing loaded, the sentence does not promise a list."""
    with pytest.raises(NotKnown, match=r"^No route is called “a”\.$"):
        Library().route("a")


def test_the_library_loads_in_an_instant() -> None:
    """All shipped files, a dozen routes among them, are read and checked in 100 ms of work."""
    spent = []
    for _ in range(5):
        began = time.process_time()
        shipped_library.__wrapped__()
        spent.append(time.process_time() - began)
    assert min(spent) < 0.100


def test_the_library_is_loaded_once() -> None:
    """Asking again gives the same library, not a second reading of the files."""
    assert shipped_library() is LIBRARY
