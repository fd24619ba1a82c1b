"""What the damage tests of the store have gone through in this run, for the line at its end."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass
class DamageCounts:
    """Counted while the tests run; proofs that mistakes are caught count elsewhere."""

    files: int = 0
    """Damaged stores opened."""
    told: int = 0
    """Taps that were in no file any more, and were told to be missing."""
    lost: int = 0
    """Taps that were missing without a word."""
    unknowable: int = 0
    """Stores cut at a line's end, with neither tip nor copy left to show it."""

    def __str__(self) -> str:
        return (
            f"store: {self.files:,} damaged stores opened, {self.told:,} taps gone and told, "
            f"{self.lost} silently lost ({self.unknowable} cut at a line's end with neither tip "
            "nor copy left to show it)"
        )


DAMAGE_COUNTS = DamageCounts()
