"""The hide list: two lines a hide, most urgent first, drawn by hand so that a tick costs little."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import var
from textual.scroll_view import ScrollView
from textual.strip import Strip

from benchconsole.console.widgets.cells import fitted, plain
from benchconsole.console.wording import MARKS, WORDS, relative

if TYPE_CHECKING:
    from benchconsole.desk.views import HideRow

LINES = 2
"""Lines a hide takes: who and when, what to do; a third of space where all fit so."""

WIDE = 44
"""From this width on there is room for times in two units."""


_NO_TIMES: Mapping[str, str] = {}


@dataclass(frozen=True)
class RowPicture:
    """What one hide looks like; rows are compared by it, and only changed ones are redrawn."""

    hide: str
    state: str
    head: str
    tail: str
    below: str
    planned: str = ""


class HideList(ScrollView, can_focus=True):
    """The hides with their next actions; posts which one is chosen."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "hide--name",
        "hide--below",
        "hide--planned",
        "hide--chosen",
        "hide--overdue",
        "hide--due",
        "hide--ready",
        "hide--waiting",
        "hide--stored",
        "hide--finished",
        "hide--out",
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "Hide above", show=False),
        Binding("down", "step(1)", "Hide below", show=False),
        Binding("pageup", "step(-5)", "Five up", show=False),
        Binding("pagedown", "step(5)", "Five down", show=False),
        Binding("home", "step(-9999)", "First hide", show=False),
        Binding("end", "step(9999)", "Last hide", show=False),
    ]

    chosen: var[str] = var("", init=False)

    @dataclass
    class Chosen(Message):
        """The person moved to a hide."""

        hide: str

    class Moved(Message):
        """The person moved the choice, by key or by touch."""

    @dataclass
    class Opened(Message):
        """The person asked for a hide's card by mouse."""

        hide: str

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._rows: tuple[RowPicture, ...] = ()
        self._lines = LINES
        self._held = False

    def show(
        self,
        rows: tuple[HideRow, ...],
        now: datetime,
        planned: Mapping[str, str] = _NO_TIMES,
    ) -> None:
        """Draw these hides, with what is ``planned`` by hide; the chosen one stays chosen."""
        if self._held:
            # After a tap the order stays until the person moves: the next row is the one seen.
            places = {row.hide: place for place, row in enumerate(self._rows)}
            rows = tuple(sorted(rows, key=lambda row: places.get(row.hide.id, len(places))))
        pictures = tuple(
            _picture(row, now, self.size.width >= WIDE, planned.get(row.hide.id, ""))
            for row in rows
        )
        if pictures == self._rows:
            return
        before, self._rows = self._rows, pictures
        self._measure()
        names = [picture.hide for picture in pictures]
        if self.chosen not in names:
            self.chosen = names[0] if names else ""
        if [picture.hide for picture in before] != names:
            self.refresh()
            return
        for place, (old, new) in enumerate(zip(before, pictures, strict=True)):
            if old != new:
                self._redraw(place)

    def hold_order(self) -> None:
        """Keep the rows where they are until the person moves the choice."""
        self._held = True

    def _measure(self) -> None:
        """As airy as the pane allows, and as wide as it is."""
        roomy = (LINES + 1) * len(self._rows) <= self.size.height
        self._lines = LINES + 1 if roomy else LINES
        self.virtual_size = Size(
            self.scrollable_content_region.width, self._lines * len(self._rows)
        )

    def _redraw(self, place: int) -> None:
        top = place * self._lines - self.scroll_offset.y
        self.refresh(Region(0, top, self.size.width, self._lines))

    def watch_chosen(self, before: str, chosen: str) -> None:
        """Redraw the two rows that changed and tell the screen."""
        for name in (before, chosen):
            place = self._place(name)
            if place is not None:
                self._redraw(place)
        self._show_chosen()
        self.post_message(self.Chosen(chosen))

    def _show_chosen(self) -> None:
        """Scroll so that the chosen hide is seen."""
        place = self._place(self.chosen)
        if place is not None:
            seen = Region(0, place * self._lines, 1, self._lines)
            self.scroll_to_region(seen, animate=False, force=True)

    def _place(self, hide: str) -> int | None:
        return next((p for p, row in enumerate(self._rows) if row.hide == hide), None)

    def action_step(self, by: int) -> None:
        """Move the choice."""
        if self._rows:
            place = self._place(self.chosen) or 0
            self._held = False
            self.chosen = self._rows[min(max(place + by, 0), len(self._rows) - 1)].hide
            self.post_message(self.Moved())

    def on_click(self, event: events.Click) -> None:
        """Choose by mouse or finger; twice opens the card."""
        place = (event.y + self.scroll_offset.y) // self._lines
        if 0 <= place < len(self._rows):
            self._held = False
            self.chosen = self._rows[place].hide
            self.post_message(self.Moved())
            if event.chain == 2:
                self.post_message(self.Opened(self.chosen))

    def on_resize(self) -> None:
        """Rows are as wide as the pane."""
        self._measure()
        self.refresh()
        self.call_after_refresh(self._show_chosen)

    def render_line(self, y: int) -> Strip:
        """One line of the list."""
        width = self.scrollable_content_region.width
        place, line = divmod(y + self.scroll_offset.y, self._lines)
        base = self.rich_style
        if place >= len(self._rows):
            return Strip.blank(width, base)
        row = self._rows[place]
        is_chosen = row.hide == self.chosen
        back = self.get_component_rich_style("hide--chosen") if is_chosen else base
        edge = Segment("▌" if is_chosen and line < LINES else " ", back)
        if line == 0:
            return Strip([edge, *self._head(row, width - 1, back)], width)
        if line == 1:
            return Strip([edge, *self._below(row, width - 1, back)], width)
        return Strip.blank(width, base)

    def _head(self, row: RowPicture, width: int, back: Style) -> list[Segment]:
        state = f"{MARKS[row.state]} {WORDS[row.state]:<8} "
        tail = f" {row.tail} "
        room = max(width - len(state) - len(tail), 4)
        return [
            Segment(state, back + self._mine(f"hide--{row.state}")),
            Segment(fitted(row.head, room), back + self._mine("hide--name")),
            Segment(
                fitted(tail, width - len(state) - room), back + self._mine(f"hide--{row.state}")
            ),
        ]

    def _below(self, row: RowPicture, width: int, back: Style) -> list[Segment]:
        planned = f" {row.planned} " if row.planned else ""
        room = max(width - len(planned), 4)
        return [
            Segment(fitted(row.below, room), back + self._mine("hide--below")),
            Segment(fitted(planned, width - room), back + self._mine("hide--planned")),
        ]

    def _mine(self, component: str) -> Style:
        """The foreground of a component, to lay over the row's own background."""
        style = self.get_component_rich_style(component, partial=True)
        return Style(color=style.color, bold=style.bold, dim=style.dim, italic=style.italic)


def _picture(row: HideRow, now: datetime, wide: bool, planned: str) -> RowPicture:
    action = row.action
    lot = f" ×{row.hide.count}" if row.hide.count > 1 else ""
    below = f"{action.stage_name}: {action.action}" if action.kind != "none" else action.action
    return RowPicture(
        hide=row.hide.id,
        state=action.state,
        head=plain(f"{row.hide.name}{lot}"),
        tail=_tail(row, now, wide),
        below=plain(f"  {below}"),
        planned=planned,
    )


def _tail(row: HideRow, now: datetime, wide: bool) -> str:
    """When, in the fewest words that still say it."""
    action = row.action
    if action.state == "overdue" and action.latest is not None:
        return f"{relative(action.latest, now, short=not wide).removesuffix(' ago')} late"
    if action.state in ("due", "waiting", "ready"):
        return relative(action.due, now, short=not wide)
    return ""
