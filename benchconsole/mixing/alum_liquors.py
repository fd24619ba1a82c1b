"""Alum at the bench: one salt for another, the offer to a hide, the basicity that soda gives."""

from __future__ import annotations

from benchconsole.chemistry.alkalis import SOLD_AS_WASHING_SODA, Alkali
from benchconsole.chemistry.alum import (
    CLEAR_UP_TO,
    SKIN_TAKES_UP,
    SULPHATE_STRONGER,
    THROWS_OUT_ABOVE,
    AluminiumSalt,
    alkali_g,
    alumina_g,
    aluminium_mol,
    aluminium_salt_g,
    basicity,
    hydroxyl_for,
    hydroxyl_mol,
)
from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_mass
from benchconsole.mixing.working import Working, percent_words
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_mass

SALT_NAMES = {
    AluminiumSalt.POTASSIUM_ALUM: "potassium alum",
    AluminiumSalt.AMMONIUM_ALUM: "ammonium alum",
    AluminiumSalt.SULPHATE: "aluminium sulphate (18 water)",
}

MOST_OFFERED = 10.0
"""Grams of alum for each gram of hide past which one of the two weights is a slip. Our own
choice, no source; the strongest printed bath at hand offers half the hide's weight."""

_MANUAL = "The Principles of Leather Manufacture (1903), ch. XIV"


class Exchanged(Record, frozen=True, kw_only=True):
    """``instead_g`` grams of another product do the work of ``mass_g`` grams."""

    mass_g: float
    instead_g: float
    says: str
    working: Working


class AlumOffer(Record, frozen=True, kw_only=True):
    """What a hide is offered, in oxide and in alum, on its weight; ``enough`` for what it takes."""

    alumina_percent: float
    alum_percent: float
    enough: bool
    says: str
    working: Working


class AlumBasicity(Record, frozen=True, kw_only=True):
    """``basicity`` as a share; ``most_alkali_g`` of this alkali brings it to the limit.

    ``mistaken`` gives the basicity if another washing soda went in, gram for gram.
    """

    basicity: float
    clear: bool
    throws_out: bool
    alkali_g: float
    most_alkali_g: float
    mistaken: tuple[tuple[Alkali, float], ...]
    says: str
    working: Working


def same_aluminium(
    salt: AluminiumSalt, mass_g: float, instead: AluminiumSalt, shop: Shop
) -> Exchanged:
    """Grams of another aluminium salt that hold the same aluminium."""
    require_mass("weight of alum", mass_g, zero=True, example="454 g")
    grams = aluminium_salt_g(instead, aluminium_mol(salt, mass_g))
    had, want = _mass(mass_g, shop), _mass(grams, shop)
    low, high = (f"{100.0 * (times - 1.0):.0f}" for times in SULPHATE_STRONGER)
    return Exchanged(
        mass_g=mass_g,
        instead_g=grams,
        says=f"{want} of {SALT_NAMES[instead]} holds the aluminium of {had} of {SALT_NAMES[salt]}.",
        working=Working(
            title="The same aluminium",
            inputs=((SALT_NAMES[salt], f"{mass_g:.1f} g"),),
            equation="948 potassium alum = 906 ammonium alum = 666 aluminium sulphate (18 water)",
            result=f"{grams:.1f} g of {SALT_NAMES[instead]}",
            source=f"{_MANUAL}; computed from molar masses, which give the same to 0.1 %",
            sure="exact for pure crystals; shop sulphate often has 14 to 16 water and is then "
            f"{low} to {high} % stronger (from memory)",
        ),
    )


