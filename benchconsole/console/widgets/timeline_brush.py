"""Cells of the timeline turned into coloured strips: the looks are kept, since few are needed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import get_args

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from benchconsole.console.widgets.timeline_layout import Cells, Role

ROLES: tuple[Role, ...] = get_args(Role)
GROUNDS = ("chosen", "closed")
COMPONENTS = {f"timeline--{part}" for part in (*ROLES, *GROUNDS, "head", "name")}
"""The component classes that the style sheet gives colours to."""

EDGE = "▌"
_NOTHING = (0, 0)


class Brush:
    """Draws lines in the colours of ``part``, which gives the partial style of a component."""

    def __init__(self, base: Style, part: Callable[[str], Style]) -> None:
        self._base = base
        self._part = part
        self._styles: dict[tuple[str, bool, bool, bool], Style] = {}

    def labels(self, text: str) -> Strip:
        """A line of the ruler."""
        return Strip([Segment(text, self._style("head"))], len(text))

    def line(
        self,
        name: str,
        room: int,
        cells: Cells,
        closed: Sequence[bool],
        *,
        chosen: bool = False,
        marked: tuple[int, int] = _NOTHING,
    ) -> Strip:
        """A name, already ``room - 2`` cells wide, between its edge and a gap, then its cells.

        ``closed`` columns have a ground of their own, as has the chosen line; the columns from
        ``marked[0]`` to before ``marked[1]`` are reversed.
        """
        edge = EDGE if chosen else " "
        segments = [Segment(f"{edge}{name} ", self._style("name", chosen=chosen))]
        marks = "".join(cells.marks)
        for begins, ends in _runs(cells.roles, closed, marked):
            style = self._style(
                cells.roles[begins],
                closed=closed[begins],
                chosen=chosen,
                marked=marked[0] <= begins < marked[1],
            )
            segments.append(Segment(marks[begins:ends], style))
        return Strip(segments, room + len(marks))

    def _style(
        self, look: str, *, closed: bool = False, chosen: bool = False, marked: bool = False
    ) -> Style:
        key = (look, closed, chosen, marked)
        style = self._styles.get(key)
        if style is None:
            style = self._base
            for ground, wanted in (("chosen", chosen), ("closed", closed)):
                if wanted:
                    style += Style(bgcolor=self._part(f"timeline--{ground}").bgcolor)
            ink = self._part(f"timeline--{look}")
            style += Style(color=ink.color, bold=ink.bold)
            if marked:
                style += Style(reverse=True, bold=True)
            self._styles[key] = style
        return style


def _runs(
    roles: Sequence[str], closed: Sequence[bool], marked: tuple[int, int]
) -> Iterator[tuple[int, int]]:
    """The longest runs of columns that look the same."""
    begins = 0
    role, shut = roles[0], closed[0]
    for column in range(1, len(roles)):
        if roles[column] != role or closed[column] != shut or column in marked:
            yield begins, column
            begins, role, shut = column, roles[column], closed[column]
    yield begins, len(roles)
