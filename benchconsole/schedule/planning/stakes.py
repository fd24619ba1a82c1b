"""How much a minute past a latest time weighs, by what it spoils."""

from __future__ import annotations

STAKES: dict[str, int] = {"hide": 4, "quality": 2, "work": 1, "nothing": 1}
"""Weights of the stakes a stage may name; our own choice, so that plans can be compared.

Whole numbers, since costs are. Where only work or nothing is lost a limit still counts: it weighs
least, and is broken first when not all can be kept.
"""
