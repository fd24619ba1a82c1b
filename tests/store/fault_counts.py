"""What the fault tests of the store have gone through in this run, for the line at its end."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass
class Counts:
    """Counted while the tests run; proofs that mistakes are caught count elsewhere."""

    points: int = 0
    """Crashes replayed: states of the disk at a point of a recording."""
    folders: int = 0
    """Different folders among them."""
    kills: int = 0
    """Real processes killed."""
    taps: int = 0
    """Acknowledged taps looked for."""
    lost: int = 0
    """Acknowledged taps not found."""

    def __str__(self) -> str:
        return (
            f"store: {self.points:,} fault points replayed ({self.folders:,} different folders), "
            f"{self.kills} real kills, {self.taps:,} acknowledged taps checked, {self.lost} lost"
        )


COUNTS = Counts()
