"""All sums there are, in the order in which the list shows them."""

from __future__ import annotations

from benchconsole.desk.sums.acid_sums import ACID_SUMS
from benchconsole.desk.sums.alum_sums import ALUM_SUMS
from benchconsole.desk.sums.brine_sums import BRINE_SUMS
from benchconsole.desk.sums.dressing_sums import DRESSING_SUMS
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
)

_LONGEST = 60


def sum_named(name: str) -> Sum:
    """The sum of that name; raises ``NotKnown``."""
    wanted = name.strip().lower()
    for one in SUMS:
        if one.name == wanted:
            return one
    raise NotKnown("sum", name, tuple(one.name for one in SUMS))


def sums_matching(text: str) -> tuple[Sum, ...]:
    """The sums of whose name, title or purpose some word begins with each word typed."""
    typed = text[:_LONGEST].casefold().split()
    return tuple(one for one in SUMS if all(_begins(one, word) for word in typed))


def _begins(one: Sum, word: str) -> bool:
    words = f"{one.name.replace('-', ' ')} {one.title} {one.purpose}".casefold().split()
    return any(each.startswith(word) for each in words)
