"""The newest good state that can be put together from a damaged log and its copies.

What the file itself still holds comes first; what is missing in it is looked for in the copies.
Nothing here reads or writes files.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import msgspec

from benchconsole.store.chains import one_history
from benchconsole.store.lines import Document, Line, Parsed
from benchconsole.store.shelf import Copy, Gap, Shelf, Span
from benchconsole.store.tip import Tip

__all__ = ["Copy", "Recovered", "Span", "goes_on", "is_another", "is_cut_short", "recovered"]


@dataclass(frozen=True, kw_only=True)
class Recovered:
    """The taps that were put together, in order, and what a person is told of it.

    ``brought_back`` counts those from copies, by the copy's name. ``lost`` are the spans of
    numbers that are nowhere; some of them may never have been taps of this file, for archiving
    leaves gaps. ``others`` counts taps in the log that belong to another history.
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
    """Whether the log's tap of the tip's number is another one than was confirmed here."""
    line = next((line for line in reversed(found.lines) if tip and line.tap <= tip.tap), None)
    return line is not None and tip is not None and Tip.of(line) != tip and line.tap == tip.tap


def goes_on(found: Parsed, copies: Iterable[Copy]) -> bool:
    """Whether a copy tells of more taps after the log's last one; the newest whole copy decides."""
    shelf = Shelf(copies, found.header.began if found.header else None)
    gap = Gap(found.lines, len(found.lines), None)
    return bool(shelf.filling(gap))


def recovered(found: Parsed, tip: Tip | None, copies: Iterable[Copy]) -> Recovered | None:
    """All that the log and the copies (newest first) hold together; None if that is nothing.

    The copies are only read as far as something is missing. Without a tip, so may be the end.
    """
    kept, others = one_history(found.lines, {header.crc for header in found.headers}, tip)
    shelf = Shelf(copies, _began(found, kept))
    links = _Links(found)
    brought: Counter[str] = Counter()
    confirmed = None if found.is_whole or _leads_to(kept, tip) else shelf.with_tip(tip)
    if confirmed is not None:
        # What the file still holds is joined to the history that was confirmed, or is another.
        shelf.began = confirmed.began
        both = (*found.lines, *confirmed.by_tap.values())
        kept, others = one_history(both, {confirmed.start}, tip)
        in_log = set(map(id, found.lines))
        brought[confirmed.name] = sum(id(line) not in in_log for line in kept)
    elif not kept:
        name, kept = shelf.newest(tip)
        brought[name] = len(kept)
    while True:
        filled = list(kept)
        for gap in _gaps(kept, links, tip):
            filling = shelf.filling(gap)
            brought.update(name for name, _ in filling)
            filled.extend(line for _, line in filling)
        links.learn(shelf)
        if len(filled) == len(kept):
            break
        kept = sorted(filled, key=lambda line: line.tap)
    row = list(_up_to_tip(kept, links, tip))
    others, kept = others + len(kept) - len(row), row
    if not kept:
        return None
    began = shelf.began or (found.header.began if found.header else _recorded(kept[0]))
    if began is None:
        return None
    lost = (gap.span for gap in _gaps(kept, links, tip))
    return Recovered(
        began=began,
        taps=tuple((line.tap, line.doc) for line in kept),
        brought_back={name: count for name, count in brought.items() if count},
        lost=tuple(span for span in lost if span is not None),
        others=others,
    )


def _began(found: Parsed, kept: Sequence[Line]) -> datetime | None:
    """When the history of the kept lines began; None if no first line is known to be its own."""
    if not kept and found.header:
        return found.header.began
    return next((h.began for h in found.headers if kept and kept[0].after == h.crc), None)


def _leads_to(row: Iterable[Line], tip: Tip | None) -> bool:
    """Whether the confirmed end is among the lines; also where nobody knows what it was."""
    return tip is None or any(line.tap == tip.tap and Tip.of(line) == tip for line in row)


class _Links:
    """Which line a checksum names, in the log or in a copy: a rewritten log is chained anew."""

    def __init__(self, found: Parsed) -> None:
        self._starts = {header.crc for header in found.headers}
        self._lines = {line.crc: line for line in found.lines}

    def learn(self, shelf: Shelf) -> None:
        """Take in the copies that were opened."""
        for copy in shelf.opened:
            self._starts.add(copy.start)
            self._lines.update((line.crc, line) for line in copy.by_tap.values())

    def join(self, before: Line | None, line: Line) -> bool:
        """Whether nothing is missing between two lines (None: the beginning)."""
        return line.tap == (before.tap if before else 0) + 1 or self.chain(before, line)

    def chain(self, before: Line | None, line: Line) -> bool:
        """Whether a line names the one before it (None: a first line) as just that."""
        if before is None:
            return line.after in self._starts
        named = self._lines.get(line.after)
        return named is not None and named.tap == before.tap and named.doc == before.doc


def _up_to_tip(row: Sequence[Line], links: _Links, tip: Tip | None) -> Iterator[Line]:
    """Without what comes behind the tip and is not chained to it: it was not confirmed here."""
    for place, line in enumerate(row):
        before = row[place - 1 : place]
        if tip and before and _leads_to(before, tip) and not links.chain(before[0], line):
            break
        yield line


def _gaps(row: Sequence[Line], links: _Links, tip: Tip | None) -> list[Gap]:
    gaps = [
        Gap(row, place, tip)
        for place, line in enumerate(row)
        if not links.join(row[place - 1] if place else None, line)
    ]
    if row and (tip is None or tip.tap > row[-1].tap):
        gaps.append(Gap(row, len(row), tip))
    return gaps


def _recorded(line: Line) -> datetime | None:
    """When a tap was recorded; None for a document that does not say so."""
    try:
        return msgspec.convert(line.doc.get("recorded"), datetime)
    except msgspec.ValidationError:
        return None
