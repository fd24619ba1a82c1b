"""The calendar file: true to the plan, valid for every name, right when it is imported again."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import msgspec
import pytest
import vobject
from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.calendar import CALLED_OFF, CARRIED, read_export
from benchconsole.exchange.calendar_events import dated
from benchconsole.schedule.planning.plans import Plan
from tests.exchange.calendar_grammar import Component, read_strictly
from tests.exchange.planned import DAY, HOUR, NOW, plan_of, round_at, visit_of, written

MINUTE = timedelta(minutes=1)


def events(body: bytes) -> list[Component]:
    """The events of a file that the strict grammar takes."""
    return read_strictly(body).parts


def names(*plans: Plan) -> list[str]:
    """The names of all events, in order."""
    return [event.text("UID") for plan in plans for event in events(written(plan))]


# --- what an event tells --------------------------------------------------------------


def test_a_visit_tells_everything_about_it() -> None:
    """Times, words, window, what spoils and what to have ready; on the wall clock of the shop."""
    (event,) = events(written(plan_of(visit_of()), zone=tz.gettz("Europe/Berlin")))
    assert NOW + DAY + HOUR == event.instant("DTSTART")
    assert NOW + DAY + 2 * HOUR == event.instant("DTEND")
    assert "Brown goat: Rinse and neutralise" == event.text("SUMMARY")
    assert [
        "Rinse, then neutralise.",
        "Monday is full.",
        "Earliest Mon 1 Jun 2026 09:00, due Tue 2 Jun 2026 09:00, "
        "at the latest Thu 4 Jun 2026 09:00.",
        "If it is late: the acid eats the fibre.",
        "Have ready: the mix soda-rinse, tub.",
        "It goes into: tub.",
        "Mill Lane, as it was planned Mon 1 Jun 2026 09:00; all times are by the shop's clock.",
    ] == event.text("DESCRIPTION").splitlines()
    assert "CONFIRMED" == event.text("STATUS")


@pytest.mark.parametrize(
    ("kind", "title"),
    [
        ("begin", "Brown goat: Oil"),
        ("coat", "Brown goat: Oil, next coat"),
        ("check", "Brown goat: Oil, check"),
    ],
)
def test_a_title_says_what_kind_of_act_it_is(kind: str, title: str) -> None:
    """The three acts of one stage are told apart in a list of titles."""
    (event,) = events(written(plan_of(visit_of(kind=kind, stage_name="Oil"))))
    assert title == event.text("SUMMARY")


def test_a_plan_past_the_latest_time_says_so() -> None:
    """No event makes a late act look like one in time."""
    late = visit_of(latest=NOW + DAY)
    assert "This is 1 h past its latest time." in events(written(plan_of(late)))[0].text(
        "DESCRIPTION"
    )


def test_a_round_tells_whom_it_is_for() -> None:
    """Few hides by name, many by number; what to do with each in the description."""
    few, many = events(
        written(plan_of(rounds=(round_at(NOW, "a", "b"), round_at(NOW + HOUR, *"abcd"))))
    )
    assert ("Round: a, b", "Round: 4 hides") == (few.text("SUMMARY"), many.text("SUMMARY"))
    assert "A: stir it.\nB: stir it." in few.text("DESCRIPTION")
    assert few.instant("DTSTART") < few.instant("DTEND")


def test_a_second_library_reads_the_same() -> None:
    """Another program's parser finds the times, texts and alarms that were put in."""
    plan = plan_of(visit_of(hide_name="Grey, old; \\N 🐐"), rounds=(round_at(NOW + 2 * HOUR),))
    whole = vobject.readOne(written(plan).decode())
    whole.validate(raiseException=True)
    walk, visit = whole.vevent_list
    assert "Grey, old; \\N 🐐: Rinse and neutralise" == visit.summary.value
    assert (NOW + DAY + HOUR, NOW + DAY + 2 * HOUR) == (visit.dtstart.value, visit.dtend.value)
    first, last = (alarm.trigger.value for alarm in visit.valarm_list)
    assert (-15 * MINUTE, NOW + 2 * DAY + 10 * HOUR) == (first, last)
    assert [NOW + 2 * HOUR] == [walk.dtstart.value]
    assert "Round: goat" == walk.summary.value


