"""A moisture curve drawn in characters: the likely course, its band, weighings, the window."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta, tzinfo
from itertools import groupby
from typing import ClassVar, Literal, NamedTuple

from rich.segment import Segment
from textual.strip import Strip
from textual.widget import Widget

from benchconsole.console.widgets.cells import fitted
from benchconsole.schedule.drying import BandPoint, DryingForecast, WindowForecast

Ink = Literal["axis", "band", "curve", "window", "weighed", "now"]
Cell = tuple[str, Ink]

BAND, WINDOW, WEIGHED, NOW, BLANK = "░", "▒", "●", "│", " "
LEFT = 6
"""Cells of the percent column, its line included."""
LEGEND = f"▀▄ likely   {BAND} four in five   {WINDOW} {{window}}   {WEIGHED} weighed   {NOW} now"
TICKS_H = (1, 2, 3, 6, 12, 24, 48, 96, 168, 336, 720)
TICK_ROOM = 10
"""Cells that a tick with its words needs."""
_HALVES = {1: "▀", 2: "▄", 3: "█"}
"""A cell with its upper half, its lower half, or both: every terminal's font has them."""


class Frame(NamedTuple):
    """What part of the world the picture shows, in how many cells."""

    start: datetime
    end: datetime
    bottom: float
    top: float
    width: int
    height: int

    def column(self, at: datetime) -> float:
        """The place of an instant in cells from the left; outside it is left as it is."""
        return (at - self.start) / (self.end - self.start) * self.width

    def row(self, moisture: float) -> float:
        """The place of a moisture in cells from the top."""
        return (self.top - moisture) / (self.top - self.bottom) * self.height


def curve_rows(forecast: DryingForecast, width: int, height: int, zone: tzinfo) -> list[list[Cell]]:
    """The picture in so many cells, row by row; too small a room, or no band, gives no rows.

    From the top: the plot with its percent, the line of time, its words, the window as a bar
    that thins out where it is in doubt, the legend.
    """
    window = forecast.target
    plot_width, plot_height = width - LEFT - 1, height - 4
    if window is None or not forecast.band or plot_width < 20 or plot_height < 4:
        return []
    frame = _frame(forecast, plot_width, plot_height)
    plot = _plot(forecast, window, frame)
    rows = [[*_axis(frame, row), *plot[row], (BLANK, "axis")] for row in range(plot_height)]
    ticks = list(_ticks(frame, zone))
    rows.append(_line(frame, ticks))
    rows.append(_cells(_words(frame, ticks, width), width, "axis"))
    rows.append(_bar(frame, window, width))
    legend = LEGEND.format(window=window.name)
    rows.append(_cells(" " * LEFT + legend, width, "axis"))
    return rows


def _frame(forecast: DryingForecast, width: int, height: int) -> Frame:
    highest = max(point.high for point in forecast.band)
    highest = max([highest, *(each.moisture for each in forecast.weighings)])
    lowest = min(point.low for point in forecast.band)
    lowest = min([lowest, *(each.moisture for each in forecast.weighings)])
    top, bottom = min(1.0, (int(highest * 10) + 1) / 10), int(lowest * 10) / 10
    return Frame(
        start=forecast.band[0].at,
        end=max(forecast.band[-1].at, forecast.band[0].at + timedelta(hours=1)),
        bottom=bottom,
        top=top,
        width=width,
        height=height,
    )


def _plot(forecast: DryingForecast, window: WindowForecast, frame: Frame) -> list[list[Cell]]:
    plot: list[list[Cell]] = [[(BLANK, "axis")] * frame.width for _ in range(frame.height)]
    _draw_band(plot, forecast.band, frame)
    _draw_window(plot, window, frame)
    if frame.start <= forecast.made_at <= frame.end:
        column = min(int(frame.column(forecast.made_at)), frame.width - 1)
        for row in plot:
            row[column] = (NOW, "now")
    _draw_curve(plot, forecast.band, frame)
    for each in forecast.weighings:
        column, row_at = int(frame.column(each.at)), int(frame.row(each.moisture))
        if 0 <= column <= frame.width and 0 <= row_at <= frame.height:
            place = plot[min(row_at, frame.height - 1)]
            place[min(column, frame.width - 1)] = (WEIGHED, "weighed")
    return plot


def _draw_band(plot: list[list[Cell]], band: Sequence[BandPoint], frame: Frame) -> None:
    for column in range(frame.width):
        point = _between(band, frame, column + 0.5)
        upper, lower = frame.row(point.high), frame.row(point.low)
        for row in range(frame.height):
            if upper <= row + 0.5 <= lower:
                plot[row][column] = (BAND, "band")


def _draw_window(plot: list[list[Cell]], window: WindowForecast, frame: Frame) -> None:
    """The part of the picture where the hide is likely to be in that state."""
    if window.opens.mid is None:
        return
    first = max(int(frame.column(window.opens.mid)), 0)
    closes = window.closes.mid
    last = frame.width - 1 if closes is None else int(frame.column(closes))
    for row in range(int(frame.row(window.upper)), int(frame.row(window.lower)) + 1):
        for column in range(first, min(last, frame.width - 1) + 1):
            if 0 <= row < frame.height:
                plot[row][column] = (WINDOW, "window")