def same_alkali(alkali: Alkali, mass_g: float, instead: Alkali, shop: Shop) -> Exchanged:
    """Grams of another alkali that take the same acid: which washing soda is in the pack?"""
    require_mass("weight of soda", mass_g, zero=True, example="113 g")
    grams = alkali_g(instead, hydroxyl_mol(alkali, mass_g))
    had, want = _mass(mass_g, shop), _mass(grams, shop)
    return Exchanged(
        mass_g=mass_g,
        instead_g=grams,
        says=f"{want} of {instead.words} does the work of {had} of {alkali.words}.",
        working=Working(
            title="The same alkali",
            inputs=((alkali.words, f"{mass_g:.1f} g"),),
            equation="mass × acid it takes ÷ acid the other takes, gram for gram",
            result=f"{grams:.1f} g of {instead.words}",
            source="molar masses and the acid each takes",
            sure="exact for fresh goods; crystals that have gone white have lost water and are "
            "stronger",
        ),
    )


def alum_offer(salt: AluminiumSalt, mass_g: float, hide_mass_g: float, shop: Shop) -> AlumOffer:
    """Aluminium offered as per cent Al2O3 on the hide's weight, and whether there is enough.

    ``hide_mass_g`` is the drained wet weight. The take-up is stated in alum, so other salts are
    counted by the potassium alum that holds their aluminium. Raises ``BadInput`` for weights
    that are none, and for more alum than `MOST_OFFERED` times the hide.
    """
    require_mass("weight of alum", mass_g, zero=True, example="454 g")
    require_mass("hide weight", hide_mass_g)
    oxide = alumina_g(salt, mass_g)
    as_alum = aluminium_salt_g(AluminiumSalt.POTASSIUM_ALUM, aluminium_mol(salt, mass_g))
    if as_alum > MOST_OFFERED * hide_mass_g:
        fault = f"it is offered more than {MOST_OFFERED:g} times its own weight of alum"
        raise BadInput("hide weight", fault, _mass(mass_g, shop))
    taken = SKIN_TAKES_UP * hide_mass_g
    enough = as_alum >= taken
    offered, wants = 100.0 * as_alum / hide_mass_g, _mass(taken, shop)
    verdict = "enough" if enough else "too little: make more of it, not a thinner one"
    return AlumOffer(
        alumina_percent=100.0 * oxide / hide_mass_g,
        alum_percent=offered,
        enough=enough,
        says=f"{offer_words(offered, 100.0 * oxide / hide_mass_g)} on "
        f"the weight of the hide, which takes up about {wants}: {verdict}.",
        working=Working(
            title="Aluminium offered",
            inputs=(
                (SALT_NAMES[salt], f"{mass_g:.1f} g"),
                ("the same as potassium alum", f"{as_alum:.1f} g"),
                ("hide, drained wet", f"{hide_mass_g:.0f} g"),
                ("taken up", f"{100.0 * SKIN_TAKES_UP:g} % of the skin's weight, as alum"),
            ),
            equation="Al2O3 = moles of aluminium × 101.961 ÷ 2; offer = 100 × Al2O3 ÷ hide",
            result=f"{oxide:.1f} g Al2O3, {100.0 * oxide / hide_mass_g:.2f} % of the hide",
            source="Principles and Practice of Fur Dressing and Fur Dyeing (1922), ch. V",
            sure="the offer is exact; the take-up is one book's round figure, and soaking in water "
            "draws three quarters of it out again",
        ),
    )


def offer_words(alum_percent: float, alumina_percent: float) -> str:
    """What a mix offers, in alum and in oxide: ``The mix offers 14.1 % alum (1.5 % Al2O3)``."""
    alum, oxide = percent_words(alum_percent / 100.0), percent_words(alumina_percent / 100.0, 2)
    return f"The mix offers {alum} alum ({oxide} Al2O3)"


def liquor_basicity(
    salt: AluminiumSalt, alum_mass_g: float, alkali: Alkali, alkali_mass_g: float, shop: Shop
) -> AlumBasicity:
    """How basic this much alkali makes this much alum, and whether it throws the alum out.

    Raises ``BadInput`` without alum, or for an alkali weight that is none.
    """
    require_mass("weight of alum", alum_mass_g, example="454 g")
    require_mass("weight of soda", alkali_mass_g, zero=True, example="113 g")
    return _basicity(salt, alum_mass_g, alkali, alkali_mass_g, shop)


