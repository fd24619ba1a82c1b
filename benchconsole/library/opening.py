"""From a file's text to its plain tree of values: size, characters, TOML, and what it is."""

from __future__ import annotations

import re
import tomllib
from typing import Any

import msgspec

from benchconsole.errors import BadFile
from benchconsole.letters import fault_in
from benchconsole.library.faults import Fault, fault_of
from benchconsole.library.lines import Path, line_of
from benchconsole.library.written import FILES, words_of
from benchconsole.model.record import Record

LARGEST_FILE_BYTES = 256 * 1024
LONGEST_LINE = 4000
LONGEST_TEXT = 2000
DEEPEST = 12
LARGEST_NUMBER = 1e9

_SAID_LINE = re.compile(r" \((?:at line (?P<line>\d+), column \d+|at end of document)\)$")


def opened(name: str, text: str) -> tuple[str, Record]:
    """What the file is ("formula", "route", ...) and its content in the shape of that kind.

    Raises BadFile for a text that is no such file.
    """
    text = text.removeprefix("\ufeff")
    tree = _tree_of(name, text)
    try:
        kind = _kind_of(tree)
        return kind, _shaped(_tidy(tree, ()), FILES[kind])
    except Fault as fault:
        raise refused(name, text, fault) from None


def refused(name: str, text: str, fault: Fault) -> BadFile:
    """The refusal of a file for a fault somewhere in its text."""
    return BadFile(name, line_of(text.removeprefix("\ufeff"), fault.path), fault.fault)


def _tree_of(name: str, text: str) -> dict[str, Any]:
    if len(text.encode(errors="surrogatepass")) > LARGEST_FILE_BYTES:
        raise BadFile(name, 0, f"it is larger than {LARGEST_FILE_BYTES // 1024} KB")
    for number, row in enumerate(text.split("\n"), start=1):
        if len(row) > LONGEST_LINE:
            raise BadFile(name, number, f"the line is longer than {LONGEST_LINE} characters")
        if fault := _fault_in(row.removesuffix("\r")):
            raise BadFile(name, number, fault)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        said = str(error)
        place = _SAID_LINE.search(said)
        line = int(place["line"] or text.count("\n") + 1) if place else 0
        reason = said[: place.start()] if place else said
        raise BadFile(name, line, f"not well-formed TOML: {reason}") from None
    except RecursionError:
        raise BadFile(name, 0, "its brackets stand too deep in one another") from None
    except ValueError:  # more digits than Python was told to read
        raise BadFile(name, 0, "it holds a number that is absurdly long") from None


def _kind_of(tree: dict[str, Any]) -> str:
    kinds = [kind for kind in FILES if kind in tree]
    if len(kinds) != 1:
        raise Fault(
            tuple(kinds[1:2]),
            "a file begins with one of [formula], [route], [[substance]], [[species]] "
            "or [[incompatible]]",
        )
    return kinds[0]


def _shaped(tree: Any, shape: type[Record]) -> Record:
    try:
        return msgspec.convert(tree, shape)
    except msgspec.ValidationError as error:
        raise fault_of(error, words_of(shape)) from None


def _tidy(value: Any, path: Path) -> Any:
    """The same tree with runs of blanks in text as one; refuses what no field may hold."""
    if len(path) > DEEPEST:
        raise Fault(path, "tables and lists stand too deep in one another")
    if isinstance(value, dict):
        return {_key(key, path): _tidy(inner, (*path, key)) for key, inner in value.items()}
    if isinstance(value, list):
        return [_tidy(inner, (*path, place)) for place, inner in enumerate(value)]
    if isinstance(value, str):
        if fault := _fault_in(value):
            raise Fault(path, fault)
        if len(value) > LONGEST_TEXT:
            raise Fault(path, f"the text is longer than {LONGEST_TEXT} characters")
        return " ".join(value.split())
    if isinstance(value, int | float) and not abs(value) <= LARGEST_NUMBER:  # also nan
        raise Fault(path, "the number is absurdly large, or none at all")
    return value


def _key(key: str, path: Path) -> str:
    if fault := _fault_in(key):
        raise Fault(path, fault)
    return key


def _fault_in(text: str) -> str:
    """What keeps a text out of the library; whether it is printable is told sooner."""
    return "" if text.isprintable() else fault_in(text, lines=True)
