"""The figures of drying: sourced, in order, and refused when they are not."""

from __future__ import annotations

from importlib.resources import files
from typing import cast, get_args

import pytest

from benchconsole.errors import BadFile
from benchconsole.library import shipped_library, with_own_files
from benchconsole.library.drying_files import drying_figures, figures_in, read_drying_figures
from benchconsole.model.record import Mark
from benchconsole.model.routes import DriesTo

FIGURES = drying_figures()
TEXT = (files("benchconsole.library") / "drying.toml").read_text("utf-8")


def test_every_figure_has_a_source_and_a_mark() -> None:
    """No figure of the forecast stands without saying where it comes from."""
    found = list(figures_in(FIGURES))
    assert len(found) > 25
    for path, figure in found:
        assert figure.source, path
        assert figure.mark in get_args(Mark), path
    for curve in FIGURES.sorption.values():
        assert curve.source
        assert curve.mark in get_args(Mark)


def test_the_states_follow_one_another() -> None:
    """Damp comes before soft and soft before dry, and no two overlap."""
    damp, soft, dry = (FIGURES.window_of(state) for state in ("damp", "soft", "dry"))
    assert damp.lower is not None
    assert soft.lower is not None
    assert damp.upper.value > damp.lower.value >= soft.upper.value > soft.lower.value
    assert soft.lower.value >= dry.upper.value
    assert dry.lower is None
    with pytest.raises(KeyError):
        FIGURES.window_of(cast(DriesTo, "wet"))


def test_every_species_says_how_thick_it_is() -> None:
    """The forecast has a skin and a coat to go by for every animal that is shipped."""
    for animal in shipped_library().species.values():
        assert animal.thickness_mm is not None, animal.id
        assert animal.hair_mm is not None, animal.id


def test_an_own_species_needs_no_figures_but_may_not_lie() -> None:
    """A species without them loads; a skin a metre thick is told by its line."""
    text = '[[species]]\nid = "eland"\nname = "eland"\n'
    library, bad = with_own_files(shipped_library(), [("eland.toml", text)])
    assert bad == ()
    assert library.species["eland"].hair_mm is None
    text += 'thickness_mm = { value = 1000, source = "a guess", mark = "memory" }\n'
    _, (refusal,) = with_own_files(shipped_library(), [("eland.toml", text)])
    assert refusal.line == 4
    assert "must be from 0.1 to 30" in str(refusal)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("value = 0.067, low = 0.03", "value = 0.067, low = 0.3", "low: it must not be above"),
        ("value = 0.394, low", "value = 1.2, low", "must be from"),
        ("[[20, 0.094], [40, 0.128]", "[[40, 0.094], [20, 0.128]", "must rise"),
        ("doubt = 0.15", "doubt = 0", "must be from"),
        ("rate_per_h = {", "speed = {", "unknown field"),
        ("[sorption.skin]", "[sorption.fish]", "Invalid enum value"),
        ("[cover]", "[cover", "drying.toml"),
    ],
)
def test_a_damaged_file_is_refused(old: str, new: str, said: str) -> None:
    """What could not be computed with is refused and named."""
    assert old in TEXT
    with pytest.raises(BadFile) as caught:
        read_drying_figures(TEXT.replace(old, new, 1))
    assert said in str(caught.value)