def test_an_empty_plan_is_an_empty_calendar() -> None:
    """Nothing to do is no fault."""
    assert [] == events(written(plan_of()))


def test_a_repeated_hour_is_told_by_its_offset() -> None:
    """02:30 on the morning the clocks go back comes twice, and a calendar is read on any day."""
    berlin = tz.gettz("Europe/Berlin")
    assert berlin is not None
    first, second = (datetime(2026, 10, 25, hour, 30, tzinfo=UTC) for hour in (0, 1))
    assert "Sun 25 Oct 2026 02:30 +02:00" == dated(first, berlin)
    assert "Sun 25 Oct 2026 02:30 +01:00" == dated(second, berlin)
    assert "Sun 25 Oct 2026 03:30" == dated(second + HOUR, berlin)


def test_days_ahead_limit_what_is_written() -> None:
    """What begins at the limit is left out, what begins before it is in."""
    plan = plan_of(visit_of(), visit_of(number=2, starts=NOW + 2 * DAY, ends=NOW + 3 * DAY))
    assert 1 == len(events(written(plan, until=NOW + 2 * DAY)))
    assert 2 == len(events(written(plan, until=NOW + 2 * DAY + MINUTE)))


# --- when it rings --------------------------------------------------------------------


def rings(**given: object) -> list[timedelta | datetime]:
    """When the one visit of a plan rings."""
    (event,) = events(written(plan_of(visit_of(**given))))
    return [alarm.trigger for alarm in event.parts]


def test_the_last_call_comes_in_open_hours() -> None:
    """Something spoils at seven in the morning, so the call comes before the evening's closing."""
    closing = NOW + 2 * DAY + 11 * HOUR
    assert [-15 * MINUTE, closing - HOUR] == rings(latest=NOW + 3 * DAY)


def test_the_last_call_leaves_time_for_the_work() -> None:
    """Three hours of work are called for three hours before the latest time."""
    starts = NOW + DAY
    long = {"starts": starts, "ends": starts + 3 * HOUR, "latest": NOW + 3 * DAY + 9 * HOUR}
    assert [-15 * MINUTE, NOW + 3 * DAY + 6 * HOUR] == rings(**long)


def test_one_alarm_is_enough_where_nothing_spoils() -> None:
    """No latest time, no harm, or a latest time while somebody is at it: the first alarm alone."""
    assert 2 == len(rings())
    assert 1 == len(rings(latest=None))
    assert 1 == len(rings(spoils=""))
    assert 1 == len(rings(latest=NOW + DAY + 3 * HOUR))
    assert 1 == len(rings(latest=NOW))


def test_beyond_the_known_openings_the_last_call_is_not_moved() -> None:
    """A latest time after the plan's end is not called for at the last opening that is planned."""
    assert NOW + 59 * DAY - HOUR == rings(latest=NOW + 59 * DAY)[1]


# --- names ----------------------------------------------------------------------------


def test_an_act_that_moves_keeps_its_name() -> None:
    """Other times, words and hide names change nothing; nor does a new name of the shop."""
    moved = visit_of(
        starts=NOW + 5 * DAY, ends=NOW + 6 * DAY, hide_name="Goat", why="", vessel="drum"
    )
    assert names(plan_of(visit_of())) == names(plan_of(moved))
    (renamed,) = events(written(plan_of(visit_of()), name="Other name"))
    assert names(plan_of(visit_of())) == [renamed.text("UID")]


def test_different_acts_have_different_names() -> None:
    """Hide, stage, kind and number each count, and so does the shop."""
    plans = [
        plan_of(visit_of(**changed))
        for changed in (
            {},
            {"hide": "goat"},
            {"stage": "soak"},
            {"kind": "check"},
            {"number": 2},
            {"hide": "brown-goat/neutralise", "stage": ""},
        )
    ]
    (elsewhere,) = events(written(plans[0], tag="other"))
    given_names = [*names(*plans), elsewhere.text("UID")]
    assert len(plans) + 1 == len(set(given_names))


