"""The acid liquor that several sums ask about: acid as it is sold, salt, volume, temperature."""

from __future__ import annotations

from benchconsole.chemistry.acidity import AcidLiquor
from benchconsole.chemistry.acids import ACIDS
from benchconsole.chemistry.commercial_acid import pure_g
from benchconsole.chemistry.swelling import AMPLE_G_PER_L, Guard, salt_before_acid
from benchconsole.desk.sums.fields import (
    bath_celsius,
    choice,
    field,
    mass_words,
    volume_words,
)
from benchconsole.desk.sums.records import SumField
from benchconsole.desk.sums.typed import Typed
from benchconsole.mixing.acid_checks import SWELLING_PH, liquor_inputs
from benchconsole.model.record import Record
from benchconsole.quantities import format_temperature

CRYSTALS = {
    "oxalic": (71.4, "oxalic acid crystals of the shop hold water and are 71.4 % acid"),
    "citric": (91.4, "citric acid crystals that hold water (monohydrate) are 91.4 % acid"),
}
"""Per cent of acid in the crystals by molar mass, and how it is said; dry citric acid is 100 %."""

PUT_NO_SKIN_IN = "Put no skin in, for it would swell: there is too little salt. "


def acid_share(typed: Typed) -> float:
    """Grams of acid in a gram of it as it is sold; refuses 0 %, which is no acid."""
    percent = typed.percent("acid-strength")
    if percent <= 0.0:
        raise typed.refuse("acid-strength", "acid of 0 % holds none")
    return percent / 100.0


def _in_it_g(typed: Typed) -> float:
    """Grams of 100 % acid in the liquor, from acid as it is sold."""
    share = acid_share(typed)
    if not typed.given("acid-amount"):
        return 0.0
    amount = typed.amount("acid-amount")
    if amount.volume_l is None:
        return (amount.mass_g or 0.0) * share
    if not typed.given("acid-density"):
        raise typed.refuse("acid-density", "acid by volume is weighed by it; it is on the label")
    return pure_g(1000.0 * amount.volume_l, share, typed.density_kg_m3("acid-density"))


def liquor_of(typed: Typed) -> AcidLiquor:
    """The liquor as the form describes it; raises ``BadInput`` and ``OutOfRange``."""
    litres = typed.volume_l("volume")
    return AcidLiquor(
        acids=((ACIDS[typed.choice("which-acid")], _in_it_g(typed) / litres),),
        salt_g_per_l=typed.mass_g("salt", zero=True) / litres,
        celsius=typed.celsius("temperature"),
    )


def typed_inputs(liquor: AcidLiquor, typed: Typed) -> tuple[tuple[str, str], ...]:
    """The same for a working."""
    return (
        *liquor_inputs(liquor.acids, liquor.salt_g_per_l),
        ("volume", volume_words(typed.volume_l("volume"), typed.shop)),
        ("temperature", format_temperature(liquor.celsius, measures=typed.measures, digits=1)),
    )


def acid_fields(*, needed: bool) -> tuple[SumField, ...]:
    """The acid as it is sold; without ``needed`` there may be none in it yet."""
    return (
        choice("which-acid", "Acid", tuple((name, acid.name) for name, acid in ACIDS.items())),
        field("acid-strength", "Its strength, on the label", "percent", "85 %"),
        field(
            "acid-amount",
            "Acid in it, as sold",
            "amount",
            "100 g",
            "3 1/2 oz",
            optional=not needed,
        ),
        field("acid-density", "Its density (if by volume)", "density", "1.195 kg/L", optional=True),
    )


LIQUOR_FIELDS = (
    field("salt", "Salt in it", "mass", "2 kg", "5 lb"),
    field("volume", "All of it, made up", "volume", "20 L", "5 gal"),
    bath_celsius(),
)


def crystal_words(typed: Typed) -> tuple[str, ...]:
    """A sentence where a strength above that of the usual crystals was typed."""
    percent, words = CRYSTALS.get(typed.choice("which-acid"), (100.0, ""))
    if typed.percent("acid-strength") <= percent:
        return ()
    return (f"Read the pack: {words}.",)


class SaltWords(Record, frozen=True, kw_only=True):
    """What is said of the salt: ``warning`` begins the answer, ``lines`` go with it."""

    warning: str = ""
    lines: tuple[str, ...] = ()


def salt_words(liquor: AcidLiquor, ph: float, typed: Typed) -> SaltWords:
    """The verdict on the salt of a liquor that comes to this pH.

    Nothing of one without any that is no strong acid: a worksheet asks for none there either.
    """
    if liquor.salt_g_per_l <= 0.0 and ph >= SWELLING_PH:
        return SaltWords()
    salt = salt_before_acid(liquor.salt_g_per_l)
    lines = [f"{salt.says[0].upper()}{salt.says[1:]}."]
    if salt.guard is not Guard.ENOUGH:
        more = mass_words(salt.wanting_g_per_l * typed.volume_l("volume"), typed.shop)
        lines.append(
            f"{more} more salt brings it to {AMPLE_G_PER_L:g} g/L: salt first, then the acid."
        )
    too_little = salt.guard is Guard.TOO_LITTLE
    return SaltWords(warning=PUT_NO_SKIN_IN if too_little else "", lines=tuple(lines))
