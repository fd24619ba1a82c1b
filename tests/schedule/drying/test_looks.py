"""When to look at a drying hide, and the window that a plan may reckon with."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from benchconsole.model.routes import DriesTo
from benchconsole.model.shop import OpenSpan
from benchconsole.schedule.drying.forecast import DryingForecast, Span, WindowForecast
from benchconsole.schedule.drying.looks import CLOSE_BY, dry_window, looks
from benchconsole.schedule.hours import Hours

MORNING = datetime(2026, 3, 4, 8, 0, tzinfo=UTC)
"""A Wednesday."""
DAYS = Hours([OpenSpan(weekday=d, opens=time(8), closes=time(18)) for d in range(5)], (), UTC)
ALWAYS = Hours([OpenSpan(weekday=d, opens=time(0), closes=time(0)) for d in range(7)], (), UTC)
NEVER = Hours([], (), UTC)


def after(hours: float) -> datetime:
    """So long after that morning."""
    return MORNING + timedelta(hours=hours)


def span(low: float, mid: float, high: float) -> Span:
    """Three instants by their hours."""
    return Span(low=after(low), mid=after(mid), high=after(high))


def foretold(
    opens: Span,
    closes: Span | None = None,
    *,
    state: DriesTo = "damp",
    hold: tuple[float, float] | None = (3.0, 36.0),
    unknown: str = "",
) -> DryingForecast:
    """A forecast with that window and a hold of so many hours."""
    window = WindowForecast(
        id=state,
        name=state,
        upper=0.4,
        lower=0.3,
        opens=opens,
        closes=closes or Span(),
        unknown=unknown,
    )
    return DryingForecast(
        made_at=MORNING,
        starts_at=MORNING,
        dries_to=state,
        cover="open",
        rests_on="weighings",
        windows=(window,),
        hold_earliest=after(hold[0]) if hold else None,
        hold_latest=after(hold[1]) if hold else None,
    )


def test_one_looks_early_at_the_middle_and_before_the_end() -> None:
    """By day: from when it may be so, when it should be, amid the window and before it is over."""
    told = looks(foretold(span(3, 4, 5), span(7, 9, 12)), DAYS, MORNING)
    assert [after(3), after(4), after(6.5), after(8)] == [look.at for look in told]
    assert ["it may be so already", "it should be so by now"] == [look.why for look in told[:2]]
    assert ["the middle of the window", "before it is over"] == [look.why for look in told[2:]]


def test_no_look_at_night() -> None:
    """A window in the night is looked at before closing, or in the morning if it lasts."""
    over_by_dawn = looks(foretold(span(11, 12, 14), span(17, 18, 20)), DAYS, MORNING)
    assert [after(10)] == [look.at for look in over_by_dawn]
    lasting = looks(foretold(span(11, 12, 14), span(26, 28, 34)), DAYS, MORNING)
    assert [after(24), after(24.8)] == [look.at for look in lasting]


def test_nothing_to_look_at() -> None:
    """Where nothing is known, the window is over, or the shop never opens, there is no look."""
    known = foretold(span(3, 4, 5), span(7, 9, 12))
    assert () == looks(foretold(span(3, 4, 5), unknown="The air is too damp."), DAYS, MORNING)
    assert () == looks(known, DAYS, after(9.5))
    assert () == looks(known, NEVER, MORNING)
    assert () == looks(foretold(Span(low=after(3))), DAYS, MORNING)


@given(
    hours=st.lists(st.floats(0.0, 200.0), min_size=6, max_size=6),
    now=st.floats(0.0, 100.0),
    always=st.booleans(),
)
def test_looks_are_in_order_open_and_ahead(hours: list[float], now: float, always: bool) -> None:
    """Whatever the window: no look in closed time, none in the past, none twice."""
    a, b, c, d, e, f = sorted(hours)
    shop = ALWAYS if always else DAYS
    told = [look.at for look in looks(foretold(span(a, b, d), span(c, e, f)), shop, after(now))]
    assert told == sorted(told)
    assert all(shop.is_open(at) and at >= after(now) for at in told)
    assert all(later - at >= CLOSE_BY for at, later in pairwise(told))


def test_a_plan_reckons_with_the_window() -> None:
    """Damp: from when it may be so, due amid the window, at the latest at its likely end."""
    assert (after(6), after(10), after(12)) == dry_window(foretold(span(6, 8, 10), span(9, 12, 16)))


def test_soft_is_due_when_it_is_worked_dry() -> None:
    """The look that ends it comes when the softening is over; the route says the latest."""
    forecast = foretold(span(6, 8, 10), span(9, 12, 16), state="soft")
    assert (after(6), after(12), after(36)) == dry_window(forecast)
    dry = foretold(span(6, 8, 10), state="dry")
    assert (after(6), after(8), after(36)) == dry_window(dry)


@given(
    hours=st.lists(st.floats(0.0, 100.0), min_size=6, max_size=6),
    hold=st.lists(st.floats(0.0, 100.0), min_size=2, max_size=2),
    state=st.sampled_from(["damp", "soft", "dry"]),
)
def test_it_never_widens_the_hold(hours: list[float], hold: list[float], state: DriesTo) -> None:
    """In order, and inside the route's own minimum and maximum, whatever the forecast says."""
    a, b, c, d, e, f = sorted(hours)
    least, most = sorted(hold)
    forecast = foretold(span(a, b, d), span(c, e, f), state=state, hold=(least, most))
    window = dry_window(forecast)
    if window is not None:
        earliest, due, latest = window
        assert after(least) <= earliest <= due <= latest <= after(most)


def test_a_guess_wider_than_the_hold_is_no_help() -> None:
    """The route's own times stand then, and where nothing is known or the stage has no hold."""
    wide = foretold(span(2, 12, 50), span(9, 20, 90))
    assert dry_window(wide) is None
    known = span(6, 8, 10)
    assert dry_window(foretold(known, span(9, 12, 16), hold=None)) is None
    assert dry_window(foretold(known, unknown="The air is too damp.")) is None
    assert dry_window(foretold(Span(low=after(6), mid=after(8)))) is None
