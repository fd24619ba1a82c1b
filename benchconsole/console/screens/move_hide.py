"""The form that puts a hide at another stage, or on another route."""

from __future__ import annotations

from collections.abc import Iterable

from textual import on
from textual.containers import Horizontal
from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Choice, Field
from benchconsole.errors import BadInput
from benchconsole.model.state import HideState

THE_END = ("*", "(finished)")
TO_BEGIN = ("to-begin", "it is to begin this stage")
IN_IT = ("in-it", "it is in this stage already: its time so far counts on")


class KeepMove(Act["MoveHideScreen"]):
    """Move the hide; enter on the last field does the same."""

    keys = "f2"
    label = "Move"
    records = True
    while_typing = True

    def run(self, screen: MoveHideScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class MoveHideScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepMove,)
    keep = KeepMove

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id

    def heading(self) -> str:
        """What it is about."""
        hide = self.console.desk.hides.get(self.hide)
        return f"Move {hide.name}, now at {self._now(hide)}"

    def _now(self, hide: HideState) -> str:
        way = self.console.desk.library.routes.get(hide.route)
        stages = way.stages if way else ()
        name = next((each.name for each in stages if each.id == hide.stage), hide.stage)
        return f"“{name}”" if name else "the end of its route"

    def entries(self) -> Iterable[Widget]:
        """Route and stage; for another route, whether it is in that stage already."""
        hide = self.console.desk.hides.get(self.hide)
        routes = self._routes(hide)
        here = hide.route if hide.route in dict(routes) else ""
        with Horizontal(classes="row lists"):
            yield Field("route", "Route", Choice(routes, here), id="route")
            yield Field("stage", "To this stage", Choice(self._stages(here)), id="stage")
        yield Field("begun", "There", Choice([TO_BEGIN], TO_BEGIN[0]), id="begun")

    def _routes(self, hide: HideState) -> list[tuple[str, str]]:
        """Its own route, then those that fit the species, then the others, which say so."""
        ways = self.console.desk.library.routes.values()
        own = [(way.id, f"{way.name} (now)") for way in ways if way.id == hide.route]
        others = [way for way in ways if way.id != hide.route]
        fit = [(way.id, way.name) for way in others if hide.species in way.species]
        rest = [
            (way.id, f"{way.name} (other)") for way in others if hide.species not in way.species
        ]
        return [*own, *fit, *rest]

    def _stages(self, route: str) -> list[tuple[str, str]]:
        way = self.console.desk.library.routes.get(route)
        if way is None:
            return []
        stages = [(stage.id, stage.name) for stage in way.stages]
        own = route == self.console.desk.hides.get(self.hide).route
        return [*stages, THE_END] if own else stages

    @on(Choice.Changed)
    def _fit(self, event: Choice.Changed) -> None:
        """A route brings up its stages; another one may find the hide in a stage already."""
        stage, begun = self.field("stage").entry, self.field("begun").entry
        assert isinstance(stage, Choice)
        assert isinstance(begun, Choice)
        hide = self.console.desk.hides.get(self.hide)
        if event.choice is self.field("route").entry:
            route = self.text("route")
            stage.offer(self._stages(route), "")
            in_one = route != hide.route and hide.begun_at is not None
            begun.offer([TO_BEGIN, IN_IT] if in_one else [TO_BEGIN], TO_BEGIN[0])
        self.forgive()

    def hint(self) -> str:
        """What the chosen stage asks to be done."""
        if not self.is_mounted:
            return ""
        way = self.console.desk.library.routes.get(self.text("route"))
        stages = way.stages if way else ()
        chosen = next((each for each in stages if each.id == self.text("stage")), None)
        if chosen is None:
            return "Enter goes on; in a list the arrows or a first letter choose."
        return chosen.do

    def hand_in(self) -> str:
        """Move it; the sentence to show."""
        stage = self.text("stage")
        if not stage:
            raise BadInput("stage", "nothing is chosen yet", "Soak")
        return self.console.desk.moves.move(
            self.hide,
            route=self.text("route"),
            stage="" if stage == THE_END[0] else stage,
            begun=self.text("begun") == IN_IT[0],
        )
