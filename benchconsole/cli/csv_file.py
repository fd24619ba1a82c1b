"""The command that writes the shop's record to a table for a spreadsheet."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from benchconsole.cli.files import content_of, put_file
from benchconsole.cli.output import print_text, put_bytes, tell
from benchconsole.errors import NotPossibleNow
from benchconsole.store.disk import shown

if TYPE_CHECKING:
    from benchconsole.desk import Desk

TABLES = ("hides", "history")


def write_table(desk: Desk, path: Path | None, *, what: str, force: bool) -> None:
    """Write one of :data:`TABLES` to a file or, for None, to standard output.

    A file that is there must be an earlier export of the same table, unless with ``force``.
    Raises ``NotPossibleNow`` for a file that cannot be read or written, or is another.
    """
    from benchconsole.exchange.csv import BOM, HIDES, HISTORY, hides_table, history_table

    if path is not None:
        _refuse_another(path, HIDES if what == "hides" else HISTORY, force=force)
    zone = desk.zone
    if what == "hides":
        hides = desk.books.hides()
        text, count = hides_table(hides, zone), _many(len(hides), "hide")
    else:
        events = desk.books.history()
        text, count = history_table(events, zone), _many(len(events), "event")
    for sentence in desk.archive.notices:
        tell(sentence)
    if path is None:
        put_bytes(text.encode())
        return
    put_file(path, f"{BOM}{text}".encode())
    print_text(f"{shown(path)} holds {count}.")


def _refuse_another(path: Path, head: Sequence[str], *, force: bool) -> None:
    from benchconsole.exchange.csv import refuse_another

    body = content_of(path)
    if not body or force:
        return
    try:
        refuse_another(body, head)
    except NotPossibleNow as fault:
        raise NotPossibleNow(
            f"{shown(path)} is left as it is, for {fault}: name another file, or replace this "
            "one with --force."
        ) from None


def _many(count: int, word: str) -> str:
    return f"{count:,} {word}{'' if count == 1 else 's'}"
