"""The store's document: TinyDB tables as JSON, with the name and version of their schema inside."""

from __future__ import annotations

from typing import Any

import msgspec

from benchconsole.errors import StoreDamaged, StoreTooNew

SCHEMA = "benchconsole.store"
VERSION = 1
ABOUT = "_about"

Tables = dict[str, dict[str, dict[str, Any]]]
"""Table name -> document number (as text) -> document, the shape TinyDB works on."""

_REMEDY = "put a backup copy in its place, or move it away to begin afresh"


def encoded(tables: Tables) -> bytes:
    """The tables as JSON, with their schema named first.

    The values must be plain and finite, as ``entries.next_entries`` makes them: the encoder
    would write a NaN as null. Raises UnicodeEncodeError on half a surrogate pair.
    """
    about = {"1": {"schema": SCHEMA, "version": VERSION}}
    return msgspec.json.encode({ABOUT: about, **_without_about(tables)}) + b"\n"


def decoded(body: bytes, name: str) -> Tables:
    """The tables in a file's content; ``name`` is the file as it is shown to a person.

    Raises StoreTooNew for a newer version and StoreDamaged for everything else that this
    program did not write; the content is never changed.
    """
    if not body.strip():
        raise damaged(name, "it is empty")
    try:
        tables: Any = msgspec.json.decode(body)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as fault:
        raise damaged(name, "it is cut short or is not JSON") from fault
    _check_schema(tables, name)
    return _shaped(tables, name)


def damaged(name: str, fault: str) -> StoreDamaged:
    """The error for a file that cannot be used, with what to do about it."""
    return StoreDamaged(f"The store {name} cannot be read, {fault}: {_REMEDY}.")


def _without_about(tables: Tables) -> Tables:
    return {name: table for name, table in tables.items() if name != ABOUT}


def _check_schema(tables: Any, name: str) -> None:
    try:
        about = tables[ABOUT]["1"]
        schema, version = about["schema"], about["version"]
    except (TypeError, KeyError, IndexError) as fault:
        raise damaged(name, "it was not written by Bench Console") from fault
    if schema != SCHEMA or type(version) is not int or version < 1:
        raise damaged(name, "it was not written by Bench Console")
    if version > VERSION:
        raise StoreTooNew(
            f"The store {name} was written by a newer Bench Console (version {version} of the "
            f"store, this program knows {VERSION}): update the program; the store is unchanged."
        )


def _shaped(tables: Tables, name: str) -> Tables:
    for table, documents in tables.items():
        if not isinstance(documents, dict):
            raise damaged(name, f"its table “{table}” is not a table")
        for number, document in documents.items():
            if not _is_number(number) or not isinstance(document, dict):
                raise damaged(name, f"its table “{table}” holds something that is not a record")
    return tables


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 19 and text == str(int(text))
