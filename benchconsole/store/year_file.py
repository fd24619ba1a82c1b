"""One year of the archive as a file: a line that says which it is, and a line a table.

Every line is a JSON object that ends with its checksum, as those of the log do. A table is decoded
when it is first asked for: a search needs no histories. Nothing here reads or writes files.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, TypeVar

import msgspec

from benchconsole.store.lines import fits, sealed

SCHEMA = "benchconsole.archive"
VERSION = 1
HIDES, HISTORY = "hides", "history"

Table = dict[str, Any]
"""Document number (as text) -> document, the shape TinyDB works on."""


_Kind = TypeVar("_Kind", bound=msgspec.Struct)


class YearRefused(Exception):
    """A file that is not used; ``str()`` says why, to go on after ``it``."""

    is_newer = False


class YearTooNew(YearRefused):
    """A file of a newer version, which must never be written over."""

    is_newer = True


class YearTables(dict[str, Table]):
    """The tables of a year by their names."""

    def __init__(self, undecoded: Mapping[str, bytes] | None = None) -> None:
        super().__init__()
        self._undecoded = dict(undecoded or {})

    def __missing__(self, name: str) -> Table:
        """Decode a table; KeyError where the year has none of that name."""
        line = _decoded(self._undecoded[name], _Line)
        if line is None:
            raise YearRefused("is damaged")
        self[name] = line.table
        return line.table

    def forget(self, name: str) -> None:
        """Let go of a table that is not needed."""
        self._undecoded.pop(name, None)
        self.pop(name, None)

    def lines(self) -> bytes:
        """All tables as they stand in the file."""
        names = dict.fromkeys((*self._undecoded, *self))
        return b"".join(self._line(name) for name in names)

    def _line(self, name: str) -> bytes:
        if name not in self:
            return self._undecoded[name] + b"\n"
        return sealed(msgspec.json.encode({"name": name, "table": self[name]}))


class _Line(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    name: str
    table: dict[str, dict[str, Any]]
    crc: str


class _Name(msgspec.Struct, frozen=True):
    name: str


class _About(msgspec.Struct, frozen=True):
    schema: str
    version: int


class _Header(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    schema: str
    version: int
    shop: datetime
    year: int
    crc: str


def year_body(shop: datetime, year: int, tables: YearTables) -> bytes:
    """The whole file of a year, of the shop whose history began at an instant."""
    about = {"schema": SCHEMA, "version": VERSION, "shop": shop.astimezone(UTC), "year": year}
    return sealed(msgspec.json.encode(about)) + tables.lines()


def read_year(body: bytes, shop: datetime | None, year: int) -> YearTables:
    """The tables in a year's file. Raises YearRefused for one that is damaged or not this year's.

    ``shop`` is when the shop's history began, None where nothing is known of it.
    """
    first, *lines = body.split(b"\n")
    about = _decoded(first, _About) if fits(first) else None
    if about is None or about.schema != SCHEMA:
        raise YearRefused("cannot be read")
    if about.version > VERSION:
        raise YearTooNew("was written by a newer Bench Console")
    header = _decoded(first, _Header)
    if header is None:
        raise YearRefused("cannot be read")
    if shop is not None and header.shop != shop:
        raise YearRefused("is of another shop")
    if header.year != year:
        raise YearRefused(f"is of the year {header.year}")
    if not lines or lines.pop() or not all(map(fits, lines)):
        raise YearRefused("is damaged")
    named = {found.name: line for line in lines if (found := _decoded(line, _Name))}
    if {HIDES, HISTORY} - named.keys() or len(named) != len(lines):
        raise YearRefused("is damaged")
    return YearTables(named)


def _decoded(line: bytes, kind: type[_Kind]) -> _Kind | None:
    try:
        return msgspec.json.decode(line, type=kind)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None
