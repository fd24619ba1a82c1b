"""Drying hides at the desk: their forecast, their weighings, how they are covered."""

from __future__ import annotations

from benchconsole.desk.drying_workings import workings_of
from benchconsole.desk.hides import Hides
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.words import COVER_WORDS, tap_words
from benchconsole.errors import BadInput, NotPossibleNow
from benchconsole.library.drying_files import drying_figures
from benchconsole.mixing.working import Working
from benchconsole.model.drying import Cover
from benchconsole.model.events import CoverChanged, DryingWeighed, Event
from benchconsole.model.hides import HideState
from benchconsole.model.record import Record
from benchconsole.model.routes import Route, Stage
from benchconsole.quantities import read_mass
from benchconsole.schedule.drying import (
    DryingForecast,
    Look,
    drying_stage,
    forecast_for,
    forecast_words,
    looks,
)

HEAVIEST_G = 1_000_000.0
COVERS: dict[str, Cover] = {"open": "open", "loose": "loose", "plastic": "plastic"}


class DryingView(Record, frozen=True, kw_only=True):
    """A hide in a stage that dries: its forecast, when to look, and both in words.

    ``begun``: the stage was begun; else the forecast is that of beginning it now.
    """

    hide: HideState
    stage_name: str
    begun: bool
    forecast: DryingForecast
    looks: tuple[Look, ...]
    words: tuple[str, ...]
    workings: tuple[Working, ...]


class Drying:
    """The part of the desk for hides that dry."""

    def __init__(self, ledger: Ledger, hides: Hides) -> None:
        self._ledger = ledger
        self._hides = hides

    def dries(self, hide_id: str) -> bool:
        """Whether the hide is in a stage that dries, or about to begin one."""
        hide = self._hides.get(hide_id)
        route = self._ledger.library.routes.get(hide.route)
        return route is not None and drying_stage(hide, route) is not None

    def must_dry(self, hide_id: str) -> None:
        """Refuse with ``NotPossibleNow`` for a hide that does not dry now."""
        self._drying(hide_id)

    def forecast(self, hide_id: str) -> DryingView:
        """The forecast as it stands; ``NotPossibleNow`` for a hide that does not dry now."""
        hide, route, stage = self._drying(hide_id)
        ledger = self._ledger
        now, species = ledger.now(), ledger.library.species.get(hide.species)
        made = self.plain_forecast(hide_id, with_band=True)
        return DryingView(
            hide=hide,
            stage_name=stage.name,
            begun=hide.begun_at is not None,
            forecast=made,
            looks=looks(made, self._hides.hours(), now),
            words=forecast_words(made, ledger.zone, now),
            workings=workings_of(
                made, drying_figures(), species, ledger.shop.climate, hair_on=route.hair_on
            ),
        )

    def plain_forecast(self, hide_id: str, *, with_band: bool = False) -> DryingForecast:
        """The forecast alone, quicker without the band that a picture needs."""
        hide, route, _ = self._drying(hide_id)
        ledger = self._ledger
        made = forecast_for(
            hide,
            route,
            species=ledger.library.species.get(hide.species),
            climate=ledger.shop.climate,
            scale_step_g=ledger.shop.scale.step_g,
            figures=drying_figures(),
            now=ledger.now(),
            with_band=with_band,
        )
        assert made is not None, "a hide that dries has a forecast"
        return made

    def weigh(self, hide_id: str, text: str) -> str:
        """Write down what the hide weighs now; the sentence to show.

        Raises ``BadInput`` for a weight that cannot be read, ``NotPossibleNow`` for a hide that
        does not dry now.
        """
        hide, route, stage = self._drying(hide_id)
        shop = self._ledger.shop
        mass_g = read_mass(text, field="weight", measures=shop.measures)
        if mass_g > HEAVIEST_G:
            raise BadInput("weight", "no hide weighs more than a tonne", "1480 g")
        return self._record(hide, route, DryingWeighed(hide=hide.id, stage=stage.id, mass_g=mass_g))

    def cover(self, hide_id: str, word: str) -> str:
        """Say that the hide lies open, loosely covered or under plastic now; the sentence to show.

        ``word`` is one of ``open``, ``loose``, ``plastic``; ``BadInput`` for another,
        ``NotPossibleNow`` if it lies so already, or the stage is not begun.
        """
        hide, route, stage = self._drying(hide_id)
        cover = COVERS.get(" ".join(word.lower().split()))
        if cover is None:
            raise BadInput("cover", f"“{word[:40]}” is none of {', '.join(COVERS)}", "plastic")
        if hide.begun_at is None:
            raise NotPossibleNow(f"{hide.name}: “{stage.name}” is not begun; begin it first.")
        if cover == self.cover_of(hide):
            raise NotPossibleNow(f"{hide.name} is {COVER_WORDS[cover]} already.")
        return self._record(hide, route, CoverChanged(hide=hide.id, stage=stage.id, cover=cover))

    def cover_of(self, hide: HideState) -> Cover:
        """How a hide lies now."""
        return hide.covered[-1].cover if hide.covered else "open"

    def _drying(self, hide_id: str) -> tuple[HideState, Route, Stage]:
        hide = self._hides.get(hide_id)
        route = self._ledger.library.routes.get(hide.route)
        stage = None if route is None else drying_stage(hide, route)
        if route is None or stage is None:
            raise NotPossibleNow(f"{hide.name} is in no stage that dries it.")
        return hide, route, stage

    def _record(self, hide: HideState, route: Route, event: Event) -> str:
        self._ledger.record([event])
        return f"{hide.name}: {tap_words([event], route, self._ledger.zone)}"
