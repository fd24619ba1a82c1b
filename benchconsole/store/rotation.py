"""Which copies stay: close together for the last hours, further apart the older they are.

The usual rotation of backups by grandfather, father and son: the last copy of an hour, of a day,
of a month. Pure: instants in, instants out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from itertools import chain, zip_longest

HOURS, DAYS, MONTHS = 24, 30, 24
"""So many hours, days and months have their last copy kept (our own choice)."""

MOST_KEPT = HOURS + DAYS + MONTHS
"""More copies than this are never kept."""

_Span = Callable[[datetime], tuple[int, ...]]

_LADDER: tuple[tuple[int, _Span], ...] = (
    (HOURS, lambda at: (at.year, at.month, at.day, at.hour)),
    (DAYS, lambda at: (at.year, at.month, at.day)),
    (MONTHS, lambda at: (at.year, at.month)),
)


def kept(instants: Iterable[datetime], now: datetime) -> frozenset[datetime]:
    """Those of the aware instants whose copies stay; spans are counted in UTC.

    An hour, day or month counts only if a copy was made in it, so that a shop which was shut
    for weeks keeps the copies from before. Copies that seem to come from after ``now`` were made
    while the clock was wrong, or it is wrong now: they have half of the places at most, and never
    fewer for not being believed, so whichever clock was right, its newest copies stay.
    """
    newest_first = sorted((at.astimezone(UTC) for at in instants), reverse=True)
    past = [at for at in newest_first if at <= now]
    future = [at for at in newest_first if at > now]
    return frozenset(
        at
        for places, span in _LADDER
        for at in _in_turn(_last_of_each(past, span), _last_of_each(future, span))[:places]
    )


def _last_of_each(newest_first: Iterable[datetime], span: _Span) -> list[datetime]:
    found: dict[tuple[int, ...], datetime] = {}
    for at in newest_first:
        found.setdefault(span(at), at)
    return list(found.values())


def _in_turn(first: Iterable[datetime], second: Iterable[datetime]) -> list[datetime]:
    """One of the first, one of the second, and so on; what is left of the longer at the end."""
    pairs = zip_longest(first, second)
    return [at for at in chain.from_iterable(pairs) if at is not None]
