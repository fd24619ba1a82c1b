"""Numbers and the words behind them, taken apart by one expression that runs in linear time.

Nothing a person types reaches pint's own parser, Python's ``float`` or ``eval``.  Accepted: the
digits 0 to 9, a decimal point or comma, fractions (``1/2``, ``2 1/2``, ``2-1/2``, ``2½``) and
thousands commas where they cannot be taken for anything else.  Digits of other scripts are
refused, not translated: a scale shows 0 to 9, and what was typed must look like what it shows.
"""

import re
import unicodedata
from fractions import Fraction

import msgspec

from benchconsole.errors import BadQuantity

LONGEST = 64
"""Characters in the longest quantity that is read."""

_VULGAR = {
    mark: Fraction(over, under)
    for mark, over, under in (
        ("½", 1, 2), ("⅓", 1, 3), ("⅔", 2, 3), ("¼", 1, 4), ("¾", 3, 4),
        ("⅕", 1, 5), ("⅖", 2, 5), ("⅗", 3, 5), ("⅘", 4, 5), ("⅙", 1, 6), ("⅚", 5, 6),
        ("⅛", 1, 8), ("⅜", 3, 8), ("⅝", 5, 8), ("⅞", 7, 8),
    )
}  # fmt: skip
_MARKS = "".join(_VULGAR)
_MINUSES = "-‐‑‒–—−﹣-"

# Every repeat is possessive: it never gives back what it took, so no text makes this slow.
# A number may begin with its point only after a space: in "2 lb.5 oz" the point is anybody's.
_PART = re.compile(
    rf"""
    (?: (?: (?P<whole>[0-9]++) (?:[ ]|-) )?+ (?P<over>[0-9]++) / (?P<under>[0-9]++)
      | (?: (?P<count>[0-9]++) [ -]?+ )?+ (?P<vulgar>[{_MARKS}])
      | (?P<plain> [0-9]++ (?:[.,][0-9]++)*+ | (?<![^ ]) [.,][0-9]++ )
    )
    (?P<words> (?: [^0-9.,{_MARKS}] | [.,](?![0-9]) )*+ )
    """,
    re.VERBOSE,
)
_DECIMAL = re.compile(r"([0-9]*+)(?:[.,]([0-9]++))?+")
_GROUPED = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?P<tail>\.[0-9]+)?")
_POWER = re.compile(r"[0-9][eE][+-]?[0-9]")


class Asked(msgspec.Struct, frozen=True, kw_only=True):
    """The field that asks for a quantity, and an answer that would be read."""

    field: str
    example: str

    def refuse(self, fault: str, example: str = "") -> BadQuantity:
        """The error to raise for this field, with the example of its own unless one is given."""
        return BadQuantity(self.field, fault, example or self.example)


class Part(msgspec.Struct, frozen=True, kw_only=True):
    """One number, as it was written, and the words that follow it."""

    number: Fraction
    written: str
    words: str


def cleaned(text: str, asked: Asked) -> str:
    """The text with plain single-width spaces; raises ``BadQuantity`` for what is never read."""
    if len(text) > LONGEST:
        raise asked.refuse(f"that is more than {LONGEST} characters")
    stripped = text.strip(" \t\r\n")
    if any(unicodedata.category(mark)[0] == "C" for mark in stripped):
        raise asked.refuse("that holds a character that does not print")
    if any(mark.isdecimal() and not mark.isascii() for mark in stripped):
        raise asked.refuse("only the digits 0 to 9 are read")
    spaced = " ".join(stripped.replace("⁄", "/").split())
    if not spaced:
        raise asked.refuse("nothing was typed")
    if _POWER.search(spaced):
        raise asked.refuse("powers of ten such as 1e5 are not read")
    return spaced


def split_sign(text: str) -> tuple[int, str]:
    """-1 or 1, and the text without its sign; a dash of any width counts as minus."""
    if text[0] in _MINUSES:
        return -1, text[1:].lstrip()
    return 1, text[1:].lstrip() if text[0] == "+" else text


def parts_of(text: str, asked: Asked) -> list[Part]:
    """The numbers in the text, each with its words; raises ``BadQuantity`` when there are none."""
    parts: list[Part] = []
    position = 0
    while position < len(text):
        match = _PART.match(text, position)
        if match is None:
            raise asked.refuse(f"“{text[position:]}” does not begin with a number")
        position = match.end()
        words = match["words"].strip()
        if position < len(text):
            words = words.removesuffix(" and").rstrip(" ,")
        written = text[match.start() : match.start("words")].strip()
        parts.append(Part(number=_value(match, written, asked), written=written, words=words))
    if not parts:
        raise asked.refuse("there is no number")
    return parts


def _value(match: re.Match[str], written: str, asked: Asked) -> Fraction:
    if match["plain"]:
        return _decimal(written, asked)
    if match["vulgar"]:
        return int(match["count"] or 0) + _VULGAR[match["vulgar"]]
    whole, over, under = int(match["whole"] or 0), int(match["over"]), int(match["under"])
    if under == 0:
        raise asked.refuse(f"“{written}” divides by zero")
    if match["whole"] and over >= under:
        raise asked.refuse(f"“{written}” has a fraction of one or more beside a whole number")
    return whole + Fraction(over, under)


def _decimal(written: str, asked: Asked) -> Fraction:
    """``3.5``, ``3,5``, ``.5``, ``1,250.5``; ``1,250`` is refused, for it is read both ways."""
    grouped = _GROUPED.fullmatch(written)
    if grouped:
        bare = written.replace(",", "")
        if written.count(",") > 1 or grouped["tail"]:
            return Fraction(bare)
        pointed = written.replace(",", ".")
        raise asked.refuse(f"“{written}” can mean {bare} or {pointed}, so leave the comma out")
    decimal = _DECIMAL.fullmatch(written)
    if decimal is None:
        raise asked.refuse(f"“{written}” is not a number")
    return Fraction(f"{decimal[1] or '0'}.{decimal[2] or '0'}")
