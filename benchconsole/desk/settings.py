"""The shop's settings at the desk: typed, checked whole, stored whole."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date, tzinfo
from typing import Any, NamedTuple

import msgspec
from dateutil import tz

from benchconsole.desk.air import EXAMPLE as AIR_EXAMPLE
from benchconsole.desk.air import air_text, read_air
from benchconsole.desk.days_off import (
    AWAY_EXAMPLE,
    CLOSED_EXAMPLE,
    EXTRA_EXAMPLE,
    away_text,
    closed_text,
    extra_text,
    read_away,
    read_closed,
    read_extra,
)
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.means import (
    HANDS_EXAMPLE,
    VESSELS_EXAMPLE,
    read_hands,
    read_vessels,
    vessel_kinds,
    vessels_text,
)
from benchconsole.desk.opening_hours import EXAMPLE, hours_text, read_hours
from benchconsole.desk.typed_lines import NAME_LONGEST, checked_line
from benchconsole.errors import BadInput
from benchconsole.letters import fault_in
from benchconsole.model.events import ShopSet
from benchconsole.model.opening import DaySpan
from benchconsole.model.shop import ScaleUnit, Shop
from benchconsole.quantities import (
    Measures,
    format_mass,
    format_temperature,
    format_volume,
    read_mass,
    read_temperature,
    read_volume,
)

SHOWS: dict[str, ScaleUnit] = {"g": "g", "kg": "kg", "oz": "oz", "lb oz": "lb oz"}
MEASURES: dict[str, Measures] = {"us": "us", "imperial": "imperial", "metric": "metric"}
BELL = {"yes": True, "on": True, "no": False, "off": False}
FINEST_STEP_G, COARSEST_STEP_G = 0.001, 1000.0
_EXAMPLES = {
    "name": "My shop",
    "measures": "us",
    "scale step": "1 g",
    "scale capacity": "5 kg",
    "scale shows": "g",
    "jug": "1 gal",
    "tub": "20 gal",
    "water": "15 °C",
    "hours": EXAMPLE,
    "closed": CLOSED_EXAMPLE,
    "extra": EXTRA_EXAMPLE,
    "away": AWAY_EXAMPLE,
    "hands": HANDS_EXAMPLE,
    "vessels": VESSELS_EXAMPLE,
    "air": AIR_EXAMPLE,
    "zone": "Europe/Lisbon",
    "bell": "yes",
}
"""What would have worked, by field."""

LONGEST = 200
"""Characters in the longest setting but those of the calendar."""

LONGEST_CALENDAR = 2000
"""Characters in the longest list of openings, closed days or time away."""

_CALENDAR = ("hours", "closed", "extra", "away")

_NO_PLACES = ("localtime", "posixrules", "posix", "right", "factory")
"""In the tz database, but no place: the computer's own zone, a rule, or another way of counting."""

_ZONE = re.compile(r"[A-Za-z_]+(/[A-Za-z0-9_+-]+)*")
"""A zone's name as in the tz database; a path or a rule is none, though dateutil reads both."""


class Settings:
    """The part of the desk that knows the shop itself."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger

    @property
    def are_unset(self) -> bool:
        """Whether nothing was ever said about the shop."""
        return self._ledger.shop == Shop()

    def texts(self) -> dict[str, str]:
        """The settings as a person would type them, by field; :meth:`set` reads them back."""
        shop = self._ledger.shop
        scale, measures = shop.scale, shop.measures
        water = format_temperature(shop.water_celsius, measures=measures, digits=1)
        return {
            "name": shop.name,
            "measures": measures,
            "scale step": f"{scale.step_g:.6g} g",
            "scale capacity": format_mass(
                scale.capacity_g, measures="metric", step_g=min(scale.step_g, 1.0)
            ),
            "scale shows": scale.shows,
            "jug": "" if shop.jug_l is None else format_volume(shop.jug_l, measures=measures),
            "tub": "" if shop.tub_l is None else format_volume(shop.tub_l, measures=measures),
            # Of "59 °F (15 °C)" the first alone is what a person types.
            "water": water.partition(" (")[0],
            "hours": hours_text(shop.hours, shop.hours_by_rule),
            "closed": closed_text((*_single_days(shop), *shop.closed), shop.closed_by_rule),
            "extra": extra_text(shop.extra),
            "away": away_text(shop.away, shop.away_times, self._ledger.zone),
            "hands": str(shop.hands),
            "vessels": vessels_text(shop.vessels),
            "air": air_text(shop.climate, measures),
            "zone": shop.zone,
            "bell": "yes" if shop.bell else "no",
        }

    def set(self, texts: Mapping[str, str]) -> Shop:
        """Store the settings a person typed; fields left out or unchanged stay exactly as they are.

        Raises ``BadInput`` naming the field; nothing is stored then.
        """
        before = self.texts()
        for field in texts:
            if field not in before:
                raise BadInput("setting", f"“{field[:40]}” is not one", ", ".join(before))
        typed = {
            field: _checked(field, text)
            for field, text in texts.items()
            if text.strip() != before[field]
        }
        if not typed:
            return self._ledger.shop
        shop = _changed(self._ledger.shop, typed, self._known(typed))
        self._ledger.record([ShopSet(shop=shop)])
        return shop

    def _known(self, typed: Mapping[str, str]) -> _Known:
        """What the typed settings are read by; a zone typed with them counts already."""
        ledger = self._ledger
        zone: tzinfo | None = ledger.zone
        if "zone" in typed:
            zone = tz.gettz(_zone(typed["zone"])) if typed["zone"] else None
        zone = zone or ledger.clock.zone
        # A kind stays known once it was said, though the route that used it is gone.
        kinds = {*vessel_kinds(ledger.library.routes.values()), *ledger.shop.vessels}
        return _Known(tuple(sorted(kinds)), ledger.now().astimezone(zone).date(), zone)

    def undo(self) -> Shop:
        """Take back the last change of the settings; ``NotPossibleNow`` if there is none."""
        self._ledger.undo("shop")
        return self._ledger.shop


class _Known(NamedTuple):
    """What settings are read by: the kinds of vessel there are, today, and the shop's zone."""

    kinds: tuple[str, ...]
    today: date
    zone: tzinfo


