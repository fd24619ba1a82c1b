"""Open hours as one line, both ways: "Mon-Fri 8-12 13-17, first Sunday 9-12"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from benchconsole.desk.typed_days import read_weekday
from benchconsole.desk.typed_rules import Again, again_text, is_again, read_again, rule_text
from benchconsole.desk.typed_times import Times, plain_words, read_times, split_times, times_text
from benchconsole.errors import BadInput
from benchconsole.model.opening import OpenRule, OpenSpan

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
EXAMPLE = "Mon-Fri 8-12, 13-17, Sat 9-13"

_DAILY = ("daily", "every day", "always")
_EVERY_DAY_OF_A_WEEK = re.compile("FREQ=WEEKLY;BYDAY=[A-Z]{2}")

Week = tuple[tuple[OpenSpan, ...], tuple[OpenRule, ...]]
"""The openings of every week, and those by a rule."""


def pieces(text: str) -> list[str]:
    """The parts of a line between commas and semicolons, but for those within a rule or a date."""
    whole = re.sub(r"(?<=[A-Za-z] )([0-9]{1,2}), ?(?=[0-9]{4}(?![0-9-]))", r"\1 ", text)
    found = re.findall(r"(?i:\brrule:[^\s]*[^\s,;]|[^,;])+", whole)
    return [piece.strip() for piece in found if piece.strip()]


def hours_text(hours: Iterable[OpenSpan], by_rule: Iterable[OpenRule] = ()) -> str:
    """Open hours as a person writes them; neighbouring days with the same hours are one group."""
    by_day: dict[int, list[Times]] = {}
    for span in hours:
        by_day.setdefault(span.weekday, []).append((span.opens, span.closes))
    groups: list[tuple[int, int, str]] = []
    for day in sorted(by_day):
        words = times_text(by_day[day])
        if groups and groups[-1][1] == day - 1 and groups[-1][2] == words:
            groups[-1] = (groups[-1][0], day, words)
        else:
            groups.append((day, day, words))
    said = [
        f"{DAYS[first]}{'' if first == last else f'-{DAYS[last]}'} {words}"
        for first, last, words in groups
    ]
    by_again: dict[Again, list[Times]] = {}
    for opening in by_rule:
        again = Again(opening.rule, opening.starts)
        by_again.setdefault(again, []).append((opening.opens, opening.closes))
    said += [f"{_again_text(again)} {times_text(times)}" for again, times in by_again.items()]
    return ", ".join(said)


def _again_text(again: Again) -> str:
    """In words, but for what would be read as an opening of every week."""
    return rule_text(again) if _EVERY_DAY_OF_A_WEEK.fullmatch(again.rule) else again_text(again)


def read_hours(text: str, today: date) -> Week:
    """Open hours a person typed: those of every week sorted, each once, then those by a rule.

    Days are names or their beginnings ("Mon", "tuesday"), one or from-to, or "daily"; or what
    comes again ("first Sunday", "every other Saturday from 7 Mar 2026", "RRULE:..."). Times
    are hours or hours and minutes, also with am and pm; after a comma times alone belong to
    the days before. Raises ``BadInput`` with the part that cannot be read.
    """
    weekly: set[OpenSpan] = set()
    by_rule: dict[OpenRule, None] = {}
    days: list[int] | tuple[Again, ...] = []
    for chunk in pieces(re.sub("(?i)^ *open *:", "", text)):
        try:
            named, times = split_times(plain_words(chunk))
            # "Mon-Fri 8-12, 13-17": times without a day go on with the days before.
            days = _days(named, today) if named else days
            if not days:
                raise ValueError("names no day")
            for opens, closes in read_times(times):
                for day in days:
                    if isinstance(day, int):
                        weekly.add(OpenSpan(weekday=day, opens=opens, closes=closes))
                    else:
                        rule, starts, _ = day
                        by_rule[OpenRule(rule=rule, starts=starts, opens=opens, closes=closes)] = (
                            None
                        )
        except ValueError as fault:
            raise BadInput("hours", f"“{chunk[:40]}” {fault}", EXAMPLE) from fault
    if not weekly and not by_rule:
        raise BadInput("hours", "the shop is never open", EXAMPLE)
    in_order = sorted(weekly, key=lambda span: (span.weekday, span.opens, span.closes))
    return tuple(in_order), _together(by_rule)


def _days(named: str, today: date) -> list[int] | tuple[Again, ...]:
    """Days of the week, or what comes again; ``ValueError`` with the fault."""
    if named in _DAILY:
        return list(range(7))
    if re.fullmatch("every [a-z]+", named):
        named = named.removeprefix("every ")
    if is_again(named):
        again = read_again(named, today)
        if any(one.days != 1 for one in again):
            raise ValueError("opens for days on end: say one day")
        return again
    first, dash, last = re.sub(" ?- ?", "-", named).partition("-")
    start = read_weekday(first)
    end = read_weekday(last) if dash else start
    return [day % 7 for day in range(start, end + 1 if end >= start else end + 8)]


def _together(openings: Iterable[OpenRule]) -> tuple[OpenRule, ...]:
    """Openings of the same rule one after another, in the order in which rules were named."""
    by_again: dict[tuple[str, date | None], list[OpenRule]] = {}
    for opening in openings:
        by_again.setdefault((opening.rule, opening.starts), []).append(opening)
    return tuple(
        one
        for same in by_again.values()
        for one in sorted(same, key=lambda opening: (opening.opens, opening.closes))
    )
