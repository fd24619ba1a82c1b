"""What is to be expected of a hide before it is weighed: a wide distribution, honestly wide.

All doubts are normal in the logarithm of the figure (so a figure may be off by a factor either
way) and independent. Scaling by air: rate in proportion to the vapour-pressure deficit and to the
0.6th power of the air's speed, time linear in thickness (published for leather in a dryer, carried
over here to a hide in a room).
"""

from __future__ import annotations

import math

from benchconsole.chemistry.moist_air import regain_at, vapour_pressure_deficit
from benchconsole.model.drying import Climate, DryingFigures
from benchconsole.model.record import Figure, Record
from benchconsole.model.routes import DriesTo, Species
from benchconsole.schedule.drying.curves import dry_basis

TENTH = 1.2815515655446004
"""Standard deviations from the middle to the 10 and 90 % points of a normal distribution."""
LEAST_DEFICIT_PA = 5.0
"""Air counts as never quite saturated, so that a rate can be stated. Our own choice."""
LEAST_DRYING = 0.02
"""A moisture this near to that of the air, in g/g, is reached at no time one could foretell."""
VAGUE = 2.0
"""Doubt of a dry weight nothing is known of: a factor of seven either way. Our own choice."""
UNSAID_AIR_DOUBT = 0.8
"""Further doubt of the rate where nobody said what air it is. Our own choice."""
UNSAID_MOISTURE_DOUBT = 0.35
"""The same for the moisture that the air leaves. Our own choice."""


class LogNormal(Record, frozen=True, kw_only=True):
    """A positive figure: its median, and the standard deviation of its natural logarithm."""

    median: float
    doubt: float

    @classmethod
    def between(cls, figure: Figure) -> LogNormal:
        """That of a figure whose low and high hold four times in five."""
        if figure.low is None or figure.high is None:
            return cls(median=figure.value, doubt=0.0)
        return cls(median=figure.value, doubt=math.log(figure.high / figure.low) / (2.0 * TENTH))

    def times(self, factor: float, doubt: float = 0.0) -> LogNormal:
        """The figure times another, itself in doubt."""
        return LogNormal(median=self.median * factor, doubt=math.hypot(self.doubt, doubt))

    @property
    def low(self) -> float:
        """The figure it exceeds nine times in ten."""
        return self.median * math.exp(-TENTH * self.doubt)

    @property
    def high(self) -> float:
        """The figure it stays below nine times in ten."""
        return self.median * math.exp(TENTH * self.doubt)


class DryingPrior(Record, frozen=True, kw_only=True):
    """What is expected of one hide in its air.

    ``rate_per_h`` is that of lying open; ``loose`` and ``plastic`` the shares of it under a cover;
    ``rest`` the moisture at rest with the air and ``fall`` what lies above it at the beginning,
    both in g/g dry; ``dry_mass_g`` the bone-dry weight.
    """

    rate_per_h: LogNormal
    exponent: LogNormal
    fall: LogNormal
    rest: LogNormal
    dry_mass_g: LogNormal
    loose: LogNormal
    plastic: LogNormal

    @property
    def figures(self) -> tuple[LogNormal, ...]:
        """In the order of the fit."""
        return (
            self.rate_per_h,
            self.exponent,
            self.fall,
            self.rest,
            self.dry_mass_g,
            self.loose,
            self.plastic,
        )


def rate_in_air(figures: DryingFigures, climate: Climate) -> float:
    """How much faster than in the reference air a thing dries, as a factor."""
    reference = vapour_pressure_deficit(
        figures.reference_celsius.value, figures.reference_humidity_pct.value
    )
    deficit = vapour_pressure_deficit(climate.celsius, climate.humidity_pct)
    speed = figures.speed_m_s[climate.air].value / figures.reference_speed_m_s.value
    return float(max(deficit, LEAST_DEFICIT_PA) / reference * speed**figures.speed_exponent.value)


def rate_of_skin(figures: DryingFigures, species: Species | None, *, hair_on: bool) -> float:
    """How much faster than the reference hide a skin of that kind dries, as a factor."""
    thick, hair = figures.reference_thickness_mm.value, figures.reference_hair_mm.value
    own_thick = (
        thick if species is None or species.thickness_mm is None else (species.thickness_mm.value)
    )
    own_hair = hair if species is None or species.hair_mm is None else species.hair_mm.value
    offset, halves = figures.thickness_offset_mm.value, figures.hair_halves_mm.value
    through_hair = (1.0 + hair / halves) / (1.0 + (own_hair / halves if hair_on else 0.0))
    return (thick + offset) / (own_thick + offset) * through_hair


def moisture_at_rest(figures: DryingFigures, humidity_pct: float, *, hair_on: bool) -> LogNormal:
    """The moisture that air of such humidity leaves in skin and hair together, g/g dry."""
    share = figures.hair_share.value if hair_on else 0.0
    skin, hair = figures.sorption["skin"], figures.sorption["hair"]
    middle = (1.0 - share) * regain_at(skin.points, humidity_pct) + share * regain_at(
        hair.points, humidity_pct
    )
    return LogNormal(median=max(middle, 1e-3), doubt=max(skin.doubt, hair.doubt) / TENTH)


def prior_for(
    figures: DryingFigures,
    species: Species | None,
    dries_to: DriesTo,
    climate: Climate | None,
    *,
    hair_on: bool,
    first_mass_g: float | None = None,
) -> DryingPrior:
    """What is expected of a hide; ``climate`` None: in air that nobody spoke of.

    ``first_mass_g`` is its first weighing: the bone-dry weight is looked for around what that
    would leave, a factor of seven either way, so that kilograms and ounces come to the same.
    """
    rate = LogNormal.between(figures.rate_per_h).times(
        rate_of_skin(figures, species, hair_on=hair_on), math.log(figures.scaling_doubt.value)
    )
    humidity = figures.reference_humidity_pct.value if climate is None else climate.humidity_pct
    rest = moisture_at_rest(figures, humidity, hair_on=hair_on)
    if climate is None:
        rate, rest = rate.times(1.0, UNSAID_AIR_DOUBT), rest.times(1.0, UNSAID_MOISTURE_DOUBT)
    else:
        rate = rate.times(rate_in_air(figures, climate))
    fall = _fall(figures.start[dries_to], rest.median)
    dry_mass_g = (first_mass_g or 1000.0) / (1.0 + rest.median + fall.median)
    return DryingPrior(
        rate_per_h=rate,
        exponent=LogNormal.between(figures.exponent),
        fall=fall,
        rest=rest,
        dry_mass_g=LogNormal(median=dry_mass_g, doubt=VAGUE),
        loose=LogNormal.between(figures.cover["loose"]),
        plastic=LogNormal.between(figures.cover["plastic"]),
    )


def _fall(start: Figure, rest: float) -> LogNormal:
    """What the hide has to lose at most: its moisture at the beginning less that of the air."""
    low, middle, high = (
        max(dry_basis(share) - rest, LEAST_DRYING / 2.0)
        for share in (start.low or start.value, start.value, start.high or start.value)
    )
    return LogNormal(median=middle, doubt=max(math.log(high / low) / (2.0 * TENTH), 0.05))