def _single_days(shop: Shop) -> tuple[DaySpan, ...]:
    """The closed days of older histories."""
    return tuple(DaySpan(first=day, last=day) for day in sorted(shop.closed_on))


def _changed(shop: Shop, typed: Mapping[str, str], known: _Known) -> Shop:
    """The shop with the typed fields read; the measures first, since others are read in them."""
    measures = _one_of("measures", typed, MEASURES, shop.measures)

    def grams(field: str, now: float) -> float:
        text = typed.get(field)
        return now if text is None else read_mass(text, field=field, measures=measures)

    scale = msgspec.structs.replace(
        shop.scale,
        step_g=grams("scale step", shop.scale.step_g),
        capacity_g=grams("scale capacity", shop.scale.capacity_g),
        shows=_one_of("scale shows", typed, SHOWS, shop.scale.shows),
    )
    if "scale step" in typed and not FINEST_STEP_G <= scale.step_g <= COARSEST_STEP_G:
        raise BadInput(
            "scale step", "a scale steps by 1 mg at least and 1 kg at most", _EXAMPLES["scale step"]
        )
    if scale.capacity_g < 10 * scale.step_g:
        field = "scale capacity" if "scale capacity" in typed else "scale step"
        raise BadInput(field, "the scale carries less than ten of its steps", _EXAMPLES[field])
    readers: dict[str, tuple[str, Callable[[str], Any]]] = {
        "name": ("name", lambda text: checked_line("name", text, NAME_LONGEST, _EXAMPLES["name"])),
        "jug": ("jug_l", lambda text: _litres("jug", text, measures)),
        "tub": ("tub_l", lambda text: _litres("tub", text, measures)),
        "water": ("water_celsius", _water),
        "hands": ("hands", read_hands),
        "vessels": ("vessels", lambda text: read_vessels(text, known.kinds)),
        "air": ("climate", read_air),
        "zone": ("zone", _zone),
    }
    read = {
        attribute: reader(typed[field])
        for field, (attribute, reader) in readers.items()
        if field in typed
    }
    bell = _one_of("bell", typed, BELL, shop.bell)
    read |= _calendar(typed, known)
    return msgspec.structs.replace(shop, measures=measures, scale=scale, bell=bell, **read)


def _calendar(typed: Mapping[str, str], known: _Known) -> dict[str, Any]:
    """The shop's fields that the typed openings, closed days and time away are kept in."""
    read: dict[str, Any] = {}
    if (text := typed.get("hours")) is not None:
        read["hours"], read["hours_by_rule"] = read_hours(text, known.today)
    if (text := typed.get("closed")) is not None:
        read["closed"], read["closed_by_rule"] = read_closed(text, known.today)
        read["closed_on"] = ()
    if (text := typed.get("extra")) is not None:
        read["extra"] = read_extra(text, known.today)
    if (text := typed.get("away")) is not None:
        read["away"], read["away_times"] = read_away(text, known.today, known.zone)
    return read


def _checked(field: str, text: str) -> str:
    """The text trimmed; no setting is that long or holds what does not print."""
    words = text.strip()
    longest = LONGEST_CALENDAR if field in _CALENDAR else LONGEST
    if len(words) > longest:
        raise BadInput(field, f"longer than {longest} characters", _EXAMPLES[field])
    if fault := fault_in(words):
        raise BadInput(field, fault, _EXAMPLES[field])
    return words


def _one_of(field: str, typed: Mapping[str, str], known: Mapping[str, Any], now: Any) -> Any:
    if field not in typed:
        return now
    word = " ".join(typed[field].lower().split())
    if word not in known:
        fault = f"“{typed[field][:40]}” is none of {', '.join(known)}"
        raise BadInput(field, fault, _EXAMPLES[field])
    return known[word]


def _litres(field: str, text: str, measures: Measures) -> float | None:
    """Litres of a vessel of the shop's; None where the field is empty."""
    return read_volume(text, field=field, measures=measures) if text else None


def _water(text: str) -> float:
    celsius = read_temperature(text, field="water")
    if not 0.0 <= celsius <= 100.0:
        raise BadInput("water", "liquid water lies between 0 and 100 °C", _EXAMPLES["water"])
    return celsius


def _zone(text: str) -> str:
    """The name of a zone; empty for the computer's own."""
    if text and not _is_zone(text):
        raise BadInput("zone", f"“{text[:40]}” is not a time zone", _EXAMPLES["zone"])
    return text


def _is_zone(name: str) -> bool:
    if _ZONE.fullmatch(name) is None or name.partition("/")[0].lower() in _NO_PLACES:
        return False
    # A short name of the computer's own zone ("CEST") would mean another one elsewhere.
    return not isinstance(tz.gettz(name), tz.tzlocal | None)
