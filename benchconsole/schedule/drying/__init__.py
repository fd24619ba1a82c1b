"""The drying forecast: thin-layer curves, what is expected of a hide, its own curve from weighings.

Pure: the air, the figures, the hide's history and ``now`` are arguments.
"""

from benchconsole.schedule.drying.forecast import (
    BandPoint,
    DryingForecast,
    Span,
    WeighedMoisture,
    WindowForecast,
)
from benchconsole.schedule.drying.hides import drying_stage, forecast_for
from benchconsole.schedule.drying.looks import Look, dry_window, looks
from benchconsole.schedule.drying.wording import forecast_words, window_words

__all__ = [
    "BandPoint",
    "DryingForecast",
    "Look",
    "Span",
    "WeighedMoisture",
    "WindowForecast",
    "dry_window",
    "drying_stage",
    "forecast_for",
    "forecast_words",
    "looks",
    "window_words",
]
