"""The command that looks the store through and says what to do about what it finds."""

from __future__ import annotations

from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Any

from benchconsole.cli.output import print_json, print_text
from benchconsole.cli.restoring import content, real_store
from benchconsole.errors import StoreError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from benchconsole.store.checking import Finding

SCHEMA = "benchconsole.check/1"
LOOK_AT_IT = 1
"""What the command ends with when there is something to look at."""

WIDTH = 78
MOST_TOLD = 12
_HANG = 15


def check(store: Path, *, as_json: bool) -> int:
    """Print everything that was looked at; 0, or 1 if there is something to look at."""
    from benchconsole.clock import SystemClock
    from benchconsole.desk.copies import zone_of
    from benchconsole.store.checking import findings

    store, clock = real_store(store), SystemClock()
    try:
        body = content(store)
    except StoreError:
        body = None
    zone, now = zone_of(body) or clock.zone, clock.now()
    found = findings(store, now, zone)
    told = [_told(each, body, store, now, zone) for each in found]
    if as_json:
        print_json(_document(store, found, told))
    else:
        print_text("\n".join(_lines(found, told)))
    return 0 if all(each.good for each in found) else LOOK_AT_IT


def _told(
    finding: Finding, body: bytes | None, store: Path, now: datetime, zone: tzinfo
) -> tuple[str, ...]:
    """The taps of a finding in words, the first of them."""
    if not finding.taps:
        return ()
    from benchconsole import bootstrap
    from benchconsole.desk.copies import told_with

    routes = bootstrap.library_with_own(store.parent)[0].routes
    return tuple(told_with(finding.taps[:MOST_TOLD], known=body, routes=routes, now=now, zone=zone))


def _lines(found: Sequence[Finding], told: Sequence[Sequence[str]]) -> Iterator[str]:
    for finding, taps in zip(found, told, strict=True):
        mark = "✓" if finding.good else "▲"
        yield from _hung(f"{mark} {finding.about}", finding.says)
        yield from (line for tap in taps for line in _hung("", tap))
        if len(finding.taps) > len(taps):
            yield from _hung("", f"and {len(finding.taps) - len(taps)} more")
        if finding.do:
            yield from _hung("", f"→ {finding.do}")
    look = sum(not finding.good for finding in found)
    yield ""
    things = "1 thing" if look == 1 else f"{look} things"
    yield (
        f"There {'is' if look == 1 else 'are'} {things} to look at (▲)." if look else "All is well."
    )


def _hung(head: str, words: str) -> list[str]:
    from benchconsole.exchange.wrapping import wrapped

    return wrapped(words, WIDTH, head.ljust(_HANG), " " * _HANG) or [head]


def _document(
    store: Path, found: Sequence[Finding], told: Sequence[Sequence[str]]
) -> dict[str, Any]:
    return {
        "schema": SCHEMA,
        "store": str(store),
        "good": all(finding.good for finding in found),
        "findings": [
            {
                "about": finding.about,
                "good": finding.good,
                "says": finding.says,
                "do": finding.do,
                "taps": list(taps),
                "taps_in_all": len(finding.taps),
            }
            for finding, taps in zip(found, told, strict=True)
        ],
    }
