"""The forecast in the words of somebody at the bench."""

from __future__ import annotations

from datetime import datetime, timedelta, tzinfo

from benchconsole.schedule.drying.forecast import DryingForecast, Span, WindowForecast
from benchconsole.schedule.wording import wall_time

ROUND_TO = timedelta(minutes=10)
"""No forecast is known to the minute."""


def forecast_words(forecast: DryingForecast, zone: tzinfo, now: datetime) -> tuple[str, ...]:
    """Sentences: what is known, or why nothing is; then what it rests on."""
    if forecast.unknown:
        return (f"Not known. {forecast.unknown}",)
    words = [window_words(window, zone, now) for window in forecast.windows]
    words.append(_rests_on(forecast))
    words.extend(f"{note[:1].upper()}{note[1:]}." for note in forecast.notes)
    return tuple(words)


def window_words(window: WindowForecast, zone: tzinfo, now: datetime) -> str:
    """One sentence or two about a state: when it begins and ends, and how sure that is."""
    name = f"{window.name[:1].upper()}{window.name[1:]}"
    if window.unknown:
        return f"{name}: not known. {window.unknown}"
    said = f"{name}: {_when('from', window.opens, zone, now)}"
    if window.lower:
        said += f"; {_when('until', window.closes, zone, now)}"
    return f"{said}."


def _when(word: str, span: Span, zone: tzinfo, now: datetime) -> str:
    if span.mid is None:
        return f"{word} a time nobody can tell"
    past = span.mid <= now
    lead = {"from": "since about" if past else "from about"}.get(
        word, "over since about" if past else "until about"
    )
    return f"{lead} {_wall(span.mid, zone, now)} ({_between(span, zone, now)})"


def _between(span: Span, zone: tzinfo, now: datetime) -> str:
    """``four in five: between Thursday 09:00 and Friday 02:00``."""
    low = "some time" if span.low is None else _wall(span.low, zone, now)
    high = "no time that can be told" if span.high is None else _wall(span.high, zone, now)
    return f"four in five: {low} to {high}"


def _rests_on(forecast: DryingForecast) -> str:
    if forecast.rests_on == "figures":
        return (
            "This rests on general figures alone and may be far off: weigh the hide now and again "
            "in some hours."
        )
    count = len(forecast.weighings)
    if count < 3:
        return "This rests on few weighings: another in some hours makes it much surer."
    return f"This rests on {count} weighings of this hide."


def _wall(instant: datetime, zone: tzinfo, now: datetime) -> str:
    whole = timedelta(minutes=instant.minute % 10, seconds=instant.second)
    floor = instant - whole - timedelta(microseconds=instant.microsecond)
    rounded = floor + ROUND_TO if whole >= ROUND_TO / 2 else floor
    return wall_time(rounded, zone, now)
