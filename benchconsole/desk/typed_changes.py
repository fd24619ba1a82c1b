"""A change to suppose, as a person types it: what is different, and when or which."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo

from benchconsole.desk.days_off import (
    AWAY_EXAMPLE,
    CLOSED_EXAMPLE,
    EXTRA_EXAMPLE,
    read_away,
    read_closed,
    read_extra,
    read_moment,
)
from benchconsole.desk.means import read_vessels, vessel_kinds
from benchconsole.errors import BadInput, NotPossibleNow
from benchconsole.model.routes import Route
from benchconsole.model.shop import Shop
from benchconsole.model.state import HideState
from benchconsole.schedule.planning.changes import (
    HANDS,
    Away,
    Change,
    Closed,
    Means,
    OpenToo,
    StartAt,
    shop_with,
)

AWAY, CLOSED, OPEN, MORE, FEWER, START = "away", "closed", "open", "more", "fewer", "start"

KINDS: tuple[tuple[str, str], ...] = (
    (AWAY, "you are away"),
    (CLOSED, "the shop is closed"),
    (OPEN, "the shop is open too"),
    (MORE, "one more vessel or pair of hands"),
    (FEWER, "one fewer vessel or pair of hands"),
    (START, "the hide is begun then"),
)
"""What may be supposed, with the words for a list."""

MEANS_EXAMPLE = "tub"
START_EXAMPLE = "7 Dec 9:00"
EXAMPLES = {
    AWAY: AWAY_EXAMPLE,
    CLOSED: "24 Dec - 1 Jan",
    OPEN: EXTRA_EXAMPLE,
    MORE: MEANS_EXAMPLE,
    FEWER: MEANS_EXAMPLE,
    START: START_EXAMPLE,
}
"""What would work, by kind."""

_HANDS = ("hand", "hands", "pair of hands", "helper")


def read_change(
    kind: str,
    text: str,
    *,
    hide: HideState | None,
    shop: Shop,
    routes: Sequence[Route],
    now: datetime,
    zone: tzinfo,
) -> Change:
    """The change that was typed, by the readers of the settings; dates are on the shop's wall.

    Raises ``BadInput`` naming the field, and ``NotPossibleNow`` for what cannot be.
    """
    if kind not in EXAMPLES:
        raise BadInput("what", "nothing is chosen yet", KINDS[0][1])
    if not text.strip():
        raise BadInput("when or which", "nothing is typed yet", EXAMPLES[kind])
    change = _read(kind, text, hide, shop, routes, now, zone)
    shop_with(shop, (change,), zone)
    return change


def _read(
    kind: str,
    text: str,
    hide: HideState | None,
    shop: Shop,
    routes: Sequence[Route],
    now: datetime,
    zone: tzinfo,
) -> Change:
    today = now.astimezone(zone).date()
    try:
        match kind:
            case "away":
                days, times = read_away(text, today, zone)
                return Away(days=days, times=times)
            case "closed":
                return _closed(text, now, zone)
            case "open":
                return OpenToo(openings=read_extra(text, today))
            case "more" | "fewer":
                return _means(text, shop, routes, 1 if kind == MORE else -1)
            case _:
                return _start(text, hide, now, zone)
    except BadInput as fault:
        # The readers name the field of the settings; here it is another.
        raise BadInput("when or which", fault.fault, EXAMPLES[kind]) from fault


def _closed(text: str, now: datetime, zone: tzinfo) -> Closed:
    days, rules = read_closed(text, now.astimezone(zone).date())
    if rules:
        raise BadInput("closed", "comes again: that belongs to the settings", CLOSED_EXAMPLE)
    return Closed(days=days)


def _means(text: str, shop: Shop, routes: Sequence[Route], sign: int) -> Means:
    words = " ".join(text.lower().split())
    if words in _HANDS:
        return Means(kind=HANDS, more=sign)
    kinds = sorted({*vessel_kinds(routes), *shop.vessels})
    counted = words if words[:1].isdecimal() else f"1 {words}"
    found = read_vessels(counted, kinds)
    if len(found) != 1 or not all(found.values()):
        raise BadInput("vessels", "names not one kind", MEANS_EXAMPLE)
    [(kind, count)] = found.items()
    return Means(kind=kind, more=sign * count)


def _start(text: str, hide: HideState | None, now: datetime, zone: tzinfo) -> StartAt:
    if hide is None:
        raise NotPossibleNow("No hide is chosen whose start could be another.")
    if hide.begun_at is not None or not hide.stage:
        raise NotPossibleNow(f"{hide.name} waits for no start now.")
    try:
        at = read_moment(text, now.astimezone(zone).date(), zone)
    except ValueError as fault:
        raise BadInput("start", f"“{text[:40]}” {fault}", START_EXAMPLE) from fault
    if at < now:
        raise BadInput("start", f"“{text[:40]}” is past", START_EXAMPLE)
    return StartAt(hide=hide.id, hide_name=hide.name, at=at)
