"""What is missing in a row of lines, and the copies in which it is looked for.

Nothing here reads or writes files.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from datetime import datetime
from itertools import chain, islice

from benchconsole.store.chains import follows, one_history
from benchconsole.store.lines import Line, parsed
from benchconsole.store.tip import Tip

_NEWEST = 3
"""So many copies are looked through for the tip: those further back can hardly hold it."""

Span = tuple[int, int]
"""The first and the last of some tap numbers in a row."""


@dataclass(frozen=True)
class Copy:
    """The content of an earlier log, and its name as it is told to a person."""

    name: str
    body: bytes


@dataclass(frozen=True)
class Gap:
    """Taps are missing in a row of lines before ``place``; at its end, up to the tip."""

    row: Sequence[Line]
    place: int
    tip: Tip | None

    @property
    def before(self) -> Line | None:
        """The line before it; None at the beginning."""
        return self.row[self.place - 1] if self.place else None

    @property
    def after(self) -> Line | None:
        """The line after it; None at the end."""
        return self.row[self.place] if self.place < len(self.row) else None

    @property
    def first(self) -> int:
        """The first number that is missing."""
        return self.before.tap + 1 if self.before else 1

    @property
    def last(self) -> int | None:
        """The last number that is missing; None where nobody knows how far the log went."""
        if self.after is not None:
            return self.after.tap - 1
        return self.tip.tap if self.tip else None

    @property
    def span(self) -> Span | None:
        """The numbers that are known to be missing."""
        return (self.first, self.last) if self.last is not None else None

    def is_known_to(self, copy: OpenCopy, *, is_this_shop: bool) -> bool:
        """Whether a copy tells the same of the next lines on both sides that it holds.

        On one side it must hold one, or be chained to the line beside the gap, or hold the tip,
        or else be of this shop (or taken for it).
        """
        places = range(self.place - 1, -1, -1), range(self.place, len(self.row))
        beside = [
            self.row[place]
            for side in places
            for place in islice((p for p in side if self.row[p].tap in copy.by_tap), 1)
        ]
        if any(copy.by_tap[line.tap].doc != line.doc for line in beside):
            return False
        if self.after is None and not copy.agrees_with(self.tip):
            return False
        if beside or (self.after is not None and self.after.after in copy.crcs):
            return True
        if self.before is not None and self.before.crc in copy.afters:
            return True
        if self.after is None and self.tip is not None and self.tip.tap in copy.by_tap:
            return True
        return is_this_shop


@dataclass(frozen=True)
class OpenCopy:
    """A copy that was read. ``began`` is None and ``start`` empty if its first line is gone."""

    name: str
    began: datetime | None
    start: str
    by_tap: Mapping[int, Line]
    taps: Sequence[int]
    crcs: Set[str]
    afters: Set[str]
    is_whole: bool

    def agrees_with(self, tip: Tip | None) -> bool:
        """Whether it does not tell of another tap than the tip, of the same number."""
        return tip is None or tip.tap not in self.by_tap or Tip.of(self.by_tap[tip.tap]) == tip

    def between(self, first: int, last: int | None) -> list[Line]:
        """Its lines with these numbers."""
        end = len(self.taps) if last is None else bisect_right(self.taps, last)
        return [self.by_tap[tap] for tap in self.taps[bisect_left(self.taps, first) : end]]


class Shelf:
    """The copies of this shop's log, the newest first, opened one by one as they are needed.

    ``began`` tells this shop's copies from others; None until that is known.
    """

    def __init__(self, copies: Iterable[Copy], began: datetime | None) -> None:
        self._closed = iter(copies)
        self.opened: list[OpenCopy] = []
        self.began = began

    def with_tip(self, tip: Tip | None) -> OpenCopy | None:
        """The first of the newest copies that ends with the tip or leads to it, of any shop."""
        if tip is not None:
            for copy in islice(chain(tuple(self.opened), self._opening()), _NEWEST):
                if tip.tap in copy.by_tap and copy.agrees_with(tip):
                    return copy
        return None

    def newest(self, tip: Tip | None) -> tuple[str, list[Line]]:
        """The name and the lines of the newest copy that has any, and nothing against the tip."""
        for copy in self._each():
            if copy.agrees_with(tip):
                self.began = self.began or copy.began
                return copy.name, [copy.by_tap[tap] for tap in copy.taps]
        if self.began is None:
            return "", []
        # A first line alone may be another shop's; the copies are in this one's own folder.
        self.began = None
        return self.newest(tip)

    def filling(self, gap: Gap) -> list[tuple[str, Line]]:
        """Lines for a gap, in order, with the names of the copies they are from.

        Only copies that agree with the log about what is beside the gap: after a restore the
        same number may have stood for another tap.
        """
        found: dict[int, tuple[str, Line]] = {}
        for copy in self._telling(gap):
            self.began = self.began or copy.began
            for line in copy.between(gap.first, gap.last):
                found.setdefault(line.tap, (copy.name, line))
            if len(found) + gap.first - 1 == gap.last or (gap.last is None and copy.is_whole):
                break
        return _in_row(gap, found)

    def _telling(self, gap: Gap) -> Iterator[OpenCopy]:
        """The copies that can tell of a gap; those that only may be of this shop come last."""
        for copy in self._each():
            is_this_shop = self.began is not None and copy.began == self.began
            if gap.is_known_to(copy, is_this_shop=is_this_shop):
                yield copy
        if self.began is None:
            yield from (copy for copy in self._each() if gap.is_known_to(copy, is_this_shop=True))

    def _each(self) -> Iterator[OpenCopy]:
        for copy in chain(tuple(self.opened), self._opening()):
            if self.began is None or copy.began is None or copy.began == self.began:
                yield copy

    def _opening(self) -> Iterator[OpenCopy]:
        for closed in self._closed:
            found = parsed(closed.body)
            if not found.lines:
                continue
            header, lines = found.header, found.lines
            if not found.is_whole:
                lines = tuple(one_history(lines, {header.crc for header in found.headers}, None)[0])
            copy = OpenCopy(
                name=closed.name,
                began=header.began if header else None,
                start=header.crc if header else "",
                by_tap={line.tap: line for line in lines},
                taps=[line.tap for line in lines],
                crcs={line.crc for line in lines},
                afters={line.after for line in lines},
                is_whole=found.is_whole and not found.torn,
            )
            self.opened.append(copy)
            yield copy


def _in_row(gap: Gap, found: Mapping[int, tuple[str, Line]]) -> list[tuple[str, Line]]:
    """Those of the found lines that can stand one after the other in the gap."""
    row: list[tuple[str, Line]] = []
    before = gap.before
    for tap in sorted(found):
        name, line = found[tap]
        if follows(before, line) and follows(line, gap.after):
            row.append((name, line))
            before = line
    return row
