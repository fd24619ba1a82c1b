"""The backup copies of the shop: which there are, how old, and what each holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from typing import Any, ClassVar

from benchconsole.console.acts import Act
from benchconsole.console.screens.worked_out import WorkedOutScreen
from benchconsole.console.widgets.paper import Written
from benchconsole.console.widgets.pick_list import PickLine
from benchconsole.console.wording import at_the_wall
from benchconsole.desk.copies import CopyRow, age_words, before_words, size_words, taps_words
from benchconsole.errors import NotPossibleNow


class LookAtCopy(Act["CopiesScreen"]):
    """What putting the picked copy back would change; nothing is changed yet."""

    keys = "enter"
    label = "Look at it"

    def possible(self, screen: CopiesScreen) -> bool:
        """When one is picked that can be used."""
        row = screen.row
        return row is not None and not row.holding.fault

    def run(self, screen: CopiesScreen) -> None:
        """Open the page of its changes; after a restore both pages are left."""
        from benchconsole.console.screens.put_back import PutBackScreen

        row = screen.row
        if row is None:
            raise NotPossibleNow("No copy is picked.")
        if row.holding.fault:
            raise NotPossibleNow(f"This copy cannot be put back: {row.holding.fault}.")

        def left(sentence: str | None) -> None:
            if sentence:
                screen.dismiss(sentence)

        screen.app.push_screen(PutBackScreen(row), left)


class CopiesScreen(WorkedOutScreen["str | None", tuple[CopyRow, ...]]):
    """Dismissed with the sentence to show after a restore, or None."""

    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (LookAtCopy,)

    @property
    def row(self) -> CopyRow | None:
        """The picked copy."""
        picked = self.picks.picked if self.answer else ""
        return next((row for row in self.answer or () if str(row.number) == picked), None)

    def heading(self) -> str:
        """What they are."""
        many = f"{len(self.answer)}, " if self.answer else ""
        return f"Backup copies of the shop  ·  {many}one an hour while something changes"

    def job(self) -> Callable[[Callable[[], None]], tuple[CopyRow, ...]]:
        """All copies, read through."""
        listing = self.console.desk.copies.listing()
        return lambda _between: listing()

    def lines(self, answer: tuple[CopyRow, ...]) -> Sequence[PickLine]:
        """The copies, the newest first."""
        return [PickLine(str(row.number), self._line(row), 4) for row in answer]

    def about(self, answer: tuple[CopyRow, ...], picked: str) -> Sequence[Written]:
        """What the picked one holds."""
        row = self.row
        if row is None:
            return [
                Written(
                    "There are no copies yet. One is made after the shop was opened, and then "
                    "every hour while something changes."
                )
            ]
        return list(self._written(row))

    def _line(self, row: CopyRow) -> str:
        holding, now = row.holding, self.console.desk.now()
        held = f"▲ {holding.fault}"
        if not holding.fault:
            last = f", last {self._wall(holding.last_at)}" if holding.last_at else ""
            held = f"{taps_words(holding.taps):>9}{last}"
        before = f" ({before_words(row.backup)})" if row.backup.before else ""
        return f"{self._wall(row.backup.at):<17} {age_words(row.backup.at, now):<11} {held}{before}"

    def _written(self, row: CopyRow) -> Iterator[Written]:
        holding, backup = row.holding, row.backup
        why = f", {before_words(backup)}" if backup.before else ""
        age = age_words(backup.at, self.console.desk.now())
        yield Written(f"Made {self._wall(backup.at)}, {age} ago{why}.", "strong")
        if holding.fault:
            yield Written(f"▲ It cannot be put back: {holding.fault}.", "overdue")
        elif holding.last_at is not None:
            yield Written(
                f"It holds {taps_words(holding.taps)}; the last happened "
                f"{self._wall(holding.last_at)}."
            )
        yield Written("enter shows what putting it back would change; nothing is changed by that.")
        yield Written(f"{backup.name}, {size_words(backup.size)}", "soft")

    def _wall(self, instant: datetime) -> str:
        desk = self.console.desk
        return at_the_wall(instant, desk.now(), desk.zone)
