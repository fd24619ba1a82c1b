"""Taps of the history in words: the line of the list, and what is told about the picked one."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta, tzinfo

from benchconsole.console.widgets.history_list import HistoryLine, Look
from benchconsole.console.widgets.paper import Written
from benchconsole.console.wording import at_the_wall
from benchconsole.desk.tap_lines import TapLine
from benchconsole.desk.taps import Change
from benchconsole.desk.words import moment_words

GONE, IN_PART = "✗ taken back", "◐ back in part"
_LOOKS: dict[str, Look] = {"yes": "counts", "in part": "in-part", "no": "gone"}
_STATES = {"yes": "", "in part": f"{IN_PART}  ", "no": f"{GONE}  "}
_WHEN = 16
"""Cells of a time: ``Wed 3 Jun 08:00``; one with its year takes what it needs."""


def history_line(line: TapLine, now: datetime, zone: tzinfo, *, of: str = "") -> HistoryLine:
    """When, whether it counts, about what, what; and when it was written down if that differs.

    In the history ``of`` one hide its name is not said again.
    """
    when = f"{at_the_wall(line.at, now, zone):<{_WHEN}}"
    written = ""
    if _differ(line):
        written = f"  (written {at_the_wall(line.recorded, now, zone)})"
    what = line.words if line.about == of else _what(line)
    return HistoryLine(f"{when} {_STATES[line.counts]}{what}{written}", _LOOKS[line.counts])


def about_tap(line: TapLine, zone: tzinfo) -> Iterator[Written]:
    """All that is known of one tap."""
    yield Written(_what(line), "strong", 2)
    yield Written(f"happened {moment_words(line.at, zone)}", hang=2)
    if _differ(line):
        yield Written(f"written down {moment_words(line.recorded, zone)}", hang=2)
    if line.taken_back_at is not None:
        mark = GONE if line.counts == "no" else IN_PART
        yield Written(f"{mark} {moment_words(line.taken_back_at, zone)}", "due", 2)


def change_lines(change: Change, now: datetime, zone: tzinfo) -> Iterator[Written]:
    """The taps that would be taken back or put back, newest first."""
    for line in change.lines:
        share = change.in_part.get(line.tap)
        only = f" — only what concerns {share}" if share else ""
        when = f"{at_the_wall(line.at, now, zone):<{_WHEN}}"
        yield Written(f"{when} {_what(line)}{only}", hang=_WHEN + 1)


def _what(line: TapLine) -> str:
    # A timer's setting names it already.
    return line.words if f"“{line.about}”" in line.words else f"{line.about}: {line.words}"


def _differ(line: TapLine) -> bool:
    return abs(line.recorded - line.at) >= timedelta(minutes=1)