def alkali_for_basicity(
    salt: AluminiumSalt, alum_mass_g: float, alkali: Alkali, percent: float, shop: Shop
) -> AlumBasicity:
    """The grams of this alkali (``alkali_g``) that bring the alum to a basicity in per cent.

    A basicity past the limit is answered, with the warning. Raises ``BadInput`` outside 0 to 100.
    """
    require_mass("weight of alum", alum_mass_g, example="454 g")
    require_between("basicity", percent, 0.0, 100.0, "between 0 and 100 %", "28 %")
    moles = hydroxyl_for(aluminium_mol(salt, alum_mass_g), percent / 100.0)
    return _basicity(salt, alum_mass_g, alkali, alkali_g(alkali, moles), shop)


def _basicity(
    salt: AluminiumSalt, alum_g: float, alkali: Alkali, soda_g: float, shop: Shop
) -> AlumBasicity:
    aluminium = aluminium_mol(salt, alum_g)
    share = basicity(aluminium, hydroxyl_mol(alkali, soda_g))
    mistaken = tuple(
        (other, basicity(aluminium, hydroxyl_mol(other, soda_g)))
        for other in SOLD_AS_WASHING_SODA
        if alkali in SOLD_AS_WASHING_SODA and other != alkali
    )
    most = alkali_g(alkali, hydroxyl_for(aluminium, THROWS_OUT_ABOVE))
    throws_out, clear = share > THROWS_OUT_ABOVE, share <= CLEAR_UP_TO
    return AlumBasicity(
        basicity=share,
        clear=clear,
        throws_out=throws_out,
        alkali_g=soda_g,
        most_alkali_g=most,
        mistaken=mistaken,
        says=_says(salt, alum_g, alkali, soda_g, share, most, mistaken, shop),
        working=Working(
            title="Basicity of the alum liquor",
            inputs=(
                (SALT_NAMES[salt], f"{alum_g:.1f} g, {aluminium:.4f} mol of aluminium"),
                (alkali.words, f"{soda_g:.1f} g"),
                *(
                    (f"had it been {other.words}", f"{100.0 * wrong:.1f} %")
                    for other, wrong in mistaken
                ),
                ("said to stay clear", f"up to {100.0 * CLEAR_UP_TO:.1f} %"),
                ("thrown out", f"above {100.0 * THROWS_OUT_ABOVE:.1f} %"),
            ),
            equation="basicity = acid the alkali takes ÷ (3 × aluminium), in moles (Schorlemmer)",
            result=f"{100.0 * share:.1f} %",
            source=f"{_MANUAL}: 4 parts of soda crystals to 10 of alum throw nothing down",
            sure="the sum is exact for fresh goods; the limit is a rule for cold liquors of the "
            "strength in that book, and warmth, time and salt move it",
        ),
    )


def _says(
    salt: AluminiumSalt,
    alum_g: float,
    alkali: Alkali,
    soda_g: float,
    share: float,
    most_g: float,
    mistaken: tuple[tuple[Alkali, float], ...],
    shop: Shop,
) -> str:
    soda, alum = _mass(soda_g, shop), _mass(alum_g, shop)
    made = (
        f"{soda} of {alkali.words} makes {alum} of {SALT_NAMES[salt]} {100.0 * share:.1f} % basic"
    )
    if share > THROWS_OUT_ABOVE:
        return f"{made}: too much, it throws the alum out as white jelly; use at most " + (
            f"{_mass(most_g, shop)}."
        )
    if share > CLEAR_UP_TO:
        made += ", more than in any recipe here: try a jar of it first"
    worst = max(mistaken, key=lambda each: each[1], default=None)
    if worst is not None and worst[1] > THROWS_OUT_ABOVE:
        made += f"; be sure it is not {worst[0].words}, which would make it " + (
            f"{100.0 * worst[1]:.1f} % and throw it out"
        )
    return f"{made}."


def _mass(grams: float, shop: Shop) -> str:
    return format_mass(grams, measures=shop.measures, step_g=shop.scale.step_g)
