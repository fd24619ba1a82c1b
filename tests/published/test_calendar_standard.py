"""The calendar file against the examples that its standards print: RFC 5545, 5546 and 7986."""

from __future__ import annotations

import re
import uuid
from datetime import UTC, datetime, timedelta

import pytest

from tests.exchange.calendar_grammar import (
    NotCalendar,
    duration,
    instant,
    read_strictly,
    unescaped,
)
from tests.exchange.planned import NOW, plan_of, visit_of, written


def crlf(text: str) -> bytes:
    """The text as a file of the standard holds it."""
    return text.strip().replace("\n", "\r\n").encode() + b"\r\n"


RFC_5545_SECTION_4 = crlf(
    """
BEGIN:VCALENDAR
PRODID:-//xyz Corp//NONSGML PDA Calendar Version 1.0//EN
VERSION:2.0
BEGIN:VEVENT
DTSTAMP:19960704T120000Z
UID:uid1@example.com
DTSTART:19960918T143000Z
DTEND:19960920T220000Z
STATUS:CONFIRMED
SUMMARY:Networld+Interop Conference
DESCRIPTION:Networld+Interop Conference
  and Exhibit\\nAtlanta World Congress Center\\n
 Atlanta\\, Georgia
END:VEVENT
END:VCALENDAR
"""
)
"""RFC 5545 section 4, its first example, without the properties that no file of ours has."""


def test_the_grammar_reads_the_standards_own_example() -> None:
    """RFC 5545 section 4: the checker of our tests takes it, and undoes folds and escapes."""
    event = read_strictly(RFC_5545_SECTION_4).parts[0]
    assert datetime(1996, 9, 18, 14, 30, tzinfo=UTC) == event.instant("DTSTART")
    assert (
        "Networld+Interop Conference and Exhibit\nAtlanta World Congress Center\nAtlanta, Georgia"
    ) == event.text("DESCRIPTION")


BROKEN = {
    "bare line end": (b"\r\nUID", b"\nUID"),
    "no last line end": (b"END:VCALENDAR\r\n", b"END:VCALENDAR"),
    "bare comma": (b"Atlanta\\,", b"Atlanta,"),
    "bare backslash": (b"Atlanta\\,", b"Atlanta\\x"),
    "long line": (b"Networld+Interop Conference\r\n  and", b"N" * 64 + b"\r\n  and"),
    "control character": (b"xyz", b"x\x07z"),
    "cut character": (b"Atlanta\\, Georgia", "é".encode()[:1]),
    "no stamp": (b"DTSTAMP:19960704T120000Z\r\n", b""),
    "no name": (b"UID:uid1@example.com\r\n", b""),
    "no product": (b"PRODID:-//xyz Corp//NONSGML PDA Calendar Version 1.0//EN\r\n", b""),
    "two names": (b"UID:uid1@example.com", b"UID:a\r\nUID:b"),
    "no such day": (b"19960918", b"19960931"),
    "local time": (b"19960918T143000Z", b"19960918T143000"),
    "ends before it begins": (b"19960920T220000Z", b"19960918T143000Z"),
    "unknown status": (b"CONFIRMED", b"PERHAPS"),
    "event that does not end": (b"END:VEVENT\r\n", b""),
    "no colon": (b"STATUS:CONFIRMED", b"STATUS"),
    "other version": (b"VERSION:2.0", b"VERSION:1.0"),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_the_grammar_refuses_what_the_standard_does_not_allow(fault: str) -> None:
    """The checker that our files have to pass can fail, for each rule by itself."""
    good, bad = BROKEN[fault]
    assert good in RFC_5545_SECTION_4
    with pytest.raises(NotCalendar):
        read_strictly(RFC_5545_SECTION_4.replace(good, bad, 1))


def test_durations_and_instants_are_read_as_the_standard_says() -> None:
    """RFC 5545 sections 3.3.5 and 3.3.6: their examples, and what they exclude."""
    assert timedelta(days=15, hours=5, seconds=20) == duration("P15DT5H0M20S")
    assert timedelta(weeks=7) == duration("P7W")
    assert -timedelta(minutes=15) == duration("-PT15M")
    assert datetime(1998, 1, 19, 7, tzinfo=UTC) == instant("19980119T070000Z")
    for nonsense in ("P", "PT", "15M", "P1W2D", "-P"):
        with pytest.raises(NotCalendar):
            duration(nonsense)


def test_a_text_is_written_as_the_standard_prints_it() -> None:
    """RFC 5545 section 3.3.11: three lines of a text, and each letter that has to be escaped."""
    example = "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared."
    plan = plan_of(visit_of(action=unescaped(example)))
    body = written(plan).replace(b"\r\n ", b"")
    assert example.encode() in body
    plan = plan_of(visit_of(hide_name="a;b,c\\d:e", stage_name="Soak"))
    assert b"SUMMARY:a\\;b\\,c\\\\d:e: Soak\r\n" in written(plan)


def test_the_version_that_counts_is_the_one_with_the_greater_sequence() -> None:
    """RFC 5546 section 2.1.5: SEQUENCE first, then DTSTAMP; a later export is greater in both."""
    first = read_strictly(written(plan_of(visit_of()))).parts[0]
    moved = visit_of(starts=NOW + timedelta(days=2), ends=NOW + timedelta(days=2, hours=1))
    later = read_strictly(written(plan_of(moved), now=NOW + timedelta(minutes=1))).parts[0]
    assert first.text("UID") == later.text("UID")
    assert int(first.properties["SEQUENCE"][1]) < int(later.properties["SEQUENCE"][1])
    assert first.instant("DTSTAMP") < later.instant("DTSTAMP")


def test_no_scheduling_between_people_is_claimed() -> None:
    """RFC 5546 section 3.2.1: PUBLISH needs an ORGANIZER in every event; we claim neither."""
    body = written(plan_of(visit_of()))
    assert not re.search(rb"^(METHOD|ORGANIZER|ATTENDEE)", body, re.MULTILINE)


def test_a_name_is_a_uuid() -> None:
    """RFC 7986 section 5.3: a UID should be a UUID, and tell nothing of who or where."""
    event = read_strictly(written(plan_of(visit_of()))).parts[0]
    assert 5 == uuid.UUID(event.text("UID")).version
