"""The lines of the log: one JSON document each, with a checksum, chained one to the next.

The first line names the schema, its version and when the shop's history began; every other is
one tap, whole. A line ends with the CRC-32 (the one of RFC 1952) of all that stands before it,
and a tap names the checksum of the line before it: a changed line does not fit itself, a
missing one leaves two that do not fit each other. Nothing here reads or writes files.
"""

from __future__ import annotations

import codecs
import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from typing import Any
from zlib import crc32

import msgspec

SCHEMA = "benchconsole.store"
VERSION = 2

Document = dict[str, Any]
"""A tap as plain JSON values: when it happened, when it was recorded, its numbered events."""

_SEAL = b',"crc":"'
_SEAL_LENGTH = len(_SEAL) + len('12345678"}')
_START = re.compile(rb'\{"(?:tap|schema)":')
_END = re.compile(rb',"crc":"[0-9a-f]{8}"\}')
_MOST_TRIED = 8
"""So many ends are tried for a beginning within an unreadable stretch, past so many others."""
_BLANK = b"\r\n\t \xef\xbb\xbf"
"""What editors and sync programs put between lines: other line ends, blanks, UTF-8's mark."""
_ENCODINGS = (  # the longer marks first: that of UTF-32 begins with that of UTF-16
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


class Header(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The first line: which file this is. ``began`` tells this shop's store from any other."""

    schema: str
    version: int
    began: datetime
    crc: str


class Line(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One tap. ``after`` is the ``crc`` of the line before; it may be of no use in a torn file."""

    tap: int
    after: str
    doc: Document
    crc: str


@dataclass(frozen=True, kw_only=True)
class Parsed:
    """What a file's content holds.

    ``lines`` are all that fit their checksum, in the file's order. Of what comes before the end
    of the last whole line, at ``sound_until``, ``unreadable`` counts the stretches that hold
    anything else, and ``altered`` says that there are other line ends or blanks, or that the
    first line stands elsewhere. ``torn`` says
    that something follows there, as a write that was cut off leaves it: ``in_tail`` of the lines
    could be read in that, and ``rest`` is what could not.
    """

    headers: tuple[Header, ...]
    """One, unless there are first lines of other logs in it, or its own is gone."""
    lines: tuple[Line, ...]
    unreadable: int = 0
    altered: bool = False
    sound_until: int
    torn: bool = False
    in_tail: int = 0
    rest: bytes = b""

    @property
    def header(self) -> Header | None:
        """The first line, if it can be read."""
        return self.headers[0] if self.headers else None

    @property
    def is_ours(self) -> bool:
        """Whether any of it was written by this program."""
        return self.header is not None or bool(self.lines)

    @cached_property
    def breaks(self) -> tuple[int, ...]:
        """The places in ``lines`` before which something is missing or out of order."""
        before = self.header.crc if self.header else ""
        tap, found = 0, []
        for place, line in enumerate(self.lines):
            if line.after != before or line.tap <= tap:
                found.append(place)
            before, tap = line.crc, line.tap
        return tuple(found)

    @property
    def is_whole(self) -> bool:
        """Whether nothing is missing between the first line and the last whole one."""
        if self.unreadable or self.altered or len(self.headers) != 1:
            return False
        return not self.breaks


def header_line(began: datetime) -> bytes:
    """The first line of a store whose history began at an instant (aware)."""
    about = {"schema": SCHEMA, "version": VERSION, "began": began.astimezone(UTC)}
    return sealed(msgspec.json.encode(about))


def tap_line(tap: int, after: str, document: Mapping[str, Any]) -> bytes:
    """The line of a tap that follows the line whose checksum is ``after``.

    The values must be plain and finite, as ``entries.next_entries`` makes them: the encoder
    would write a NaN as null. Raises UnicodeEncodeError on half a surrogate pair.
    """
    return sealed(msgspec.json.encode({"tap": tap, "after": after, "doc": document}))


def crc_of(line: bytes) -> str:
    """The checksum that a line of ours ends with."""
    return line[-11:-3].decode()


def mark_of(document: Mapping[str, Any]) -> str:
    """A checksum of what a tap says, wherever it stands."""
    return _crc(msgspec.json.encode(document)).decode()


def whole_log(began: datetime, documents: Iterable[tuple[int, Mapping[str, Any]]]) -> bytes:
    """A whole file: the header and these taps, chained anew."""
    lines = [header_line(began)]
    for tap, document in documents:
        lines.append(tap_line(tap, crc_of(lines[-1]), document))
    return b"".join(lines)


def version_of(body: bytes) -> int | None:
    """The version a log says it has, even one that this program cannot read; None if it is none.

    The first line of every version names ``schema`` and ``version``. One that ends with a
    checksum of ours must fit it; another version may have another kind.
    """
    first, _, _ = body.partition(b"\n")
    try:
        about: Any = msgspec.json.decode(first)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None
    if not isinstance(about, dict) or about.get("schema") != SCHEMA:
        return None
    version = about.get("version")
    is_sealed = _END.fullmatch(first[-_SEAL_LENGTH:]) is not None
    return version if type(version) is int and fits(first) == is_sealed else None


def fits(line: bytes) -> bool:
    """Whether a line (without its end) matches the checksum it ends with."""
    start = line[:-_SEAL_LENGTH]
    return line[-_SEAL_LENGTH:] == b'%s%08x"}' % (_SEAL, crc32(start))


def parsed(body: bytes) -> Parsed:
    """All that can be read in a file's content, whatever it is."""
    return _all_sound(body) or _what_is_sound(body)


def _all_sound(body: bytes) -> Parsed | None:
    """The content of a file in which every line is right, read at once; None for any other."""
    header, *lines = body.split(b"\n")
    if not lines or lines.pop() or not fits(header) or not all(map(fits, lines)):
        return None
    try:
        return Parsed(
            headers=(_as_header.decode(header),),
            lines=tuple(_as_line.decode_lines(body[len(header) + 1 :])),
            sound_until=len(body),
        )
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None


def _what_is_sound(body: bytes) -> Parsed:
    found: list[Header | Line] = []
    unreadable = sound_until = sound = at = 0
    altered = False
    tail: list[bytes] = []
    for stretch in _stretches(body):
        at += len(stretch)
        whole = _read(stretch[:-1]) if stretch.endswith(b"\n") else None
        if whole is None:
            salvaged, rest = _salvaged(stretch)
            found.extend(salvaged)
            tail.append(rest)
        else:
            found.append(whole)
            unreadable += sum(map(bool, tail))
            altered = altered or bool(tail)
            sound_until, sound, tail = at, len(found), []
    return Parsed(
        headers=tuple(each for each in found if isinstance(each, Header)),
        lines=tuple(each for each in found if isinstance(each, Line)),
        unreadable=unreadable,
        altered=altered or not isinstance(next(iter(found), None), Header),
        sound_until=sound_until,
        torn=at > sound_until,
        in_tail=len(found) - sound,
        rest=b"".join(tail),
    )


def in_utf_8(body: bytes) -> bytes:
    """The same text, if an editor saved it in another encoding with a mark in front."""
    for mark, encoding in _ENCODINGS:
        if body.startswith(mark):
            return body.decode(encoding, errors="replace").encode(errors="replace")
    return body


def is_cut_write(rest: bytes, last: Line) -> bool:
    """Whether a file's rest is what a write of the tap after ``last`` leaves when it is cut off.

    That is the beginning of a line, zeros that a file system puts where nothing arrived, or both.
    """
    begun = rest.rstrip(b"\0")
    start = b'{"tap":%d,"after":"%s","doc":{' % (last.tap + 1, last.crc.encode())
    return b"\n" not in rest and (start.startswith(begun) or begun.startswith(start))


def sealed(body: bytes) -> bytes:
    """A JSON object as a line: with its checksum as the last field, and a line feed."""
    start = body[:-1]
    return start + _SEAL + _crc(start) + b'"}\n'


def _crc(body: bytes) -> bytes:
    return b"%08x" % crc32(body)


def _stretches(body: bytes) -> Iterator[bytes]:
    """The content cut after every line feed and nowhere else."""
    start = 0
    while start < len(body):
        end = body.find(b"\n", start) + 1 or len(body)
        yield body[start:end]
        start = end


_as_line = msgspec.json.Decoder(Line)
_as_header = msgspec.json.Decoder(Header)


def _read(line: bytes) -> Header | Line | None:
    if not fits(line):
        return None
    try:
        return _as_line.decode(line) if line.startswith(b'{"tap"') else _as_header.decode(line)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None


def _salvaged(stretch: bytes) -> tuple[list[Header | Line], bytes]:
    """The lines within a stretch that is none as a whole, and what else is in it.

    A text that a person typed cannot look like a line: in it every quotation mark is escaped.
    """
    starts = [found.start() for found in _START.finditer(stretch)]
    ends = [found.end() for found in _END.finditer(stretch)]
    found: list[Header | Line] = []
    rest: list[bytes] = []
    reached = 0
    for place, start in enumerate(starts):
        if start < reached:
            continue
        first = bisect_right(ends, start)
        beyond = starts[place + _MOST_TRIED] if place + _MOST_TRIED < len(starts) else len(stretch)
        for end in ends[first : min(first + _MOST_TRIED, bisect_right(ends, beyond))]:
            line = _read(stretch[start:end])
            if line is not None:
                found.append(line)
                rest.append(stretch[reached:start])
                reached = end
                break
    rest.append(stretch[reached:])
    return found, b"".join(rest).strip(_BLANK)
