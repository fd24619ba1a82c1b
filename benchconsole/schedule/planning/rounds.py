"""Rounds: the attentions of all hides gathered into the fewest walks that keep their limits.

Every attention has a limit for the next walk (``gaps``), which never comes sooner for one given
later. So the fewest walks are found by waiting until the first limit of all and then giving
everything: of any other row of walks that keeps the limits the first comes no later, hence leaves
limits that come no later, and so on for every walk after (exchange argument; Gallai's covering of
intervals by points, known since the 1930s, is the case of fixed intervals). What a walk gives is
then thinned out: an attention that can wait for the next walk waits.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from heapq import heapify, heappop
from typing import NamedTuple

from benchconsole.model.record import Record
from benchconsole.schedule.holds import LEAST_PART_OF_INTERVAL
from benchconsole.schedule.hours import Opening
from benchconsole.schedule.planning.gaps import NEVER, Gaps, instant_of, span_ticks, ticks
from benchconsole.schedule.planning.plans import Given, Round
from benchconsole.schedule.planning.round_words import Late, why_then


class Tended(Record, frozen=True, kw_only=True):
    """An attention of one hide in one run of a hold.

    Wanted from ``since`` to ``until`` (None: no end is known), every ``every``, never more than
    ``at_most`` apart; ``last`` is when it was given last (None: not since it is wanted), a look
    at the hide counted where it gives the attention by the way. All instants aware, UTC.
    """

    hide: str
    hide_name: str
    stage: str
    attention: int
    do: str
    every: timedelta
    at_most: timedelta
    since: datetime
    until: datetime | None = None
    last: datetime | None = None
    facts: int = 0


class WalkNow(Record, frozen=True, kw_only=True):
    """What a walk at this moment gives.

    ``round`` gives what cannot wait for the walk after it, ``then``; ``may`` are those that can
    wait and may be given all the same, a quarter of their interval having passed.
    """

    round: Round
    may: tuple[Given, ...]
    then: datetime | None


class _Need(NamedTuple):
    """A tended stretch in ticks; ``last`` is its beginning while it was not given."""

    tended: Tended
    every: int
    at_most: int
    since: int
    until: int
    last: int

    def is_over_by(self, limit: int, last: int) -> bool:
        """Whether the stretch ends before it is wanted once more."""
        return limit >= self.until or last + self.every >= self.until


class _Giving(NamedTuple):
    need: _Need
    last: int


def rounds_for(
    tended: Iterable[Tended],
    openings: Sequence[Opening],
    now: datetime,
    until: datetime,
    *,
    busy: Sequence[Opening] = (),
    come_in: Sequence[Opening] = (),
) -> tuple[Round, ...]:
    """The fewest rounds from ``now`` to ``until`` that keep every gap within its limit.

    ``openings`` should reach well past ``until``: at the last known closing nothing is asked for.
    ``busy`` and ``come_in`` as :class:`Gaps` has them. Where no walk can keep a limit, because the
    shop is closed longer than the attention can wait, the round before says that somebody must
    stay or come in, and the one after it how late it comes.
    """
    gaps = Gaps(openings, busy, come_in)
    needs = _needs(tended, ticks(now))
    return _rounds(gaps, needs, ticks(now), ticks(until))


def walk_now(
    tended: Iterable[Tended],
    openings: Sequence[Opening],
    now: datetime,
    until: datetime,
    *,
    busy: Sequence[Opening] = (),
    come_in: Sequence[Opening] = (),
) -> WalkNow | None:
    """What a walk at ``now`` gives, be it due or not; None if nothing may be given yet."""
    gaps = Gaps(openings, busy, come_in)
    at, end = ticks(now), ticks(until)
    needs = _needs(tended, at)
    may = [need for need in needs if need.last + need.every // LEAST_PART_OF_INTERVAL <= at]
    may = [need for need in may if need.since <= at]
    if not may:
        return None
    given = set(map(id, may))
    after = [need._replace(last=at) if id(need) in given else need for need in needs]
    walks = _walks(gaps, after, at, end, most=1)
    then = walks[0] if walks else end
    pressing: list[_Need] = []
    waiting: list[_Need] = []
    for need in may:
        limit = max(gaps.limit(need.last, need.every, need.at_most), at)
        can_wait = limit >= then or need.is_over_by(limit, need.last)
        (waiting if can_wait else pressing).append(need)
    gives = [_Giving(need, need.last) for need in pressing]
    late = [
        Late(need.tended.hide_name, need.at_most, then - at)
        for need in pressing
        if walks and then > at + need.at_most and need.until > at + need.at_most
    ]
    return WalkNow(
        round=_round(gaps, at, gives, late, known=False),
        may=tuple(_given(need.tended) for need in waiting),
        then=instant_of(then) if walks else None,
    )


def _needs(tended: Iterable[Tended], now: int) -> list[_Need]:
    needs = []
    for each in tended:
        since, end = ticks(each.since), NEVER if each.until is None else ticks(each.until)
        last = since if each.last is None else max(since, ticks(each.last))
        every, at_most = span_ticks(each.every), span_ticks(each.at_most)
        if end > max(now, since):
            needs.append(_Need(each, min(every, at_most), at_most, since, end, last))
    return needs


def _walks(
    gaps: Gaps, needs: Sequence[_Need], now: int, end: int, *, most: int | None = None
) -> list[int]:
    """The moments of the walks: always at the first limit of all that are wanted."""
    first = [(_first_limit(gaps, need, now), place) for place, need in enumerate(needs)]
    heapify(first)
    starting = sorted(needs, key=lambda need: need.since, reverse=True)
    classes: dict[tuple[int, int], int] = {}
    walks: list[int] = []
    while most is None or len(walks) < most:
        at = NEVER
        while first:
            limit, place = first[0]
            need = needs[place]
            given = walks and need.since <= walks[-1]
            if not given and not need.is_over_by(limit, need.last):
                at = limit
                break
            heappop(first)
        if walks:
            at = min(at, _next_limit(gaps, classes, walks[-1]))
        if at > end:
            break
        walks.append(_early_if_closed(gaps, needs, walks[-1] + 1 if walks else now, at))
        while starting and starting[-1].since <= walks[-1]:
            need = starting.pop()
            kind = (need.every, need.at_most)
            classes[kind] = max(classes.get(kind, 0), need.until)
    return walks


def _first_limit(gaps: Gaps, need: _Need, now: int) -> int:
    """The limit of the first walk to a hide; what is late already waits for nothing."""
    limit = gaps.limit(need.last, need.every, need.at_most)
    return limit if limit >= now else gaps.first_from(now)


def _next_limit(gaps: Gaps, classes: dict[tuple[int, int], int], last: int) -> int:
    """The first limit of those that were all given at the last walk.

    Attentions of one interval and one limit are alike then; the longest wanted stands for them.
    """
    at = NEVER
    for (every, at_most), until in classes.items():
        limit = gaps.limit(last, every, at_most)
        if limit < until and last + every < until:
            at = min(at, limit)
    return at


def _early_if_closed(gaps: Gaps, needs: Sequence[_Need], first: int, at: int) -> int:
    """On a closed day as early as it does the same: people would rather not wait till the last.

    Not before ``first``, and not so early that an attention, given then, would not last until
    somebody is there again.
    """
    if gaps.is_open(at):
        return at
    begins, then = gaps.earliest_of_day(at), gaps.next_in_reach(at)
    spans = {need.at_most for need in needs if need.since <= at < need.until}
    lasting = [then - at_most for at_most in spans if at + at_most >= then]
    return min(at, max(begins, first, *lasting))


def _rounds(gaps: Gaps, needs: Sequence[_Need], now: int, end: int) -> tuple[Round, ...]:
    walks = _walks(gaps, needs, now, end)
    gives: list[list[_Giving]] = [[] for _ in walks]
    late: list[list[Late]] = [[] for _ in walks]
    for need in needs:
        last, before = need.last, -1
        limit = _first_limit(gaps, need, now)
        while not need.is_over_by(limit, last) and limit <= end:
            place = bisect_right(walks, limit) - 1
            gives[place].append(_Giving(need, last))
            last, before = walks[place], place
            limit = gaps.limit(last, need.every, need.at_most)
            if NEVER > limit > last + need.at_most and need.until > last + need.at_most:
                late[before].append(Late(need.tended.hide_name, need.at_most, limit - last))
    return tuple(
        _round(gaps, at, given, too_long)
        for at, given, too_long in zip(walks, gives, late, strict=True)
    )


def _round(
    gaps: Gaps, at: int, gives: Sequence[_Giving], late: Sequence[Late], *, known: bool = True
) -> Round:
    """The round in the shop's words; ``known``: it was planned, so its time wants a reason."""
    ordered = sorted(gives, key=lambda g: (g.need.tended.hide, g.need.tended.attention))
    reasons = why_then(
        overdue=[
            Late(each.need.tended.hide_name, each.need.at_most, at - each.last)
            for each in ordered
            if at > each.last + each.need.at_most
        ],
        late=late,
        closed=known and not gaps.is_open(at),
        before_closing=[
            each.need.tended.hide_name
            for each in ordered
            if known and gaps.is_closing(at) and at < each.last + each.need.every
        ],
        busy=known and gaps.is_busy(at),
    )
    latest = min((each.last + each.need.at_most for each in gives), default=at)
    return Round(
        at=instant_of(at),
        gives=tuple(_given(each.need.tended) for each in ordered),
        latest=instant_of(latest),
        why=reasons,
    )


def _given(tended: Tended) -> Given:
    return Given(
        hide=tended.hide,
        hide_name=tended.hide_name,
        stage=tended.stage,
        attention=tended.attention,
        do=tended.do,
        facts=tended.facts,
    )
