"""Taking a hide, or a lot of like skins, into the shop."""

from __future__ import annotations

from collections.abc import Iterable

from textual import on
from textual.containers import Horizontal
from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Choice, Field, Line
from benchconsole.errors import BadInput

CAME_WORDS = {"green": "green (fresh)", "salted": "salted", "dried": "dried (stiff)"}
"""The usual conditions in a person's words; another one stands as its route names it."""

WEIGHTS = {"us": "2 lb 8 oz", "imperial": "2 lb 8 oz", "metric": "1.2 kg"}


class KeepHide(Act["TakeInScreen"]):
    """Take the hide in as it stands on the form; enter on the last field does the same."""

    keys = "f2"
    label = "Take in"
    records = True
    while_typing = True

    def run(self, screen: TakeInScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class TakeInScreen(FormScreen[str]):
    """Dismissed with the new hide's id, or None."""

    ACTS = (KeepHide,)
    keep = KeepHide

    def heading(self) -> str:
        """The line on top."""
        return "Take in a hide"

    def entries(self) -> Iterable[Widget]:
        """Name and count, then what it is, how it goes and how it came."""
        desk = self.console.desk
        animals = sorted(desk.library.species.values(), key=lambda kind: kind.name.casefold())
        with Horizontal(classes="row"):
            yield Field("name", "Name, such as brown goat", Line(), id="name")
            yield Field("weight", f"Weight of all ({self._weight()})", Line(), id="weight")
            yield Field("count", "How many", Line("1", replace=True), id="count")
        with Horizontal(classes="row lists"):
            yield Field(
                "species",
                "Species",
                Choice([(animal.id, animal.name) for animal in animals]),
                id="species",
            )
            yield Field("route", "Route", Choice(self._routes("")), id="route")
            yield Field("came in", "It came", Choice(), id="came")

    def _weight(self) -> str:
        return WEIGHTS[self.console.desk.shop.measures]

    def _routes(self, species: str) -> list[tuple[str, str]]:
        """The routes, those that fit the species first; the others say that they are others."""
        routes = list(self.console.desk.library.routes.values())
        names = {way.id: f"{way.name} (own)" if way.own else way.name for way in routes}
        fit = [(way.id, names[way.id]) for way in routes if species in way.species]
        others = [(way.id, names[way.id]) for way in routes if species not in way.species]
        if not species:
            return others
        return [*fit, *((key, f"{name} (other)") for key, name in others)]

    @on(Choice.Changed)
    def _fit(self, event: Choice.Changed) -> None:
        """A species brings up its routes, a route the ways a hide can come in."""
        route, came = self.field("route").entry, self.field("came in").entry
        assert isinstance(route, Choice)
        assert isinstance(came, Choice)
        library = self.console.desk.library
        if event.choice is self.field("species").entry:
            species = self.text("species")
            kept = route.value
            fits = kept in library.routes and species in library.routes[kept].species
            routes = self._routes(species)
            route.offer(routes, kept if fits else self._only_route(species))
        way = library.routes.get(route.value)
        starts = way.starts if way else {}
        came.offer([(key, CAME_WORDS.get(key, key)) for key in starts], came.value)
        self.forgive()

    def _only_route(self, species: str) -> str:
        """The route that fits a species, if it is the only one; a choice of several is asked."""
        ways = self.console.desk.library.routes.values()
        fit = [way.id for way in ways if species in way.species]
        return fit[0] if len(fit) == 1 else ""

    def hint(self) -> str:
        """What the chosen route makes, and where on it this hide begins."""
        if not self.is_mounted:
            return ""
        way = self.console.desk.library.routes.get(self.text("route"))
        if way is None:
            return "Enter goes on; in a list the arrows or a first letter choose."
        species = self.text("species")
        if species and species not in way.species:
            meant = ", ".join(way.species)
            return f"This route is meant for {meant}, not for {species}."
        start = way.starts.get(self.text("came in"), "")
        first = next((stage.name for stage in way.stages if stage.id == start), "")
        return f"{way.purpose}." + (f" It begins with: {first}." if first else "")

    def hand_in(self) -> str:
        """Take it in; the new hide's id."""
        examples = {"species": "goat", "route": "Hair-on alum pelt", "came in": "salted"}
        for field, example in examples.items():
            if self.text("name").strip() and not self.text(field):
                raise BadInput(field, "nothing is chosen yet", example)
        hide = self.console.desk.hides.take_in(
            name=self.text("name"),
            species=self.text("species"),
            route=self.text("route"),
            came=self.text("came in"),
            weight=self.text("weight"),
            count=self.text("count"),
        )
        return str(hide.id)
