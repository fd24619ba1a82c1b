"""Shapes of tubs, drums and bottles, inside measure, in metres and litres.

Records only: a shape is checked where it is reckoned with (``mixing.shapes``), so that a stored
one that makes no sense is refused in a sentence and loses nothing.
"""

from __future__ import annotations

from benchconsole.model.record import Record


class RoundUpright(Record, frozen=True, kw_only=True, tag="round-upright"):
    """A round tub with upright walls."""

    diameter_m: float
    depth_m: float


class RoundTapered(Record, frozen=True, kw_only=True, tag="round-tapered"):
    """A bucket, or a bottle that narrows upward: a straight wall between two circles."""

    bottom_diameter_m: float
    top_diameter_m: float
    depth_m: float


class Rectangular(Record, frozen=True, kw_only=True, tag="rectangular"):
    """A bin with upright walls."""

    length_m: float
    width_m: float
    depth_m: float


class RectangularTapered(Record, frozen=True, kw_only=True, tag="rectangular-tapered"):
    """A tub with sloping flat walls; length and width may taper differently (a prismatoid)."""

    bottom_length_m: float
    bottom_width_m: float
    top_length_m: float
    top_width_m: float
    depth_m: float


class Elliptical(Record, frozen=True, kw_only=True, tag="elliptical"):
    """An oval tub with upright walls; both axes are measured right across."""

    long_axis_m: float
    short_axis_m: float
    depth_m: float


class LyingDrum(Record, frozen=True, kw_only=True, tag="lying-drum"):
    """A cylinder on its side, filled through a slot along its top."""

    diameter_m: float
    length_m: float


class Gauge(Record, frozen=True, kw_only=True):
    """One measured point: so much is in it when it stands so high above the bottom."""

    depth_m: float
    volume_l: float


class Measured(Record, frozen=True, kw_only=True, tag="measured"):
    """Any form at all, filled jug by jug and measured; the last point is the rim.

    Depths and volumes both rise. The empty bottom (0 m, 0 L) may be left out.
    """

    points: tuple[Gauge, ...]


Shape = (
    RoundUpright
    | RoundTapered
    | Rectangular
    | RectangularTapered
    | Elliptical
    | LyingDrum
    | Measured
)


class Vessel(Record, frozen=True, kw_only=True):
    """What hides lie in; ``keep_free_m`` is left empty below the rim, for stirring."""

    name: str
    shape: Shape
    keep_free_m: float = 0.0


class Bottle(Record, frozen=True, kw_only=True):
    """What a dressing is poured from: its inside (None: not measured) and its empty weight."""

    name: str
    shape: Shape | None = None
    tare_g: float | None = None
