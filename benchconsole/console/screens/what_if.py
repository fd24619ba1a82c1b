"""What would be if: what breaks, what gets better, who is done when, and the ways out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, ClassVar

from benchconsole.console.acts import Act
from benchconsole.console.screens.worked_out import WorkedOutScreen
from benchconsole.console.widgets.paper import Written
from benchconsole.console.widgets.pick_list import PickLine
from benchconsole.console.wording import at_the_wall
from benchconsole.desk.supposing import WhatIfAnswer, work_out_what_if
from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.plan_words import what_it_is
from benchconsole.quantities import format_duration
from benchconsole.schedule.planning.changes import change_words
from benchconsole.schedule.planning.differences import Difference, Window

if TYPE_CHECKING:
    from benchconsole.schedule.planning.changes import Change

_ALONE = "alone"
_NOTHING = timedelta(0)

MOST_ROUNDS = 3
"""So many rounds are told one by one."""


class AcceptIt(Act["WhatIfScreen"]):
    """Make the picked changes real, as one tap; u on the bench takes all of them back."""

    keys = "enter"
    label = "Accept"
    records = True
    settle_s = 0.5

    def possible(self, screen: WhatIfScreen) -> bool:
        """When it is worked out."""
        return screen.answer is not None

    def run(self, screen: WhatIfScreen) -> None:
        """Store them."""
        screen.accept()


class WhatIfScreen(WorkedOutScreen["tuple[str, str] | None", WhatIfAnswer]):
    """Dismissed with what was accepted, as undo names it, and the sentence to show; or None."""

    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (AcceptIt,)

    def __init__(self, changes: tuple[Change, ...]) -> None:
        super().__init__()
        self._changes = changes

    def heading(self) -> str:
        """What is supposed."""
        return f"What if: {self._said(self._changes)}  ·  nothing is changed yet"

    def job(self) -> Callable[[Callable[[], None]], WhatIfAnswer]:
        """The plan after the changes, and the ways out of what they break."""
        asked = self.console.desk.supposing.ask(self._changes)
        return lambda between: work_out_what_if(asked, between)

    def taken(self, answer: WhatIfAnswer) -> None:
        """The plan without the changes is good for the timeline, too."""
        self.console.desk.supposing.take(answer)

    def lines(self, answer: WhatIfAnswer) -> Sequence[PickLine]:
        """The changes alone, and with each way out."""
        alone = f"{self._said(self._changes)}: {_breaks(answer.what.difference)}"
        ways = [
            PickLine(str(place), f"and {self._said(way.changes)}: {_breaks(way.difference)}", 4)
            for place, way in enumerate(answer.what.ways_out)
        ]
        return [PickLine(_ALONE, alone), *ways]

    def about(self, answer: WhatIfAnswer, picked: str) -> Sequence[Written]:
        """What would come of the picked line."""
        what = answer.what
        if picked in ("", _ALONE):
            return list(self._written(what.difference, len(what.ways_out)))
        way = what.ways_out[int(picked)]
        return list(self._written(way.difference, None))

    def accept(self) -> None:
        """Store the picked changes, and leave."""
        answer, picked = self.answer, self.picks.picked
        if answer is None:
            raise NotPossibleNow("It is still being worked out.")
        way = None if picked in ("", _ALONE) else answer.what.ways_out[int(picked)]
        self.dismiss(self.console.desk.supposing.accept(answer, way))

    def _said(self, changes: Sequence[Change]) -> str:
        desk = self.console.desk
        return "; ".join(change_words(change, desk.now(), desk.zone) for change in changes)

    def _wall(self, instant: datetime) -> str:
        desk = self.console.desk
        return at_the_wall(instant, desk.now(), desk.zone)

    def _day(self, instant: datetime | None) -> str:
        if instant is None:
            return "no end planned"
        local = self.console.desk.local(instant)
        return f"{local:%a} {local.day} {local:%b}"

    def _written(self, found: Difference, ways_out: int | None) -> Iterator[Written]:
        if not found.breaks:
            words = "No visit breaks its window." if found.rounds else "Nothing breaks."
            yield Written(f"✓ {words}", "ready")
        for window in found.broken:
            yield from self._broken(window)
        for name in found.unplanned:
            yield Written(f"▲ {name} finds no room any more.", "overdue", 2)
        if found.breaks and ways_out == 0:
            yield Written("No way out was found among those that are tried.", "soft")
        yield from self._rounds(found)
        yield from self._moved(found)
        for window in found.eased:
            yield from _eased(window)

    def _broken(self, window: Window) -> Iterator[Written]:
        visit = window.visit
        over = format_duration(window.after)
        worse = f", {format_duration(window.by)} more" if window.before else ""
        yield Written(
            f"▲ {visit.hide_name}, {what_it_is(visit)}: {self._wall(visit.starts)}, "
            f"{over} past its latest{worse}",
            "overdue",
            2,
        )
        if visit.spoils:
            yield Written(f"  if late  {visit.spoils}", "text", 11)

    def _rounds(self, found: Difference) -> Iterator[Written]:
        for walk in found.rounds[:MOST_ROUNDS]:
            names = ", ".join(dict.fromkeys(given.hide_name for given in walk.gives))
            over = walk.at - walk.latest
            how = (
                f"{format_duration(over)} too late" if over > _NOTHING else "somebody must come in"
            )
            yield Written(f"▲ round {self._wall(walk.at)} for {names}: {how}", "due", 2)
        if len(found.rounds) > MOST_ROUNDS:
            more = len(found.rounds) - MOST_ROUNDS
            which = "one more like it" if more == 1 else f"{more} more like these"
            yield Written(f"▲ and {which}", "due", 2)

    def _moved(self, found: Difference) -> Iterator[Written]:
        for old, new in found.begins:
            when = f"{self._wall(new.starts)} instead of {self._wall(old.starts)}"
            yield Written(f"  {new.hide_name} is begun {when}", "text", 4)
        for finish in found.finishes:
            later = ""
            if finish.before is not None and finish.after is not None:
                gap = finish.after - finish.before
                later = f", {format_duration(abs(gap))} {'later' if gap > _NOTHING else 'sooner'}"
            days = f"{self._day(finish.after)} instead of {self._day(finish.before)}"
            yield Written(f"  {finish.hide_name} is done {days}{later}", "text", 4)


def _eased(window: Window) -> Iterator[Written]:
    visit = window.visit
    better = format_duration(-window.by)
    left = f", still {format_duration(window.after)} past it" if window.after else ""
    name = f"{visit.hide_name}, {what_it_is(visit)}"
    yield Written(f"✓ {name}: {better} less past its latest{left}", "text", 2)


def _breaks(found: Difference) -> str:
    """How much breaks, in a few words."""
    many = len(found.rounds)
    walks = f", {many} round{'s do' if many > 1 else ' does'} not fit" if many else ""
    if not found.breaks:
        return f"no visit breaks{walks}" if walks else "nothing breaks"
    if found.unplanned:
        return f"{found.breaks} windows or hides find no room{walks}"
    many = len(found.broken)
    words = f"{many} window{'s break' if many > 1 else ' breaks'}"
    return f"{words} by {format_duration(found.broken_by)} in all{walks}"
