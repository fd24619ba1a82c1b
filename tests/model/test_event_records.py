"""Events and entries as JSON: what is written is what is read, and nothing else is read."""

from __future__ import annotations

import types
from datetime import UTC, date, datetime, time, timedelta, timezone
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.events import Entry, Event, NoteWritten, TimerSet
from benchconsole.model.recurrence import Rule

texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=12)
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
instants = st.integers(-(2**51), 2**52).map(lambda us: EPOCH + timedelta(microseconds=us))
PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    str: texts,
    int: st.integers(-(2**62), 2**62),
    float: st.floats(allow_nan=False, allow_infinity=False),
    bool: st.booleans(),
    datetime: instants,
    date: st.dates(),
    time: st.times(),
    types.NoneType: st.none(),
    Rule: st.sampled_from(["FREQ=DAILY", "FREQ=MONTHLY;BYDAY=1MO", "FREQ=YEARLY;BYYEARDAY=-1"]),
}


def values_of(hint: Any) -> st.SearchStrategy[Any]:
    """Any value of an annotated type, records filled field by field, so that no event is missed."""
    if hint in PLAIN:
        return PLAIN[hint]
    inner = get_args(hint)
    if get_origin(hint) is Literal:
        return st.sampled_from(inner)
    if get_origin(hint) in (types.UnionType, Union):
        return st.one_of([values_of(one) for one in inner])
    if get_origin(hint) is tuple:
        return st.lists(values_of(inner[0]), max_size=2).map(tuple)
    if get_origin(hint) is dict:
        return st.dictionaries(values_of(inner[0]), values_of(inner[1]), max_size=2)
    return st.builds(hint, **{name: values_of(one) for name, one in get_type_hints(hint).items()})


@pytest.mark.parametrize("kind", get_args(Event), ids=lambda kind: kind.__name__)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_every_event_comes_back_from_json_as_it_went(kind: type, data: st.DataObject) -> None:
    """Of whatever content, an entry read back is equal to the entry written, and so is its kind."""
    event = data.draw(values_of(kind))
    at, recorded = data.draw(instants), data.draw(instants)
    entry = Entry(seq=1, tap=1, at=at, recorded=recorded, event=event)
    again = msgspec.json.decode(msgspec.json.encode(entry), type=Entry)
    assert entry == again
    assert kind is type(again.event)


def test_every_event_has_a_tag_of_its_own() -> None:
    """Two kinds with one tag could not be told apart on the disk."""
    tags = [kind.__struct_config__.tag for kind in get_args(Event)]
    assert len(tags) == len(set(tags))
    assert all(tag == tag.lower() and "_" not in tag for tag in tags)


@settings(max_examples=40, deadline=None)
@given(at=instants, minutes=st.integers(-14 * 60, 14 * 60))
def test_an_instant_keeps_its_moment_and_its_zone(at: datetime, minutes: int) -> None:
    """UTC is written as such, and an offset never shifts the moment or gets lost."""
    local = at.astimezone(timezone(timedelta(minutes=minutes)))
    for given_at in (at, local):
        event = TimerSet(timer="t1", name="", ends_at=given_at)
        again = msgspec.json.decode(msgspec.json.encode(event), type=TimerSet)
        assert at == again.ends_at
        assert given_at.utcoffset() == again.ends_at.utcoffset()


@pytest.mark.parametrize(
    "text",
    [
        '{"type": "hide-eaten", "hide": "h1"}',
        '{"hide": "h1", "text": "no kind"}',
        '{"type": "note-written", "hide": "h1"}',
        '{"type": "note-written", "hide": "h1", "text": 5}',
        '{"type": "note-written", "hide": "h1", "text": "", "colour": "red"}',
        '{"type": "timer-paused", "timer": "t1", "left_s": NaN}',
        '{"type": "timer-paused", "timer": "t1", "left_s": 1e999}',
    ],
)
def test_what_is_not_an_event_is_refused(text: str) -> None:
    """Unknown kinds, missing, mistyped and surplus fields and endless numbers do not get in."""
    with pytest.raises(msgspec.MsgspecError):
        msgspec.json.decode(text, type=Event)


def test_an_event_cannot_be_changed() -> None:
    """A past fact stays as it was written."""
    note = NoteWritten(hide="h1", text="thin belly")
    for field in note.__struct_fields__:
        with pytest.raises(AttributeError):
            setattr(note, field, "thick belly")
    assert note.text == "thin belly"
