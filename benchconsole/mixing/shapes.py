"""Exact geometry of the shapes: the volume at a depth, the depth at a volume.

Sloping walls are straight, so it is the width that is interpolated with the depth, never the
volume; a measured form is interpolated from point to point.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from itertools import pairwise
from typing import assert_never

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_height, require_size, require_volume
from benchconsole.mixing.dimensions import length_words
from benchconsole.model.vessels import (
    Elliptical,
    Gauge,
    LyingDrum,
    Measured,
    Rectangular,
    RectangularTapered,
    RoundTapered,
    RoundUpright,
    Shape,
)
from benchconsole.quantities import Measures, format_volume

LITRES = 1000.0
"""Litres in a cubic metre."""

SLACK = 1e-9
"""The share by which a depth or volume may pass the rim before it does: rounding of floats."""

_HALVINGS = 60
"""Bisection steps that carry any bracket below the last bit of a float in it."""

MEASURED_EXAMPLE = "5 cm = 4 L, 10 cm = 9 L, 15 cm = 15 L"

EQUATIONS: dict[type[Shape], str] = {
    RoundUpright: "volume = π × radius² × depth",
    RoundTapered: "volume = π × depth ÷ 3 × (r₁² + r₁ × r₂ + r₂²), r₂ at the surface",
    Rectangular: "volume = length × width × depth",
    RectangularTapered: "volume = depth ÷ 6 × (bottom + 4 × middle + surface)",
    Elliptical: "volume = π × half long axis × half short axis × depth",
    LyingDrum: "volume = length × (r² × acos((r − h) ÷ r) − (r − h) × √(2 × r × h − h²))",
    Measured: "volume between two measured points: in proportion to the depth",
}
"""The equation of each shape in words, for a working."""


def require_shape(shape: Shape) -> None:
    """Raise ``BadInput`` naming the measure of the shape that no vessel has."""
    if isinstance(shape, Measured):
        _require_rising(shape)
        return
    for name in shape.__struct_fields__:
        words = name.removesuffix("_m").replace("_", " ")
        require_size(words, getattr(shape, name))


def _require_rising(shape: Measured) -> None:
    if not shape.points:
        raise BadInput("measured points", "there are none", MEASURED_EXAMPLE)
    for point in shape.points:
        require_height("measured depth", point.depth_m)
        require_volume("measured volume", point.volume_l, zero=True)
    for lower, higher in pairwise(_from_bottom(shape)):
        if higher.depth_m <= lower.depth_m or higher.volume_l <= lower.volume_l:
            fault = (
                f"depth and volume must both rise, and {100 * higher.depth_m:g} cm = "
                f"{higher.volume_l:g} L comes after {100 * lower.depth_m:g} cm = "
                f"{lower.volume_l:g} L"
            )
            raise BadInput("measured points", fault, MEASURED_EXAMPLE)


def rim_m(shape: Shape) -> float:
    """The depth at which the shape is full, in metres."""
    match shape:
        case LyingDrum():
            return shape.diameter_m
        case Measured():
            return shape.points[-1].depth_m
        case _:
            return shape.depth_m


def full_volume_l(shape: Shape) -> float:
    """Litres to the rim. Raises ``BadInput`` for a measure no vessel has."""
    require_shape(shape)
    return _litres(shape, rim_m(shape))


def volume_at(
    shape: Shape, depth_m: float, *, field: str = "depth", measures: Measures = "metric"
) -> float:
    """Litres when it stands ``depth_m`` deep.

    Raises ``BadInput`` naming ``field`` for a depth below the bottom or above the rim; the
    refusal, not the result, is in the measures asked for.
    """
    require_shape(shape)
    require_height(field, depth_m)
    rim = rim_m(shape)
    if depth_m > rim * (1.0 + SLACK):
        deep, high, half = (length_words(each, measures) for each in (depth_m, rim, rim / 2.0))
        raise BadInput(field, f"{deep} is above the rim at {high}", half)
    return _litres(shape, min(depth_m, rim))


def depth_at(
    shape: Shape, volume_l: float, *, field: str = "volume", measures: Measures = "metric"
) -> float:
    """Metres that this volume stands deep: the inverse of `volume_at`, by bisection.

    Raises ``BadInput`` naming ``field`` for more than the shape holds, in these measures.
    """
    require_volume(field, volume_l, zero=True)
    full = full_volume_l(shape)
    if volume_l > full * (1.0 + SLACK):
        much, holds, half = (
            format_volume(each, measures=measures) for each in (volume_l, full, full / 2.0)
        )
        raise BadInput(field, f"{much} is more than the {holds} it holds", half)
    low, high = 0.0, rim_m(shape)
    if volume_l >= full:
        return high
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if _litres(shape, middle) < volume_l:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _litres(shape: Shape, depth_m: float) -> float:
    """Litres at a depth known to lie between bottom and rim."""
    match shape:
        case RoundUpright():
            return LITRES * math.pi * (shape.diameter_m / 2.0) ** 2 * depth_m
        case RoundTapered():
            bottom, top = shape.bottom_diameter_m / 2.0, shape.top_diameter_m / 2.0
            at = bottom + (top - bottom) * depth_m / shape.depth_m
            return LITRES * math.pi * depth_m / 3.0 * (bottom**2 + bottom * at + at**2)
        case Rectangular():
            return LITRES * shape.length_m * shape.width_m * depth_m
        case RectangularTapered():
            return LITRES * _prismatoid(shape, depth_m)
        case Elliptical():
            return LITRES * math.pi * shape.long_axis_m * shape.short_axis_m / 4.0 * depth_m
        case LyingDrum():
            return LITRES * shape.length_m * _segment(shape.diameter_m / 2.0, depth_m)
        case Measured():
            return _interpolated(shape, depth_m)
    assert_never(shape)


def _prismatoid(shape: RectangularTapered, depth_m: float) -> float:
    share = depth_m / shape.depth_m
    length = shape.bottom_length_m + (shape.top_length_m - shape.bottom_length_m) * share
    width = shape.bottom_width_m + (shape.top_width_m - shape.bottom_width_m) * share
    bottom = shape.bottom_length_m * shape.bottom_width_m
    middle = (shape.bottom_length_m + length) * (shape.bottom_width_m + width) / 4.0
    return depth_m / 6.0 * (bottom + 4.0 * middle + length * width)


def _segment(radius_m: float, depth_m: float) -> float:
    """The wet part of a drum's round end, m²; the half angle by asin, for acos is blunt at 1."""
    half_angle = 2.0 * math.asin(math.sqrt(min(depth_m / (2.0 * radius_m), 1.0)))
    return radius_m**2 * (half_angle - math.sin(half_angle) * math.cos(half_angle))


def _interpolated(shape: Measured, depth_m: float) -> float:
    points = _from_bottom(shape)
    above = min(bisect_right(points, depth_m, key=lambda point: point.depth_m), len(points) - 1)
    lower, higher = points[above - 1], points[above]
    share = (depth_m - lower.depth_m) / (higher.depth_m - lower.depth_m)
    return lower.volume_l + (higher.volume_l - lower.volume_l) * share


def _from_bottom(shape: Measured) -> tuple[Gauge, ...]:
    """The points with the empty bottom in front, where the person left it out."""
    first = shape.points[0]
    if first.depth_m == 0.0 and first.volume_l == 0.0 and len(shape.points) > 1:
        return shape.points
    return (Gauge(depth_m=0.0, volume_l=0.0), *shape.points)
