"""The forecast in words: rounded, with its doubt, and honest where it knows nothing."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from benchconsole.schedule.drying.forecast import (
    DryingForecast,
    Span,
    WeighedMoisture,
    WindowForecast,
)
from benchconsole.schedule.drying.wording import forecast_words, window_words

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
"""A Wednesday."""


def at(hours: float) -> datetime:
    """So long after that morning."""
    return NOW + timedelta(hours=hours)


def window(opens: Span, closes: Span, *, lower: float = 0.3, unknown: str = "") -> WindowForecast:
    """A damp window."""
    return WindowForecast(
        id="damp",
        name="damp for the dressing",
        upper=0.4,
        lower=lower,
        opens=opens,
        closes=closes,
        unknown=unknown,
    )


OPENS = Span(low=at(2.04), mid=at(4.1), high=at(26))
CLOSES = Span(low=at(5), mid=at(9), high=None)


def test_times_are_told_to_ten_minutes_with_their_doubt() -> None:
    """13:06 is told as 13:10; an end nobody can tell is told as that."""
    expected = (
        "Damp for the dressing: from about Wednesday 13:10 (four in five: Wednesday 11:00 to "
        "Thursday 11:00); until about Wednesday 18:00 (four in five: Wednesday 14:00 to no time "
        "that can be told)."
    )
    assert expected == window_words(window(OPENS, CLOSES), UTC, NOW)


def test_what_is_past_is_told_as_past() -> None:
    """Within the window it is so since; after it, over since."""
    told = window_words(window(OPENS, CLOSES), UTC, at(6))
    assert "since about Wednesday 13:10" in told
    assert "until about Wednesday 18:00" in told
    assert "over since about Wednesday 18:00" in window_words(window(OPENS, CLOSES), UTC, at(10))


def test_a_state_that_lasts_has_no_end() -> None:
    """Dry stays dry: nothing is said of an end."""
    assert "until" not in window_words(window(OPENS, Span(), lower=0.0), UTC, NOW)
    assert "until a time nobody can tell" in window_words(window(OPENS, Span()), UTC, NOW)


def test_not_known_is_said_first_and_alone() -> None:
    """The reason follows the words "not known", and nothing else is claimed."""
    unknown = window(Span(), Span(), unknown="The air is too damp.")
    told = window_words(unknown, UTC, NOW)
    assert "Damp for the dressing: not known. The air is too damp." == told
    made = DryingForecast(
        made_at=NOW,
        starts_at=NOW,
        dries_to="damp",
        cover="open",
        rests_on="nothing",
        unknown="It got heavier.",
    )
    assert ("Not known. It got heavier.",) == forecast_words(made, UTC, NOW)


def test_it_says_what_it_rests_on() -> None:
    """General figures, few weighings or many: each is told as what it is."""
    weighing = WeighedMoisture(at=NOW, mass_g=900.0, moisture=0.5)

    def last_words(count: int) -> str:
        made = DryingForecast(
            made_at=NOW,
            starts_at=NOW,
            dries_to="damp",
            cover="open",
            rests_on="weighings" if count else "figures",
            windows=(window(OPENS, CLOSES),),
            weighings=(weighing,) * count,
        )
        return forecast_words(made, UTC, NOW)[-1]

    assert "general figures alone" in last_words(0)
    assert "few weighings" in last_words(1) == last_words(2)
    assert "This rests on 3 weighings of this hide." == last_words(3)
