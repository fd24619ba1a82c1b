"""The shop's record as tables for a spreadsheet: RFC 4180, UTF-8, times in ISO 8601 with offset.

**Formulas.** A spreadsheet takes a cell that begins with ``=``, ``+``, ``-`` or ``@`` (also in
their full-width forms) for a formula, and some do after a tab, a line end or blanks; a name
could so fetch or send something (OWASP, "CSV Injection"). Such a text gets one apostrophe in
front, which spreadsheets know as "this is text". :func:`text_in` takes it off again; a text that
begins with apostrophes before such a sign gets one too, so that nothing is ever lost or doubtful.
Numbers are written as numbers, -3.5 too: only texts are guarded.

**Letters.** Texts stand to the letter but for what no file may hold, see ``letters.filed``.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Iterable, Sequence
from datetime import datetime, tzinfo

from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.instants import stamp
from benchconsole.letters import filed
from benchconsole.model.record import Record

BOM = "\ufeff"
"""Before the first cell of a file: by it spreadsheets know that the letters are UTF-8."""

Cell = str | int | float | datetime | None

_BEGINS_FORMULA = frozenset("=+-@\N{FULLWIDTH EQUALS SIGN}\N{FULLWIDTH PLUS SIGN}"
                            "\N{FULLWIDTH HYPHEN-MINUS}\N{FULLWIDTH COMMERCIAL AT}")  # fmt: skip


class BookedHide(Record, frozen=True, kw_only=True):
    """A hide or a lot: a line of the table of hides.

    ``species``, ``route`` and ``stage`` are names; ``stage`` is empty for a finished piece.
    ``state`` is "in work", "finished" or "out of work". ``mass_g`` is of all skins of a lot
    together (None: not known). ``due``: when the next act is. ``archived``: its story lies in the
    archive, and where that cannot be read only dates, name and route are known.
    """

    id: str
    name: str
    species: str
    count: int
    mass_g: float | None
    came: str
    route: str
    stage: str
    state: str
    taken_in: datetime
    stage_begun: datetime | None = None
    due: datetime | None = None
    finished: datetime | None = None
    out: datetime | None = None
    why_out: str = ""
    archived: bool = False


class BookedEvent(Record, frozen=True, kw_only=True):
    """An event: a line of the table of the history.

    ``subjects`` are ids (``hide/brown-goat``), ``about`` names. ``taken_back``: it does not
    count any more, since ``taken_back_at``.
    """

    seq: int
    tap: int
    at: datetime
    recorded: datetime
    subjects: tuple[str, ...]
    about: str
    words: str
    taken_back: bool = False
    taken_back_at: datetime | None = None


HIDES = (
    "id",
    "name",
    "species",
    "count",
    "weight_g",
    "came_in",
    "route",
    "stage",
    "state",
    "taken_in",
    "stage_begun",
    "next_due",
    "finished",
    "out_of_work",
    "why_out",
    "archived",
)
HISTORY = (
    "event",
    "tap",
    "happened",
    "written_down",
    "subjects",
    "about",
    "what",
    "taken_back",
    "taken_back_at",
)


def hides_table(hides: Iterable[BookedHide], zone: tzinfo) -> str:
    """The hides, a line each, under :data:`HIDES`."""
    rows = (
        (
            hide.id,
            hide.name,
            hide.species,
            hide.count,
            None if hide.mass_g is None else round(hide.mass_g, 3),
            hide.came,
            hide.route,
            hide.stage,
            hide.state,
            hide.taken_in,
            hide.stage_begun,
            hide.due,
            hide.finished,
            hide.out,
            hide.why_out,
            _yes(hide.archived),
        )
        for hide in hides
    )
    return table(HIDES, rows, zone)


def history_table(events: Iterable[BookedEvent], zone: tzinfo) -> str:
    """The events, a line each, under :data:`HISTORY`."""
    rows = (
        (
            event.seq,
            event.tap,
            event.at,
            event.recorded,
            " ".join(event.subjects),
            event.about,
            event.words,
            _yes(event.taken_back),
            event.taken_back_at,
        )
        for event in events
    )
    return table(HISTORY, rows, zone)


def table(head: Sequence[str], rows: Iterable[Sequence[Cell]], zone: tzinfo) -> str:
    """A table with its head: CRLF, quotes where they are needed; instants are aware."""
    written = io.StringIO(newline="")
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow(head)
    for row in rows:
        writer.writerow([_cell(each, zone) for each in row])
    return written.getvalue()


def _cell(value: Cell, zone: tzinfo) -> str | int | float:
    if value is None:
        return ""
    if isinstance(value, datetime):
        return stamp(value, zone)
    return guarded(filed(value)) if isinstance(value, str) else value


def guarded(text: str) -> str:
    """The text as it stands in a cell, with an apostrophe where it would be a formula."""
    return f"'{text}" if _might_be_formula(text) else text


def text_in(cell: str) -> str:
    """The text that :func:`guarded` made a cell of."""
    return cell[1:] if cell.startswith("'") and _might_be_formula(cell[1:]) else cell


def _might_be_formula(text: str) -> bool:
    bare = text.lstrip("'")
    if bare[:1] in ("\t", "\r", "\n"):
        return True
    for letter in bare:
        if letter in _BEGINS_FORMULA:
            return True
        # What is not seen, or is a blank, some spreadsheets take away first.
        if letter != "'" and unicodedata.category(letter)[0] not in "ZCM":
            return False
    return False


def refuse_another(body: bytes, head: Sequence[str]) -> None:
    """Raise ``NotPossibleNow`` saying what a file is, if it is no table under this head."""
    try:
        first = next(csv.reader(io.StringIO(body[:10_000].decode("utf-8-sig", "replace"))), [])
    except csv.Error:
        first = []
    if tuple(first) != tuple(head):
        raise NotPossibleNow("it is no earlier export of the same table")


def _yes(fact: bool) -> str:
    return "yes" if fact else "no"
