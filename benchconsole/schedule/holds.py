"""A running hold: the attentions it asks for, and the look that ends it."""

from __future__ import annotations

from datetime import datetime, timedelta

from benchconsole.model.routes import Attention, Hold
from benchconsole.quantities import format_duration
from benchconsole.schedule.actions import Action
from benchconsole.schedule.presence import is_stayed_for
from benchconsole.schedule.standing import Act, Standing
from benchconsole.schedule.windows import Window, as_asked

LEAST_PART_OF_INTERVAL = 4
"""An attention is not asked for again before a quarter of its interval has passed.

Our own choice, no source: without it one given five minutes before closing would be asked for
again at closing, because the next opening is too far off.
"""


def hold_actions(standing: Standing, *, only_first: bool = False) -> tuple[Action, ...]:
    """What a running hold asks for, the first to do in front; that one alone if so wished.

    Always holds the check (or the moving on); before it those attentions that fall due
    earlier. Once the check is due it comes first: the look may end the hold.
    """
    check = _check_window(standing)
    attentions = sorted(
        (window.due, place, window)
        for place, attention in enumerate(standing.stage.attend)
        if (window := _attention_window(standing, place, attention)) is not None
    )
    earlier = [(place, window) for due, place, window in attentions if due < check.due]
    check_first = standing.now >= check.due or not earlier
    upcoming = attentions[0][1] if attentions else None
    actions: list[Action] = []
    if check_first:
        actions.append(_check_action(standing, check, upcoming))
    if not (check_first and only_first):
        wanted = earlier[:1] if only_first else earlier
        actions += [_attention_action(standing, place, window) for place, window in wanted]
    if not check_first and not only_first:
        actions.append(_check_action(standing, check, upcoming))
    return tuple(actions)


def _check_window(standing: Standing) -> Window:
    """When to look: the hold's window; after a "not yet", its interval later.

    Without a hold the look is due when the stage's own work can be done, and may come sooner.
    A look before the hold's target does not bring the next one before the target. The hold's
    maximum stays what it is; while it lies ahead no look is put off past it.
    """
    begun, hold, check = standing.hold_from, standing.hold, standing.stage.check
    earliest = begun if hold is None else begun + hold.min
    due = begun + (_work_looked_at(standing) if hold is None else hold.target)
    latest = None if hold is None else begun + hold.max
    if check is not None and standing.hide.failed_at:
        looked = standing.hide.failed_at[-1]
        again = looked + check.again
        if latest is not None and looked < latest:
            again = min(again, latest)
        due = max(due, again)
        earliest = max(earliest, again if latest is None else min(again, latest))
    return standing.inside_hours(earliest, due, latest)


def _work_looked_at(standing: Standing) -> timedelta:
    return standing.stage.work if standing.stage.check is not None else timedelta(0)


def _check_action(standing: Standing, window: Window, attention: int | None) -> Action:
    check = standing.stage.check
    if check is None:
        return _moving_on(standing, window, attention)
    ask = check.ask or "Look whether it is ready."
    act = Act(
        kind="check",
        words=ask,
        because=_hold_words(standing, standing.hold),
        early=f"before {standing.wall(window.earliest)} is early: pass it only if the hide "
        "itself shows it is ready",
        harm=standing.stage,
        attention=attention,
        check=ask,
        closing="" if attention is None else _before_closing(standing, attention, told=False),
    )
    return standing.action(act, window)


def _moving_on(standing: Standing, window: Window, attention: int | None) -> Action:
    following = standing.route.after(standing.stage.id)
    onward = f"go on to “{following.name}”" if following else "the piece is finished"
    act = Act(
        kind="check",
        words=f"Time is up: {onward}.",
        because=_hold_words(standing, standing.hold),
        early=f"before {standing.wall(window.earliest)} is early",
        harm=standing.stage,
        attention=attention,
        closing="" if attention is None else _before_closing(standing, attention, told=False),
    )
    return standing.action(act, window)


