"""How a drying forecast came about: every figure in it, with its source and how sure it is."""

from __future__ import annotations

from benchconsole.chemistry.moist_air import vapour_pressure_deficit
from benchconsole.mixing.working import Working, plain
from benchconsole.model.drying import Climate, DryingFigures
from benchconsole.model.record import MARK_WORDS, Figure
from benchconsole.model.routes import Species
from benchconsole.schedule.drying import DryingForecast
from benchconsole.schedule.drying.priors import moisture_at_rest, rate_in_air, rate_of_skin

CURVE = "(X - Xe) / (X0 - Xe) = exp(-(rate x hours)^n), hours under a cover counting for less"


def workings_of(
    forecast: DryingForecast,
    figures: DryingFigures,
    species: Species | None,
    climate: Climate | None,
    *,
    hair_on: bool,
) -> tuple[Working, ...]:
    """The workings in the order of the sum: air, rate, curve, windows."""
    known = [_windows(forecast, figures)]
    if climate is not None:
        known = [_air(climate, figures), _rest(climate, figures, hair_on=hair_on), *known]
    if not forecast.unknown:
        known += [_rate(figures, species, climate, hair_on=hair_on), _curve(forecast)]
    return tuple(known)


def _air(climate: Climate, figures: DryingFigures) -> Working:
    deficit = vapour_pressure_deficit(climate.celsius, climate.humidity_pct)
    return Working(
        title="How thirsty the air is",
        inputs=(
            ("temperature", f"{climate.celsius:.3g} °C"),
            ("humidity", f"{climate.humidity_pct:.3g} %"),
            ("air", f"{climate.air}, taken as {figures.speed_m_s[climate.air].value:g} m/s"),
        ),
        equation="saturation pressure x (1 - humidity)",
        result=f"{deficit:.0f} Pa below saturation; {rate_in_air(figures, climate):.2f} times as "
        "quick as the reference air",
        source="IAPWS saturation equation (Wagner and Pruss 1993); "
        f"{figures.speed_exponent.source}",
        sure="vapour pressure 0.1 %; that hides dry in proportion to it only to first order",
    )


def _rest(climate: Climate, figures: DryingFigures, *, hair_on: bool) -> Working:
    rest = moisture_at_rest(figures, climate.humidity_pct, hair_on=hair_on)
    share = figures.hair_share.value if hair_on else 0.0
    return Working(
        title="What moisture this air leaves (Xe)",
        inputs=(
            ("humidity", f"{climate.humidity_pct:.3g} %"),
            ("hair", f"{_percent(share)} of it dry"),
        ),
        equation="published points of skin and hair, straight lines between",
        result=f"{rest.median:.3f} g/g, {_wet(rest.median)} of the whole weight",
        source="; ".join(figures.sorption[kind].source for kind in ("skin", "hair")),
        sure=f"four in five: {rest.low:.3f} to {rest.high:.3f} g/g",
    )


def _rate(
    figures: DryingFigures, species: Species | None, climate: Climate | None, *, hair_on: bool
) -> Working:
    base = figures.rate_per_h
    inputs = [("in general", f"{base.value:g} 1/h ({_range(base)})")]
    for name, figure in (
        ("thickness", species.thickness_mm if species else None),
        ("hair", species.hair_mm if species and hair_on else None),
    ):
        if figure is not None:
            told = f"{figure.value:g} mm ({_range(figure)}), {MARK_WORDS[figure.mark]}"
            inputs.append((name, told))
    skin = rate_of_skin(figures, species, hair_on=hair_on)
    inputs.append(("this skin", f"{skin:.2f} times"))
    air = 1.0
    if climate is not None:
        air = rate_in_air(figures, climate)
        inputs.append(("this air", f"{air:.2f} times"))
    return Working(
        title="How quick a hide like this dries, before it is weighed",
        inputs=tuple(inputs),
        equation="general rate x skin x air; time linear in thickness and in hair",
        result=f"{plain(base.value * skin * air)} 1/h",
        source=f"{base.source}; {figures.thickness_offset_mm.source}",
        sure="a factor of two to three either way: only weighings make it better",
    )


def _curve(forecast: DryingForecast) -> Working:
    low, rate, high = forecast.rate_per_h
    few, exponent, many = forecast.exponent
    inputs = [
        ("rate", f"{plain(rate)} 1/h ({plain(low)} to {plain(high)})"),
        ("n", f"{exponent:.2f} ({few:.2f} to {many:.2f})"),
    ]
    sure = "general figures only"
    if forecast.weighings:
        light, dry, heavy = forecast.dry_mass_g
        inputs.append(("bone-dry", f"{dry:.0f} g ({light:.0f} to {heavy:.0f} g)"))
        sure = f"{len(forecast.weighings)} weighings, {_misfit_words(forecast.misfit)}"
    now = forecast.now
    told = (
        ""
        if now is None
        else (f"{_percent(now.mid)} moist now ({_percent(now.low)} to {_percent(now.high)})")
    )
    return Working(
        title="The curve of this hide",
        inputs=tuple(inputs),
        equation=CURVE,
        result=told,
        source="Overhults et al., Trans. ASAE 16 (1973) 112, after Page (1949); fitted by least "
        "squares with what was expected before, doubt by Laplace's approximation",
        sure=sure,
    )


def _misfit_words(misfit: float) -> str:
    if misfit <= 1.0:
        return "which lie on it as well as they can be told"
    return f"which lie {misfit:.1f} times further from it than the scale explains"


def _windows(forecast: DryingForecast, figures: DryingFigures) -> Working:
    window = figures.window_of(forecast.dries_to)
    inputs = [("comes below", _bound(window.upper))]
    source = window.upper.source
    if window.lower is not None:
        inputs.append(("still above", _bound(window.lower)))
        source = f"{source}; {window.lower.source}"
    marks = [(mark.name, _bound(mark.moisture)) for mark in figures.mark]
    return Working(
        title=f"What is called {window.name}",
        inputs=(*inputs, *marks),
        result="moistures of hair and skin together, as a share of the whole weight",
        source=source,
        sure="the hand knows better than any figure",
    )


def _bound(figure: Figure) -> str:
    doubt = (
        ""
        if figure.low is None or figure.high is None
        else (f" ({_percent(figure.low)} to {_percent(figure.high)})")
    )
    return f"{_percent(figure.value)}{doubt}, {MARK_WORDS[figure.mark]}"


def _range(figure: Figure) -> str:
    return (
        "no range"
        if figure.low is None or figure.high is None
        else (f"{figure.low:g} to {figure.high:g}")
    )


def _wet(dry: float) -> str:
    return _percent(dry / (1.0 + dry))


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %"
