"""Thin-layer drying curves, and the two ways of stating moisture.

Moisture on the dry basis is g of water per g of bone-dry hide, on the wet basis the share of water
in the whole weight. ``MR = (X - Xe) / (X0 - Xe)`` on the dry basis: 1 at the beginning, 0 when the
hide is at rest with the air. Published forms: Lewis, Ind. Eng. Chem. 13 (1921) 427,
``MR = exp(-k t)``; Page, thesis, Purdue (1949), ``MR = exp(-k t^n)``; Overhults et al., Trans.
ASAE 16 (1973) 112, ``MR = exp(-(r t)^n)``, which is Page with ``k = r^n``. Overhults' form is used
here, since time and rate may then be scaled together: a hide that dries at half the rate takes
twice the time. It fits leather best of five (Benmakhlouf et al., Heat Mass Transfer, 2018).
"""

from __future__ import annotations

import math

FAR = 60.0
"""exp(-60) is nothing: beyond it a curve has ended."""


def dry_basis(wet: float) -> float:
    """g of water per g dry from the share of water in the whole; ValueError unless 0 <= it < 1."""
    if not 0.0 <= wet < 1.0:
        raise ValueError(f"a share of water lies from 0 to below 1, not {wet:g}")
    return wet / (1.0 - wet)


def wet_basis(dry: float) -> float:
    """Share of water in the whole from g of water per g dry; ValueError below 0."""
    if not dry >= 0.0:
        raise ValueError(f"moisture cannot be below 0, and {dry:g} is")
    return dry / (1.0 + dry)


def moisture_ratio(hours: float, rate_per_h: float, exponent: float = 1.0) -> float:
    """MR after so many hours of drying; Lewis' curve with ``exponent`` 1. 1 before the beginning.

    ``rate_per_h`` and ``exponent`` are above 0.
    """
    if hours <= 0.0:
        return 1.0
    return math.exp(-min((rate_per_h * hours) ** exponent, FAR))


def hours_to_ratio(ratio: float, rate_per_h: float, exponent: float = 1.0) -> float:
    """After how many hours MR has fallen to ``ratio``; endless for 0 or less, 0 for 1 or more."""
    if ratio >= 1.0:
        return 0.0
    if ratio <= 0.0:
        return math.inf
    return float((-math.log(ratio)) ** (1.0 / exponent) / rate_per_h)
