"""Decimal rounding, half away from zero, and the 1-2-5 steps that scales and jugs are marked in."""

from decimal import ROUND_HALF_UP, Decimal

_STEPS = (Decimal(1), Decimal(2), Decimal(5), Decimal(10))
_ALMOST = Decimal("1e-9")


def exact(number: float) -> Decimal:
    """The number as Python writes it: 2.675 is 2.675, not the binary fraction just below."""
    decimal = Decimal(repr(float(number)))
    if not decimal.is_finite():
        raise ValueError(f"{number} cannot be printed as a quantity")
    return decimal


def to_step(number: Decimal, step: Decimal) -> Decimal:
    """The multiple of ``step`` nearest to the number; halves go away from zero."""
    return (number / step).to_integral_value(ROUND_HALF_UP) * step


def coarser_step(step: Decimal) -> Decimal:
    """The finest 1-2-5 step that is not finer than ``step``: 0.0353 gives 0.05, 0.1 gives 0.1."""
    scale = _power_of_ten(step)
    return next(each * scale for each in _STEPS if each * scale >= step * (1 - _ALMOST))


def finer_step(step: Decimal) -> Decimal:
    """The coarsest 1-2-5 step that is not coarser than ``step``: 0.0353 gives 0.02."""
    scale = _power_of_ten(step)
    return max(each * scale for each in _STEPS if each * scale <= step * (1 + _ALMOST))


def figures_step(number: Decimal, figures: int) -> Decimal:
    """The step that leaves ``figures`` significant figures of a number that is not zero."""
    return Decimal(1).scaleb(number.adjusted() - figures + 1)


def places_of(step: Decimal) -> int:
    """Decimals that a multiple of the step needs: 0.05 needs two, 20 none."""
    exponent = step.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def trimmed(number: Decimal) -> str:
    """The number without exponent or trailing zeros, its minus a minus sign."""
    text = f"{abs(number):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"−{text}" if number < 0 else text


def padded(number: Decimal, places: int) -> str:
    """The number with exactly that many decimals, its minus a minus sign, never minus zero."""
    rounded = to_step(number, Decimal(1).scaleb(-places))
    return ("−" if rounded < 0 else "") + f"{abs(rounded):.{places}f}"


def _power_of_ten(step: Decimal) -> Decimal:
    if step <= 0:
        raise ValueError(f"a step of {step} does not divide anything")
    return Decimal(1).scaleb(step.adjusted())
