"""The lines of a log: every turned bit shows, and all that is left of a file can be read."""

from __future__ import annotations

import pytest

from benchconsole.store import lines
from benchconsole.store.lines import (
    crc_of,
    fits,
    in_utf_8,
    is_cut_write,
    parsed,
    tap_line,
    version_of,
)
from tests.store.damaged_worlds import Sample

SAMPLE = Sample.of(6)
BODY, LINES = SAMPLE.body, SAMPLE.lines


def test_any_one_turned_bit_of_a_line_shows() -> None:
    """CRC-32 finds every single turned bit, also one in the checksum itself."""
    for line in (LINES[0][:-1], LINES[3][:-1]):
        assert fits(line)
        for place in range(8 * len(line)):
            turned = bytearray(line)
            turned[place // 8] ^= 1 << place % 8
            assert not fits(bytes(turned))


def test_a_line_says_which_comes_before_it() -> None:
    """A tap carries its number, the checksum of the line before, and its document."""
    line = tap_line(7, "1a2b3c4d", {"text": "a\nb"})
    assert line.startswith(b'{"tap":7,"after":"1a2b3c4d","doc":{"text":"a\\nb"},"crc":"')
    assert line.endswith(b'"}\n') and line.count(b"\n") == 1
    (found,) = parsed(line).lines
    assert (found.tap, found.after, found.doc) == (7, "1a2b3c4d", {"text": "a\nb"})
    assert found.crc == crc_of(line)


def test_a_whole_log_is_read_as_such() -> None:
    """One first line, six taps, nothing odd."""
    found = parsed(BODY)
    assert found.is_whole and not found.torn
    assert (6, len(BODY), b"") == (len(found.lines), found.sound_until, found.rest)


@pytest.mark.parametrize("number", range(1, 7))
def test_a_missing_line_breaks_the_chain(number: int) -> None:
    """Every line but the last is missed by the next; of the last only the tip knows."""
    found = parsed(b"".join(line for line in LINES if line is not LINES[number]))
    assert found.is_whole == (number == 6)
    assert found.breaks == (() if number == 6 else (number - 1,))


@pytest.mark.parametrize("ends", [b"\r\n", b"\r", b"", b"\n\n", b" \n"])
def test_other_line_ends_hide_no_line(ends: bytes) -> None:
    """All are read, and that they were changed is known."""
    found = parsed(BODY.replace(b"\n", ends))
    assert [1, 2, 3, 4, 5, 6] == [line.tap for line in found.lines]
    assert not found.unreadable and not found.rest
    assert not found.is_whole or found.torn


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_another_encoding_is_read_by_its_mark(encoding: str) -> None:
    """As an editor saves it, in either order of bytes."""
    mark = "" if encoding in ("utf-16", "utf-32") else "\ufeff"
    assert in_utf_8((mark + BODY.decode()).encode(encoding)).lstrip("\ufeff".encode()) == BODY


def test_a_write_that_was_cut_off_anywhere_is_known_as_one() -> None:
    """Every beginning of the next line, with or without zeros behind; nothing else."""
    last = parsed(BODY).lines[-1]
    line = tap_line(7, last.crc, {"text": "x" * 40})
    for cut in range(len(line) - 1):
        assert is_cut_write(line[:cut], last)
        assert is_cut_write(line[:cut] + bytes(9), last)
    for other in (b"x", b"<<<<<<< HEAD\n", tap_line(7, "00000000", {})[:-1], LINES[2], b"\0x"):
        assert not is_cut_write(other, last)


@pytest.mark.parametrize(
    ("first", "version"),
    [
        (LINES[0], 2),
        (LINES[0].replace(b'"version":2', b'"version":3'), None),
        (b'{"schema":"benchconsole.store","version":3}\n', 3),
        (b'{"schema":"milk.store","version":3}\n', None),
        (b'{"schema":"benchconsole.store","version":"3"}\n', None),
        (b'{"schema":"benchconsole.store","version":true}\n', None),
        (b"[]\n", None),
        (b"", None),
    ],
)
def test_the_version_stands_in_the_first_line(first: bytes, version: int | None) -> None:
    """Another version may have another checksum, or none; one of ours must fit."""
    assert version_of(first + b"{}\n") == version


def test_reading_hostile_content_takes_no_time_to_speak_of(monkeypatch: pytest.MonkeyPatch) -> None:
    """Thousands of beginnings and ends that never fit each other are not all tried."""
    tried: list[int] = []
    monkeypatch.setattr(lines, "fits", lambda line: tried.append(len(line)))
    content = b'{"tap":' * 20_000 + b',"crc":"00000000"}' * 20_000
    found = parsed(content)
    assert not found.lines and found.rest
    assert sum(tried) < 3 * len(content)
