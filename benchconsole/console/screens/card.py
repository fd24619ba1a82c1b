"""The hide card: everything about one hide on one page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from benchconsole.console.screens.card_acts import (
    LostOnCard,
    MoveOnCard,
    NoteOnCard,
    OpenCurve,
    SplitOnCard,
    SpoiledOnCard,
    UndoOnCard,
    WeighOnCard,
)
from benchconsole.console.screens.history_acts import HistoryOnCard, PutBackOfHide
from benchconsole.console.screens.pages import PageScreen
from benchconsole.console.screens.writing import action_lines, when
from benchconsole.console.widgets.paper import BLANK, Written
from benchconsole.desk.views import HideCard
from benchconsole.errors import BenchError, NotKnown
from benchconsole.model.weighing import Liquor
from benchconsole.quantities import (
    format_mass,
    format_strength,
    format_temperature,
    format_volume,
)

if TYPE_CHECKING:
    from benchconsole.desk import Desk

PLACES = {
    "before": ("–", "before"),
    "done": ("■", "done"),
    "skipped": ("○", "skipped"),
    "here": ("▶", "HERE"),
    "ahead": ("□", "ahead"),
}
"""A mark and a word for the stages of the route; ``before``: it came in past this one."""


class CardPage(PageScreen):
    """What is written on the card of one hide."""

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id
        self._card: HideCard | None = None

    @property
    def desk(self) -> Desk:
        """The desk that knows the hide."""
        return self.console.desk

    def write(self) -> None:
        """Ask for the card once, then write it."""
        try:
            self._card = self.desk.hides.card(self.hide)
        except NotKnown:
            # Its taking-in was undone: the page is closing, or that was at another console.
            if self.is_current:
                self.dismiss(None)
            return
        super().write()

    @property
    def card(self) -> HideCard:
        """The card as it stands."""
        assert self._card is not None, "it is asked for before the page is written"
        return self._card

    def heading(self) -> str:
        """Name, lot, species, weight."""
        hide, shop = self.card.hide, self.desk.shop
        animal = self.desk.library.species.get(hide.species)
        words = [hide.name, animal.name if animal else hide.species]
        if hide.count > 1:
            words.append(f"a lot of {hide.count}")
        if hide.mass_g is not None:
            words.append(format_mass(hide.mass_g, measures=shop.measures, step_g=shop.scale.step_g))
        words.append(self.card.route_name)
        return "  ·  ".join(words)

    def left(self) -> list[Written]:
        """The next action, then the route."""
        desk = self.desk
        return [
            Written("NEXT", "head"),
            *action_lines(self.card.action, desk.now(), desk.zone, desk.library),
            BLANK,
            Written(f"ROUTE: {self.card.route_name}", "head"),
            *self.route(),
            *self._cautions(),
        ]

    def route(self) -> Iterator[Written]:
        """The stages, and where each lies for the hide."""
        if not self.card.stages:
            yield Written("This route is not in the library; bring its file back.", "overdue")
        for stage in self.card.stages:
            mark, word = PLACES[stage.place]
            yield Written(
                f"{mark} {word:<7} {stage.name}", "strong" if stage.place == "here" else "text"
            )

    def _cautions(self) -> Iterator[Written]:
        """What the route warns of, for as long as the hide is on it."""
        way = self.desk.library.routes.get(self.card.hide.route)
        if way is not None and way.cautions and self.card.hide.stage:
            yield BLANK
            yield Written("CAUTIONS", "head")
            yield from (Written(f"• {caution}", hang=2) for caution in way.cautions)

    def right(self) -> list[Written]:
        """What went into it, and what was done."""
        lines = [Written("LIQUORS", "head")]
        for liquor in self.card.liquors:
            lines += self._liquor(liquor)
        if not self.card.liquors:
            lines.append(Written("None was weighed out for this hide yet."))
        lines += [BLANK, Written("HISTORY, newest first", "head")]
        zone, now = self.desk.zone, self.desk.now()
        for at, words in reversed(self.card.history):
            lines.append(Written(f"{when(at, now, zone):<12}  {words}", hang=14))
        return lines

    def _liquor(self, liquor: Liquor) -> Iterator[Written]:
        desk = self.desk
        shop, measures = desk.shop, desk.shop.measures
        made = when(liquor.made_at, desk.now(), desk.zone)
        volume = f", {format_volume(liquor.volume_l, measures=measures)}" if liquor.volume_l else ""
        water = format_temperature(liquor.water_celsius, measures=measures)
        yield Written(f"{liquor.id}  {liquor.formula_name}{volume}, made {made}", "strong", 4)
        if liquor.id in self.card.spoiled:
            yield Written(f"    SPOILED: {self.card.spoiled[liquor.id]}", "overdue", hang=6)
        for line in liquor.lines:
            amount = format_mass(line.actual_g, measures=measures, step_g=shop.scale.step_g)
            off = abs(line.actual_g - line.target_g)
            asked = ""
            if off >= shop.scale.step_g / 2 and line.target_g > 0.0:
                asked = f"  ({100 * line.deviation:+.1f} %)"
            yield Written(f"    {line.name}: {amount}{asked}", hang=6)
        strong = ", ".join(
            f"{self._substance(s.substance)} {format_strength(s.g_per_l)}" for s in liquor.strengths
        )
        if strong:
            yield Written(f"    {strong}; water at {water}", "soft", 4)

    def _substance(self, substance_id: str) -> str:
        known = self.desk.library.substances.get(substance_id)
        return str(known.name) if known else substance_id


class CardScreen(CardPage):
    """The card of one hide in the shop."""

    ACTS = (
        NoteOnCard,
        OpenCurve,
        WeighOnCard,
        UndoOnCard,
        MoveOnCard,
        SplitOnCard,
        SpoiledOnCard,
        LostOnCard,
        HistoryOnCard,
        PutBackOfHide,
    )

    def told(self, sentence: str | None) -> None:
        """Show what a tap did; a hide whose taking-in was undone has no card any more."""
        if sentence:
            self.tell(sentence)
        try:
            self.console.desk.hides.get(self.hide)
        except BenchError:
            self.dismiss(None)
        else:
            self.look_again()
