"""Instants on their way in and out of the shop: as a person types them, and as RFC 3339."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo

from dateutil import tz
from dateutil.parser import isoparser

from benchconsole.errors import BadInput

EARLIEST_YEAR, LATEST_YEAR = 1970, 2999
_EXAMPLE = "2026-03-01T08:00"


def read_instant(text: str, now: datetime, zone: tzinfo) -> datetime:
    """An instant as typed: ISO 8601 (the shop's zone if it names none) or a time of today.

    Aware, UTC. A wall time that the clocks skip counts on from the change. Raises ``BadInput``
    for anything else, and for years that no shop has hides in.
    """
    words = text.strip()
    try:
        if len(words) <= 5 and ":" in words:
            words = f"{now.astimezone(zone):%Y-%m-%d}T{words:0>5}"
        read = isoparser().isoparse(words.replace(" ", "T", 1))
    except (ValueError, OverflowError):
        raise BadInput("at", f"“{text[:40]}” is not a time", _EXAMPLE) from None
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
