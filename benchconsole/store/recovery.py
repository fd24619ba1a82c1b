"""The newest good state that can be put together from a damaged log and its copies.

What the file itself still holds comes first; what is missing in it is looked for in the copies.
Nothing here reads or writes files.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

import msgspec

from benchconsole.store.lines import Document, Line, Parsed, mark_of, parsed
from benchconsole.store.tip import Tip

Span = tuple[int, int]
"""The first and the last of some tap numbers in a row."""


@dataclass(frozen=True)
class Copy:
    """The content of an earlier log, and its name as it is told to a person."""

    name: str
    body: bytes


@dataclass(frozen=True, kw_only=True)
class Recovered:
    """The taps that were put together, in order, and what a person is told of it.

    ``brought_back`` counts those from copies, by the copy's name. ``lost`` are the spans of
    numbers that are nowhere; some of them may never have been taps of this file, for archiving
    leaves gaps. ``others`` counts lines that tell something else of a tap than the one taken.
    """

    began: datetime
    taps: tuple[tuple[int, Document], ...]
    brought_back: Mapping[str, int]
    lost: tuple[Span, ...]
    others: int


def is_cut_short(found: Parsed, tip: Tip | None) -> bool:
    """Whether the tip names a tap that the log does not hold."""
    if tip is None:
        return False
    return not found.lines or found.lines[-1].tap < tip.tap


def is_another(found: Parsed, tip: Tip | None) -> bool:
    """Whether the log's last tap is another one than was confirmed under its number."""
    if tip is None or not found.lines or found.lines[-1].tap != tip.tap:
        return False
    return mark_of(found.lines[-1].doc) != tip.mark


def recovered(found: Parsed, tip: Tip | None, copies: Iterable[Copy]) -> Recovered | None:
    """All that the log and the copies (newest first) hold together; None if that is nothing.

    The copies are only read as far as something is missing.
    """
    began = found.header.began if found.header else None
    shelf = _Shelf(copies, began)
    kept, others = _in_order(found.lines)
    brought: Counter[str] = Counter()
    if not kept:
        name, kept = shelf.newest()
        brought[name] = len(kept)
    began = began or shelf.began or (_recorded(kept[0]) if kept else None)
    if began is None:
        return None
    start = found.header.crc if found.header and found.lines else None
    lines: list[Line] = []
    lost: list[Span] = []
    for line in (*kept, None):
        gap = _gap(lines[-1] if lines else None, start, line, tip)
        filling = shelf.filling(gap) if gap else {}
        brought.update(name for name, _ in filling.values())
        lines.extend(filling[tap][1] for tap in sorted(filling))
        lost.extend(_missing(gap, filling) if gap else ())
        if line is not None:
            lines.append(line)
    return Recovered(
        began=began,
        taps=tuple((line.tap, line.doc) for line in lines),
        brought_back={name: count for name, count in brought.items() if count},
        lost=tuple(lost),
        others=others,
    )


@dataclass(frozen=True)
class _Gap:
    """Taps ``first`` to ``last`` are missing between two lines (None: before all, after all)."""

    first: int
    last: int
    before: Line | None
    after: Line | None
    meets: str
    """The checksum of the line that the gap ended with; empty if that is not known."""


def _gap(
    before: Line | None, start: str | None, after: Line | None, tip: Tip | None
) -> _Gap | None:
    tap = before.tap if before else 0
    crc = before.crc if before else start
    if after is not None:
        joined = after.after == crc or after.tap == tap + 1
        return None if joined else _Gap(tap + 1, after.tap - 1, before, after, after.after)
    if tip is None or tip.tap <= tap:
        return None
    return _Gap(tap + 1, tip.tap, before, None, "")


def _missing(gap: _Gap, filling: Mapping[int, tuple[str, Line]]) -> Iterator[Span]:
    """The numbers of a gap that were not filled, unless the lines show that there were none."""
    lines = [filling[tap][1] for tap in sorted(filling)]
    chain = [*([gap.before] if gap.before else []), *lines]
    is_chained = all(line.after == earlier.crc for earlier, line in pairwise(chain))
    if lines and is_chained and lines[-1].crc == gap.meets:
        return
    first = gap.first
    for tap in (*(line.tap for line in lines), gap.last + 1):
        if tap > first:
            yield first, tap - 1
        first = tap + 1


def _in_order(lines: Sequence[Line]) -> tuple[list[Line], int]:
    """One line a tap, in order; and how many told something else of a tap that is there."""
    by_tap: dict[int, Line] = {}
    others = 0
    for line in lines:
        first = by_tap.setdefault(line.tap, line)
        others += first.doc != line.doc
    return [by_tap[tap] for tap in sorted(by_tap)], others


def _recorded(line: Line) -> datetime | None:
    """When a tap was recorded; None for a document that does not say so."""
    try:
        return msgspec.convert(line.doc.get("recorded"), datetime)
    except msgspec.ValidationError:
        return None


class _Shelf:
    """The copies of this shop's log, the newest first, opened one by one as they are needed."""

    def __init__(self, copies: Iterable[Copy], began: datetime | None) -> None:
        self._closed = iter(copies)
        self._open: list[tuple[str, dict[int, Line]]] = []
        self.began = began

    def newest(self) -> tuple[str, list[Line]]:
        """The name and the lines of the newest copy that has any."""
        name, by_tap = next(self._each(), ("", {}))
        return name, [by_tap[tap] for tap in sorted(by_tap)]

    def filling(self, gap: _Gap) -> dict[int, tuple[str, Line]]:
        """Lines for a gap, with the names of the copies they are from.

        Only copies that agree with the file about a line beside the gap: after a restore the
        same number may have stood for another tap.
        """
        found: dict[int, tuple[str, Line]] = {}
        for name, by_tap in self._each():
            if len(found) == gap.last - gap.first + 1:
                break
            if _agree(gap.before, by_tap) or _agree(gap.after, by_tap) or not gap.before:
                for tap, line in by_tap.items():
                    if gap.first <= tap <= gap.last:
                        found.setdefault(tap, (name, line))
        return found

    def _each(self) -> Iterator[tuple[str, dict[int, Line]]]:
        yield from self._open
        for copy in self._closed:
            found = parsed(copy.body)
            if found.header is None or not found.lines:
                continue
            if self.began is not None and found.header.began != self.began:
                continue
            self.began = found.header.began
            self._open.append((copy.name, {line.tap: line for line in found.lines}))
            yield self._open[-1]


def _agree(line: Line | None, by_tap: Mapping[int, Line]) -> bool:
    return line is not None and line.tap in by_tap and by_tap[line.tap].doc == line.doc
