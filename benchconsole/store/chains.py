"""Which lines of a damaged log are one history, and which belong to another.

A log may hold lines that were never its own: both sides of a merge, a second log behind the
first, another shop's lines. Mixed into one history they would tell of a shop that never was.
Pure: lines in, lines out.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, field
from itertools import takewhile

from benchconsole.store.lines import Line, mark_of
from benchconsole.store.tip import Tip


@dataclass(eq=False)
class _Node:
    """A tap, in however many equal lines it stands; rewriting a log changes only the chain."""

    line: Line
    mark: str
    parent: _Node | None = None
    root: _Node = field(init=False)
    depth: int = 1
    has_tip: bool = False

    def __post_init__(self) -> None:
        self.root = self


def one_history(lines: Iterable[Line], starts: Set[str], tip: Tip | None) -> tuple[list[Line], int]:
    """The lines that belong together, in order; and how many taps were left out for them.

    Lines that are chained stand or fall together. First come those that lead to the tip, then
    those from one of ``starts`` (the checksums of first lines of logs), then the longest; others
    join them where they fit in: a free number, events that are numbered on.
    """
    nodes = _linked(lines, tip)
    paths = sorted(_paths(nodes), key=lambda path: _rank(path, starts), reverse=True)
    kept: list[_Node] = []
    taps: list[int] = []
    for path in paths:
        if _is_against(path, kept, tip):
            continue
        # What comes from the only first line, or where there is none, is taken for this shop's
        # own up to where it parted ways.
        is_own = starts <= {path[0].line.after}
        fitting = _fitting(path, kept, taps)
        if fitting and (len(fitting) == len(path) or is_own):
            place = bisect_left(taps, fitting[0].line.tap)
            kept[place:place] = fitting
            if place + len(fitting) < len(kept) and taps[place] < fitting[-1].line.tap:
                kept.sort(key=lambda node: node.line.tap)
                taps = [node.line.tap for node in kept]
            else:
                taps[place:place] = [node.line.tap for node in fitting]
    return [node.line for node in kept], len(nodes) - len(kept)


def follows(before: Line | None, line: Line | None) -> bool:
    """Whether one line may come after another (None: the beginning, the end).

    Numbers grow, those of taps and those of events; as every tap has an event, that of events at
    least as much. With no number free between two taps that are not chained, none is free between
    their events either.
    """
    if line is None:
        return True
    tap = before.tap if before else 0
    if tap >= line.tap:
        return False
    last, first = _numbers(before)[-1:] if before else [0], _numbers(line)[:1]
    if not last or not first:
        return True
    if before and line.tap == tap + 1 and line.after != before.crc:
        return first[0] == last[0] + 1
    return first[0] - last[0] >= line.tap - tap


def _linked(lines: Iterable[Line], tip: Tip | None) -> list[_Node]:
    """One node a tap that is told, each with the one it is chained to, in the order of taps."""
    by_tap: dict[tuple[int, str], _Node] = {}
    by_crc: dict[str, _Node] = {}
    after: dict[_Node, list[str]] = {}
    for line in lines:
        mark = mark_of(line.doc)
        node = by_tap.setdefault((line.tap, mark), _Node(line, mark))
        by_crc[line.crc] = node
        after.setdefault(node, []).append(line.after)
    nodes = sorted(by_tap.values(), key=lambda node: node.line.tap)
    for node in nodes:
        parents = [by_crc[crc] for crc in after[node] if crc in by_crc]
        parents = [parent for parent in parents if parent.line.tap < node.line.tap]
        node.has_tip = tip is not None and tip == Tip(node.line.tap, node.mark)
        if parents:
            parent = max(parents, key=lambda parent: parent.line.tap)
            node.parent, node.root = parent, parent.root
            node.depth = parent.depth + 1
            node.has_tip = node.has_tip or parent.has_tip
    return nodes


def _paths(nodes: Sequence[_Node]) -> list[list[_Node]]:
    """Of every tree of chained taps its best branch, from the root to the end."""
    ends: dict[_Node, _Node] = {}
    for node in nodes:
        best = ends.setdefault(node.root, node)
        if (node.has_tip, node.depth) >= (best.has_tip, best.depth):
            ends[node.root] = node
    return [_path(end) for end in ends.values()]


def _path(end: _Node) -> list[_Node]:
    path = [end]
    while path[-1].parent is not None:
        path.append(path[-1].parent)
    return path[::-1]


def _rank(path: Sequence[_Node], starts: Set[str]) -> tuple[bool, bool, int]:
    return path[-1].has_tip, path[0].line.after in starts, len(path)


def _is_against(path: Sequence[_Node], kept: Sequence[_Node], tip: Tip | None) -> bool:
    """Whether taps that are to join the kept ones are known not to have been confirmed here.

    They tell another tap of the tip's number, or come after the tip without a link to it.
    """
    if tip is None or not kept or path[-1].has_tip:
        return False
    if any(node.line.tap == tip.tap for node in path):
        return True
    return path[0].line.tap > tip.tap and any(node.has_tip for node in kept)


def _fitting(path: Sequence[_Node], kept: Sequence[_Node], taps: Sequence[int]) -> list[_Node]:
    """As much of the beginning of a path as can stand among those that are kept."""
    first = bisect_left(taps, path[0].line.tap)
    if first == bisect_left(taps, path[-1].line.tap + 1):  # all at one place, as nearly always
        end = len(path)
        while end and not _fits_between(path[0], path[end - 1], kept, first):
            end -= 1
        return list(path[:end])
    places = ((node, bisect_left(taps, node.line.tap)) for node in path)
    fitting = takewhile(lambda pair: _fits_between(pair[0], pair[0], kept, pair[1]), places)
    return [node for node, _ in fitting]


def _fits_between(first: _Node, last: _Node, kept: Sequence[_Node], place: int) -> bool:
    before = kept[place - 1].line if place else None
    after = kept[place].line if place < len(kept) else None
    return follows(before, first.line) and follows(last.line, after)


def _numbers(line: Line) -> list[int]:
    """The numbers of a tap's events; none of a document that does not have them."""
    events = line.doc.get("events")
    found = (
        [event.get("seq") for event in events if isinstance(event, dict)]
        if isinstance(events, list)
        else []
    )
    return [number for number in found if isinstance(number, int)]
