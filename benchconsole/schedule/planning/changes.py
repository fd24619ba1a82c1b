"""What may be different in a shop: time away, days closed or opened, more or fewer, a start."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import TYPE_CHECKING

from dateutil import tz
from msgspec.structs import replace as changed

from benchconsole.errors import NotPossibleNow
from benchconsole.model.opening import DatedOpening, DaySpan, TimeSpan
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.wording import days_words, wall_time

if TYPE_CHECKING:
    # The planner's arrays are not loaded for words alone.
    from benchconsole.schedule.planning.planner import Question

HANDS = "pair of hands"
"""What hands are called beside the kinds of vessel."""
MOST_HANDS = 9

_DAY = timedelta(days=1)


class Away(Record, frozen=True, kw_only=True):
    """The person is away, for local days or from moment to moment."""

    days: tuple[DaySpan, ...] = ()
    times: tuple[TimeSpan, ...] = ()


class Closed(Record, frozen=True, kw_only=True):
    """The shop is closed on some local days."""

    days: tuple[DaySpan, ...]


class OpenToo(Record, frozen=True, kw_only=True):
    """The shop is open on some local days at times that it would not be."""

    openings: tuple[DatedOpening, ...]


class ComeIn(Record, frozen=True, kw_only=True):
    """Somebody comes in on a closed day or back from being away; aware instants of one local day.

    ``what_for`` says in words what they do then.
    """

    start: datetime
    end: datetime
    what_for: str = ""


class Means(Record, frozen=True, kw_only=True):
    """So many ``more`` (fewer: below 0) of a kind of vessel, or of ``HANDS``."""

    kind: str
    more: int


class StartAt(Record, frozen=True, kw_only=True):
    """A hide is begun at a chosen instant, aware; None leaves it to the plan."""

    hide: str
    hide_name: str
    at: datetime | None


Change = Away | Closed | OpenToo | ComeIn | Means | StartAt


def shop_with(shop: Shop, changes: Iterable[Change], zone: tzinfo) -> Shop:
    """The settings with the changes in them; what is about hides alone leaves them as they are.

    Raises ``NotPossibleNow`` for more of what is not counted and fewer than there are.
    """
    for change in changes:
        match change:
            case Away():
                shop = changed(
                    shop,
                    away=_in_order((*shop.away, *change.days)),
                    away_times=_moments_in_order((*shop.away_times, *change.times)),
                )
            case Closed():
                shop = changed(shop, closed=_in_order((*shop.closed, *change.days)))
            case OpenToo():
                shop = _open_too(shop, change.openings)
            case ComeIn():
                shop = _come_in(shop, change, zone)
            case Means():
                shop = _means(shop, change)
            case StartAt():
                pass
    return shop


def question_with(question: Question, shop: Shop, changes: Sequence[Change]) -> Question:
    """The question of a plan with the changes in it; ``shop`` are the settings it came from."""
    zone = question.hours.zone
    other = shop_with(shop, changes, zone)
    starts = {change.hide: change.at for change in changes if isinstance(change, StartAt)}
    return replace(
        question,
        hours=question.hours if other is shop else Hours.of(other, zone),
        hands=other.hands,
        vessels=other.vessels,
        hides=tuple(
            changed(hide, start_at=starts[hide.id]) if hide.id in starts else hide
            for hide in question.hides
        ),
    )


def change_words(change: Change, now: datetime, zone: tzinfo) -> str:
    """A change in words: ``away 3 Dec to 6 Dec``, ``one more tub``."""
    near = now.astimezone(zone).date()
    match change:
        case Away():
            days = [days_words(span.first, span.last, near) for span in change.days]
            times = [_from_to(span.start, span.end, now, zone) for span in change.times]
            return f"away {', '.join([*days, *times])}"
        case Closed():
            days = [days_words(span.first, span.last, near) for span in change.days]
            return f"closed {', '.join(days)}"
        case OpenToo():
            opened = [
                f"{days_words(one.day, one.day, near)} {one.opens:%H:%M} to {one.closes:%H:%M}"
                for one in change.openings
            ]
            return f"open too {', '.join(opened)}"
        case ComeIn():
            what_for = f" for {change.what_for}" if change.what_for else ""
            return f"come in {_from_to(change.start, change.end, now, zone)}{what_for}"
        case Means():
            which = "more" if change.more > 0 else "fewer"
            if abs(change.more) == 1:
                return f"one {which} {change.kind}"
            return f"{abs(change.more)} {which} of the kind {change.kind}"
        case StartAt(at=None):
            return f"leave the start of {change.hide_name} to the plan"
        case StartAt():
            assert change.at is not None
            return f"begin {change.hide_name} {wall_time(change.at, zone, now)}"


def _from_to(start: datetime, end: datetime, now: datetime, zone: tzinfo) -> str:
    same = start.astimezone(zone).date() == end.astimezone(zone).date()
    last = f"{end.astimezone(zone):%H:%M}" if same else wall_time(end, zone, now)
    return f"{wall_time(start, zone, now)} to {last}"


def _in_order(spans: Iterable[DaySpan]) -> tuple[DaySpan, ...]:
    return tuple(sorted(set(spans), key=lambda span: (span.first, span.last)))


def _moments_in_order(spans: Iterable[TimeSpan]) -> tuple[TimeSpan, ...]:
    return tuple(sorted(set(spans), key=lambda span: (span.start, span.end)))


def _open_too(shop: Shop, openings: Iterable[DatedOpening]) -> Shop:
    every = {*shop.extra, *openings}
    extra = sorted(every, key=lambda one: (one.day, one.opens, one.closes))
    return changed(shop, extra=tuple(extra))


def _come_in(shop: Shop, change: ComeIn, zone: tzinfo) -> Shop:
    """An opening at that time, and time away with a hole in it."""
    opens, closes = change.start.astimezone(zone), change.end.astimezone(zone)
    opening = DatedOpening(
        day=opens.date(), opens=opens.time().replace(fold=0), closes=closes.time().replace(fold=0)
    )
    days: list[DaySpan] = []
    times: list[TimeSpan] = []
    for span in shop.away:
        if span.first <= opening.day <= span.last:
            days += _days_but(span, opening.day)
            midnight, next_one = (_midnight(opening.day + n * _DAY, zone) for n in (0, 1))
            times += _cut(TimeSpan(start=midnight, end=next_one), change)
        else:
            days.append(span)
    for moments in shop.away_times:
        times += _cut(moments, change)
    shop = changed(shop, away=_in_order(days), away_times=_moments_in_order(times))
    return _open_too(shop, (opening,))


def _days_but(span: DaySpan, day: date) -> Iterator[DaySpan]:
    """A run of days without one of them."""
    if span.first < day:
        yield DaySpan(first=span.first, last=day - _DAY)
    if day < span.last:
        yield DaySpan(first=day + _DAY, last=span.last)


def _cut(span: TimeSpan, change: ComeIn) -> Iterator[TimeSpan]:
    """What is left of some time away when somebody comes back in between."""
    before = (span.start, min(span.end, change.start))
    after = (max(span.start, change.end), span.end)
    for start, end in (before, after):
        if start < end:
            yield TimeSpan(start=start, end=end)


def _midnight(day: date, zone: tzinfo) -> datetime:
    local = datetime.combine(day, time(0), tzinfo=zone)
    return tz.resolve_imaginary(local).astimezone(UTC)


def _means(shop: Shop, change: Means) -> Shop:
    if change.kind == HANDS:
        hands = shop.hands + change.more
        if not 1 <= hands <= MOST_HANDS:
            raise NotPossibleNow(f"There are 1 to {MOST_HANDS} pairs of hands, not {hands}.")
        return changed(shop, hands=hands)
    if change.kind not in shop.vessels:
        raise NotPossibleNow(
            f"How many of the kind {change.kind} there are was not said, so it is never short; "
            "the shop's settings (g) hold their number."
        )
    number = shop.vessels[change.kind] + change.more
    if number < 0:
        there = shop.vessels[change.kind]
        raise NotPossibleNow(f"There are only {there} of the kind {change.kind}.")
    return changed(shop, vessels={**shop.vessels, change.kind: number})