def _hold_words(standing: Standing, hold: Hold | None) -> str:
    failed, check = standing.hide.failed_at, standing.stage.check
    if failed and check is not None:
        again = format_duration(check.again)
        return f"not yet ready {standing.wall(failed[-1])}; look again after {again}"
    if hold is None and _work_looked_at(standing):
        work = format_duration(standing.stage.work)
        return f"begun {standing.wall(standing.hold_from)}, its work takes {work}"
    if hold is None:
        return "this stage has no time of its own"
    return f"begun {standing.wall(standing.hold_from)}, it wants {format_duration(hold.target)}"


def _attention_window(standing: Standing, place: int, attention: Attention) -> Window | None:
    """When the attention is next to be given; None once the time it is for is over."""
    asked = _attention_asked(standing, place, attention)
    until = None if attention.until is None else standing.hold_from + attention.until
    if until is not None and asked.ideal > until:
        return None
    seen = None if is_stayed_for(attention) else _seen_to(standing, place)
    window = standing.inside_hours(asked.earliest, asked.ideal, asked.latest, seen=seen)
    if until is not None and standing.now > _last_of(until, window):
        return None
    return window


def _attention_asked(standing: Standing, place: int, attention: Attention) -> Window:
    """When the attention is wanted next, hours ignored."""
    since = standing.hold_from + attention.since
    seen = _seen_to(standing, place)
    last = since if seen is None else max(seen, since)
    return as_asked(
        last + attention.every / LEAST_PART_OF_INTERVAL,
        last + attention.every,
        last + attention.at_most,
    )


def _seen_to(standing: Standing, place: int) -> datetime | None:
    """When the attention was last given.

    A look that said "not yet" handled the hide as well, unless the attention is an act of its own.
    """
    given = standing.hide.attended_at.get(place)
    by_the_way = not standing.stage.attend[place].own_act
    looks = standing.hide.failed_at[-1:] if by_the_way else ()
    return max((*looks, *(() if given is None else (given,))), default=None)


def _before_closing(standing: Standing, place: int, *, told: bool) -> str:
    """What to see to before the shop closes on a hide that wants attention meanwhile.

    Empty while that is far off, or was done just before. ``told``: the action itself says what
    is to be done; else the attention's words say it.
    """
    attention, now, hours = standing.stage.attend[place], standing.now, standing.hours
    asked = _attention_asked(standing, place, attention)
    gap = None if now < asked.earliest else hours.next_gap(now)
    if gap is None:
        return ""
    shut, opens = gap
    given_before_closing = asked.earliest > (hours.last_open_before(shut) or shut)
    comes_before_closing = now < asked.ideal <= shut or now + attention.every <= shut
    if given_before_closing or comes_before_closing or now + attention.every >= opens:
        return ""
    closed = f"closed until {standing.wall(opens)}"
    if shut > now:
        closed = f"closed from {standing.wall(shut)} to {standing.wall(opens)}"
    do = "do it once more" if told else f"{attention.do[:1].lower()}{attention.do[1:].rstrip('.')}"
    if opens - now <= attention.at_most:
        return f"{closed}: before you go, {do}"
    most = format_duration(attention.at_most)
    return f"{closed}, longer than the {most} it may be left: somebody must stay or come in"


def _last_of(until: datetime, window: Window) -> datetime:
    """Until when an attention not given is still worth giving."""
    return max(until, window.due, window.latest or window.due)


def _attention_action(standing: Standing, place: int, window: Window) -> Action:
    attention = standing.stage.attend[place]
    since, seen = standing.hold_from + attention.since, _seen_to(standing, place)
    if seen is None or seen < since:
        last = f"wanted since {standing.wall(since)}"
    elif seen == standing.hide.attended_at.get(place):
        last = f"last given {standing.wall(seen)}"
    else:
        last = f"the hide was looked at {standing.wall(seen)}"
    act = Act(
        kind="attend",
        words=attention.do,
        because=f"{last}; every {format_duration(attention.every)}, never more than "
        f"{format_duration(attention.at_most)} apart",
        early=f"before {standing.wall(window.earliest)} is early, and does no harm",
        harm=standing.stage,
        attention=place,
        closing=_before_closing(standing, place, told=True),
    )
    return standing.action(act, window)
