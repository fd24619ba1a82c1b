"""A hide on its route as a case of drying: which stage, which air, which weighings count."""

from __future__ import annotations

from datetime import datetime, timedelta

import msgspec

from benchconsole.model.drying import Climate, DryingFigures
from benchconsole.model.hides import HideState
from benchconsole.model.routes import Hold, Route, Species, Stage
from benchconsole.schedule.drying.cases import DryingCase
from benchconsole.schedule.drying.exposure import Exposure
from benchconsole.schedule.drying.fitting import reading_doubt
from benchconsole.schedule.drying.forecast import DryingForecast, forecast
from benchconsole.schedule.drying.priors import prior_for

_HOUR = timedelta(hours=1)


def drying_stage(hide: HideState, route: Route) -> Stage | None:
    """The stage a hide is in or about to begin, if it dries there; else None."""
    if not hide.in_work:
        return None
    stage = next((stage for stage in route.stages if stage.id == hide.stage), None)
    return stage if stage is not None and stage.dries_to is not None else None


def forecast_for(
    hide: HideState,
    route: Route,
    *,
    species: Species | None,
    climate: Climate | None,
    scale_step_g: float,
    figures: DryingFigures,
    now: datetime,
    with_band: bool = True,
) -> DryingForecast | None:
    """The forecast of a hide in a stage that dries, None for any other.

    A stage not yet begun is taken as begun ``now``. Weighings of the stage before it began count
    for its beginning.
    """
    stage = drying_stage(hide, route)
    if stage is None or stage.dries_to is None:
        return None
    starts_at = hide.begun_at or now
    weighed = sorted(
        (each for each in hide.weighed if each.stage == stage.id), key=lambda each: each.at
    )
    prior = prior_for(
        figures,
        species,
        stage.dries_to,
        climate,
        hair_on=route.hair_on,
        first_mass_g=weighed[0].mass_g if weighed else None,
    )
    case = DryingCase(
        starts_at=starts_at,
        dries_to=stage.dries_to,
        prior=prior,
        exposure=Exposure.of(((each.at - starts_at) / _HOUR, each.cover) for each in hide.covered),
        readings=tuple(
            (
                max(0.0, (each.at - starts_at) / _HOUR),
                each.mass_g,
                reading_doubt(each.mass_g, scale_step_g, figures.handling_share.value),
            )
            for each in weighed
        ),
        climate=climate,
    )
    made = forecast(case, figures, now, with_band=with_band)
    hold = stage.hold_for(hide.species, hide.came)
    return made if hold is None else _held(made, starts_at, hold)


def _held(made: DryingForecast, starts_at: datetime, hold: Hold) -> DryingForecast:
    return msgspec.structs.replace(
        made, hold_earliest=starts_at + hold.min, hold_latest=starts_at + hold.max
    )
