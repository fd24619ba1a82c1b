"""The drying forecast of one hide: when it is damp, soft, dry, and how sure that is.

"Not known" is an answer like any other and stands in words: where nobody said what air it is, where
a hide got heavier, where the air keeps it moister than the state that is waited for.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Literal

from benchconsole.model.drying import Cover, DryingFigures, MoistureWindow
from benchconsole.model.record import Record
from benchconsole.model.routes import DriesTo
from benchconsole.schedule.drying.cases import DryingCase, as_it_dries_now, why_not_known
from benchconsole.schedule.drying.curves import dry_basis, wet_basis
from benchconsole.schedule.drying.fitting import Fit, Reading, fitted
from benchconsole.schedule.drying.priors import LEAST_DRYING
from benchconsole.schedule.drying.sampling import Draw, Spread, drawn, spread_of

FARTHEST = timedelta(days=365)
"""What lies further off is as good as never."""
BAND_POINTS = 49
PAST_THE_MIDDLE = 2.5
"""The picture ends at so many times the likely time of the window's end."""
NEARLY_AT_REST = 0.05
"""Air-dry is a hide that has a twentieth of its way left, where the air keeps it from 15 %."""
SCATTER = 3.0
"""From this misfit on the weighings are said not to lie on one curve. Our own choice, as above."""

_ORDER: tuple[DriesTo, ...] = ("damp", "soft", "dry")


class Span(Record, frozen=True, kw_only=True):
    """When something comes about: nine in ten after ``low``, half by ``mid``, nine in ten by
    ``high``; None: at no time that could be told."""

    low: datetime | None = None
    mid: datetime | None = None
    high: datetime | None = None


class WindowForecast(Record, frozen=True, kw_only=True):
    """When a state begins and ends; ``unknown`` says why that is not known.

    ``upper`` and ``lower`` are its moistures, wet basis (``lower`` 0: it lasts).
    """

    id: DriesTo
    name: str
    upper: float
    lower: float
    opens: Span = Span()
    closes: Span = Span()
    unknown: str = ""


class BandPoint(Record, frozen=True, kw_only=True):
    """The moisture to be expected at an instant, wet basis, and its 10 and 90 % points."""

    at: datetime
    low: float
    mid: float
    high: float


class WeighedMoisture(Record, frozen=True, kw_only=True):
    """A weighing, and the moisture it means by what is known now of the dry weight; wet basis."""

    at: datetime
    mass_g: float
    moisture: float


class DryingForecast(Record, frozen=True, kw_only=True):
    """What is to be expected of one hide; ``unknown`` says in words why nothing is.

    ``starts_at`` is when its curve began: with the stage, or when it was damped again.
    ``windows`` begin with that of the stage, those after it follow. ``rest``, ``rate_per_h``,
    ``exponent``, ``dry_mass_g`` are (low, middle, high); ``rest`` is the moisture that the air
    leaves, wet basis. ``hold_earliest`` and ``hold_latest`` are the stage's own window.
    """

    made_at: datetime
    starts_at: datetime
    dries_to: DriesTo
    cover: Cover
    rests_on: Literal["nothing", "figures", "weighings"]
    unknown: str = ""
    notes: tuple[str, ...] = ()
    windows: tuple[WindowForecast, ...] = ()
    band: tuple[BandPoint, ...] = ()
    weighings: tuple[WeighedMoisture, ...] = ()
    now: BandPoint | None = None
    rest: tuple[float, float, float] = (0.0, 0.0, 0.0)
    rate_per_h: tuple[float, float, float] = (0.0, 0.0, 0.0)
    exponent: tuple[float, float, float] = (0.0, 0.0, 0.0)
    dry_mass_g: tuple[float, float, float] = (0.0, 0.0, 0.0)
    misfit: float = 0.0
    hold_earliest: datetime | None = None
    hold_latest: datetime | None = None

    @property
    def target(self) -> WindowForecast | None:
        """The window that the stage dries to; None where nothing is known."""
        return self.windows[0] if self.windows else None


def forecast(
    case: DryingCase, figures: DryingFigures, now: datetime, *, with_band: bool = True
) -> DryingForecast:
    """The forecast of a hide as it is known ``now``; ``with_band`` for a picture of it."""
    case, note = as_it_dries_now(case)
    fit = fitted(case.prior, case.exposure, [Reading(*each) for each in case.readings])
    draws = drawn(fit)
    if unknown := why_not_known(case):
        return _not_known(case, draws, unknown, now)
    notes = [note] if note else []
    if case.climate is None:
        notes.append("the air was not said: this rests on the weighings alone")
    if fit.misfit > SCATTER:
        notes.append(
            "the weighings do not lie on one curve (another air, or weighed with something on "
            "it), so the doubt is wide"
        )
    windows = tuple(
        _window(figures.window_of(state), draws, case, fit)
        for state in _ORDER[_ORDER.index(case.dries_to) :]
    )
    return DryingForecast(
        made_at=now,
        starts_at=case.starts_at,
        dries_to=case.dries_to,
        cover=case.exposure.cover,
        rests_on="weighings" if case.readings else "figures",
        notes=tuple(notes),
        windows=windows,
        band=_band(draws[::2], case, windows, now) if with_band else (),
        weighings=_weighed(case, draws),
        now=_point(draws, case, now),
        rest=_three(spread_of(draws, lambda draw: wet_basis(draw.rest))),
        rate_per_h=_three(spread_of(draws, lambda draw: draw.rate_per_h)),
        exponent=_three(spread_of(draws, lambda draw: draw.exponent)),
        dry_mass_g=_three(spread_of(draws, lambda draw: draw.dry_mass_g)),
        misfit=fit.misfit,
    )