def _draw_curve(plot: list[list[Cell]], band: Sequence[BandPoint], frame: Frame) -> None:
    """The likely course in half cells, with no gaps down the steep."""
    before: int | None = None
    for column in range(frame.width):
        half = int(frame.row(_between(band, frame, column + 0.5).mid) * 2)
        # Down the steep the halves between belong to the curve too.
        first = half if before is None else min(before + 1, half)
        marks: dict[int, int] = {}
        for place in range(first, max(first, half) + 1):
            marks[place // 2] = marks.get(place // 2, 0) | (1 << place % 2)
        for row, mark in marks.items():
            if 0 <= row < frame.height:
                plot[row][column] = (_HALVES[mark], "curve")
        before = half


def _between(band: Sequence[BandPoint], frame: Frame, column: float) -> BandPoint:
    """The band at a column, on straight lines between its points, which lie evenly."""
    place = min(max(column / frame.width, 0.0), 1.0) * (len(band) - 1)
    left = min(int(place), len(band) - 2)
    share, one, two = place - left, band[left], band[left + 1]
    low, mid, high = (
        getattr(one, name) + share * (getattr(two, name) - getattr(one, name))
        for name in ("low", "mid", "high")
    )
    return BandPoint(at=one.at, low=low, mid=mid, high=high)


def _axis(frame: Frame, row: int) -> list[Cell]:
    """The percent that belongs to a row, where a round one does."""
    step = 10 if frame.height * 10 / ((frame.top - frame.bottom) * 100) >= 1.0 else 20
    for percent in range(0, 101, step):
        # A hair is added: 6 rows down may come out as 5.999.
        if int(frame.row(percent / 100) + 1e-6) == row and percent / 100 <= frame.top:
            return _cells(f"{percent:>3} %┤", LEFT, "axis")
    return _cells("     │", LEFT, "axis")


def _ticks(frame: Frame, zone: tzinfo) -> Iterator[tuple[int, datetime]]:
    """The columns of round local hours, as close as their words have room."""
    hours = (frame.end - frame.start) / timedelta(hours=1)
    most = max(frame.width // TICK_ROOM, 1)
    step = next((each for each in TICKS_H if hours / each <= most), TICKS_H[-1])
    local = frame.start.astimezone(zone)
    midnight = local.replace(hour=0, minute=0, second=0, microsecond=0, tzinfo=None)
    count = 0
    while True:
        # Wall-clock hours: a day with a clock change has its ticks at round hours all the same.
        at = (midnight + timedelta(hours=count * step)).replace(tzinfo=zone)
        column = round(frame.column(at.astimezone(frame.start.tzinfo)))
        if column >= frame.width:
            return
        if column >= 0:
            yield column, at
        count += 1


def _line(frame: Frame, ticks: Sequence[tuple[int, datetime]]) -> list[Cell]:
    marks = {column for column, _ in ticks}
    line = "".join("┬" if column in marks else "─" for column in range(frame.width))
    percent = round(100 * frame.bottom)
    return _cells(f"{percent:>3} %└{line}", LEFT + frame.width + 1, "axis")


def _words(frame: Frame, ticks: Sequence[tuple[int, datetime]], width: int) -> str:
    line = [" "] * width
    day = None
    free_from = 0
    for column, at in ticks:
        words = f"{at:%H:%M}" if day == at.date() else f"{at:%a} {at.day} {at:%H:%M}"
        words = f"{at:%a} {at.day}" if at.hour == 0 and day is not None else words
        place = LEFT + column
        if place < free_from or place + len(words) > width:
            continue
        line[place : place + len(words)] = words
        free_from, day = place + len(words) + 1, at.date()
    return "".join(line)


def _bar(frame: Frame, window: WindowForecast, width: int) -> list[Cell]:
    """The window along the line of time: thin while it is in doubt, full where it is likely."""
    cells: list[Cell] = _cells(f"{window.id:>5}", LEFT + frame.width, "window")
    opens, closes = window.opens, window.closes
    if window.unknown or opens.mid is None:
        return _cells(f"{'':{LEFT}}{window.name}: not known", width, "window")
    last_mid = frame.end if closes.mid is None else closes.mid
    last = frame.end if closes.high is None else closes.high
    first = opens.low or opens.mid
    for column in range(frame.width):
        at = frame.start + (column + 0.5) / frame.width * (frame.end - frame.start)
        if opens.mid <= at <= last_mid:
            cells[LEFT + column] = (WINDOW, "window")
        elif first <= at <= last:
            cells[LEFT + column] = (BAND, "window")
    return [*cells, (BLANK, "axis")]


def _cells(text: str, width: int, ink: Ink) -> list[Cell]:
    return [(character, ink) for character in fitted(text, width)]


class CurvePicture(Widget):
    """The picture of one forecast, as large as the room it is given."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "picture--axis",
        "picture--band",
        "picture--curve",
        "picture--window",
        "picture--weighed",
        "picture--now",
    }

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._shown: tuple[DryingForecast, tzinfo] | None = None
        self._rows: list[list[Cell]] = []

    @property
    def lines(self) -> list[str]:
        """The rows as they are drawn now."""
        return ["".join(character for character, _ in row) for row in self._rows]

    def show(self, forecast: DryingForecast, zone: tzinfo) -> None:
        """Draw this forecast."""
        self._shown = (forecast, zone)
        self._draw()

    def on_resize(self) -> None:
        """Draw it for the new room."""
        self._draw()

    def _draw(self) -> None:
        if self._shown is None:
            return
        forecast, zone = self._shown
        self._rows = curve_rows(forecast, self.size.width, self.size.height, zone)
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One row of the picture."""
        width = self.size.width
        if y >= len(self._rows):
            return Strip.blank(width, self.rich_style)
        segments = [
            Segment(
                "".join(character for character, _ in run),
                self.get_component_rich_style(f"picture--{ink}"),
            )
            for ink, run in groupby(self._rows[y], key=lambda cell: cell[1])
        ]
        return Strip(segments).adjust_cell_length(width, self.rich_style)