def test_a_stage_that_is_gone_through_twice_in_one_plan_makes_two_events() -> None:
    """Even acts that the plan numbers alike stay two; the first keeps its name."""
    once = visit_of()
    twice = visit_of(starts=NOW + 9 * DAY, ends=NOW + 9 * DAY + HOUR)
    both = names(plan_of(once, twice))
    assert 2 == len(set(both))
    assert names(plan_of(once)) == both[:1]


def test_rounds_keep_their_names_as_the_day_goes_on() -> None:
    """What is left of the day at noon is named as it was in the morning."""
    rounds = tuple(round_at(NOW + hours * HOUR) for hours in (1, 4, 8, 25))
    assert names(plan_of(rounds=rounds))[1:] == names(plan_of(rounds=rounds[1:]))


def test_a_round_belongs_to_its_local_day() -> None:
    """Late in the evening in the west it is tomorrow in UTC, and still today's last round."""
    west = tz.gettz("America/Los_Angeles")
    evening = round_at(datetime(2026, 6, 2, 5, tzinfo=UTC))  # 22:00 on 1 June there
    noon = round_at(datetime(2026, 6, 1, 19, tzinfo=UTC))
    here, there = (written(plan_of(rounds=(noon, evening)), zone=zone) for zone in (UTC, west))
    assert events(here)[1].text("UID") != events(there)[1].text("UID")


# --- importing again ------------------------------------------------------------------


def again(plan: Plan, earlier: bytes, now: datetime) -> list[Component]:
    """The events of an export that takes the place of an earlier one."""
    return events(written(plan, now=now, earlier=read_export(earlier, shop_tag="tag")))


def test_what_lay_ahead_and_is_not_planned_any_more_is_called_off() -> None:
    """Done early, or given up: the calendar learns of it, and nothing rings."""
    before = written(plan_of(visit_of()))
    (event,) = again(plan_of(), before, NOW + HOUR)
    assert "CANCELLED" == event.text("STATUS")
    assert f"{CALLED_OFF}Brown goat: Rinse and neutralise" == event.text("SUMMARY")
    assert NOW + DAY + HOUR == event.instant("DTSTART")
    assert [] == event.parts
    assert events(before)[0].text("UID") == event.text("UID")


def test_what_was_begun_stays_as_it_was_but_falls_silent() -> None:
    """An act that was done at its time is no cancelled one, and its last call must not ring."""
    (event,) = again(plan_of(), written(plan_of(visit_of())), NOW + DAY + HOUR + MINUTE)
    assert ("CONFIRMED", []) == (event.text("STATUS"), event.parts)
    assert "Brown goat: Rinse and neutralise" == event.text("SUMMARY")


def test_what_is_not_planned_any_more_is_told_for_a_while_and_then_dropped() -> None:
    """Not every export is imported, so it is told in each until it is long over."""
    body, now = written(plan_of(visit_of())), NOW
    ends = NOW + DAY + 2 * HOUR
    while now < ends + CARRIED - DAY:
        now += DAY
        earlier = read_export(body, shop_tag="tag")
        body = written(plan_of(until=now + 35 * DAY), now=now, earlier=earlier)
        (event,) = events(body)
        assert f"{CALLED_OFF}Brown goat: Rinse and neutralise" == event.text("SUMMARY")
    assert [] == again(plan_of(until=now + 35 * DAY), body, ends + CARRIED)


def test_an_act_that_is_planned_again_comes_back() -> None:
    """A tap taken back: the called-off event is itself again, with its alarms."""
    body = written(plan_of(visit_of()))
    off = written(plan_of(), now=NOW + HOUR, earlier=read_export(body, shop_tag="tag"))
    (event,) = again(plan_of(visit_of()), off, NOW + 2 * HOUR)
    assert ("CONFIRMED", 2) == (event.text("STATUS"), len(event.parts))
    assert "Brown goat: Rinse and neutralise" == event.text("SUMMARY")