def _not_known(
    case: DryingCase, draws: Sequence[Draw], unknown: str, now: datetime
) -> DryingForecast:
    return DryingForecast(
        made_at=now,
        starts_at=case.starts_at,
        dries_to=case.dries_to,
        cover=case.exposure.cover,
        rests_on="nothing",
        unknown=unknown,
        weighings=_weighed(case, draws),
    )


def _window(
    window: MoistureWindow, draws: Sequence[Draw], case: DryingCase, fit: Fit
) -> WindowForecast:
    upper, lower = window.upper.value, window.lower.value if window.lower else 0.0
    rest = math.exp(fit.logs[3])
    answer = WindowForecast(id=window.id, name=window.name, upper=upper, lower=lower)
    lasting = window.lower is None
    bound = dry_basis(upper)

    def target(draw: Draw) -> float:
        return max(bound, draw.rest + NEARLY_AT_REST * draw.fall) if lasting else bound

    # What lasts may be reached as far as the air lets it: to the end of the state before.
    limit = dry_basis(0.18) if lasting else bound
    if (unknown := _out_of_reach(limit, rest, upper, lasting=lasting)) is not None:
        return _with_unknown(answer, unknown)
    opens = spread_of(draws, lambda draw: draw.hours_to(target(draw), case.exposure))
    closes = (
        Spread(math.inf, math.inf, math.inf)
        if lasting
        else spread_of(draws, lambda draw: draw.hours_to(dry_basis(lower), case.exposure))
    )
    answer = WindowForecast(
        id=window.id,
        name=window.name,
        upper=upper,
        lower=lower,
        opens=_instants(opens, case.starts_at),
        closes=_instants(closes, case.starts_at),
    )
    if answer.opens.mid is None:
        return _with_unknown(answer, "At this pace it takes more than a year, if it gets there.")
    return answer


def _with_unknown(answer: WindowForecast, unknown: str) -> WindowForecast:
    return WindowForecast(
        id=answer.id, name=answer.name, upper=answer.upper, lower=answer.lower, unknown=unknown
    )


def _out_of_reach(bound: float, rest: float, upper: float, *, lasting: bool) -> str | None:
    """Why the state cannot be foretold: the air keeps the hide at or near that moisture."""
    if rest >= bound:
        return (
            f"In this air it never gets there: the air keeps it near {100 * wet_basis(rest):.0f} %,"
            f" and it would have to come below {100 * upper:.0f} %. Warmer or drier air is needed."
        )
    if not lasting and bound - rest < LEAST_DRYING:
        return (
            f"The air keeps it near {100 * wet_basis(rest):.0f} %, so close to the "
            f"{100 * upper:.0f} % that is waited for that nobody can tell when it gets there."
        )
    return None


def _instants(hours: Spread, start: datetime) -> Span:
    low, mid, high = (
        None if value > FARTHEST / timedelta(hours=1) else start + timedelta(hours=value)
        for value in hours
    )
    return Span(low=low, mid=mid, high=high)


def _band(
    draws: Sequence[Draw],
    case: DryingCase,
    windows: Sequence[WindowForecast],
    now: datetime,
) -> tuple[BandPoint, ...]:
    """From the beginning to well past the stage's window, and to now at least.

    Where no window is known it goes on until the hide is nearly at rest with the air.
    """
    known = [span for window in windows[:1] for span in (window.opens, window.closes)]
    middle = [span.mid for span in known if span.mid is not None]
    if middle:
        ends = [instant for span in known for instant in (span.mid, span.high) if instant]
        # A long tail of doubt must not squeeze what is likely into a corner.
        end = min(max(ends), case.starts_at + (max(middle) - case.starts_at) * PAST_THE_MIDDLE)
    else:
        rests = spread_of(
            draws, lambda draw: draw.hours_to(draw.rest + NEARLY_AT_REST * draw.fall, case.exposure)
        ).mid
        end = case.starts_at + min(timedelta(hours=min(rests, 1e5)), FARTHEST)
    end = max(end, now + timedelta(hours=2), case.starts_at + timedelta(hours=6))
    step = (end - case.starts_at) / (BAND_POINTS - 1)
    return tuple(_point(draws, case, case.starts_at + n * step) for n in range(BAND_POINTS))


def _point(draws: Sequence[Draw], case: DryingCase, at: datetime) -> BandPoint:
    under = case.exposure.hours_under((at - case.starts_at) / timedelta(hours=1))
    low, mid, high = spread_of(draws, lambda draw: draw.moisture(under))
    return BandPoint(at=at, low=wet_basis(low), mid=wet_basis(mid), high=wet_basis(high))


def _weighed(case: DryingCase, draws: Sequence[Draw]) -> tuple[WeighedMoisture, ...]:
    dry = spread_of(draws, lambda draw: draw.dry_mass_g).mid
    return tuple(
        WeighedMoisture(
            at=case.starts_at + timedelta(hours=hours),
            mass_g=mass,
            moisture=max(0.0, 1.0 - dry / mass),
        )
        for hours, mass, _ in case.readings
    )


def _three(spread: Spread) -> tuple[float, float, float]:
    return (spread.low, spread.mid, spread.high)
