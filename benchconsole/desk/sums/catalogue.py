"""All sums there are, in the order in which the list shows them."""

from __future__ import annotations

from benchconsole.desk.sums.acid_sums import ACID_SUMS
from benchconsole.desk.sums.alum_sums import ALUM_SUMS
from benchconsole.desk.sums.brine_sums import BRINE_SUMS
from benchconsole.desk.sums.dressing_sums import DRESSING_SUMS
from benchconsole.desk.sums.neighbour_sums import NEIGHBOUR_SUMS
from benchconsole.desk.sums.records import Sum
from benchconsole.desk.sums.scale_sums import SCALE_SUMS
from benchconsole.desk.sums.vessel_sums import VESSEL_SUMS
from benchconsole.desk.sums.water_sums import WATER_SUMS
from benchconsole.errors import NotKnown

SUMS: tuple[Sum, ...] = (
    *BRINE_SUMS,
    *WATER_SUMS,
    *VESSEL_SUMS,
    *DRESSING_SUMS,
    *ACID_SUMS,
    *ALUM_SUMS,
    *SCALE_SUMS,
    *NEIGHBOUR_SUMS,
)

_LONGEST = 60

_SPELLED = (
    ("iz", "is"),
    ("yz", "ys"),
    ("our", "or"),
    ("litre", "liter"),
    ("sulph", "sulf"),
    ("aluminium", "aluminum"),
    ("grey", "gray"),
)
"""Two spellings of one sound, the first read as the second in what is typed and what is sought."""


def sum_named(name: str) -> Sum:
    """The sum of that name; raises ``NotKnown``."""
    wanted = name.strip().lower()
    for one in SUMS:
        if one.name == wanted:
            return one
    raise NotKnown("sum", name, tuple(one.name for one in SUMS))


def sums_matching(text: str) -> tuple[Sum, ...]:
    """The sums of whose name, title or purpose some word begins with each word typed.

    American and British spellings find the same: neutralize, neutralise.
    """
    typed = text[:_LONGEST].casefold().split()
    return tuple(one for one in SUMS if all(_begins(one, word) for word in typed))


def _begins(one: Sum, word: str) -> bool:
    words = f"{one.name.replace('-', ' ')} {one.title} {one.purpose}".casefold().split()
    # Half a word may end within two letters that are spelled together, so as typed counts too.
    return any(
        each.startswith(word) or _one_spelling(each).startswith(_one_spelling(word))
        for each in words
    )


def _one_spelling(word: str) -> str:
    for one, other in _SPELLED:
        word = word.replace(one, other)
    return word
