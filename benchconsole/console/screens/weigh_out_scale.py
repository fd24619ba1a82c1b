"""The part of the weigh-out that stands at the scale: figure, band, choices, reading, list."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.dom import DOMNode
from textual.getters import query_one
from textual.widgets import Static

from benchconsole.console.screens import weigh_out_acts as acts
from benchconsole.console.screens import weigh_out_pages as pages
from benchconsole.console.widgets.big_figure import BigFigure
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.reading_line import ReadingLine

if TYPE_CHECKING:
    from benchconsole.console.screens.weigh_out_words import BatchWords
    from benchconsole.desk.views import WeighOutView
    from benchconsole.mixing.weighing import OverPour, Pour


def write(node: DOMNode, selector: str, words: Content) -> None:
    """Change a text only when its words changed, so that nothing is laid out in vain."""
    place = node.query_one(selector, Static)
    if place.content != words:
        place.update(words)


def _rows(rows: Iterable[str]) -> Content:
    return Content("\n".join(map(plain, rows)))


class ScalePane(Vertical):
    """What to pour and up to which figure, or what to do about too much."""

    figure = query_one("#figure", BigFigure)
    choices = query_one("#choices", VerticalScroll)
    reading = query_one("#reading", ReadingLine)
    lines_box = query_one("#lines-box", VerticalScroll)

    def compose(self) -> ComposeResult:
        """One frame for every tap: nothing is mounted or taken away while weighing."""
        yield Static(id="sentence", markup=False)
        yield BigFigure(id="figure")
        yield Static(id="band", markup=False)
        with VerticalScroll(id="choices"):
            for act, meaning in (
                (acts.CarryOnAsItIs, "carry-on-means"),
                (acts.RebalanceBatch, "rebalance-means"),
                (acts.StartBowlAgain, "bowl-again-means"),
            ):
                with Horizontal(classes="choice"):
                    yield pages.ActButton(act)
                    yield Static(id=meaning, markup=False)
        yield Static(id="notes", markup=False)
        yield ReadingLine(id="reading")
        with VerticalScroll(id="lines-box", can_focus=False):
            yield Static(id="lines", markup=False)

    def show(
        self, words: BatchWords, view: WeighOutView, *, asks_zero: bool, said: str, width: int
    ) -> None:
        """Draw the weigh-out at its present tap; ``said`` takes the place of the band."""
        is_over = view.over is not None
        self.choices.display = is_over
        for below in ("#band", "#notes", "#lines-box"):
            self.query_one(below).display = not is_over
        if view.over is not None:
            self._show_over(words, view, view.over)
        elif view.pour is not None:
            self._show_pour(words, view, view.pour, said)
        self.reading.ask(*pages.reading_words(words, view, asks_zero))
        write(self, "#lines", pages.line_list(words.lines(view), width))

    def _show_pour(self, words: BatchWords, view: WeighOutView, pour: Pour, said: str) -> None:
        told = words.pour(view, pour)
        write(self, "#sentence", Content(plain(told.sentence)))
        self.figure.show(told.figure)
        write(self, "#band", Content(plain(said or told.band)))
        self.query_one("#band").set_class(bool(said), "-said")
        write(self, "#notes", _rows(told.notes))
        self.lines_box.scroll_to(y=max(pour.line - 1, 0), animate=False)

    def _show_over(self, words: BatchWords, view: WeighOutView, over: OverPour) -> None:
        told = words.over(view, over)
        write(self, "#sentence", Content(plain(told.headline)))
        self.figure.show(told.figure)
        write(self, "#carry-on-means", Content(plain(told.carry_on)))
        write(self, "#rebalance-means", _rows(told.rebalance))
        write(self, "#bowl-again-means", Content(plain(told.bowl_again)))
