"""The timeline: the whole plan as a picture that is scrolled and zoomed, drawn line by line."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from functools import partial
from typing import ClassVar

from rich.cells import cell_len
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from benchconsole.console.widgets.cells import fitted, plain
from benchconsole.console.widgets.timeline_brush import COMPONENTS, Brush
from benchconsole.console.widgets.timeline_choice import (
    Choice,
    chosen_at,
    first_choice,
    found_again,
    instant_of,
)
from benchconsole.console.widgets.timeline_layout import Cells, Layout, Lying
from benchconsole.console.widgets.timeline_place import Place, first_place
from benchconsole.console.widgets.timeline_ruler import STEPS, Ruler
from benchconsole.schedule.planning.plans import HidePlan, Plan, Visit

HEAD_LINES = 3
"""Days, hours and the shop's own line stay on top."""
NAMES_AT_LEAST, NAMES_AT_MOST = 10, 24
"""Cells for the names of the hides, less where a fifth of the width is less."""
SHOP_LINE = "Rounds"


class Timeline(ScrollView, can_focus=False):
    """A line a hide, time from left to right; posts what is chosen.

    The chosen hide has the windows of its visits on a line below it; all have where there is room.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = COMPONENTS

    @dataclass
    class Chosen(Message):
        """Another piece of the plan is chosen, or the same one changed."""

        choice: Choice

    @dataclass
    class Opened(Message):
        """The person asked for a hide's card by mouse."""

        hide: str

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._layout: Layout | None = None
        self._place: Place | None = None
        self._names: dict[str, str] = {}
        self._longest = 0
        self._lines: list[tuple[HidePlan, bool]] = []
        self._strips: dict[int, Strip] = {}
        self._brush: Brush | None = None
        self._zone: tzinfo | None = None
        self.choice = Choice()

    # ---- the plan and the place in it

    def show(self, plan: Plan, now: datetime, zone: tzinfo) -> None:
        """Draw a plan; the left edge, the step and the choice stay where they are."""
        before = self._layout
        if before is not None and before.plan is plan and zone == self._zone:
            if before.ruler.column(now) != before.ruler.column(before.now):
                before.lay(before.ruler, now)
                self._redraw()
            return
        again = found_again(self.choice, plan) if before is not None else first_choice(plan)
        self._zone = zone
        self._names = {hide.hide: plain(hide.hide_name) for hide in plan.hides}
        self._longest = max((cell_len(name) for name in self._names.values()), default=0)
        self._layout = Layout(plan, Ruler(now, STEPS[0], 1, zone), now)
        if self._place is not None:
            self._place = self._place.of(plan, now, zone).wide(self._columns)
        self._settle()
        self.choose(again, reveal=False)

    @property
    def plan(self) -> Plan | None:
        """The plan that is drawn."""
        return self._layout.plan if self._layout else None

    @property
    def step(self) -> timedelta:
        """How much time a column stands for."""
        return self._place.ruler.step if self._place else STEPS[0]

    @property
    def ruler(self) -> Ruler | None:
        """The ruler that is drawn; None before there is a plan and a place to draw it."""
        return self._place.ruler if self._place else None

    def choose(self, choice: Choice, *, reveal: bool = True) -> None:
        """Choose a piece, and scroll to it if it is not to be seen."""
        self.choice = choice
        if reveal and self._place is not None and choice.piece is not None:
            self._place = self._place.showing(instant_of(choice.piece))
        self._settle()
        self._show_chosen_line()
        self.post_message(self.Chosen(choice))

    def scroll_quarters(self, quarters: int) -> None:
        """Scroll by quarters of the width, later if positive."""
        if self._place is not None:
            self._move_to(self._place.scrolled(quarters))

    def go_to_now(self) -> None:
        """Scroll so that the present stands near the left edge."""
        if self._place is not None and self._layout is not None:
            self._move_to(self._place.at(self._layout.now))

    def zoom(self, by: int) -> None:
        """Coarser if positive; what is chosen stays where it is if it is seen, else the middle."""
        if self._place is not None:
            piece = self.choice.piece
            self._move_to(self._place.zoomed(by, instant_of(piece) if piece else None))

    def _move_to(self, place: Place) -> None:
        self._place = place
        self._settle()
        self.post_message(self.Chosen(self.choice))

    def _settle(self) -> None:
        """Lay the plan on the ruler of the place, the first one as soon as there is room."""
        layout = self._layout
        if layout is None or self._zone is None or not self.size.width:
            return
        if self._place is None:
            self._place = first_place(layout.plan, layout.now, self._zone, self._columns)
        if layout.ruler != self._place.ruler:
            layout.lay(self._place.ruler, layout.now)
        self._redraw()

    def _redraw(self) -> None:
        self._strips.clear()
        self._lines = self._lines_of()
        width = self.scrollable_content_region.width
        self.virtual_size = Size(width, HEAD_LINES + len(self._lines))
        self.refresh()

    def on_resize(self) -> None:
        """Another width has another number of columns."""
        if self._place is not None:
            self._place = self._place.wide(self._columns)
        self._settle()
        self._show_chosen_line()
        self.post_message(self.Chosen(self.choice))

    def notify_style_update(self) -> None:
        """Other colours: draw anew."""
        self._brush = None
        self._strips.clear()
        super().notify_style_update()

    # ---- lines

    def _lines_of(self) -> list[tuple[HidePlan, bool]]:
        """The lines under the head: a hide, and whether it is the line of its windows."""
        if self._layout is None:
            return []
        hides = self._layout.plan.hides
        roomy = HEAD_LINES + 2 * len(hides) <= self.size.height
        lines = []
        for hide in hides:
            lines.append((hide, False))
            if roomy or hide.hide == self.choice.hide:
                lines.append((hide, True))
        return lines

    def _show_chosen_line(self) -> None:
        """Scroll up or down so that the chosen hide is seen under the head."""
        places = [p for p, (hide, _) in enumerate(self._lines) if hide.hide == self.choice.hide]
        room = self.size.height - HEAD_LINES
        if not places or room <= 0:
            return
        top = min(self.scroll_offset.y, places[0])
        top = max(top, places[-1] + 1 - room)
        if top != self.scroll_offset.y:
            self.scroll_to(y=top, animate=False, force=True)

    @property
    def _name_cells(self) -> int:
        """The cells of the names with the edge before and the gap after them."""
        room = min(NAMES_AT_MOST, self.scrollable_content_region.width // 5)
        return max(NAMES_AT_LEAST, min(self._longest, room)) + 2

    @property
    def _columns(self) -> int:
        return max(self.scrollable_content_region.width - self._name_cells, 1)

    # ---- drawing

    def render_line(self, y: int) -> Strip:
        """One line: the head stays, the hides scroll under it."""
        place = y if y < HEAD_LINES else y + self.scroll_offset.y
        strip = self._strips.get(place)
        if strip is None:
            strip = self._strips[place] = self._drawn(place)
        return strip

    def _drawn(self, place: int) -> Strip:
        width = self.scrollable_content_region.width
        layout = self._layout
        if layout is None or self._place is None or place >= HEAD_LINES + len(self._lines):
            return Strip.blank(width, self.rich_style)
        if place < 2:
            line = layout.ruler.upper_line() if place == 0 else layout.ruler.lower_line()
            return self._brush_now().labels(" " * self._name_cells + line)
        if place == 2:
            return self._line("", SHOP_LINE, layout.shop_line(), self._chosen_columns(""))
        hide, windows = self._lines[place - HEAD_LINES]
        if windows:
            visits = [*hide.visits, *self._chosen_window(hide)]
            return self._line(hide.hide, "", layout.window_line(visits), (0, 0))
        name, marked = self._names[hide.hide], self._chosen_columns(hide.hide)
        return self._line(hide.hide, name, layout.hide_line(hide), marked)

    def _line(self, hide: str, name: str, cells: Cells, marked: tuple[int, int]) -> Strip:
        assert self._layout is not None
        room = self._name_cells
        chosen, closed = hide == self.choice.hide, self._layout.closed
        text = fitted(name, room - 2)
        return self._brush_now().line(text, room, cells, closed, chosen=chosen, marked=marked)

    def _brush_now(self) -> Brush:
        """The brush of the present colours."""
        if self._brush is None:
            part = partial(self.get_component_rich_style, partial=True)
            self._brush = Brush(self.rich_style, part)
        return self._brush

    def _chosen_columns(self, hide: str) -> tuple[int, int]:
        """The columns that mark the chosen piece, on the line of its hide: a visit's first one."""
        piece, layout = self.choice.piece, self._layout
        if layout is None or piece is None or hide != self.choice.hide:
            return 0, 0
        ruler = layout.ruler
        if isinstance(piece, Lying):
            # The visit before it may end within a column: that one is not the hold's.
            begins = 0 if piece.since is None else max(ruler.column_after(piece.since), 0)
            return begins, max(ruler.column(piece.next.starts), begins)
        first = ruler.column(instant_of(piece))
        return first, first + 1

    def _chosen_window(self, hide: HidePlan) -> list[Visit]:
        """The chosen visit once more, so that its window lies over all others."""
        piece = self.choice.piece
        if hide.hide != self.choice.hide or piece is None:
            return []
        visit = piece.next if isinstance(piece, Lying) else piece
        return [visit] if isinstance(visit, Visit) else []

    # ---- by mouse

    def on_click(self, event: events.Click) -> None:
        """Choose what is touched; twice opens the hide's card."""
        place = event.y if event.y < HEAD_LINES else event.y + self.scroll_offset.y
        ruler, plan = self.ruler, self.plan
        if ruler is None or plan is None or not 2 <= place < HEAD_LINES + len(self._lines):
            return
        hide = "" if place == 2 else self._lines[place - HEAD_LINES][0].hide
        column = event.x - self._name_cells
        if column >= 0:
            self.choose(chosen_at(plan, hide, column, ruler), reveal=False)
        else:
            self.choose(found_again(Choice(hide), plan))
        if event.chain == 2 and hide:
            self.post_message(self.Opened(hide))

    def on_mouse_scroll_right(self, event: events.MouseScrollRight) -> None:
        """Later, by a wheel that turns sideways."""
        self._turned(event, 1)

    def on_mouse_scroll_left(self, event: events.MouseScrollLeft) -> None:
        """Earlier."""
        self._turned(event, -1)

    def _turned(self, event: events.MouseEvent, quarters: int) -> None:
        event.stop()
        event.prevent_default()
        self.scroll_quarters(quarters)
