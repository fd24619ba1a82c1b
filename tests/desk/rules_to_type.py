"""What comes again, as the settings may hold it: rules with words of their own and others."""

from __future__ import annotations

from datetime import date

from hypothesis import strategies as st

from benchconsole.desk.typed_rules import Again
from benchconsole.model.recurrence import Rule

_WEEKDAYS = st.sampled_from(["MO", "TU", "WE", "TH", "FR", "SA", "SU"])
_DAYS = st.dates(date(2026, 1, 1), date(2030, 12, 31))
_WHICH = st.sampled_from([1, 2, 3, 4, 5, -1, -2])
_LOOSE = st.one_of(
    _WEEKDAYS.map(lambda day: f"FREQ=WEEKLY;BYDAY={day}"),
    st.builds("FREQ=WEEKLY;BYDAY={},{}".format, _WEEKDAYS, _WEEKDAYS),
    st.builds("FREQ=MONTHLY;BYDAY={}{}".format, _WHICH, _WEEKDAYS),
    st.builds("BYDAY={}{};FREQ=MONTHLY".format, _WHICH, _WEEKDAYS),
    st.builds("FREQ=YEARLY;BYMONTH={};BYDAY={}{}".format, st.integers(1, 12), _WHICH, _WEEKDAYS),
    st.builds(
        "FREQ=YEARLY;BYMONTH={};BYMONTHDAY={}".format, st.integers(1, 12), st.integers(1, 31)
    ),
    st.builds("FREQ=YEARLY;BYMONTH=0{};BYMONTHDAY=1".format, st.integers(1, 9)),
    st.builds("FREQ=MONTHLY;BYMONTHDAY={}".format, st.integers(-31, -1)),
    _DAYS.map(lambda day: f"FREQ=WEEKLY;UNTIL={day:%Y%m%d};BYDAY=MO"),
)
_COUNTED = st.one_of(
    st.builds("FREQ=WEEKLY;INTERVAL=2;BYDAY={}".format, _WEEKDAYS),
    st.builds("FREQ=WEEKLY;INTERVAL={};BYDAY={},SU".format, st.integers(2, 9), _WEEKDAYS),
    st.sampled_from(["FREQ=WEEKLY", "FREQ=YEARLY;BYMONTH=3", "FREQ=DAILY;COUNT=3"]),
)
AGAIN: st.SearchStrategy[Again] = st.one_of(
    st.builds(Again, _LOOSE.map(Rule), st.none() | _DAYS),
    st.builds(Again, _COUNTED.map(Rule), _DAYS),
)
"""One day at a time; rules that count have the day they count from."""
