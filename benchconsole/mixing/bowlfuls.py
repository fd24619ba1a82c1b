"""Bowlfuls: how an amount is shared out when it is more than the scale can carry at once."""

from __future__ import annotations

import math

from benchconsole.model.record import Record

SLACK_G = 1e-6
"""What adding and taking away floats may leave over; far below any scale.

Our own choice, no source."""


class Bowlful(Record, frozen=True, kw_only=True):
    """One bowl of an amount: how much, of how many such bowls, and into an empty one?"""

    aim_g: float
    lots: int = 1
    empty_first: bool = False


def lots_of(grams: float, room_g: float) -> int:
    """How many equal bowls an amount takes where ``room_g`` fits into one; at least one."""
    return max(math.ceil((grams - SLACK_G) / room_g), 1)


def bowlful_of(missing_g: float, *, load_g: float, room_g: float) -> Bowlful:
    """What to put in next of ``missing_g``, with ``load_g`` lying in the bowl already.

    All of it where there is room, else the bowl is emptied and the amount shared evenly.
    """
    # Nothing missing is a line over-poured: its bowl stays, however full, to be spooned back.
    if missing_g <= max(room_g - load_g, 0.0) + SLACK_G:
        return Bowlful(aim_g=missing_g)
    lots = lots_of(missing_g, room_g)
    return Bowlful(aim_g=missing_g / lots, lots=lots, empty_first=load_g > SLACK_G)
