"""The yearly archive: finished hides with their histories, a TinyDB file a year.

What counts as archived is said by the log alone; a year's file may hold more than that, after a
move that was cut off or a copy of the log that was taken back. Nothing is ever taken out of it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from datetime import datetime
from itertools import groupby
from typing import Any

import msgspec
from tinydb import TinyDB, where
from tinydb.queries import QueryInstance
from tinydb.storages import Storage
from tinydb.table import Table

from benchconsole.errors import StoreError, StoreTooNew
from benchconsole.model.archive_events import ArchivedHide
from benchconsole.model.events import Entry
from benchconsole.store.disk import Mark, words_for
from benchconsole.store.entries import documents_of, entries_from, together
from benchconsole.store.parcels import Parcel
from benchconsole.store.shelves import Shelf
from benchconsole.store.year_file import (
    HIDES,
    HISTORY,
    YearRefused,
    YearTables,
    YearTooNew,
    read_year,
    year_body,
)


class YearStorage(Storage):
    """TinyDB's view of one year; what it writes is kept here, until the archive puts the file."""

    def __init__(self, tables: YearTables) -> None:
        self.tables = tables

    def read(self) -> YearTables:
        """The tables."""
        return self.tables

    def write(self, data: Mapping[str, Any]) -> None:
        """The tables that were read are those that were changed."""
        self.tables.update(data)


class Archive:
    """The years on a shelf, of the shop whose history ``began`` then."""

    def __init__(self, shelf: Shelf, began: Callable[[], datetime | None]) -> None:
        self._shelf = shelf
        self._began = began
        self._searched: dict[int, tuple[Mark | None, YearTables]] = {}
        self._notices: dict[int, str] = {}

    @property
    def notices(self) -> tuple[str, ...]:
        """What was found wrong with the files when they were last read, a sentence each."""
        return tuple(self._notices[year] for year in self.years() if year in self._notices)

    def years(self) -> tuple[int, ...]:
        """The years there is anything of."""
        return self._shelf.years()

    def put(self, parcels: Iterable[Parcel], began: datetime) -> None:
        """Lay parcels in their years; when this returns, they are safe.

        A whole one takes the place of an earlier one of its key. Raises StoreError; then nothing
        of that year and those after is changed.
        """
        in_order = sorted(parcels, key=lambda parcel: parcel.year)
        for year, group in groupby(in_order, key=lambda parcel: parcel.year):
            tables = self._to_write(year)
            _lay(TinyDB(tables, storage=YearStorage), list(group), self._shelf.name(year))
            self._shelf.put(year, year_body(began, year, tables))

    def parcels(self, year: int, keys: Collection[str]) -> dict[str, tuple[Entry, ...]]:
        """The entries under some keys, in order; a key that is not there is left out.

        Where the year's file cannot be used or lacks some, its copy is asked. Raises StoreError
        for a file of a newer version, or an entry that cannot be read.
        """
        found: dict[str, tuple[Entry, ...]] = {}
        for copy in (False, True):
            wanted = set(keys) - found.keys()
            tables = self._read(year, HISTORY, copy=copy) if wanted else None
            if tables is not None:
                for parcel in _table(tables, HISTORY).search(_named(wanted)):
                    found[parcel["parcel"]] = _entries(parcel, self._shelf.name(year))
        return found

    def lacks(
        self, entries: Sequence[Entry], at: Mapping[int, Collection[str]] | None = None
    ) -> set[int]:
        """The ``seq`` of those entries that no file of a year, as it is now, holds.

        Looked for in all years, or ``at`` some keys of some of them. Raises StoreError.
        """
        lacking = {entry.seq: entry for entry in entries}
        for year in self.years() if at is None else at:
            tables = self._read(year, HISTORY) if lacking else None
            if tables is None:
                continue
            table = _table(tables, HISTORY)
            keys = None if at is None else at[year]
            for parcel in table if keys is None else table.search(_named(keys)):
                for entry in _entries(parcel, self._shelf.name(year)):
                    if lacking.get(entry.seq) == entry:
                        del lacking[entry.seq]
        return set(lacking)

    def search(self, words: Sequence[str]) -> tuple[ArchivedHide, ...]:
        """The hides in all years of which what they are found by holds all these words.

        A year that can be read in no way has none; ``notices`` tells of it.
        """
        holds_all = where("words").test(lambda text: all(word in text for word in words))
        return tuple(
            hide
            for year in self.years()
            for found in _table(self._to_search(year), HIDES).search(holds_all)
            if (hide := _hide(found)) is not None
        )

    # --- a year's file --------------------------------------------------------------------

    def _to_search(self, year: int) -> YearTables:
        mark = self._shelf.mark(year)
        known = self._searched.get(year)
        if known is not None and known[0] == mark:
            return known[1]
        tables = None
        for copy in (False, True):
            try:
                tables = tables or self._read(year, HIDES, copy=copy)
            except StoreError:
                break  # a newer version; the notice says so
        tables = tables or YearTables()
        tables.forget(HISTORY)
        self._searched[year] = mark, tables
        return tables

    def _to_write(self, year: int) -> YearTables:
        """What a year's file is to begin from: itself, else its copy, else nothing."""
        tables = self._read(year, HISTORY)
        if tables is None:
            try:
                body = self._shelf.read(year)
            except OSError as fault:
                raise StoreError(
                    f"The archive of {year} cannot be read: {words_for(fault)}."
                ) from fault
            if body:
                self._shelf.set_aside(year, body)
            tables = self._read(year, HISTORY, copy=True)
        return YearTables() if tables is None else tables

    def _read(self, year: int, table: str, *, copy: bool = False) -> YearTables | None:
        """The tables of a file of which one is needed, None if it cannot be used.

        What is wrong with a year's own file is noted. Raises StoreTooNew.
        """
        try:
            body = self._shelf.read(year, copy=copy)
            if body is not None:
                tables = read_year(body, self._began(), year)
                tables[table]
                if not copy:
                    self._notices.pop(year, None)
                return tables
            why = "is gone"
        except YearRefused as fault:
            why = str(fault)
            if isinstance(fault, YearTooNew) and not copy:
                self._notices[year] = f"The archive of {year} {why}: update the program."
                raise StoreTooNew(self._notices[year]) from fault
        except OSError as fault:
            why = f"cannot be read ({words_for(fault)})"
        if copy:
            self._notices[year] = (
                f"The archive of {year} cannot be used, and there is no good copy "
                "of it: of its hides only names, routes and dates are known."
            )
        else:
            self._notices[year] = f"The archive of {year} {why}; its copy is used instead."
        return None


