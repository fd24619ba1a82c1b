"""When the shop is open and when it is not, as the person said it: weekly, by rule, by date."""

from __future__ import annotations

from datetime import date, time

from benchconsole.model.record import Instant, Record
from benchconsole.model.recurrence import WEEKDAYS, Rule, read_rule


class OpenSpan(Record, frozen=True, kw_only=True):
    """One opening of a weekday (0 = Monday), wall-clock times in the shop's zone."""

    weekday: int
    opens: time
    closes: time

    @property
    def rule(self) -> Rule:
        """The same as a recurrence rule of RFC 5545."""
        return Rule(f"FREQ=WEEKLY;BYDAY={WEEKDAYS[self.weekday]}")


class OpenRule(Record, frozen=True, kw_only=True):
    """An opening on each day of a recurrence rule, wall-clock times in the shop's zone.

    ``starts`` is the first local day the rule may fall on; None where the rule's days do not
    depend on it. Raises ``ValueError`` for a rule that cannot be used.
    """

    rule: Rule
    opens: time
    closes: time
    starts: date | None = None

    def __post_init__(self) -> None:
        """Check the rule."""
        _check(self.rule, self.starts)


class DatedOpening(Record, frozen=True, kw_only=True):
    """An opening of one local day that no rule says; wall-clock times in the shop's zone."""

    day: date
    opens: time
    closes: time


class DaySpan(Record, frozen=True, kw_only=True):
    """Local days from ``first`` to ``last``, both included."""

    first: date
    last: date


class DayRule(Record, frozen=True, kw_only=True):
    """So many local ``days`` from each day of a recurrence rule on; ``starts`` as in ``OpenRule``.

    Raises ``ValueError`` for a rule that cannot be used.
    """

    rule: Rule
    starts: date | None = None
    days: int = 1

    def __post_init__(self) -> None:
        """Check the rule."""
        _check(self.rule, self.starts)


class TimeSpan(Record, frozen=True, kw_only=True):
    """From one instant to another, whatever the walls show."""

    start: Instant
    end: Instant


def _check(rule: Rule, starts: date | None) -> None:
    try:
        read = read_rule(rule)
    except ValueError as fault:
        raise ValueError(f"the rule “{rule[:40]}” {fault}") from fault
    if starts is None and read.needs_start:
        raise ValueError(f"the rule “{rule[:40]}” needs a day it starts on")
