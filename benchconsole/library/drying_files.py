"""The figures of drying from their file, each held to its range."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from functools import lru_cache
from importlib.resources import files as package_files

import msgspec

from benchconsole.errors import BadFile
from benchconsole.library.checks import check_figure, check_said, check_within
from benchconsole.library.faults import Fault
from benchconsole.library.lines import Path
from benchconsole.library.opening import refused
from benchconsole.model.drying import DryingFigures
from benchconsole.model.record import Figure

FILE = "drying.toml"


@lru_cache(maxsize=1)
def drying_figures() -> DryingFigures:
    """What comes with the program; raises BadFile only if the installation is damaged."""
    return read_drying_figures((package_files("benchconsole.library") / FILE).read_text("utf-8"))


def read_drying_figures(text: str) -> DryingFigures:
    """The figures of a file's text; BadFile for one that could not be computed with."""
    try:
        figures = msgspec.convert(tomllib.loads(text), DryingFigures)
    except (tomllib.TOMLDecodeError, msgspec.ValidationError) as error:
        raise BadFile(FILE, 0, str(error)) from None
    try:
        _check(figures)
    except Fault as fault:
        raise refused(FILE, text, fault) from None
    return figures


def figures_in(figures: DryingFigures) -> Iterator[tuple[Path, Figure]]:
    """Every figure with its place."""
    for name in figures.__struct_fields__:
        value = getattr(figures, name)
        if isinstance(value, Figure):
            yield (name,), value
        elif isinstance(value, dict):
            yield from (((name, key), each) for key, each in value.items() if _is_figure(each))
    for place, window in enumerate(figures.window):
        yield ("window", place, "upper"), window.upper
        if window.lower is not None:
            yield ("window", place, "lower"), window.lower
    for place, mark in enumerate(figures.mark):
        yield ("mark", place, "moisture"), mark.moisture


def _is_figure(value: object) -> bool:
    return isinstance(value, Figure)


def _check(figures: DryingFigures) -> None:
    for path, figure in figures_in(figures):
        share = path[0] in ("start", "window", "mark", "hair_share")
        check_figure(figure, 1e-4, 0.99 if share else 1000.0, path)
    for material, curve in figures.sorption.items():
        here: Path = ("sorption", material)
        check_said(curve.source, (*here, "source"))
        check_within(curve.doubt, 0.01, 1.0, (*here, "doubt"))
        before = (0.0, 0.0)
        for point in curve.points:
            if point[0] <= before[0] or point[0] >= 100.0 or point[1] <= before[1]:
                raise Fault((*here, "points"), "points: both humidity and moisture must rise")
            before = point
