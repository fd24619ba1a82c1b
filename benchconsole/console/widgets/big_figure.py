"""Figures to read from two metres, in a pixel font of our own drawn with half blocks.

A pixel is one cell wide and half a cell high, which on a terminal is close to square. The
picture is scaled by whole numbers to the largest that fits; it is never cut, since a figure
without its last digit is a wrong figure.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

HEIGHT = 9
"""Pixels a line of the font is high."""
GAP = 1
"""Pixels between two glyphs."""

_SHEETS = (
    (
        "0123456789",
        """
        .###. ..#.. .###. .###. ...#. ##### .###. ##### .###. .###.
        #...# .##.. #...# #...# ..##. #.... #...# ....# #...# #...#
        #...# #.#.. ....# ....# .#.#. #.... #.... ....# #...# #...#
        #...# ..#.. ....# ....# .#.#. ####. #.... ...#. #...# #...#
        #...# ..#.. ...#. ..##. #..#. ....# ####. ...#. .###. .####
        #...# ..#.. ..#.. ....# #..#. ....# #...# ..#.. #...# ....#
        #...# ..#.. .#... ....# ##### ....# #...# ..#.. #...# ....#
        #...# ..#.. #.... #...# ...#. #...# #...# .#... #...# #...#
        .###. ##### ##### .###. ...#. .###. .###. .#... .###. .###.
        """,
    ),
    (
        "., :/−+%×½",
        """
        .. .. .. .. ....# ... ..... ..... ..... .#....#
        .. .. .. .. ....# ... ..... ##..# ..... ##...#.
        .. .. .. .. ...#. ... ..#.. ##.#. ..... .#..#..
        .. .. .. ## ...#. ... ..#.. ...#. #...# .#..#..
        .. .. .. ## ..#.. ### ##### ..#.. .#.#. ...#.##
        .. .. .. .. .#... ... ..#.. .#... ..#.. ..#...#
        .. ## .. .. .#... ... ..#.. .#.## .#.#. ..#..#.
        ## ## .. ## #.... ... ..... #..## #...# .#..#..
        ## .# .. ## #.... ... ..... ..... ..... .#..###
        """,
    ),
    (
        "abdefgiklm",
        """
        ..... #.... ....# ..... ..## ..... . #... . .....
        ..... #.... ....# ..... .#.. ..... # #... # .....
        ..... #.... ....# ..... .#.. ..... . #... # .....
        .###. #.... ....# .###. .#.. .#### . #..# # ##.#.
        ....# ####. .#### #...# ###. #...# # #..# # #.#.#
        .#### #...# #...# #...# .#.. #...# # #.#. # #.#.#
        #...# #...# #...# ##### .#.. .#### # ##.. # #.#.#
        #...# #...# #...# #.... .#.. ....# # #.#. # #.#.#
        .#### ####. .#### .###. .#.. .###. # #..# # #.#.#
        """,
    ),
    (
        "nopqrstuz",
        """
        .... ..... ..... ..... .... ..... .#.. ..... .....
        .... ..... ..... ..... .... ..... .#.. ..... .....
        .... ..... ..... ..... .... ..... .#.. ..... .....
        ###. .###. ####. .#### #.## .#### #### #...# #####
        #..# #...# #...# #...# ##.. #.... .#.. #...# ....#
        #..# #...# #...# #...# #... .###. .#.. #...# ...#.
        #..# #...# ####. .#### #... ....# .#.. #...# ..#..
        #..# #...# #.... ....# #... ....# .#.. #...# .#...
        #..# .###. #.... ....# #... ####. ..## .#### #####
        """,
    ),
    (
        "LSU",
        """
        #.... .#### #...#
        #.... #.... #...#
        #.... #.... #...#
        #.... #.... #...#
        #.... .###. #...#
        #.... ....# #...#
        #.... ....# #...#
        #.... ....# #...#
        ##### ####. .###.
        """,
    ),
)  # fmt: skip
_UNKNOWN = ("###", "#.#", "#.#", "#.#", "#.#", "#.#", "#.#", "#.#", "###")
_ALIKE = {"-": "−", "–": "−"}
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}

Pixels = tuple[str, ...]


def _glyphs() -> dict[str, Pixels]:
    font: dict[str, Pixels] = {}
    for marks, sheet in _SHEETS:
        rows = [line.split() for line in sheet.strip().splitlines()]
        font.update(zip(marks, zip(*rows, strict=True), strict=True))
    return font


_FONT = _glyphs()


def big_picture(text: str, width: int, height: int) -> tuple[str, ...]:
    """The text as lines of half blocks, as large as fits into so many cells.

    Where it makes the digits larger, the text is broken before a number, and then its letters
    are drawn at half the size. Where not even pixels of single size fit, the text itself is
    given, and ``…`` where that does not fit either. All lines are equally wide; nothing is
    ever cut.
    """
    layouts = tuple(_layouts(text))
    for scale in range(height * 2 // HEIGHT, 0, -1):
        for letters in dict.fromkeys((scale, max(scale // 2, 1))):
            for lines in layouts:
                rows = _stacked([_drawn(line, scale, letters) for line in lines], scale)
                if len(rows[0]) <= width and -(-len(rows) // 2) <= height:
                    return _half_blocks(rows)
    if height < 1 or len(text) > width:
        return ("…",) if width > 0 and height > 0 else ()
    return (text,)


def _layouts(text: str) -> Iterator[tuple[str, ...]]:
    """The text in one line, in two, and in as many as it has numbers."""
    yield (text,)
    lines: list[str] = []
    for word in text.split():
        if word[0].isdigit() or not lines:
            lines.append(word)
        else:
            lines[-1] += f" {word}"
    for first in range(len(lines) - 1, 0, -1):
        yield (" ".join(lines[:first]), " ".join(lines[first:]))
    if len(lines) > 2:
        yield tuple(lines)


def _drawn(line: str, scale: int, letters: int) -> list[str]:
    """Pixel rows of one line, letters and spaces at their own scale, all on one ground line."""
    high = HEIGHT * scale
    rows = [""] * high
    before = 0
    for mark in line:
        size = scale if not (mark.isalpha() or mark == " ") else letters
        glyph = _FONT.get(_ALIKE.get(mark, mark), _UNKNOWN)
        gap = "." * (GAP * min(size, before))
        before = size
        blank = "." * (len(glyph[0]) * size)
        large = ["".join(pixel * size for pixel in row) for row in glyph for _ in range(size)]
        column = [blank] * (high - len(large)) + large
        rows = [row + gap + pixels for row, pixels in zip(rows, column, strict=True)]
    return rows


def _stacked(drawn: Sequence[list[str]], scale: int) -> list[str]:
    """Lines under each other, centred."""
    width = max(len(rows[0]) for rows in drawn)
    stack: list[str] = []
    for place, rows in enumerate(drawn):
        stack += ["." * width] * (GAP * 2 * scale if place else 0)
        stack += [row.center(width, ".") for row in rows]
    return stack


def _half_blocks(rows: list[str]) -> tuple[str, ...]:
    if len(rows) % 2:
        rows = ["." * len(rows[0]), *rows]
    return tuple(
        "".join(_HALVES[above == "#", below == "#"] for above, below in zip(top, low, strict=True))
        for top, low in zip(rows[::2], rows[1::2], strict=True)
    )


class BigFigure(Widget):
    """A figure drawn as large as the widget; its size never depends on the text.

    Colour, weight and alignment come from the style sheet (``content-align``).
    """

    DEFAULT_CSS = """
    BigFigure { height: 1fr; width: 1fr; content-align: center middle; }
    """

    def __init__(self, text: str = "", *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._text = text
        self._drawn = lru_cache(maxsize=2)(big_picture)

    @property
    def text(self) -> str:
        """What it shows."""
        return self._text

    def show(self, text: str) -> None:
        """Show this text from now on; nothing is drawn when it is the same."""
        if text != self._text:
            self._text = text
            self.refresh()

    def picture(self, size: Size) -> tuple[str, ...]:
        """The lines it draws at that size."""
        return self._drawn(self._text, size.width, size.height)

    def render(self) -> Content:
        """The picture at the present size."""
        return Content("\n".join(self.picture(self.content_size)))
