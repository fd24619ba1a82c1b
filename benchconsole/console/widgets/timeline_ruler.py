"""The ruler over a timeline: which column an instant lies in, and the days and hours over them.

Columns are elapsed time, all of one length, so a day of 23 or 25 hours takes less or more of
them; what stands over them is the shop's wall clock. No drawing here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from dateutil import tz

HOUR, DAY = timedelta(hours=1), timedelta(days=1)

STEPS = (HOUR / 4, HOUR, 3 * HOUR, 6 * HOUR, DAY)
"""How much time one column may stand for, the finest first."""
STEP_WORDS = ("15 min", "1 h", "3 h", "6 h", "1 day")
"""The same in words."""

_HOURS_LABELLED = {STEPS[0]: 2, STEPS[1]: 6}
"""Every which hour of the clock is written; on coarser steps the days take the line."""


@dataclass(frozen=True)
class Ruler:
    """``columns`` columns of ``step`` each, from ``left`` (aware, UTC) on; ``zone`` is the wall."""

    left: datetime
    step: timedelta
    columns: int
    zone: tzinfo = UTC

    @property
    def right(self) -> datetime:
        """The end of the last column."""
        return self.left + self.columns * self.step

    def column(self, instant: datetime) -> int:
        """The column that holds an instant; below 0 or from ``columns`` on if none shown does."""
        return (instant - self.left) // self.step

    def column_after(self, instant: datetime) -> int:
        """The first column that begins at or after an instant."""
        return -((self.left - instant) // self.step)

    def begins(self, column: int) -> datetime:
        """When a column begins."""
        return self.left + column * self.step

    def day_columns(self) -> list[tuple[int, date]]:
        """The local days and the columns they begin at, the day at the left edge first.

        A column belongs to the day that its middle lies in, so that columns as long as a day
        have a day each on both sides of a clock change too.
        """
        half = self.step / 2
        day = (self.left + half).astimezone(self.zone).date()
        last = (self.right - half).astimezone(self.zone).date()
        found = [(0, day)]
        while day < last:
            day += DAY
            column = self.column_after(midnight(day, self.zone) - half)
            if column > found[-1][0]:
                found.append((column, day))
        return [(column, day) for column, day in found if column < self.columns]

    def upper_line(self) -> str:
        """The coarse labels: days over hours, months over days; in exactly ``columns`` cells."""
        days = self.day_columns()
        if self.step in _HOURS_LABELLED:
            return labelled(((column, _day_names(day)) for column, day in days), self.columns)
        months = [
            (column, _month_names(day))
            for place, (column, day) in enumerate(days)
            if place == 0 or day.day == 1
        ]
        return labelled(months, self.columns)

    def lower_line(self) -> str:
        """The fine labels: hours of the clock, or days; in exactly ``columns`` cells."""
        every = _HOURS_LABELLED.get(self.step)
        if every is not None:
            return labelled(self._hours(every), self.columns)
        return labelled(self._days(), self.columns)

    def _hours(self, every: int) -> Iterator[tuple[int, Sequence[str]]]:
        for column in range(self.columns):
            begins = self.begins(column)
            local = begins.astimezone(self.zone)
            full = begins + (HOUR - timedelta(minutes=local.minute, seconds=local.second)) % HOUR
            if full < begins + self.step:
                hour = full.astimezone(self.zone).hour
                if hour % every == 0:
                    yield column, (f"{hour:02}:00", f"{hour:02}")

    def _days(self) -> Iterator[tuple[int, Sequence[str]]]:
        """Every day by its name or number; where those do not fit, the weeks by their Mondays."""
        per_day = DAY // self.step
        for place, (column, day) in enumerate(self.day_columns()):
            weekday = day.weekday()
            if per_day >= 8 or weekday == 0:
                yield column, (f"{day:%a} {day.day}", f"{day.day}")
            elif weekday != 1 if per_day >= 4 else place == 0 and weekday < 4:
                # A Monday's name takes the room of its Tuesday, or of the week.
                yield column, (f"{day.day}",)


def midnight(local_day: date, zone: tzinfo) -> datetime:
    """When a local day begins, aware, UTC; where the clocks skip midnight, the first moment."""
    local = datetime.combine(local_day, time(0), tzinfo=zone)
    if not tz.datetime_exists(local):
        local = tz.resolve_imaginary(local)
    return local.astimezone(UTC).replace(fold=0)


def aligned(instant: datetime, step: timedelta, zone: tzinfo) -> datetime:
    """The nearest moment that is a whole number of steps after a local midnight, in UTC.

    Where a day of 25 hours ends on less than half a step, the last whole step runs on to the
    next midnight, so that no two of these moments are closer than half a step.
    """
    day = instant.astimezone(zone).date()
    begins, ends = midnight(day, zone), midnight(day + DAY, zone)
    last = max((ends - begins + step / 2) // step - 1, 0)
    steps = min((instant - begins) // step, last)
    below = begins + steps * step
    above = below + step if steps < last else ends
    return above if above - instant <= instant - below else below


def labelled(labels: Iterable[tuple[int, Sequence[str]]], width: int) -> str:
    """Labels at their columns, each in the longest of its wordings that fits before the next.

    Between two of them stays at least one cell. A label without a wording that fits is left
    out; the first of all is cut at the edge instead of running over it.
    """
    line = [" "] * width
    placed = list(labels)
    free_from = 0
    for place, (column, wordings) in enumerate(placed):
        if column < free_from:
            continue
        until = placed[place + 1][0] - 1 if place + 1 < len(placed) else width
        text = next((text for text in wordings if column + len(text) <= until), None)
        if text is not None:
            line[column : column + len(text)] = text
            free_from = column + len(text) + 1
    return "".join(line)


def _day_names(day: date) -> Sequence[str]:
    return (
        f"{day:%A} {day.day} {day:%B} {day.year}",
        f"{day:%a} {day.day} {day:%b} {day.year}",
        f"{day:%a} {day.day} {day:%b}",
        f"{day:%a} {day.day}",
        f"{day.day}",
    )


def _month_names(day: date) -> Sequence[str]:
    return (f"{day:%B} {day.year}", f"{day:%b} {day.year}", f"{day:%b}")
