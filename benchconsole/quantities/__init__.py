"""Shop quantities as people write, weigh and read them; what a quantity is used for is not here."""

from benchconsole.quantities.printing import (
    ReadingUnit,
    format_countdown,
    format_duration,
    format_mass,
    format_number,
    format_reading,
    format_strength,
    format_temperature,
    format_volume,
    round_to_step,
)
from benchconsole.quantities.reading import (
    Amount,
    read_amount,
    read_area,
    read_count,
    read_duration,
    read_factor,
    read_length,
    read_mass,
    read_strength,
    read_temperature,
    read_volume,
    read_volume_per_mass,
)
from benchconsole.quantities.units import factor, registry
from benchconsole.quantities.words import Measures

__all__ = [
    "Amount",
    "Measures",
    "ReadingUnit",
    "factor",
    "format_countdown",
    "format_duration",
    "format_mass",
    "format_number",
    "format_reading",
    "format_strength",
    "format_temperature",
    "format_volume",
    "read_amount",
    "read_area",
    "read_count",
    "read_duration",
    "read_factor",
    "read_length",
    "read_mass",
    "read_strength",
    "read_temperature",
    "read_volume",
    "read_volume_per_mass",
    "registry",
    "round_to_step",
]
