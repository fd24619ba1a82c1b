"""Fields and words that several sums share."""

from __future__ import annotations

from benchconsole.desk.sums.records import Asks, SumField
from benchconsole.desk.sums.typed_shapes import SHAPES
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_mass, format_volume

ACID_CAUTIONS = (
    "Acid into water, slowly and stirring; never water into acid.",
    "Read the product's safety sheet first, and follow your local rules for what is poured away.",
)
METER_CAUTION = "A meter or paper decides, not this sum: measure, and measure again with the hide."
ALKALI_CAUTIONS = (
    "It fizzes: dissolve it first, add a little at a time, and leave room for foam.",
    "Read the product's safety sheet first, and follow your local rules for what is poured away.",
)

ROOM_CELSIUS = 20.0
"""Water is counted as heavy as at this temperature; our own choice, no source: from 10 to 30 °C it
differs from that by 0.3 % at most, less than any measure of the bench shows."""

_FEW_STEPS = 20
"""Below so many steps of the scale half a dose is a guess; our own choice, no source: of twenty
steps one is 5 %, as much as the law itself may miss a dose, and half of the dose is given first."""


def field(
    field_id: str,
    label: str,
    asks: Asks,
    example: str,
    customary: str = "",
    *,
    optional: bool = False,
    usual: bool = False,
) -> SumField:
    """A field in one line; a ``usual`` one may be left out."""
    return SumField(
        id=field_id,
        label=label,
        asks=asks,
        example=example,
        customary=customary,
        optional=optional or usual,
        usual=usual,
    )


def choice(
    field_id: str,
    label: str,
    choices: tuple[tuple[str, str], ...],
    *,
    example: str = "",
    optional: bool = False,
) -> SumField:
    """A field with options to choose from; the first is the example unless one is named."""
    return SumField(
        id=field_id,
        label=label,
        asks="choice",
        example=example or choices[0][0],
        choices=choices,
        optional=optional,
    )


def shape_fields(of: str, *, bottle: bool = False) -> tuple[SumField, SumField]:
    """The shape and the sizes of a vessel, or of a bottle."""
    tub, small = ("40 cm x 50 cm", "16 in x 20 in"), ("6 cm x 18 cm", "2 1/2 in x 7 in")
    return (
        choice("shape", f"Shape of the {of}", SHAPES),
        field("sizes", "Its inside sizes", "sizes", *(small if bottle else tub)),
    )


def keep_free() -> SumField:
    """What is left empty below the rim."""
    return field("keep-free", "Kept free below the rim", "length", "5 cm", "2 in", optional=True)


def bath_celsius() -> SumField:
    """The temperature of a brine or a bath."""
    return field("temperature", "Temperature of it", "temperature", "18 °C", "64 °F")


def tub_is_full() -> SumField:
    """Whether the volume must end as it began."""
    return choice(
        "tub",
        "Room in the tub",
        (("room", "there is room"), ("full", "full: take out first")),
        optional=True,
    )


def mass_words(grams: float, shop: Shop) -> str:
    """A weight as the shop's scale shows it."""
    return format_mass(grams, measures=shop.measures, step_g=shop.scale.step_g)


def volume_words(litres: float, shop: Shop) -> str:
    """A volume in the shop's measures."""
    return format_volume(litres, measures=shop.measures)


def too_little_to_weigh(grams: float, shop: Shop) -> tuple[str, ...]:
    """A sentence where a dose is so few steps of the scale that half of it cannot be told."""
    if not 0.0 < grams < _FEW_STEPS * shop.scale.step_g:
        return ()
    return ("So little is hard to weigh here: dissolve ten times as much and use a tenth of it.",)
