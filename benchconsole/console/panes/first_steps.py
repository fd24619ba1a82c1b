"""What an empty shop shows in place of its hides: how to begin."""

from __future__ import annotations

FIRST_STEPS = """\
No hides yet. How it goes:

{shop}
 i  take in a hide
 m  bring up the mix it needs
 w  weigh it out
 d  done: it is in, the wait runs
 a  attended: stirred, turned
 v  passed the check
 t  set a timer
 ?  every key
"""
"""What an empty shop shows; narrow enough for the hide list of an 80-column terminal."""

UNSET_SHOP = """\
 g  your shop: say this first.
    Until then it is US gallons,
    a 5 kg scale by 1 g, water of
    59 °F, open from 8 to 18."""
SET_SHOP = " g  your shop's settings"
"""The line of the first steps about the shop, before and after it was told."""


def first_steps(*, unset: bool) -> str:
    """How it goes; ``unset``: the shop's settings were never told."""
    return FIRST_STEPS.format(shop=UNSET_SHOP if unset else SET_SHOP)