def _named(keys: Iterable[str]) -> QueryInstance:
    return where("parcel").test(_among(keys))


def _among(names: Iterable[str]) -> Callable[[Any], bool]:
    return frozenset(names).__contains__


def _table(tables: YearTables, name: str) -> Table:
    return TinyDB(tables, storage=YearStorage).table(name)


def _lay(year: TinyDB, parcels: Sequence[Parcel], name: str) -> None:
    """Put parcels into a year's tables."""
    history, hides = year.table(HISTORY), year.table(HIDES)
    keys = [parcel.key for parcel in parcels]
    there = {found["parcel"]: found for found in history.search(_named(keys))}
    history.remove(_named(keys))
    history.insert_multiple(
        _document(parcel.key, _together(parcel, there.get(parcel.key), name)) for parcel in parcels
    )
    hides.remove(where("id").test(_among(hide.id for parcel in parcels for hide in parcel.hides)))
    hides.insert_multiple(
        {**msgspec.to_builtins(hide), "words": parcel.words.get(hide.id, hide.name)}
        for parcel in parcels
        for hide in parcel.hides
    )


def _together(parcel: Parcel, there: Mapping[str, Any] | None, name: str) -> tuple[Entry, ...]:
    if there is None or parcel.whole:
        return parcel.entries
    return together(parcel.entries, _entries(there, name))


def _document(key: str, entries: Iterable[Entry]) -> dict[str, Any]:
    return {
        "parcel": key,
        "taps": [{"tap": tap, **document} for tap, document in documents_of(entries)],
    }


def _entries(parcel: Mapping[str, Any], name: str) -> tuple[Entry, ...]:
    """The entries in a parcel's document. Raises StoreDamaged."""
    taps = [
        (tap["tap"], {field: value for field, value in tap.items() if field != "tap"})
        for tap in parcel["taps"]
    ]
    return entries_from(taps, name)


def _hide(document: Mapping[str, Any]) -> ArchivedHide | None:
    plain = {field: value for field, value in document.items() if field != "words"}
    try:
        return msgspec.convert(plain, ArchivedHide)
    except msgspec.ValidationError:
        return None
