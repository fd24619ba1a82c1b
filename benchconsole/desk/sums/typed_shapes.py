"""Shapes of vessels as people type them: a kind, and sizes in its order."""

from __future__ import annotations

import re

from benchconsole.desk.sums.typed_lists import listed
from benchconsole.errors import BadInput
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
from benchconsole.quantities import Measures, read_length, read_volume

_ORDER: dict[str, tuple[str, ...]] = {
    "round": ("across", "depth"),
    "bucket": ("across the bottom", "across the top", "depth"),
    "box": ("length", "width", "depth"),
    "tapered-box": ("bottom length", "bottom width", "top length", "top width", "depth"),
    "oval": ("long way", "short way", "depth"),
    "drum": ("across", "length"),
}
"""What the sizes of each shape are, in order; all inside measure."""

SHAPES = (
    ("round", "round, straight walls"),
    ("bucket", "round, tapered"),
    ("box", "box, straight walls"),
    ("tapered-box", "box, sloping walls"),
    ("oval", "oval, straight walls"),
    ("drum", "drum lying on its side"),
    ("measured", "any, filled and measured"),
)

_EXAMPLES = {
    "round": ("40 cm x 50 cm", "16 in x 20 in"),
    "bucket": ("26 cm x 30 cm x 35 cm", "10 in x 12 in x 14 in"),
    "box": ("60 cm x 40 cm x 35 cm", "24 in x 16 in x 14 in"),
    "tapered-box": (
        "50 cm x 30 cm x 60 cm x 40 cm x 35 cm",
        "20 in x 12 in x 24 in x 16 in x 14 in",
    ),
    "oval": ("60 cm x 40 cm x 30 cm", "24 in x 16 in x 12 in"),
    "drum": ("58 cm x 88 cm", "23 in x 35 in"),
    "measured": ("5 cm = 4 L; 10 cm = 9 L; 15 cm = 15 L", "2 in = 1 gal; 4 in = 2 1/4 gal"),
}
_BETWEEN = re.compile(r" ?[x×*] ?| by ", re.IGNORECASE)
_LONGEST = 1000
_MOST_POINTS = 40


def sizes_words(shape: str) -> str:
    """What the sizes of a shape are, in order."""
    return (
        "depth = volume, from the bottom up"
        if shape == "measured"
        else ", ".join(_ORDER.get(shape, ("choose the shape first",)))
    )


def sizes_example(shape: str, measures: Measures) -> str:
    """Sizes that fit a shape."""
    metric, customary = _EXAMPLES.get(shape, _EXAMPLES["round"])
    return metric if measures == "metric" else customary


def read_shape(kind: str, text: str, *, field: str, measures: Measures) -> Shape:
    """The shape of that kind with the sizes typed; raises ``BadInput`` naming ``field``."""
    if len(text) > _LONGEST:
        raise BadInput(field, f"longer than {_LONGEST} characters", sizes_example(kind, measures))
    if kind == "measured":
        return _measured(text, field, measures)
    wanted = _ORDER[kind]
    pieces = _BETWEEN.split(" ".join(text.split()))
    if len(pieces) != len(wanted):
        fault = f"{len(wanted)} are wanted with an x between: {', '.join(wanted)}"
        raise BadInput(field, fault, sizes_example(kind, measures))
    return _built(kind, [read_length(each, field=field, measures=measures) for each in pieces])


def _built(kind: str, metres: list[float]) -> Shape:
    match kind, metres:
        case "round", [across, depth]:
            return RoundUpright(diameter_m=across, depth_m=depth)
        case "bucket", [bottom, top, depth]:
            return RoundTapered(bottom_diameter_m=bottom, top_diameter_m=top, depth_m=depth)
        case "box", [length, width, depth]:
            return Rectangular(length_m=length, width_m=width, depth_m=depth)
        case "tapered-box", [bottom_length, bottom_width, top_length, top_width, depth]:
            return RectangularTapered(
                bottom_length_m=bottom_length,
                bottom_width_m=bottom_width,
                top_length_m=top_length,
                top_width_m=top_width,
                depth_m=depth,
            )
        case "oval", [long_axis, short_axis, depth]:
            return Elliptical(long_axis_m=long_axis, short_axis_m=short_axis, depth_m=depth)
        case "drum", [across, length]:
            return LyingDrum(diameter_m=across, length_m=length)
    raise AssertionError(f"no shape is called {kind}")


def _measured(text: str, field: str, measures: Measures) -> Measured:
    example = sizes_example("measured", measures)
    points = []
    for piece in listed(text):
        deep, equals, full = piece.partition("=")
        if not equals:
            raise BadInput(field, f"“{piece[:40]}” is not depth = volume", example)
        points.append(
            Gauge(
                depth_m=read_length(deep, field=field, measures=measures, zero=True),
                volume_l=read_volume(full, field=field, measures=measures, zero=True),
            )
        )
    if not 1 <= len(points) <= _MOST_POINTS:
        raise BadInput(field, f"1 to {_MOST_POINTS} measured points are wanted", example)
    return Measured(points=tuple(points))
