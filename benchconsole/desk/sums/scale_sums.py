"""Sums on scales: what this one is good for, which to take, what sticks to the bowl."""

from __future__ import annotations

from collections.abc import Callable

from benchconsole.desk.sums.fields import choice, field, mass_words
from benchconsole.desk.sums.figures import figures_of
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.desk.sums.typed import Typed
from benchconsole.errors import BadInput
from benchconsole.mixing.scale_choice import choose_scale, pour_loss
from benchconsole.mixing.scale_limits import least_batch, least_weight
from benchconsole.mixing.scales import require_scale, weighing_error
from benchconsole.model.shop import Scale
from benchconsole.model.weighing import BowlMode

USUAL_TOLERANCE = 2.0
"""Per cent; our own choice, no source: recipes that print an ounce as 28 g and a pound as 450 g
are 1 % off themselves, so that to weigh much finer gains nothing."""
_MODES: dict[str, BowlMode] = {"left-on": "cumulative", "zeroed": "re-zero"}


def _tolerance(typed: Typed) -> float:
    return typed.or_else("tolerance", typed.percent, USUAL_TOLERANCE) / 100.0


def _repeatability(typed: Typed) -> float:
    return typed.or_else("repeatability", lambda name: typed.mass_g(name, zero=True), 0.0)


def _least(typed: Typed) -> Answer:
    tolerance, spread = _tolerance(typed), _repeatability(typed)
    batch = least_batch(
        (("the least of it", typed.mass_g("smallest-amount")),),
        tolerance,
        typed.shop,
        repeatability_g=spread,
    )
    weight = least_weight(tolerance, typed.shop, repeatability_g=spread)
    return Answer(
        says=batch.says,
        figures=figures_of(batch) + figures_of(weight, of="least"),
        lines=(weight.says,),
        workings=(batch.working, weight.working),
    )


def _error(typed: Typed) -> Answer:
    found = weighing_error(
        typed.mass_g("amount"),
        typed.shop,
        repeatability_g=_repeatability(typed),
        additions=typed.or_else("additions", typed.count, 1),
        mode=_MODES[typed.or_else("bowl", typed.choice, "left-on")],
    )
    return Answer(says=found.says, figures=figures_of(found), workings=(found.working,))


def _which(typed: Typed) -> Answer:
    scales = [_scale(typed, which) for which in ("first", "second")]
    amount, bowl = typed.mass_g("amount"), typed.or_else("bowl", _bowl_g(typed), 0.0)
    found = choose_scale(amount, scales, typed.shop, tolerance=_tolerance(typed), bowl_g=bowl)
    idle = []
    for scale in scales:
        try:
            choose_scale(amount, [scale], typed.shop, bowl_g=bowl)
        except BadInput as refusal:
            idle.append(f"Not on {scale.name}, by the {refusal.field}: {refusal.fault}.")
    return Answer(
        says=found.says, figures=figures_of(found), lines=tuple(idle), workings=(found.working,)
    )


def _bowl_g(typed: Typed) -> Callable[[str], float]:
    return lambda name: typed.mass_g(name, zero=True)


def _scale(typed: Typed, which: str) -> Scale:
    """One of the two; a scale that is none is refused, even where the other would do."""
    scale = Scale(
        name=f"the {which} scale",
        step_g=typed.mass_g(f"{which}-step"),
        capacity_g=typed.mass_g(f"{which}-capacity"),
    )
    try:
        require_scale(scale)
    except BadInput as refusal:
        part = "capacity" if refusal.field.startswith("capacity") else "step"
        raise typed.refuse(f"{which}-{part}", refusal.fault) from None
    return scale


def _loss(typed: Typed) -> Answer:
    loss = pour_loss(typed.mass_g("amount"), typed.percent("stays-behind") / 100.0, typed.shop)
    line = f"That is {mass_words(loss.loss_g, typed.shop)} more than the recipe says."
    if loss.loss_g < typed.shop.scale.step_g:
        line = _BELOW_A_STEP
    return Answer(
        says=loss.says,
        figures=figures_of(loss),
        lines=(line, _KNOWING_IT),
        workings=(loss.working,),
    )


_BELOW_A_STEP = (
    "What stays behind is less than one step of the scale: rinse the bowl with some of the liquor."
)
_KNOWING_IT = (
    "To know what stays: weigh the bowl or bottle clean, and again once it is emptied; "
    "divide the difference by what was in it."
)
_TOLERANCE = field("tolerance", "Tolerance", "percent", "2 %", usual=True)
_REPEATABILITY = field(
    "repeatability", "Spread of repeated readings", "mass", "0.5 g", optional=True
)

SCALE_SUMS = (
    Sum(
        name="smallest-batch",
        title="Smallest batch for the scale",
        purpose="How small a batch the shop's scale still weighs within the tolerance.",
        fields=(
            field("smallest-amount", "Least amount in it", "mass", "36 g", "1 1/4 oz"),
            _TOLERANCE,
            _REPEATABILITY,
        ),
        work_out=_least,
        blames={
            "weight of the least of it": "smallest-amount",
            "repeatability of the scale": "repeatability",
        },
    ),
    Sum(
        name="weighing-error",
        title="Error of a weighing",
        purpose="How far off an amount may be that is weighed on the shop's scale.",
        fields=(
            field("amount", "Amount", "mass", "1134 g", "2 lb 8 oz"),
            field("additions", "In how many additions", "count", "3", optional=True),
            choice(
                "bowl",
                "The bowl",
                (("left-on", "left on, one zero"), ("zeroed", "zeroed before each")),
                optional=True,
            ),
            _REPEATABILITY,
        ),
        work_out=_error,
        blames={"repeatability of the scale": "repeatability"},
    ),
    Sum(
        name="which-scale",
        title="Which of two scales",
        purpose="Which of two scales weighs an amount better, and in how many bowls.",
        fields=(
            field("amount", "Amount", "mass", "36 g", "1 1/4 oz"),
            field("first-step", "First scale steps by", "mass", "1 g"),
            field("first-capacity", "First scale carries", "mass", "5 kg"),
            field("second-step", "Second scale steps by", "mass", "0.1 g"),
            field("second-capacity", "Second scale carries", "mass", "500 g"),
            _TOLERANCE,
            field("bowl", "The empty bowl", "mass", "120 g", "4 oz", optional=True),
        ),
        work_out=_which,
    ),
    Sum(
        name="pour-loss",
        title="What sticks to bowl or bottle",
        purpose="How much more to weigh, so that what stays in the bowl or bottle does not matter.",
        fields=(
            field("amount", "Amount that must arrive", "mass", "250 g", "9 oz"),
            field("stays-behind", "Of what was in it there stays", "percent", "2 %"),
        ),
        work_out=_loss,
        blames={"pour loss": "stays-behind"},
    ),
)
