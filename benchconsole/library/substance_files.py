"""Substances, species and what must not meet, from their files; every figure is checked."""

from __future__ import annotations

from benchconsole.library.checks import (
    check_figure,
    check_names,
    check_said,
    check_within,
)
from benchconsole.library.faults import Fault
from benchconsole.library.lines import Path
from benchconsole.library.written import IncompatibleFile, SpeciesFile, SubstanceFile
from benchconsole.model.hazards import Incompatible
from benchconsole.model.routes import Species
from benchconsole.model.substances import Hazard, Solubility, Substance


def substances_from(file: SubstanceFile) -> tuple[Substance, ...]:
    """The substances of a file; Fault if one cannot be."""
    check_names(
        (substance.id, substance.name, ("substance", place))
        for place, substance in enumerate(file.substance)
    )
    for place, substance in enumerate(file.substance):
        _check_substance(substance, ("substance", place))
    return file.substance


def species_from(file: SpeciesFile) -> tuple[Species, ...]:
    """The species of a file; Fault for a bad or repeated id, or a figure that cannot be."""
    check_names(
        (species.id, species.name, ("species", place)) for place, species in enumerate(file.species)
    )
    for place, species in enumerate(file.species):
        check_figure(species.thickness_mm, 0.1, 30, ("species", place, "thickness_mm"))
        check_figure(species.hair_mm, 0.5, 500, ("species", place, "hair_mm"))
    return file.species


def incompatible_from(file: IncompatibleFile) -> tuple[Incompatible, ...]:
    """The pairs of a file; Fault if one says nothing or has no source."""
    for place, pair in enumerate(file.incompatible):
        check_said(pair.says, ("incompatible", place, "says"))
        check_said(pair.source, ("incompatible", place, "source"))
    return file.incompatible


def _check_substance(substance: Substance, path: Path) -> None:
    if substance.form != "solid" and substance.density is None:
        raise Fault(path, "a liquid needs its density, to go between weight and volume")
    check_figure(substance.density, 10, 20_000, (*path, "density"))
    check_figure(substance.specific_volume, -1, 2, (*path, "specific_volume"))
    check_within(substance.molar_mass, 1, 100_000, (*path, "molar_mass"))
    check_within(substance.anhydrous_molar_mass, 1, 100_000, (*path, "anhydrous_molar_mass"))
    if (substance.anhydrous_molar_mass or 0) > (substance.molar_mass or 100_000):
        raise Fault(
            (*path, "anhydrous_molar_mass"),
            "anhydrous_molar_mass: without its water it cannot weigh more than molar_mass",
        )
    if substance.solubility is not None:
        _check_solubility(substance.solubility, (*path, "solubility"))
    check_figure(substance.strength, 0.001, 1, (*path, "strength"))
    if substance.hazard is not None:
        _check_hazard(substance.hazard, (*path, "hazard"))


def _check_hazard(hazard: Hazard, path: Path) -> None:
    check_said(hazard.source, (*path, "source"))
    weakest = 0.0
    for place, band in enumerate(hazard.bands):
        here = (*path, "bands", place)
        check_said(band.source, (*here, "source"))
        check_within(band.from_share, 1e-6, 1, (*here, "from_share"))
        if band.from_share <= weakest:
            raise Fault((*here, "from_share"), "from_share: the bands must rise in strength")
        weakest = band.from_share


def _check_solubility(solubility: Solubility, path: Path) -> None:
    check_said(solubility.source, (*path, "source"))
    if len(solubility.points) < 2:
        raise Fault((*path, "points"), "points: at least two temperatures are needed")
    warmest = -274.0
    for place, point in enumerate(solubility.points):
        here = (*path, "points", place)
        check_within(point.celsius, -20, 110, (*here, "celsius"))
        check_within(point.low, 1e-6, 10_000, (*here, "low"))
        check_within(point.high, point.low, 10_000, (*here, "high"))
        if point.celsius <= warmest:
            raise Fault((*here, "celsius"), "celsius: the points must rise in temperature")
        warmest = point.celsius
