"""Recurrence rules: what is refused, what never falls, what needs no beginning."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.recurrence import LAST_YEAR, read_rule
from benchconsole.schedule.recurrence import RuleDays


@pytest.mark.parametrize(
    ("rule", "fault"),
    [
        ("FREQ=SECONDLY", "comes SECONDLY"),
        ("FREQ=FORTNIGHTLY", "needs FREQ as one of DAILY, WEEKLY, MONTHLY, YEARLY"),
        ("BYDAY=MO", "needs FREQ"),
        ("", "is not NAME=value"),
        ("FREQ=DAILY;", "is not NAME=value"),
        ("FREQ=DAILY;FREQ=DAILY", "says FREQ twice"),
        ("FREQ=DAILY;INTERVAL=0", "needs INTERVAL from 1 to 1000"),
        ("FREQ=DAILY;INTERVAL=999999999", "needs INTERVAL from 1 to 1000"),
        ("FREQ=DAILY;COUNT=99999", "needs COUNT from 1 to 9999"),
        ("FREQ=DAILY;COUNT=1;UNTIL=20260101", "has both COUNT and UNTIL"),
        ("FREQ=DAILY;UNTIL=20260101T000000Z", "needs UNTIL as a day such as 20301224"),
        ("FREQ=DAILY;UNTIL=20260230", "needs UNTIL as a day"),
        ("FREQ=DAILY;BYSECOND=1", "clock times are typed beside the rule"),
        ("FREQ=DAILY;BYDAY=1MO", "numbers a weekday where there is no month"),
        ("FREQ=WEEKLY;BYDAY=1MO", "numbers a weekday where there is no month"),
        ("FREQ=YEARLY;BYWEEKNO=1;BYDAY=1MO", "numbers a weekday where there is no month"),
        ("FREQ=MONTHLY;BYDAY=0MO", "needs BYDAY as days such as MO or 1MO"),
        ("FREQ=WEEKLY;BYMONTHDAY=1", "has BYMONTHDAY, which WEEKLY cannot have"),
        ("FREQ=MONTHLY;BYWEEKNO=1", "has BYWEEKNO, which MONTHLY cannot have"),
        ("FREQ=MONTHLY;BYYEARDAY=1", "has BYYEARDAY, which MONTHLY cannot have"),
        ("FREQ=MONTHLY;BYMONTHDAY=32", "needs BYMONTHDAY from 1 to 31 or -31 to -1"),
        ("FREQ=YEARLY;BYMONTH=0", "needs BYMONTH from 1 to 12"),
        ("FREQ=MONTHLY;BYSETPOS=1", "has BYSETPOS without days"),
        ("FREQ=DAILY;WKST=XX", "needs WKST as one of MO"),
        ("FREQ=DAILY;X-COLOUR=RED", "says “X-COLOUR”, which is not known here"),
        ("FREQ=DAILY;BYMONTH=" + "1," * 100 + "1", "is longer than 160 characters"),
    ],
)
def test_rules_that_cannot_be_used(rule: str, fault: str) -> None:
    """What the RFC forbids and what comes within a day is refused in a few words."""
    with pytest.raises(ValueError, match=fault) as told:
        read_rule(rule)
    assert "\n" not in str(told.value)


@settings(max_examples=200, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["FREQ", "COUNT", "UNTIL", "BYDAY", "BYSETPOS", "BYMONTH", "WKST"]),
            st.sampled_from(["DAILY", "YEARLY", "1", "-1", "MO", "1MO", "20261231", "", "٣", "="]),
        ).map("=".join),
        max_size=5,
    ).map(";".join)
)
def test_any_text_is_a_rule_or_a_fault(text: str) -> None:
    """Nothing but a rule or a ``ValueError`` comes of it."""
    try:
        rule = read_rule(text)
    except ValueError as fault:
        assert str(fault)
    else:
        assert rule.freq in ("DAILY", "YEARLY")


@pytest.mark.parametrize(
    "rule",
    [
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
        "FREQ=DAILY;BYDAY=MO;BYSETPOS=2",
        "FREQ=WEEKLY;BYDAY=MO;BYSETPOS=-3",
        "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30;COUNT=9999",
    ],
)
def test_a_rule_that_never_falls_is_answered(rule: str) -> None:
    """Each question looks at one year, so that a hostile rule costs no endless walk."""
    days = RuleDays(read_rule(rule), date(2020, 1, 1))
    assert not any(days.in_year(year) for year in (2020, 2026, 2030))


def test_a_rule_without_a_beginning_falls_in_every_year() -> None:
    """Nothing is asked of a beginning where the rule says all itself, up to the last year."""
    days = RuleDays(read_rule("FREQ=MONTHLY;BYDAY=1MO"))
    assert date(1970, 1, 5) in days and date(2026, 3, 2) in days
    assert date(2026, 3, 9) not in days
    assert 12 == len(days.in_year(LAST_YEAR))
    assert not days.in_year(LAST_YEAR + 1) and not days.in_year(1)


@pytest.mark.parametrize(
    ("rule", "needs"),
    [
        ("FREQ=DAILY", False),
        ("FREQ=DAILY;INTERVAL=2", True),
        ("FREQ=DAILY;COUNT=2", True),
        ("FREQ=WEEKLY", True),
        ("FREQ=WEEKLY;BYDAY=MO", False),
        ("FREQ=MONTHLY", True),
        ("FREQ=YEARLY;BYMONTH=3", True),
        ("FREQ=YEARLY;BYWEEKNO=3", True),
        ("FREQ=YEARLY;BYWEEKNO=3;BYDAY=MO", False),
        ("FREQ=YEARLY;BYMONTH=3;BYMONTHDAY=1", False),
    ],
)
def test_which_rules_need_a_beginning(rule: str, needs: bool) -> None:
    """Those that count, and those that leave the day open: the beginning says it."""
    assert needs == read_rule(rule).needs_start


def test_a_leap_day_comes_only_in_leap_years() -> None:
    """Also at the turn of a century, where 2100 has none."""
    days = RuleDays(read_rule("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29"))
    assert [2096, 2104] == [year for year in range(2093, 2107) if days.in_year(year)]
    last = RuleDays(read_rule("FREQ=MONTHLY;BYMONTHDAY=-1"))
    assert date(2028, 2, 29) in last and date(2028, 2, 28) not in last
    assert date(2027, 2, 28) in last


def test_a_week_of_the_year_without_a_weekday_is_that_of_the_beginning() -> None:
    """RFC 5545, section 3.3.10: what a rule leaves open is taken from its beginning."""
    days = RuleDays(read_rule("FREQ=YEARLY;BYWEEKNO=20"), date(2026, 5, 13))
    assert frozenset({date(2027, 5, 19)}) == days.in_year(2027)


def test_weeks_over_the_years_end_belong_to_one_year() -> None:
    """Week 53 of 2026 runs to 3 January 2027, week 1 of 2025 began in December (ISO 8601)."""
    last = RuleDays(read_rule("FREQ=YEARLY;BYWEEKNO=53;BYDAY=MO,SU"))
    assert frozenset({date(2026, 12, 28)}) == last.in_year(2026)
    assert frozenset({date(2027, 1, 3)}) == last.in_year(2027)
    first = RuleDays(read_rule("FREQ=YEARLY;BYWEEKNO=1;BYDAY=MO"))
    assert frozenset({date(2024, 1, 1), date(2024, 12, 30)}) == first.in_year(2024)
