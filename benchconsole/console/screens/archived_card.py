"""The card of a hide in the archive: to read, and to bring the hide back from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act
from benchconsole.console.screens.card import CardPage
from benchconsole.console.widgets.paper import BLANK, Written
from benchconsole.exchange.finished import day_words

if TYPE_CHECKING:
    from benchconsole.desk import Desk
    from benchconsole.model.archive_events import ArchivedHide


class FetchHide(Act["ArchivedCardScreen"]):
    """Bring this hide back to the bench with its whole history; undo puts it back here.

    What it was split from or into comes with it. It goes to the archive again when nothing was
    noted of it for another month.
    """

    keys = "b"
    label = "Bring back"

    def run(self, screen: ArchivedCardScreen) -> None:
        """Bring it back, and go to the bench."""
        screen.said = screen.console.desk.archive.bring_back(screen.hide)
        screen.dismiss(None)


class ArchivedCardScreen(CardPage):
    """A card on a desk of its own; ``said`` tells of the bringing back, empty if it stays."""

    ACTS = (FetchHide,)

    def __init__(self, hide: ArchivedHide, desk: Desk) -> None:
        super().__init__(hide.id)
        self._put_away = hide
        self._desk = desk
        self.said = ""

    @property
    def desk(self) -> Desk:
        """The desk over what the archive holds of it."""
        return self._desk

    def left(self) -> list[Written]:
        """When it came and went, then its way as it was put away."""
        hide, zone = self._put_away, self.desk.zone
        ended = f"lost, {self.card.hide.out_why}" if hide.lost else "finished"
        days = (hide.out_at - hide.came_at).days
        return [
            Written(f"IN THE ARCHIVE OF {hide.year}", "head"),
            Written(f"Came {day_words(hide.came_at, zone)}, {self.card.hide.came}."),
            Written(f"{day_words(hide.out_at, zone)}: {ended}, after {days} days.", hang=2),
            Written("b brings it back to the bench; here it is only to read.", "soft"),
            BLANK,
            Written(f"ROUTE: {self.card.route_name}", "head"),
            *self.route(),
        ]
