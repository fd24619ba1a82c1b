"""The calendar file with texts and files of every kind: never broken, never taken for another."""

from __future__ import annotations

import msgspec
import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.calendar import read_export
from tests.exchange.planned import NOW, events, plan_of, round_at, visit_of, written

HOSTILE = {
    "comma": "a,b",
    "semicolon": "a;b",
    "colon and quote": 'a:b"c',
    "backslash": "C:\\new\\North\\;,",
    "newlines": "a\r\nb\rc\nd\u2028e\u2029f\x85g\x0bh\x0ci",
    "property": "x\r\nEND:VEVENT\r\nATTENDEE:mailto:a@example.com",
    "direction": "\u202eevil\u202c \u2066x\u2069 \u200fאב",
    "emoji": "🐐" * 30 + "👩\u200d🌾" * 20,
    "half a character": "a\udcffb\ud83d",
    "controls": "\x00\x07\x1b[31m\x7f\x9b",
    "combining": "e" + "\u0301" * 500,
    "percent": "100%2C %0A",
    "caret": "^n^'^^",
    "byte order mark": "\ufeffgoat",
    "nothing": "",
    "spaces": "  \t ",
    "a megabyte": "very long ünd ümlaut, " * 50_000,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_no_text_breaks_the_file(name: str) -> None:
    """In every place where a text of a person's may stand: no line of its own, no endless file."""
    text = HOSTILE[name]
    visit = visit_of(
        hide=text, hide_name=text, stage=text, stage_name=text, action=text, spoils=text, why=text
    )
    visit = msgspec.structs.replace(visit, vessel=text, ready=(text, text))
    body = written(plan_of(visit, rounds=(round_at(NOW, text, "b"),)), name=text, tag=text)
    assert len(body) < 60_000
    whole = vobject.readOne(body.decode())
    whole.validate(raiseException=True)
    assert 2 == len(events(body)) == len(whole.vevent_list)
    assert {"vevent", "version", "prodid", "name", "x-wr-calname", "x-benchconsole-shop"} >= set(
        whole.contents
    )
    assert not any("attendee" in event.contents for event in whole.vevent_list)
    assert read_export(body, shop_tag=text)


@settings(max_examples=150, deadline=None)
@given(st.text(st.characters(codec="utf-8"), max_size=120))
def test_a_title_comes_back_letter_by_letter(text: str) -> None:
    """Three parsers read the same title; what a calendar cannot hold is the only thing lost."""
    body = written(plan_of(visit_of(hide_name=text, stage_name="x")))
    strict = events(body)[0].text("SUMMARY")
    assert strict == vobject.readOne(body.decode()).vevent.summary.value
    assert strict == read_export(body, shop_tag="tag")[0].summary
    if text.isprintable():
        assert " ".join(f"{text}: x".split()) == strict


# --- files that are none --------------------------------------------------------------


def test_only_an_own_export_is_read() -> None:
    """What the file is instead is said, for the sentence that refuses to write over it."""
    own = written(plan_of(visit_of()))
    assert 1 == len(read_export(own, shop_tag="tag"))
    for body, said in (
        (b"", "no calendar"),
        (b"Dear diary", "no calendar"),
        (b"\xff\xfe\x00", "no calendar"),
        (b"[1, 2]", "no calendar"),
        (b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n", "no calendar"),
        (own.replace(b"Bench Console", b"Else"), "not one written here"),
        (own.replace(b"BEGIN:VCALENDAR", b"BEGIN:VJOURNAL", 1), "no calendar"),
        (written(plan_of(visit_of()), tag="other"), "another shop"),
    ):
        with pytest.raises(NotPossibleNow, match=said):
            read_export(body, shop_tag="tag")


def test_the_empty_calendar_of_a_new_shop_is_its_own() -> None:
    """Before the first tap a shop has no tag; its first export can be written over later."""
    assert () == read_export(written(plan_of(), tag=""), shop_tag="tag")


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_damaged_export_is_read_or_refused(data: st.DataObject) -> None:
    """Cut, doubled or changed anywhere: no other error than the one that says what it is."""
    body = written(plan_of(visit_of(), rounds=(round_at(NOW),)))
    cut = data.draw(st.integers(0, len(body)))
    put = data.draw(st.sampled_from([b"", b"\r\n", b":", b"\x00", b"\xff", b"BEGIN:VEVENT\r\n"]))
    drop = data.draw(st.integers(0, 60))
    damaged = body[:cut] + put + body[cut + drop :]
    try:
        found = read_export(damaged, shop_tag="tag")
    except NotPossibleNow:
        return
    # The strict grammar has the last word on what comes of it.
    assert len(events(written(plan_of(), earlier=found))) <= len(found) <= 2
