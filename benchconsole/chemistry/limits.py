"""The limits of a published law, and the error for leaving them."""

import math


class OutOfRange(ValueError):
    """A law was asked about a condition it was never measured for.

    Nothing is clamped: the caller decides whether to refuse, to say so beside the figure, or
    to ask again at another temperature. ``quantity`` and ``unit`` are words for a screen.
    """

    def __init__(self, quantity: str, value: float, low: float, high: float, unit: str) -> None:
        self.quantity = quantity
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit
        span = f"{low:g} to {high:g} {unit}".rstrip()
        super().__init__(f"{quantity} {value:g} is outside {span}, where the figures hold")


def require_within(quantity: str, value: float, low: float, high: float, unit: str) -> None:
    """Raise `OutOfRange` unless ``low <= value <= high``; a value that is no number is outside."""
    if not low <= value <= high:
        raise OutOfRange(quantity, value, low, high, unit)


def require_amount(quantity: str, value: float) -> None:
    """Raise `OutOfRange` for a mass that is negative, endless or no number."""
    if not 0.0 <= value < math.inf:
        raise OutOfRange(quantity, value, 0.0, math.inf, "g")
