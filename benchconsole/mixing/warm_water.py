"""Water at a wanted temperature from hot and cold, by the heat that each brings.

Specific heat is taken as one figure. Between 0 and 100 °C that of water lies from 4.178 to
4.217 kJ/(kg K), a spread of 1 %, which moves a mixture by less than 0.1 °C: no bench
thermometer shows that, and an unwarmed tub takes more. Volumes go through density, hot water
being up to 4 % lighter.
"""

from __future__ import annotations

from benchconsole.chemistry import water_density
from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_volume
from benchconsole.mixing.working import Working
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_temperature, format_volume


class HotAndCold(Record, frozen=True, kw_only=True):
    """Litres of each, measured as hot and as cold as they are, and what they make."""

    hot_l: float
    cold_l: float
    volume_l: float
    celsius: float
    says: str
    working: Working


def water_at(
    wanted_celsius: float, volume_l: float, hot_celsius: float, cold_celsius: float, shop: Shop
) -> HotAndCold:
    """Hot and cold water that make ``volume_l`` litres at ``wanted_celsius``.

    Raises ``BadInput`` where the temperature does not lie between the two, or is not water's.
    """
    require_volume("volume", volume_l)
    _between(wanted_celsius, hot_celsius, cold_celsius, shop)
    mass = volume_l * water_density(wanted_celsius)
    hot_kg = mass * (wanted_celsius - cold_celsius) / (hot_celsius - cold_celsius)
    hot_l = hot_kg / water_density(hot_celsius)
    cold_l = (mass - hot_kg) / water_density(cold_celsius)
    return _found(hot_l, cold_l, volume_l, wanted_celsius, hot_celsius, cold_celsius, shop)


def hot_to_add(
    wanted_celsius: float, cold_l: float, hot_celsius: float, cold_celsius: float, shop: Shop
) -> HotAndCold:
    """Hot water that brings the ``cold_l`` litres in a tub up to ``wanted_celsius``.

    For water, or a liquor as thin as a soak: hot water thins what it warms. Raises ``BadInput``
    as :func:`water_at`, and where no amount of hot water would do it.
    """
    require_volume("cold water", cold_l)
    _between(wanted_celsius, hot_celsius, cold_celsius, shop)
    if wanted_celsius == hot_celsius:
        raise BadInput("temperature wanted", "no amount of water as hot as it gets there", "35 °C")
    cold_kg = cold_l * water_density(cold_celsius)
    hot_kg = cold_kg * (wanted_celsius - cold_celsius) / (hot_celsius - wanted_celsius)
    hot_l = hot_kg / water_density(hot_celsius)
    volume_l = (cold_kg + hot_kg) / water_density(wanted_celsius)
    return _found(hot_l, cold_l, volume_l, wanted_celsius, hot_celsius, cold_celsius, shop)


def _between(wanted: float, hot: float, cold: float, shop: Shop) -> None:
    require_between("hot water", hot, 0.0, 100.0, "between 0 and 100 °C", "60 °C")
    require_between("cold water", cold, 0.0, 100.0, "between 0 and 100 °C", "12 °C")
    if not cold < hot:
        raise BadInput("hot water", "it must be hotter than the cold", "60 °C")
    if not cold <= wanted <= hot:
        ends = " and ".join(format_temperature(t, measures=shop.measures) for t in (cold, hot))
        middle = format_temperature((cold + hot) / 2.0, measures="metric")
        raise BadInput("temperature wanted", f"these waters reach only between {ends}", middle)


def _found(
    hot_l: float, cold_l: float, volume_l: float, at: float, hot: float, cold: float, shop: Shop
) -> HotAndCold:
    volumes = [
        format_volume(litres, measures=shop.measures) for litres in (hot_l, cold_l, volume_l)
    ]
    warmths = [format_temperature(celsius, measures=shop.measures) for celsius in (hot, cold, at)]
    parts = [f"{volume} at {warmth}" for volume, warmth in zip(volumes, warmths, strict=True)]
    return HotAndCold(
        hot_l=hot_l,
        cold_l=cold_l,
        volume_l=volume_l,
        celsius=at,
        says=f"{parts[0]} and {parts[1]} make {parts[2]}; the tub itself takes a little heat, so "
        "measure before the skin goes in.",
        working=Working(
            title="Hot and cold water",
            inputs=(
                ("hot", f"{hot:.1f} °C, {water_density(hot):.1f} kg/m³"),
                ("cold", f"{cold:.1f} °C, {water_density(cold):.1f} kg/m³"),
                ("wanted", f"{at:.1f} °C, {water_density(at):.1f} kg/m³"),
            ),
            equation="hot mass × (hot − wanted) = cold mass × (wanted − cold)",
            result=f"{hot_l:.3f} L hot, {cold_l:.3f} L cold, {volume_l:.3f} L together",
            source="density of water: Kell, J. Chem. Eng. Data 20 (1975) 97; one specific heat",
            sure="within 0.1 °C for the water alone; the heat that vessel, skin and air take "
            "is left out, and in a cold tub can be several °C",
        ),
    )
