"""Why a round stands when it does, and what it cannot keep, in a person's words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import NamedTuple

from benchconsole.quantities import format_duration


class Late(NamedTuple):
    """A hide left for ``gap`` though it may be left for ``at_most`` only; in microseconds."""

    hide_name: str
    at_most: int
    gap: int


def why_then(
    *,
    overdue: Sequence[Late],
    late: Sequence[Late],
    closed: bool,
    before_closing: Sequence[str],
    busy: bool,
) -> str:
    """The reasons in one line, without a full stop; empty where nothing needs saying.

    ``overdue`` are over their limit when the round comes, ``late`` will be before the next.
    """
    reasons = []
    if closed:
        reasons.append("the shop is closed then and no open time fits: somebody must come in")
    if overdue:
        worst = max(overdue, key=_over)
        reasons.append(
            f"{_named(worst.hide_name, _hides(overdue))} past the limit: {_span(_over(worst)[0])} "
            f"longer than the {_span(worst.at_most)} it may be left"
        )
    if late:
        worst = max(late, key=_over)
        reasons.append(
            f"nobody comes for {_span(worst.gap)} after this, longer than the "
            f"{_span(worst.at_most)} that {_named(worst.hide_name, _hides(late))} may be left: "
            "somebody must stay or come in"
        )
    if names := sorted(set(before_closing) - {each.hide_name for each in late}):
        reasons.append(
            f"before closing: {_named(names[0], len(names))} cannot wait for the next opening"
        )
    if busy:
        reasons.append("the hands are at a visit then: break off for it")
    return "; ".join(reasons)


def _over(late: Late) -> tuple[int, str]:
    return late.gap - late.at_most, late.hide_name


def _hides(late: Sequence[Late]) -> int:
    return len({each.hide_name for each in late})


def _named(name: str, count: int) -> str:
    others = count - 1
    if not others:
        return f"“{name}”"
    return f"“{name}” and {others} {'other' if others == 1 else 'others'}"


def _span(microseconds: int) -> str:
    return format_duration(timedelta(microseconds=microseconds))
