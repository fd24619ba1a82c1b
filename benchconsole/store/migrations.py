"""Reading what earlier versions of this program wrote, one small step a version.

Version 1 kept the whole history as one JSON document of TinyDB tables, an entry a document,
and had no checksums.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

import msgspec

from benchconsole.store.entries import entries_from
from benchconsole.store.faults import damaged
from benchconsole.store.lines import SCHEMA, Document, whole_log

ABOUT, HISTORY = "_about", "history"

_FIELDS = {"seq", "tap", "at", "recorded", "event"}
"""Those of an entry in version 1."""


def first_version(body: bytes) -> int | None:
    """The version of a store that is one JSON document; None if it is no such store."""
    try:
        tables: Any = msgspec.json.decode(body)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None
    try:
        about = tables[ABOUT]["1"]
        schema, version = about["schema"], about["version"]
    except (TypeError, KeyError, IndexError):
        return None
    is_ours = schema == SCHEMA and type(version) is int and version >= 1
    return version if is_ours else None


def log_from_version_1(body: bytes, name: str) -> bytes:
    """The log that says the same as a version 1 document; ``name`` is told to a person.

    Raises StoreDamaged where the document does not hold what version 1 wrote.
    """
    entries = msgspec.json.decode(body).get(HISTORY, {})
    taps: dict[int, Document] = {}
    began: datetime | None = None
    if not isinstance(entries, Mapping):
        raise damaged(name, "its history is not a table")
    for number, entry in entries.items():
        if not isinstance(entry, Mapping) or set(entry) != _FIELDS:
            raise damaged(name, f"entry {number[:20]} is wrong")
        try:
            tap, seq = entry["tap"], entry["seq"]
            document = {"at": entry["at"], "recorded": entry["recorded"], "events": []}
            document = taps.setdefault(tap, document)
            document["events"].append({"seq": seq, "event": entry["event"]})
            began = began or msgspec.convert(entry["recorded"], datetime)
        except (TypeError, KeyError, msgspec.ValidationError) as fault:
            raise damaged(name, f"entry {number[:20]} is wrong") from fault
        if str(seq) != number or type(tap) is not int:
            raise damaged(name, f"entry {number[:20]} is out of order")
    entries_from(taps.items(), name)
    return whole_log(began, taps.items()) if began else b""
