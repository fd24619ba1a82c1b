"""A strict reading of RFC 5545, written from its grammar and sharing nothing with the writer.

It refuses what many programs let pass: a bare line end, a line of more than 75 octets, a comma
that is not escaped, an event without its DTSTAMP.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

LONGEST_LINE_OCTETS = 75

_NAME = r"[A-Za-z0-9-]+"
_QSAFE = r'[^\x00-\x08\x0a-\x1f\x7f"]*'
_SAFE = r'[^\x00-\x08\x0a-\x1f\x7f";:,]*'
_PARAM_VALUE = rf'(?:"{_QSAFE}"|{_SAFE})'
_PARAM = rf";({_NAME})=({_PARAM_VALUE}(?:,{_PARAM_VALUE})*)"
_CONTENT_LINE = re.compile(
    rf"(?P<name>{_NAME})(?P<params>(?:{_PARAM})*):(?P<value>[^\x00-\x08\x0a-\x1f\x7f]*)"
)
_TEXT = re.compile(r"(?:[^\x00-\x08\x0a-\x1f\x7f\\;,]|\\[\\;,Nn])*")
_UTC = re.compile(r"[0-9]{8}T[0-9]{6}Z")
_DURATION = re.compile(
    r"(?P<sign>[+-]?)P(?:(?P<weeks>[0-9]+)W|(?:(?P<days>[0-9]+)D)?"
    r"(?P<time>T(?:(?P<hours>[0-9]+)H)?(?:(?P<minutes>[0-9]+)M)?(?:(?P<seconds>[0-9]+)S)?)?)"
)
_INTEGER = re.compile(r"[+-]?[0-9]+")

OWN_TEXTS = ("PRODID", "VERSION", "NAME", "X-WR-CALNAME", "X-BENCHCONSOLE-SHOP")
TEXTS = frozenset((*OWN_TEXTS, "UID", "SUMMARY", "DESCRIPTION", "STATUS", "ACTION"))
INSTANTS = frozenset(("DTSTAMP", "LAST-MODIFIED", "DTSTART", "DTEND"))
ONCE = {
    "VCALENDAR": frozenset(("PRODID", "VERSION")),
    "VEVENT": frozenset(("UID", "DTSTAMP", "DTSTART")),
    "VALARM": frozenset(("ACTION", "TRIGGER", "DESCRIPTION")),
}
"""What each component must have; for an alarm, what one that shows a text must have."""
INSIDE = {None: ("VCALENDAR",), "VCALENDAR": ("VEVENT",), "VEVENT": ("VALARM",), "VALARM": ()}
STATUSES = ("TENTATIVE", "CONFIRMED", "CANCELLED")


class NotCalendar(AssertionError):
    """What the grammar does not allow."""


@dataclass
class Component:
    """A component with its properties as written (name to parameters and value) and its parts."""

    name: str
    properties: dict[str, tuple[dict[str, str], str]] = field(default_factory=dict)
    parts: list[Component] = field(default_factory=list)

    def text(self, name: str) -> str:
        """A text, its escapes undone."""
        return unescaped(self.properties[name][1])

    def instant(self, name: str) -> datetime:
        """An instant in UTC."""
        return instant(self.properties[name][1])

    @property
    def trigger(self) -> timedelta | datetime:
        """When an alarm rings: from the beginning of its event, or at an instant."""
        params, value = self.properties["TRIGGER"]
        return instant(value) if params.get("VALUE") == "DATE-TIME" else duration(value)


def read_strictly(body: bytes) -> Component:
    """The one calendar of a file; ``NotCalendar`` for anything the grammar does not allow."""
    stack: list[Component] = []
    whole: Component | None = None
    for line in _unfolded(body):
        match = _CONTENT_LINE.fullmatch(line)
        _must(match is not None, f"no content line: {line[:60]!r}")
        assert match is not None
        name, value = match["name"].upper(), match["value"]
        if name == "BEGIN":
            outer = stack[-1] if stack else None
            _must(whole is None, "something after the calendar")
            _must(value in INSIDE[outer.name if outer else None], f"{value} at a wrong place")
            stack.append(Component(value))
        elif name == "END":
            _must(bool(stack) and stack[-1].name == value, f"END:{value} ends nothing")
            ended = stack.pop()
            _check(ended)
            if stack:
                stack[-1].parts.append(ended)
            else:
                whole = ended
        else:
            _must(bool(stack), "a property outside of the calendar")
            _must(name not in stack[-1].properties, f"{name} twice")
            params = {each[0]: each[1] for each in re.findall(_PARAM, match["params"])}
            stack[-1].properties[name] = (params, value)
    _must(whole is not None, "the calendar does not end")
    assert whole is not None
    names = [event.text("UID") for event in whole.parts]
    _must(len(set(names)) == len(names), "two events of one name")
    return whole


def _unfolded(body: bytes) -> Iterator[str]:
    _must(body.endswith(b"\r\n"), "the last line does not end")
    lines = body.removesuffix(b"\r\n").split(b"\r\n")
    whole = ""
    for number, line in enumerate(lines):
        _must(b"\r" not in line and b"\n" not in line, "a bare line end")
        _must(0 < len(line) <= LONGEST_LINE_OCTETS, f"a line of {len(line)} octets")
        try:
            text = line.decode()
        except UnicodeDecodeError:
            raise NotCalendar("a line that is no UTF-8 by itself") from None
        if text[0] in " \t":
            _must(number > 0, "the first line is a continued one")
            whole += text[1:]
            continue
        if number:
            yield whole
        whole = text
    yield whole


def _check(component: Component) -> None:
    given = component.properties
    missing = ONCE[component.name] - given.keys()
    _must(not missing, f"{component.name} without {missing}")
    for name, (params, value) in given.items():
        if name in TEXTS:
            _must(_TEXT.fullmatch(value) is not None, f"{name} is not escaped: {value[:60]!r}")
            _must(not params, f"{name} with parameters")
        elif name in INSTANTS:
            instant(value)
        elif name == "SEQUENCE":
            _must(_INTEGER.fullmatch(value) is not None, "SEQUENCE is no number")
            _must(0 <= int(value) < 2**31, "SEQUENCE is too large")
        elif name == "TRIGGER":
            _must(set(params) <= {"VALUE"}, "an unknown parameter of TRIGGER")
            _ = component.trigger
        else:
            raise NotCalendar(f"{name} is not expected in {component.name}")
    if component.name == "VCALENDAR":
        _must(component.text("VERSION") == "2.0", "not of version 2.0")
    if component.name == "VALARM":
        _must(component.text("ACTION") == "DISPLAY", "not an alarm that shows a text")
    if component.name == "VEVENT":
        _must(given.get("STATUS", ({}, "CONFIRMED"))[1] in STATUSES, "an unknown status")
        if "DTEND" in given:
            _must(component.instant("DTEND") > component.instant("DTSTART"), "it ends too early")


def instant(value: str) -> datetime:
    """RFC 5545 section 3.3.5, form 2: a date with a time in UTC."""
    _must(_UTC.fullmatch(value) is not None, f"not an instant in UTC: {value!r}")
    try:
        return datetime.strptime(value, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    except ValueError:
        raise NotCalendar(f"no such day or time: {value}") from None


def duration(value: str) -> timedelta:
    """RFC 5545 section 3.3.6: weeks alone, or days and a time."""
    match = _DURATION.fullmatch(value)
    _must(match is not None and value[-1] not in "PT", f"no duration: {value!r}")
    assert match is not None
    units = ("weeks", "days", "hours", "minutes", "seconds")
    span = timedelta(**{unit: int(match[unit] or 0) for unit in units})
    return -span if match["sign"] == "-" else span


def unescaped(value: str) -> str:
    """RFC 5545 section 3.3.11: a text with its escapes undone."""
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "Nn" else found[1], value)


def _must(holds: bool, otherwise: str) -> None:
    if not holds:
        raise NotCalendar(otherwise)