def test_what_was_not_looked_at_is_not_called_off() -> None:
    """Fewer days, or a plan that reaches less far: what lies beyond is left as it is."""
    far = visit_of(starts=NOW + 30 * DAY, ends=NOW + 31 * DAY)
    before = written(plan_of(far))
    earlier = read_export(before, shop_tag="tag")
    assert [] == events(written(plan_of(far), until=NOW + 7 * DAY, earlier=earlier))
    assert [] == events(written(plan_of(until=NOW + 7 * DAY), earlier=earlier))


def test_a_clock_that_was_set_back_does_not_stop_an_update() -> None:
    """The number grows over what the earlier export holds, whatever the clock says."""
    before = written(plan_of(visit_of()))
    (event,) = again(plan_of(visit_of()), before, NOW - DAY)
    was = int(events(before)[0].properties["SEQUENCE"][1])
    assert was + 1 == int(event.properties["SEQUENCE"][1])


@pytest.mark.parametrize("year", [1971, 2019, 2999])
def test_numbers_stay_within_what_a_calendar_reads(year: int) -> None:
    """However the clock stands, SEQUENCE is a whole number from 0 on of 32 bits."""
    now = datetime(year, 1, 1, tzinfo=UTC)
    assert 1 == len(events(written(plan_of(visit_of()), now=now)))


class ACalendarProgram:
    """Takes in files by the rule of RFC 5546 section 2.1.5: the greater SEQUENCE, then DTSTAMP."""

    def __init__(self) -> None:
        self.holds: dict[str, Component] = {}

    def take_in(self, body: bytes) -> None:
        """Import a file."""
        for event in events(body):
            held = self.holds.get(event.text("UID"))
            if held is None or self._version(held) < self._version(event):
                self.holds[event.text("UID")] = event

    def _version(self, event: Component) -> tuple[int, datetime]:
        return int(event.properties["SEQUENCE"][1]), event.instant("DTSTAMP")

    def coming(self, now: datetime) -> list[tuple[datetime, str]]:
        """What it shows as still ahead."""
        return sorted(
            (event.instant("DTSTART"), event.text("SUMMARY"))
            for event in self.holds.values()
            if event.text("STATUS") != "CANCELLED" and event.instant("DTSTART") > now
        )

    def ringing_after(self, now: datetime) -> set[str]:
        """The names of the events that will still ring at an instant of their own."""
        return {
            name
            for name, event in self.holds.items()
            for alarm in event.parts
            if isinstance(alarm.trigger, datetime) and alarm.trigger > now
        }


acts = st.tuples(
    st.sampled_from(["goat", "kid"]),
    st.sampled_from(["soak", "alum"]),
    st.sampled_from(["begin", "check"]),
    st.integers(0, 300),
)
days_of_work = st.tuples(
    st.integers(1, 40),  # hours to this replanning
    st.booleans(),  # whether the export is imported
    st.lists(acts, unique_by=lambda act: act[:3], max_size=6),
    st.lists(st.integers(0, 60), unique=True, max_size=6),
)


@settings(max_examples=35, deadline=None)
@given(st.lists(days_of_work, min_size=1, max_size=6))
def test_a_calendar_that_imports_again_shows_the_plan(work: list[tuple]) -> None:
    """Whatever moves, comes and goes: after an import it shows what is planned, and no ghosts."""
    program, body, now = ACalendarProgram(), b"", NOW
    for hours, imported, planned, walks in work:
        now += hours * HOUR
        visits = [
            visit_of(
                hide=hide,
                stage=stage,
                kind=kind,
                starts=now + at * HOUR,
                ends=now + (at + 1) * HOUR,
            )
            for hide, stage, kind, at in planned
        ]
        rounds = tuple(round_at(now + at * HOUR) for at in walks)
        plan = plan_of(*visits, rounds=rounds, made_at=now, until=now + 35 * DAY)
        body = written(plan, now=now, earlier=read_export(body, shop_tag="tag") if body else ())
        if imported:
            program.take_in(body)
            expected = [event for event in events(written(plan)) if event.instant("DTSTART") > now]
            assert program.coming(now) == sorted(
                (event.instant("DTSTART"), event.text("SUMMARY")) for event in expected
            )
            assert program.ringing_after(now) <= {
                event.text("UID") for event in events(written(plan))
            }


# --- texts ----------------------------------------------------------------------------

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
