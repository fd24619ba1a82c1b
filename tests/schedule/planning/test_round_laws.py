"""Laws of rounds: limits, hours, fewest walks; held against a search through every possibility."""

from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchconsole.schedule.planning.plans import Round
from benchconsole.schedule.planning.rounds import Tended, rounds_for
from tests.schedule.planning.round_shops import (
    Shop,
    at,
    given_hours,
    hour_of,
    is_kept,
    is_served,
    shops,
    spans_at,
)

MUST = "somebody must"
PAST = "past the limit"


def _rounds(shop: Shop, tended: tuple[Tended, ...] | None = None) -> tuple[Round, ...]:
    return rounds_for(
        shop.tended if tended is None else tended,
        spans_at(shop.openings),
        at(shop.now),
        at(shop.end),
        busy=spans_at(shop.busy),
        come_in=spans_at(shop.come_in),
    )


def _fewest(shop: Shop) -> int | None:
    """The fewest walks at free open hours that serve everything, trying all of them; or None."""
    places = range(len(shop.wants))
    if not all(is_served(shop, place, shop.free_hours) for place in places):
        return None
    for many in range(len(shop.free_hours) + 1):
        for walks in combinations(shop.free_hours, many):
            if all(is_served(shop, place, walks) for place in places):
                return many
    raise AssertionError("all of them serve")


@settings(max_examples=150, deadline=None)
@given(shops(days=2, most=4))
def test_no_other_walks_are_fewer(shop: Shop) -> None:
    """Where everything can be served, a search through all rows of walks finds none shorter."""
    fewest = _fewest(shop)
    assume(fewest is not None)
    rounds = _rounds(shop)
    assert len(rounds) == fewest
    for place in range(len(shop.wants)):
        assert is_served(shop, place, given_hours(rounds, place))


@settings(max_examples=300, deadline=None)
@given(st.booleans().flatmap(lambda closed: shops(closed=closed)))
def test_every_gap_is_within_its_limit_or_said_to_be_too_long(shop: Shop) -> None:
    """A gap that breaks the rule stands beside a reason that asks somebody to stay or come in.

    Only before the first round to a hide may it stand alone: where nobody could come sooner, or
    where coming before closing would not have helped over the night.
    """
    rounds = _rounds(shop)
    why = {hour_of(each.at): each.why for each in rounds}
    come_in = {hour for hour in why if hour not in shop.open_hours}
    for place, (every, at_most, since, until, last) in enumerate(shop.wants):
        begin = since if last is None else max(since, last)
        hours = [begin, *given_hours(rounds, place), until]
        for before, after in pairwise(hours):
            assert before < after
            waits = shop.open_hours - {hour for hour in come_in if hour >= before}
            if is_kept(before, after, every, at_most, waits):
                continue
            if before in why and before != begin:
                assert MUST in why[before]
            elif after != until and after - before > at_most:
                assert PAST in why[after]
            else:
                could = [h for h in shop.open_hours if max(before + 1, shop.now) <= h < after]
                assert len(could) <= every / 4 or after == min(could, default=after)


@settings(max_examples=200, deadline=None)
@given(st.booleans().flatmap(lambda closed: shops(closed=closed)))
def test_rounds_stand_in_open_hours_or_say_that_somebody_must_come_in(shop: Shop) -> None:
    """In order, each with something to give, none in closed time but in the hours for it."""
    rounds = _rounds(shop)
    hours = [hour_of(each.at) for each in rounds]
    assert hours == sorted(set(hours))
    come_in = {h for begin, end in shop.come_in for h in range(begin, end + 1)}
    for each, hour in zip(rounds, hours, strict=True):
        assert shop.now <= hour <= shop.end
        assert each.gives
        if hour not in shop.open_hours:
            assert hour in come_in
            assert "closed" in each.why and MUST in each.why


@settings(max_examples=200, deadline=None)
@given(st.booleans().flatmap(lambda closed: shops(closed=closed)))
def test_gathering_is_never_more_walks_than_hide_by_hide(shop: Shop) -> None:
    """And one attention more never makes them fewer."""
    together = len(_rounds(shop))
    assert together <= sum(len(_rounds(shop, (each,))) for each in shop.tended)
    for place in range(len(shop.wants)):
        without = shop.tended[:place] + shop.tended[place + 1 :]
        assert len(_rounds(shop, without)) <= together


@settings(max_examples=200, deadline=None)
@given(st.booleans().flatmap(lambda closed: shops(closed=closed)))
def test_going_the_first_round_leaves_the_others_as_they_were(shop: Shop) -> None:
    """Asked again once the first is done, the rest stands; the order of hides matters nothing."""
    rounds = _rounds(shop)
    assert _rounds(shop, shop.tended[::-1]) == rounds
    assume(rounds)
    done = {given.hide for given in rounds[0].gives}
    hour = hour_of(rounds[0].at)
    wants = tuple(
        (*want[:4], hour if f"h{place}" in done else want[4])
        for place, want in enumerate(shop.wants)
    )
    after = _rounds(shop._replace(wants=wants, now=hour))
    assert [(r.at, r.gives) for r in after] == [(r.at, r.gives) for r in rounds[1:]]
