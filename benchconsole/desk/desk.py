"""The desk: one door, with a window for each kind of business."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, tzinfo

import msgspec

from benchconsole.clock import Clock, ManualClock
from benchconsole.desk.archive import Archiving
from benchconsole.desk.books import Books
from benchconsole.desk.drying import Drying
from benchconsole.desk.hides import Hides
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.looking_on import LookingOn, Seen
from benchconsole.desk.moves import Moves
from benchconsole.desk.moving_out import MovingOut
from benchconsole.desk.own_copies import OwnCopies
from benchconsole.desk.planning import Planning
from benchconsole.desk.rounds import Rounds
from benchconsole.desk.settings import Settings
from benchconsole.desk.starting import Starting
from benchconsole.desk.supposing import Supposing
from benchconsole.desk.taps import Taps
from benchconsole.desk.timers import Timers
from benchconsole.desk.views import DayLine, HideRow
from benchconsole.desk.weigh_outs import WeighOuts
from benchconsole.errors import BadFile, NotKnown
from benchconsole.library import Library
from benchconsole.mixing.targets import AsWritten, Target, target_for
from benchconsole.mixing.worksheet import Worksheet, worksheet
from benchconsole.model.events import ShopSet
from benchconsole.model.shop import Shop
from benchconsole.model.state import HideState
from benchconsole.model.weighing import Liquor
from benchconsole.quantities import Measures
from benchconsole.store import Holder, MemoryRepository, Repository
from benchconsole.store.entries import together


class Desk:
    """Everything a screen or a command may ask for or do.

    ``refused`` are the person's own files that could not be used, for the screen to show.
    ``looking_on`` is there while another program writes to the shop, see :meth:`look_on`.
    """

    def __init__(
        self,
        repository: Repository,
        clock: Clock,
        library: Library,
        refused: Sequence[BadFile] = (),
    ) -> None:
        self._ledger = Ledger(repository, clock, library)
        self.refused = tuple(refused)
        self.looking_on: LookingOn | None = None
        self.hides = Hides(self._ledger)
        self.moves = Moves(self._ledger, self.hides)
        self.drying = Drying(self._ledger, self.hides)
        self.rounds = Rounds(self._ledger, self.hides)
        self.planning = Planning(self._ledger)
        self.starting = Starting(self._ledger, self.moves, self.planning)
        self.supposing = Supposing(self._ledger, self.moves, self.planning)
        self.timers = Timers(self._ledger)
        self.weigh_outs = WeighOuts(self._ledger)
        self.settings = Settings(self._ledger)
        self.taps = Taps(self._ledger)
        self.copies = OwnCopies(self._ledger)
        self.archive = Archiving(self._ledger)
        self.books = Books(self._ledger, self.archive)
        self.moving_out = MovingOut(self._ledger)

    @property
    def library(self) -> Library:
        """The substances, formulas, routes and species there are."""
        return self._ledger.library

    @property
    def shop(self) -> Shop:
        """The shop's settings."""
        return self._ledger.shop

    @property
    def shop_tag(self) -> str:
        """What tells this shop from every other, whatever it is called: when its history began.

        The same wherever its store is moved or copied to; empty while the history is.
        """
        began = self._ledger.began
        return began.astimezone(UTC).isoformat() if began else ""

    @property
    def version(self) -> int:
        """Grows with every change."""
        return self._ledger.version

    @property
    def store_notices(self) -> tuple[str, ...]:
        """What was found when the store was opened, a sentence each; empty if all was well."""
        return self._ledger.store_notices

    @property
    def notices(self) -> tuple[str, ...]:
        """What the person should know about this shop on this computer, a sentence each."""
        if not self._ledger.zone_is_missing:
            return self.store_notices
        return (
            *self.store_notices,
            f"The shop's time zone “{self.shop.zone}” is not known on this computer, so all times "
            "are by the computer's own clock: choose another zone in the settings.",
        )

    @property
    def doubt(self) -> str:
        """Why it is not known what the store holds, in a sentence; empty when it is known."""
        return self._ledger.doubt

    @property
    def refusal(self) -> str:
        """Why no tap is taken here, in a sentence; empty when taps are taken."""
        return self._ledger.only_looks

    def look_on(
        self, who_writes: Callable[[], Holder | None], sit_down: Callable[[], Repository]
    ) -> None:
        """Take no taps, and follow the program that writes; see ``LookingOn``."""
        self.looking_on = LookingOn(self._ledger, who_writes, sit_down)
        self.looking_on.take(self.looking_on.look())

    def take_over(self, repository: Repository, seen: Seen) -> None:
        """Take taps from now on, into a repository that ``LookingOn.open_to_write`` opened."""
        assert self.looking_on is not None, "who writes has nothing to take over"
        self.looking_on.take_over(repository, seen)
        self.looking_on = None

    @property
    def zone(self) -> tzinfo:
        """The zone of the shop's wall clock."""
        return self._ledger.zone

    def shop_in(self, measures: Measures | None) -> Shop:
        """The shop's settings, in other measures for once."""
        return msgspec.structs.replace(self.shop, measures=measures) if measures else self.shop

    def now(self) -> datetime:
        """The present instant, aware, UTC."""
        return self._ledger.now()

    def local(self, instant: datetime) -> datetime:
        """An instant on the shop's wall clock."""
        return instant.astimezone(self._ledger.zone)

    def worksheet(
        self,
        formula: str,
        target: Target | None = None,
        *,
        water_celsius: float | None = None,
        use: Sequence[str] = (),
        shop: Shop | None = None,
    ) -> Worksheet:
        """A formula scaled to a target, for this shop or one that differs from it.

        Raises ``NotKnown`` and ``BadInput``.
        """
        return worksheet(
            self.library.formula(formula),
            target or AsWritten(),
            substances=self.library.substances,
            shop=shop or self.shop,
            water_celsius=water_celsius,
            use=use,
            rules=self.library.incompatible,
        )

    def liquor(self, liquor_id: str) -> Liquor:
        """A liquor by its id; ``NotKnown`` if there is none."""
        liquors = self._ledger.state.liquors
        if liquor_id not in liquors:
            raise NotKnown("liquor", liquor_id, tuple(liquors))
        return liquors[liquor_id]

    def target_for(self, hide: HideState, formula: str) -> Target:
        """The target of a formula that fits one hide; raises ``NotKnown`` for no such formula."""
        chosen = self.library.formula(formula)
        return target_for(chosen, species=hide.species, count=hide.count, mass_g=hide.mass_g)

    def day_line(self, rows: Sequence[HideRow]) -> DayLine:
        """The line on top of the bench, for the hides as :meth:`Hides.rows` gave them."""
        now = self.now()
        hours = self.hides.hours()
        states = [row.action.state for row in rows]
        runs = [countdown.state for countdown in self.timers.all()]
        is_open = hours.is_open(now)
        coming = self.rounds.next(self.planning.current)
        return DayLine(
            now=self.local(now),
            open_until=hours.open_until(now) if is_open else None,
            opens_at=None if is_open else hours.next_open(now),
            overdue=states.count("overdue"),
            due=states.count("due"),
            running=runs.count("running"),
            ringing=runs.count("ringing"),
            round_at=coming.at if coming else None,
            round_hides=len({given.hide for given in coming.gives}) if coming else 0,
            away=bool(hours.away_words(now, now)),
        )

    def as_of(self, instant: datetime) -> Desk:
        """The shop as it stood at an instant, by what is known now: to look at, and to try out.

        What happened later is left out, and so is what was taken back since. The settings are
        those of today. Nothing that is done there is stored.
        """
        ledger = self._ledger
        then = MemoryRepository(ledger.until(instant, self.archive.at(instant)))
        clock = ManualClock(instant, ledger.clock.zone)
        return Desk(then, clock, ledger.library, self.refused)

    def in_archive(self, hide_id: str) -> Desk:
        """A hide of the archive as it was put away, on a desk of its own: to look at.

        Raises ``NotKnown``, and ``StoreError`` where its story cannot be read.
        """
        ledger = self._ledger
        settings = (each for each in ledger.standing if isinstance(each.event, ShopSet))
        history = self.archive.history_of(self.archive.get(hide_id))
        clock = ManualClock(ledger.now(), ledger.clock.zone)
        return Desk(MemoryRepository(together(settings, history)), clock, ledger.library)

    def close(self) -> None:
        """Let go of the store."""
        self._ledger.close()
