"""The mild alkalis of the trade, by the ids of the library: what a mole weighs and takes up.

Three of them are sold as washing soda. The whole of each is taken to react: soda and bicarbonate
as far as carbonic acid, which leaves as gas, borax as far as boric acid.
"""

from enum import StrEnum


class Alkali(StrEnum):
    """One alkali as weighed out; the value is its id in the library."""

    SODIUM_BICARBONATE = "sodium-bicarbonate"
    BORAX = "borax"
    WASHING_SODA = "washing-soda"
    SODA_MONOHYDRATE = "soda-monohydrate"
    SODA_ASH = "soda-ash"

    @property
    def words(self) -> str:
        """What it is called in a sentence."""
        return _WORDS[self]

    @property
    def molar_mass(self) -> float:
        """g/mol as weighed."""
        return _MOLAR_MASS[self]

    @property
    def sodium(self) -> int:
        """Atoms of sodium in a mole, and so the moles of acid that it takes."""
        return 1 if self is Alkali.SODIUM_BICARBONATE else 2

    @property
    def boron(self) -> int:
        """Moles of boric acid that a mole leaves behind."""
        return 4 if self is Alkali.BORAX else 0


SOLD_AS_WASHING_SODA = (Alkali.WASHING_SODA, Alkali.SODA_MONOHYDRATE, Alkali.SODA_ASH)

_WORDS = {
    Alkali.SODIUM_BICARBONATE: "baking soda",
    Alkali.BORAX: "borax",
    Alkali.WASHING_SODA: "washing-soda crystals",
    Alkali.SODA_MONOHYDRATE: "soda monohydrate",
    Alkali.SODA_ASH: "soda ash",
}

#: NaHCO3, Na2B4O7·10H2O, Na2CO3 with 10, 1 and no H2O; IUPAC 2021 abridged atomic weights.
_MOLAR_MASS = {
    Alkali.SODIUM_BICARBONATE: 84.007,
    Alkali.BORAX: 381.37,
    Alkali.WASHING_SODA: 286.141,
    Alkali.SODA_MONOHYDRATE: 124.003,
    Alkali.SODA_ASH: 105.988,
}
