"""Instants on their way in and out of the shop: as a person types them, and as RFC 3339."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, tzinfo

from dateutil import tz

from benchconsole.errors import BadInput

EARLIEST_YEAR, LATEST_YEAR = 1970, 2999
_EXAMPLE = "2026-03-01T08:00"
_FAULT = "is not a date with a time, a date, or a time of today as HH:MM"
_DAY = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_CLOCK = r"[0-9]{2}:[0-9]{2}(:[0-9]{2})?"
_DATED = re.compile(rf"{_DAY}([T ]{_CLOCK}(Z|[+-][0-9]{{2}}:?[0-9]{{2}})?)?")
_TODAY = re.compile(r"[0-9]{1,2}:[0-9]{2}")


def read_instant(text: str, now: datetime, zone: tzinfo) -> datetime:
    """An instant as typed: a date with a time, a date (its midnight), or a time of today.

    Aware, UTC. A wall time is one of the shop's, unless an offset says otherwise
    (``2026-10-25T02:30+01:00``). One that the clocks skip counts on from the change; of one
    they repeat the first is taken. Raises ``BadInput`` for anything else, also for half a date
    (``2026``), and for years that no shop has hides in.
    """
    words = text.strip()
    if _TODAY.fullmatch(words):
        words = f"{now.astimezone(zone):%Y-%m-%d}T{words:0>5}"
    try:
        if _DATED.fullmatch(words) is None:
            raise ValueError
        read = datetime.fromisoformat(words)
    except ValueError:
        raise BadInput("at", f"“{text[:40]}” {_FAULT}", _EXAMPLE) from None
    if not EARLIEST_YEAR <= read.year <= LATEST_YEAR:
        raise BadInput("at", f"the year {read.year} is too far off", _EXAMPLE)
    aware = read if read.tzinfo else tz.resolve_imaginary(read.replace(tzinfo=zone))
    return aware.astimezone(UTC)


def stamp(instant: datetime, zone: tzinfo) -> str:
    """RFC 3339, whole seconds, with the zone's offset: ``2026-03-01T08:00:00+01:00``."""
    local = instant.astimezone(zone)
    # Offsets before standard time came in have seconds, which RFC 3339 cannot write.
    if (local.utcoffset() or timedelta(0)) % timedelta(minutes=1):
        local = instant.astimezone(UTC)
    return local.isoformat(timespec="seconds")
