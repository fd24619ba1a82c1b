"""When to begin with a hide: the best start of each day, and what would come of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, ClassVar

from benchconsole.console.acts import Act
from benchconsole.console.screens.worked_out import WorkedOutScreen
from benchconsole.console.widgets.paper import Look, Written
from benchconsole.console.widgets.pick_list import PickLine
from benchconsole.console.wording import at_the_wall
from benchconsole.desk.starting import StartsAnswer, work_out_starts
from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.plan_words import late_words, what_it_is
from benchconsole.exchange.starts import GRADE_MARKS, start_line

if TYPE_CHECKING:
    from benchconsole.schedule.planning.starting import StartChoice

_LOOKS: dict[str, Look] = {"good": "ready", "poor": "due", "bad": "overdue"}


class ChooseStart(Act["StartsScreen"]):
    """Begin the hide at the picked time; u on the bench takes it back.

    Good keeps every latest time, poor too but is further past due, bad breaks one or cannot be.
    """

    keys = "enter"
    label = "Begin then"
    records = True
    settle_s = 0.5

    def possible(self, screen: StartsScreen) -> bool:
        """When a start is picked at which it can be."""
        return screen.choice is not None

    def run(self, screen: StartsScreen) -> None:
        """Store it."""
        choice = screen.choice
        if choice is None:
            raise NotPossibleNow("No start is picked.")
        screen.dismiss(screen.console.desk.starting.choose(screen.hide, choice.at))


class ClearStart(Act["StartsScreen"]):
    """Leave the start to the plan again."""

    keys = "c"
    label = "Clear"
    records = True

    def run(self, screen: StartsScreen) -> None:
        """Take the chosen start away."""
        screen.dismiss(screen.console.desk.starting.clear(screen.hide))


class HoursOfDay(Act["StartsScreen"]):
    """Every hour of the picked day, and back to the days."""

    keys = "h"
    label = "Hours"

    def run(self, screen: StartsScreen) -> None:
        """Turn from days to hours, or back."""
        screen.turn()


class StartsScreen(WorkedOutScreen["str | None", StartsAnswer]):
    """Dismissed with the sentence to show, or None."""

    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (ChooseStart, ClearStart, HoursOfDay)

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id
        self._day: date | None = None

    @property
    def choice(self) -> StartChoice | None:
        """The picked start."""
        if self.answer is None:
            return None
        return next((c for c in self._shown(self.answer) if _id(c.at) == self.picks.picked), None)

    def heading(self) -> str:
        """Which hide, which stage, and what is chosen or planned."""
        desk = self.console.desk
        words = [f"When to begin {desk.hides.get(self.hide).name}"]
        if self.answer is not None:
            starts, now = self.answer.starts, desk.now()
            words.append(f"“{starts.stage_name}”")
            if starts.chosen is not None:
                words.append(f"chosen {at_the_wall(starts.chosen, now, desk.zone)}")
            if starts.planned is not None:
                words.append(f"planned {at_the_wall(starts.planned, now, desk.zone)}")
        return "  ·  ".join(words)

    def job(self) -> Callable[[Callable[[], None]], StartsAnswer]:
        """Every start of the coming days."""
        asked = self.console.desk.starting.ask(self.hide)
        return lambda between: work_out_starts(asked, between)

    def taken(self, answer: StartsAnswer) -> None:
        """The plan of all the others is good for the timeline, too."""
        self.console.desk.starting.take(answer)

    def first_picked(self, answer: StartsAnswer) -> str:
        """The best of all."""
        return _id(answer.starts.ranked[0].at) if answer.starts.ranked else ""

    def lines(self, answer: StartsAnswer) -> Sequence[PickLine]:
        """The best start of every day, or all starts of one."""
        zone = self.console.desk.zone
        return [
            PickLine(_id(c.at), start_line(c, answer.starts, zone), 21) for c in self._shown(answer)
        ]

    def about(self, answer: StartsAnswer, picked: str) -> Sequence[Written]:
        """What would come of the picked start."""
        choice = self.choice
        if choice is None:
            return [Written("There is no open hour in the coming days to begin it.")]
        return list(self._written(choice))

    def turn(self) -> None:
        """From the days to the hours of the picked one, or back."""
        choice, answer = self.choice, self.answer
        if choice is None or answer is None:
            return
        day = self.console.desk.local(choice.at).date()
        self._day = day if self._day is None else None
        back = next((c for c in self._shown(answer) if self._local_day(c.at) == day), choice)
        self.write(_id(back.at if self._day is None else choice.at))

    def _shown(self, answer: StartsAnswer) -> Sequence[StartChoice]:
        if self._day is None:
            return answer.starts.by_day
        of_day = [c for c in answer.starts.ranked if self._local_day(c.at) == self._day]
        return sorted(of_day, key=lambda c: c.at)

    def _local_day(self, at: datetime) -> date:
        return self.console.desk.local(at).date()

    def _written(self, choice: StartChoice) -> Iterator[Written]:
        desk = self.console.desk
        now, zone = desk.now(), desk.zone
        head = f"{GRADE_MARKS[choice.grade]} Begun {at_the_wall(choice.at, now, zone)}: "
        words = choice.words or "every visit would stand at its due time"
        if not choice.visits:
            head += "it cannot be, "
        yield Written(f"{head}{words}.", _LOOKS[choice.grade], 2)
        for visit in choice.visits:
            late = late_words(visit)
            when = at_the_wall(visit.starts, now, zone)
            look: Look = "overdue" if visit.past_latest else "text"
            mark = "▲" if visit.past_latest else " "
            row = f"{mark} {when:<16} {what_it_is(visit)}"
            yield Written(f"{row}, {late}" if late else row, look, 19)


def _id(at: datetime) -> str:
    return at.isoformat()
