"""Which scale for an amount, in how many bowls, and what to weigh so that enough arrives."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_mass
from benchconsole.mixing.bowlfuls import lots_of
from benchconsole.mixing.dimensions import error_words
from benchconsole.mixing.scales import (
    COVERAGE,
    GUM,
    NET_EQUATIONS,
    error_sure,
    require_scale,
    scale_inputs,
    sum_of_tared_g,
)
from benchconsole.mixing.working import Working
from benchconsole.model.record import Record
from benchconsole.model.shop import Scale, Shop
from benchconsole.quantities import Measures, format_mass

MOST_LOTS = 999
"""More bowls than that nobody fills. Our own choice, no source."""


class Lots(Record, frozen=True, kw_only=True):
    """An amount in ``count`` bowls of ``each_g``; ``error_g`` is that of the sum, k = 2."""

    count: int
    each_g: float
    error_g: float
    says: str
    working: Working


class ScaleChoice(Record, frozen=True, kw_only=True):
    """The scale to take, how it is used, and why it and not another."""

    scale: Scale
    lots: Lots
    meets_tolerance: bool
    says: str
    working: Working


class PourLoss(Record, frozen=True, kw_only=True):
    """What to weigh so that the amount arrives, with ``loss_g`` staying in the bowl."""

    weigh_g: float
    loss_g: float
    says: str
    working: Working


def lots_for(
    amount_g: float,
    scale: Scale,
    measures: Measures,
    *,
    bowl_g: float = 0.0,
    repeatability_g: float = 0.0,
) -> Lots:
    """The fewest equal bowls that this scale carries, each weighed by difference on its own zero.

    ``bowl_g`` is the empty bowl, which takes up capacity. Raises ``BadInput`` when the bowl
    alone is too much, or more than `MOST_LOTS` would be needed.
    """
    require_mass("amount", amount_g, example="1134 g")
    room = _room_g(scale, bowl_g, repeatability_g, measures)
    count = lots_of(amount_g, room)
    if count > MOST_LOTS:
        most = format_mass(MOST_LOTS * room * 0.99, measures=measures, step_g=scale.step_g)
        raise BadInput("amount", f"it would take {count} bowls on {scale.name}", most)
    error = COVERAGE * sum_of_tared_g(scale.step_g, repeatability_g, count, "difference")
    return Lots(
        count=count,
        each_g=amount_g / count,
        error_g=error,
        says=_lots_words(amount_g, count, error, scale, measures),
        working=Working(
            title=f"Bowls on {scale.name}",
            inputs=(
                *scale_inputs(scale, repeatability_g),
                ("amount", f"{amount_g:.2f} g"),
                ("capacity less bowl", f"{room:.1f} g"),
            ),
            equation="bowls = amount ÷ (capacity − bowl), rounded up; "
            f"error = 2 × √bowls × {NET_EQUATIONS['difference']}",
            result=f"{count} × {amount_g / count:.2f} g, ±{error:.3g} g",
            source=GUM,
            sure=error_sure(repeatability_g),
        ),
    )


def choose_scale(
    amount_g: float,
    scales: Sequence[Scale],
    shop: Shop,
    *,
    tolerance: float = 0.02,
    bowl_g: float = 0.0,
    repeatability_g: Mapping[str, float] | None = None,
) -> ScaleChoice:
    """The scale for this amount: within tolerance first, then fewest bowls, then the surest.

    ``repeatability_g`` is by the scale's name (left out: not known). Raises ``BadInput`` when
    there is no scale, or none that carries the bowl.
    """
    if not scales:
        raise BadInput("scales", "there is none to choose from", "1 g to 5 kg")
    require_between("tolerance", tolerance, 1e-6, 1.0, "between 0.0001 % and 100 %", "2 %")
    spread = repeatability_g or {}
    ranked = _ranked(amount_g, scales, shop.measures, bowl_g, spread, tolerance * amount_g)
    (scale, lots), others = ranked[0], ranked[1:]
    allowed = tolerance * amount_g
    return ScaleChoice(
        scale=scale,
        lots=lots,
        meets_tolerance=lots.error_g <= allowed,
        says=f"{lots.says.removesuffix('.')}: {_why(lots, others, allowed, tolerance)}.",
        working=Working(
            title="Choice of the scale",
            inputs=(
                ("amount", f"{amount_g:.2f} g"),
                ("tolerance", f"{100 * tolerance:g} %, {allowed:.3g} g"),
                *((each.name, _candidate(lot)) for each, lot in ranked),
            ),
            equation="within the tolerance first, then the fewest bowls, then the smallest error",
            result=f"{scale.name}: {_candidate(lots)}",
            source=GUM,
            sure=error_sure(spread.get(scale.name, 0.0)),
        ),
    )


def pour_loss(amount_g: float, share: float, shop: Shop) -> PourLoss:
    """What to weigh when this share of it stays in bowl and scoop (0.02 is 2 %), as given.

    Raises ``BadInput`` for a share below zero or above one half.
    """
    require_mass("amount", amount_g, example="250 g")
    require_between("pour loss", share, 0.0, 0.5, "between 0 % and 50 %", "2 %")
    weigh = amount_g / (1.0 - share)
    amount, gross = (
        format_mass(each, measures=shop.measures, step_g=shop.scale.step_g)
        for each in (amount_g, weigh)
    )
    return PourLoss(
        weigh_g=weigh,
        loss_g=weigh - amount_g,
        says=f"Weigh {gross}, so that {amount} arrives when {100 * share:g} % stays in the bowl.",
        working=Working(
            title="Pour loss",
            inputs=(("wanted", f"{amount_g:.2f} g"), ("stays behind", f"{100 * share:g} %")),
            equation="weigh = wanted ÷ (1 − what stays behind)",
            result=f"{weigh:.2f} g",
            source="what stays behind: as given",
            sure="weigh the emptied bowl once to know it",
        ),
    )


def _room_g(scale: Scale, bowl_g: float, repeatability_g: float, measures: Measures) -> float:
    """What the scale carries beside its bowl."""
    require_mass("bowl", bowl_g, zero=True, example="300 g")
    require_scale(scale, repeatability_g)
    room = scale.capacity_g - bowl_g
    if room < scale.step_g:
        carries, half = (
            format_mass(grams, measures=measures, step_g=scale.step_g)
            for grams in (scale.capacity_g, scale.capacity_g / 2.0)
        )
        fault = f"it leaves nothing of the {carries} that {scale.name} carries"
        raise BadInput("bowl", fault, half)
    return room


def _lots_words(
    amount_g: float, count: int, error_g: float, scale: Scale, measures: Measures
) -> str:
    total, each = (
        format_mass(grams, measures=measures, step_g=scale.step_g)
        for grams in (amount_g, amount_g / count)
    )
    bowls = f"in {count} bowls of {each}" if count > 1 else "in one bowl"
    off = error_words(error_g, measures)
    return f"Weigh {total} on {scale.name} {bowls}, to within {off}."


def _ranked(
    amount_g: float,
    scales: Sequence[Scale],
    measures: Measures,
    bowl_g: float,
    spread: Mapping[str, float],
    allowed_g: float,
) -> list[tuple[Scale, Lots]]:
    """The scales that can weigh it at all, best first; the refusal of the first if none can."""
    found: list[tuple[Scale, Lots]] = []
    refusals: list[BadInput] = []
    for scale in scales:
        own = spread.get(scale.name, 0.0)
        try:
            lots = lots_for(amount_g, scale, measures, bowl_g=bowl_g, repeatability_g=own)
        except BadInput as refusal:
            refusals.append(refusal)
        else:
            found.append((scale, lots))
    if not found:
        raise refusals[0]
    return sorted(found, key=lambda each: _rank(each[1], allowed_g))


def _rank(lots: Lots, allowed_g: float) -> tuple[bool, float, float]:
    """Where none is within tolerance the bowls no longer matter, only how near it comes."""
    exceeds = lots.error_g > allowed_g
    return exceeds, lots.error_g if exceeds else lots.count, lots.error_g


def _why(
    lots: Lots, others: Sequence[tuple[Scale, Lots]], allowed_g: float, tolerance: float
) -> str:
    """Why not the next best, in the first point where the two differ."""
    percent = f"{100 * tolerance:g} %"
    if lots.error_g > allowed_g:
        return f"no scale here weighs it to {percent}, and this one comes nearest"
    if not others:
        return f"good for {percent}"
    name, other = others[0][0].name, others[0][1]
    if other.error_g > allowed_g:
        return f"{name} is too coarse for {percent}"
    if other.count > lots.count:
        return f"good for {percent}, and {name} would take {other.count} bowls"
    if other.error_g > lots.error_g:
        return f"it is finer than {name} and carries it in as few bowls"
    return f"as good as {name}"


def _candidate(lots: Lots) -> str:
    bowls = "1 bowl" if lots.count == 1 else f"{lots.count} bowls"
    return f"{bowls}, ±{lots.error_g:.3g} g"
