"""Load the library that comes with the program, and add a person's own files to it.

A file says what it is by its top table: ``[formula]``, ``[route]``, ``[[substance]]``,
``[[species]]`` or ``[[incompatible]]``; the folder it lies in is only for tidiness.  Species and
substances are read first, then formulas, then routes, so own files may build on one another in any
order.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from functools import lru_cache
from importlib.resources import files as package_files

from benchconsole.errors import BadFile
from benchconsole.library.catalogue import Library
from benchconsole.library.faults import Fault
from benchconsole.library.formula_files import formula_from
from benchconsole.library.lines import Path
from benchconsole.library.opening import opened, refused
from benchconsole.library.route_files import route_from
from benchconsole.library.substance_files import (
    incompatible_from,
    species_from,
    substances_from,
)
from benchconsole.library.written import (
    FILES,
    FormulaFile,
    IncompatibleFile,
    RouteFile,
    SpeciesFile,
    SubstanceFile,
)
from benchconsole.model.record import Record

NamedText = tuple[str, str]
"""A file's name, as the person knows it, and its text."""

_FOLDERS = ("substances", "formulas", "routes")
_TOP_FILES = ("species.toml", "incompatible.toml")
_ORDER = ("species", "incompatible", "substance", "formula", "route")


@lru_cache(maxsize=1)
def shipped_library() -> Library:
    """The library in the package; raises BadFile only if the installation is damaged."""
    library, bad = _grown(Library(), _package_texts(), own=False)
    if bad:
        raise bad[0]
    return library


def with_own_files(
    library: Library, files: Iterable[NamedText]
) -> tuple[Library, tuple[BadFile, ...]]:
    """``library`` and what a person's own files add to it, and the files that are refused.

    A refused file is told by name, line and reason; all others are loaded. An id that is
    already taken is refused: an own formula has its own name, so no old record changes meaning.
    """
    return _grown(library, files, own=True)


def _package_texts() -> list[NamedText]:
    root = package_files("benchconsole.library")
    texts = [(name, (root / name).read_text(encoding="utf-8")) for name in _TOP_FILES]
    for folder in _FOLDERS:
        found = sorted((root / folder).iterdir(), key=lambda file: file.name)
        texts.extend(
            (f"{folder}/{file.name}", file.read_text(encoding="utf-8"))
            for file in found
            if file.name.endswith(".toml")
        )
    return texts


def _grown(
    library: Library, files: Iterable[NamedText], *, own: bool
) -> tuple[Library, tuple[BadFile, ...]]:
    bad: list[BadFile] = []
    waiting: dict[str, list[tuple[str, str, Record]]] = {kind: [] for kind in FILES}
    for name, text in files:
        try:
            kind, written = opened(name, text)
            waiting[kind].append((name, text, written))
        except BadFile as error:
            bad.append(error)
    for kind in _ORDER:
        for name, text, written in waiting[kind]:
            try:
                library = _with_file(library, written, own=own)
            except Fault as fault:
                bad.append(refused(name, text, fault))
    return library, tuple(bad)


def _with_file(library: Library, written: Record, *, own: bool) -> Library:
    substances, species = dict(library.substances), dict(library.species)
    formulas, routes = dict(library.formulas), dict(library.routes)
    incompatible = library.incompatible
    match written:
        case SpeciesFile():
            for place, animal in enumerate(species_from(written)):
                _check_free(animal.id, species, "species", ("species", place, "id"))
                species[animal.id] = animal
        case SubstanceFile():
            for place, substance in enumerate(substances_from(written)):
                _check_free(substance.id, substances, "substance", ("substance", place, "id"))
                substances[substance.id] = substance
        case IncompatibleFile():
            incompatible += incompatible_from(written)
        case FormulaFile():
            formula = formula_from(written, library, own=own)
            _check_free(formula.id, formulas, "formula", ("formula", "id"))
            formulas[formula.id] = formula
        case RouteFile():
            route = route_from(written, library, own=own)
            _check_free(route.id, routes, "route", ("route", "id"))
            routes[route.id] = route
    return Library(
        substances=substances,
        formulas=formulas,
        routes=routes,
        species=species,
        incompatible=incompatible,
    )


def _check_free(one_id: str, taken: Container[str], kind: str, path: Path) -> None:
    if one_id in taken:
        raise Fault(path, f"there is already a {kind} “{one_id}”; for example my-{one_id}")
