"""People's text: the one rule for what is taken in, and for how it is shown, printed and filed.

**Taken in** (:func:`fault_in`). Blanks at both ends go off and CRLF counts as a line end; all else
is stored letter by letter as it was typed, or refused as a whole in a sentence. Refused are
control characters (a line end and a tab stand in notes only), marks that turn the direction of
writing for what follows (embeddings, overrides, isolates: they would scramble the screen around
them), halves of characters, codes that are no characters, and a text of which nothing can be
seen. Joiners, accents however many, right-to-left letters, emoji and private letters are kept.

**Shown** in the console and **printed** at the command line (:func:`shown`): letters stand as they
are; what moves the cursor, turns the writing, cannot be seen or is as wide in one terminal as it
is not in the next is a dot each. Reading never refuses: an older history may hold anything.

**In files** (:func:`filed`): to the letter, but what would be refused today is U+FFFD. JSON needs
no such loss, it has escapes for everything (:func:`escaped`).

A letter is as wide as Unicode's East Asian Width says (UAX #11): wide and full-width letters take
two cells, marks that join their letter none.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator

DOT = "·"
"""Stands for a letter that is not shown."""

LOST = "\N{REPLACEMENT CHARACTER}"
"""Stands in a file for a letter that no file may hold."""

MOST_MARKS = 4
"""Marks shown on one letter; Hebrew with points and accents needs as many, a heap is a prank."""

_TURNS = "\u202a-\u202e\u2066-\u2069"
"""Embeddings, overrides and isolates (UAX #9); U+200E and U+200F turn nothing but themselves."""
_ENDS = "\n\r\v\f\x1c\x1d\x1e\x85\u2028\u2029"
_PLANES = "".join(f"{chr(0x10000 * n + 0xFFFE)}{chr(0x10000 * n + 0xFFFF)}" for n in range(17))
_CONTROLS = f"\x7f-\x9f\u2028\u2029{_TURNS}\ud800-\udfff\ufdd0-\ufdef{_PLANES}"
_REFUSED = re.compile(f"[\x00-\x1f{_CONTROLS}]")
_REFUSED_IN_LINES = re.compile(f"[\x00-\x08\x0b-\x1f{_CONTROLS}]")
_LINE_END = re.compile(f"\r\n|[{_ENDS}]")


# --- taking in ------------------------------------------------------------------------


def fault_in(text: str, *, lines: bool = False) -> str:
    """What keeps a text from being taken in, as words for a sentence; empty when nothing does.

    With ``lines`` it may have line ends and tabs.
    """
    if text.isprintable() and text.isascii():
        return ""
    if found := refused_letter(text, lines=lines):
        return f"it holds {_named(found)} (U+{ord(found):04X})"
    if text.strip() and not any(_can_be_seen(letter) for letter in text):
        return "nothing of it can be seen"
    return ""


def refused_letter(text: str, *, lines: bool = False) -> str:
    """The first letter that is not taken in; empty if there is none."""
    found = (_REFUSED_IN_LINES if lines else _REFUSED).search(text)
    return found[0] if found else ""


def _named(letter: str) -> str:
    if letter in _ENDS:
        return "a line end"
    if letter == "\t":
        return "a tab"
    match unicodedata.category(letter):
        case "Cc":
            return "a control character"
        case "Cs":
            return "half a character"
        case "Cn":
            return "a code that is no character"
    return "a mark that turns the direction of writing"


def _can_be_seen(letter: str) -> bool:
    return unicodedata.category(letter)[0] not in "CZM" and letter not in _BLANKS


# --- showing --------------------------------------------------------------------------

_BLANKS = "\u115f\u1160\u2800\u3164\uffa0"
"""Letters without a picture: fillers of Korean syllables, an empty braille cell."""
_DISPUTED = (
    (0x2630, 0x2637),
    (0x268A, 0x268F),
    (0x4DC0, 0x4DFF),
    (0x1D300, 0x1D376),
)
"""Signs that Unicode 16 made wide: terminals take one cell for them, or two."""
_CHOOSING = ((0xFE00, 0xFE0F), (0xE0100, 0xE01EF), (0x1F3FB, 0x1F3FF))
"""Choices of how the sign before is drawn: in colour, in which shade."""
_FLAGS = range(0x1F1E6, 0x1F200)
"""Letters that make flags by twos; a flag is one picture here, two there."""
_JOINING = ((0x1160, 0x11FF), (0xD7B0, 0xD7FF))
"""Vowels and endings of Korean syllables: no cells of their own."""


class _Letters(dict[int, str]):
    """How every letter is shown, looked up once; for ``str.translate``."""

    def __missing__(self, code: int) -> str:
        self[code] = shows = _shown_letter(chr(code))
        return shows


class _OneForOne(dict[int, str]):
    """The same with exactly one letter for each."""

    def __missing__(self, code: int) -> str:
        shows = _shown_letter(chr(code))
        self[code] = shows = shows if len(shows) == 1 else chr(code) if shows else DOT
        return shows


class _Cells(dict[str, int]):
    """The cells of every letter, looked up once."""

    def __missing__(self, letter: str) -> int:
        wide = unicodedata.east_asian_width(letter) in "WF"
        joins = unicodedata.category(letter)[0] == "M" or _within(ord(letter), _JOINING)
        self[letter] = taken = 0 if joins else 2 if wide else 1
        return taken


_LETTERS, _ONE_FOR_ONE, _CELLS = _Letters(), _OneForOne(), _Cells()


def _within(code: int, ranges: tuple[tuple[int, int], ...]) -> bool:
    return any(first <= code <= last for first, last in ranges)


def _shown_letter(letter: str) -> str:
    """One letter as it is shown; empty where it only says how the one before is drawn."""
    code = ord(letter)
    if " " <= letter <= "~":
        return letter
    if _within(code, _CHOOSING):
        return ""
    if code in _FLAGS:
        return chr(ord("A") + code - _FLAGS.start)
    kind = unicodedata.category(letter)
    if kind == "Zs":
        return " " * _CELLS[letter]
    if kind[0] in "CZ" or letter in _BLANKS or _within(code, _DISPUTED):
        return DOT
    return letter


def shown(text: str) -> str:
    """The text on one line as it may stand on a screen or on paper: ``str.isprintable``.

    What is no letter to be seen is a dot each, also a line end and a tab. A mark without a letter
    before it would join our own writing: a dot too, and so is a heap of marks on one letter.
    """
    if text.isascii():
        return text if text.isprintable() else text.translate(_LETTERS)
    return "".join(_with_few_marks(text.translate(_LETTERS), heap=""))


def shown_one_for_one(text: str) -> str:
    """As :func:`shown`, with one letter for each of the text's: for a field that is typed on."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_with_few_marks(text.translate(_ONE_FOR_ONE), heap=DOT))


def _with_few_marks(text: str, *, heap: str) -> Iterable[str]:
    """The letters with few marks on each; of more the first is a dot, the others ``heap``."""
    # Below U+0300 nothing joins the letter before.
    return text if max(text, default="") < "\u0300" else _few(text, heap)


def _few(text: str, heap: str) -> Iterator[str]:
    marks = MOST_MARKS
    for letter in text:
        if letter < "\u0300" or _CELLS[letter]:
            # A mark on a blank would begin a line when the line is broken there.
            marks = MOST_MARKS if letter == " " else 0
            yield letter
            continue
        marks += 1
        yield letter if marks <= MOST_MARKS else DOT if marks == MOST_MARKS + 1 else heap


def shown_lines(text: str) -> str:
    """As :func:`shown`, but line ends stay line ends and a tab is four blanks."""
    if text.isascii() and text.isprintable():
        return text
    return "\n".join(shown(line.replace("\t", "    ")) for line in _LINE_END.split(text))


def cells(text: str) -> int:
    """How many cells of a screen a text takes that was made by :func:`shown`."""
    return len(text) if text.isascii() else sum(map(_CELLS.__getitem__, text))


def padded(text: str, width: int) -> str:
    """The text with blanks up to ``width`` cells; as it is if it takes more."""
    return text + " " * (width - cells(text))


# --- files ----------------------------------------------------------------------------


def filed(text: str) -> str:
    r"""The text as a file may hold it: every line end is ``\n``, what is not taken in U+FFFD."""
    if text.isprintable() and text.isascii():
        return text
    return _REFUSED_IN_LINES.sub(LOST, _LINE_END.sub("\n", text))


def escaped(json_text: str) -> str:
    r"""The same JSON with ``\u`` escapes for all that is not shown as it is; line ends stay.

    JSON's own rule (RFC 8259 section 7) leaves DEL, the controls U+0080 to U+009F (one of them
    begins a terminal's commands), marks that turn the writing and U+2028 as they are.
    """
    if json_text.isascii() and "\x7f" not in json_text:
        return json_text
    return "".join(
        letter if letter == "\n" or letter.isprintable() else _escape(letter)
        for letter in json_text
    )


def _escape(letter: str) -> str:
    units = letter.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at]:02x}{units[at + 1]:02x}" for at in range(0, len(units), 2))
