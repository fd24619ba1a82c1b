"""A rehearsal shop written down relative to now, and the taps that bring it to life.

The file is TOML: ``[shop]`` settings, then ``[[tap]]`` tables with ``ago`` (how long before
now) and ``event`` (a list of events). Inside an event ``made_ago = "3 d"`` stands for
``made_at`` and ``ends_in = "12 min"`` for ``ends_at``, so that the shop is always of today.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from datetime import UTC, datetime, time, timedelta, tzinfo
from typing import Any

import msgspec

from benchconsole.errors import BadFile, BadQuantity
from benchconsole.model.events import Event, ShopSet
from benchconsole.model.record import Record
from benchconsole.model.shop import OpenSpan, Shop
from benchconsole.quantities import read_duration

OPEN_AROUND = timedelta(hours=5)
"""The rehearsal shop is open this long before and after now, whatever the hour."""

Taps = Sequence[tuple[datetime, tuple[Event, ...]]]


class _Tap(Record, frozen=True, kw_only=True):
    """A tap as the file has it."""

    ago: str
    event: list[dict[str, Any]]


class _Rehearsal(Record, frozen=True, kw_only=True):
    """The whole file."""

    tap: list[_Tap]
    shop: Shop = Shop()


def rehearsal_taps(text: str, now: datetime, zone: tzinfo) -> Taps:
    """The taps of a rehearsal shop, oldest first, as (instant, events).

    Raises ``BadFile`` for a file that cannot be read so.
    """
    try:
        written = msgspec.convert(tomllib.loads(text), type=_Rehearsal)
        taps = [_tap(table, now) for table in written.tap]
    except (tomllib.TOMLDecodeError, msgspec.ValidationError, BadQuantity) as fault:
        raise BadFile("demo_shop.toml", 0, str(fault)) from fault
    taps.sort(key=lambda tap: tap[0])
    opened = msgspec.structs.replace(written.shop, hours=_hours_around(now.astimezone(zone)))
    first = taps[0][0] if taps else now
    return [(first, (ShopSet(shop=opened),)), *taps]


def _tap(tap: _Tap, now: datetime) -> tuple[datetime, tuple[Event, ...]]:
    at = now - read_duration(tap.ago, field="ago", zero=True)
    events = msgspec.convert(_at_instants(tap.event, now), type=tuple[Event, ...])
    return at.astimezone(UTC), events


def _at_instants(value: Any, now: datetime) -> Any:
    """The value with every ``x_ago`` and ``x_in`` turned into the instant ``x_at``."""
    if isinstance(value, list):
        return [_at_instants(item, now) for item in value]
    if not isinstance(value, dict):
        return value
    turned: dict[str, Any] = {}
    for key, item in value.items():
        if key.endswith("_ago") and isinstance(item, str):
            turned[f"{key[:-4]}_at"] = now - read_duration(item, field=key, zero=True)
        elif key.endswith("_in") and isinstance(item, str):
            turned[f"{key[:-3]}_at"] = now + read_duration(item, field=key, zero=True)
        else:
            turned[key] = _at_instants(item, now)
    return turned


def _hours_around(local: datetime) -> tuple[OpenSpan, ...]:
    """Open every day from five hours before this time of day to five after, within the day."""
    present = timedelta(hours=local.hour)
    opens = max(present - OPEN_AROUND, timedelta(0))
    closes = min(present + OPEN_AROUND, timedelta(hours=24))
    return tuple(
        OpenSpan(
            weekday=day,
            opens=time(opens.seconds // 3600),
            closes=time(int(closes.total_seconds()) // 3600 % 24),
        )
        for day in range(7)
    )
