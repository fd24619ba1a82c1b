"""How much drying a hide has had: hours that it lay open, loosely covered or under plastic."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from benchconsole.model.drying import Cover
from benchconsole.model.record import Record

COVERS: tuple[Cover, ...] = ("open", "loose", "plastic")


class Exposure(Record, frozen=True, kw_only=True):
    """Covers put on at hours after drying began, in order, the first at 0; the last one stays."""

    changes: tuple[tuple[float, Cover], ...] = ((0.0, "open"),)

    @classmethod
    def of(cls, changes: Iterable[tuple[float, Cover]]) -> Exposure:
        """From changes in any order: those before the beginning count for it, repeats for one."""
        kept: list[tuple[float, Cover]] = [(0.0, "open")]
        for hours, cover in sorted(changes, key=lambda change: change[0]):
            at = max(hours, 0.0)
            if at == kept[-1][0]:
                kept[-1] = (at, cover)
            elif cover != kept[-1][1]:
                kept.append((at, cover))
        return cls(changes=tuple(kept))

    @property
    def cover(self) -> Cover:
        """How it lies now."""
        return self.changes[-1][1]

    def hours_under(self, hours: float) -> tuple[float, float, float]:
        """The hours up to then that it lay open, loose and under plastic."""
        spent = dict.fromkeys(COVERS, 0.0)
        ends = [*(start for start, _ in self.changes[1:]), math.inf]
        for (start, cover), end in zip(self.changes, ends, strict=True):
            spent[cover] += max(0.0, min(hours, end) - start)
        return spent["open"], spent["loose"], spent["plastic"]

    def clock_hours(self, open_hours: float, share: Mapping[Cover, float]) -> float:
        """After how many hours by the clock it has had so many hours of lying open."""
        left = open_hours
        for (start, cover), (end, _) in zip(self.changes, self.changes[1:], strict=False):
            gained = (end - start) * share[cover]
            if left <= gained:
                return start + left / share[cover]
            left -= gained
        start, cover = self.changes[-1]
        return start + left / share[cover]
