"""Hides out of work, in the archive or still on the bench: as a document and as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, tzinfo
from typing import Any

from benchconsole.exchange.instants import stamp
from benchconsole.letters import shown
from benchconsole.model.archive_events import ArchivedHide
from benchconsole.model.record import Record

FINISHED = "benchconsole.finished/1"


class FinishedHide(Record, frozen=True, kw_only=True):
    """A hide out of work: in the archive, or (``archived`` False) still on the bench.

    ``species`` and ``route`` are the names of the animal and of the route.
    """

    hide: ArchivedHide
    species: str
    route: str
    archived: bool


def finished_document(found: Sequence[FinishedHide], words: str, zone: tzinfo) -> dict[str, Any]:
    """The hides that were found by some words, as plain values."""
    return {
        "schema": FINISHED,
        "words": words,
        "hides": [
            {
                "hide": row.hide.id,
                "name": row.hide.name,
                "species": row.hide.species,
                "route": row.hide.route,
                "count": row.hide.count,
                "came": stamp(row.hide.came_at, zone),
                "out": stamp(row.hide.out_at, zone),
                "ended": "lost" if row.hide.lost else "finished",
                "archive": row.hide.year if row.archived else None,
            }
            for row in found
        ],
    }


def finished_text(found: Sequence[FinishedHide], zone: tzinfo) -> str:
    """The hides that were found, a line each, and how many they are."""
    return "\n".join(map(shown, _lines(found, zone)))


def _lines(found: Sequence[FinishedHide], zone: tzinfo) -> Iterator[str]:
    for row in found:
        yield f"{out_words(row.hide, zone):<21}  {row.hide.id:<16}  {about_words(row)}"
    count = "1 hide" if len(found) == 1 else f"{len(found)} hides"
    yield f"{count} out of work." if found else "No hide out of work is found by that."


def out_words(hide: ArchivedHide, zone: tzinfo) -> str:
    """``finished 16 Mar 2026``."""
    return f"{'lost' if hide.lost else 'finished'} {day_words(hide.out_at, zone)}"


def about_words(row: FinishedHide) -> str:
    """``Brown goat, goat, Hair-on alum pelt, archive of 2026``; a lot with its number."""
    hide = row.hide
    lot = f" (a lot of {hide.count})" if hide.count > 1 else ""
    where = f"archive of {hide.year}" if row.archived else "on the bench"
    return f"{hide.name}{lot}, {row.species}, {row.route}, {where}"


def day_words(instant: datetime, zone: tzinfo) -> str:
    """``16 Mar 2026``, on the shop's wall calendar."""
    local = instant.astimezone(zone)
    return f"{local.day} {local:%b %Y}"
