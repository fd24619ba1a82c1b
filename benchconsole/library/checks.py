"""What every kind of file asks of its values: ids, order of numbers, durations, known names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import timedelta
from difflib import get_close_matches
from functools import lru_cache
from typing import get_args

from benchconsole.errors import BadQuantity
from benchconsole.library.faults import Fault, shown
from benchconsole.library.lines import Path
from benchconsole.model.record import Figure, Mark
from benchconsole.quantities.reading import read_duration

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
LONGEST_ID = 60
LONGEST_NAME = 80
MOST_NAMED = 8
"""So many of a long list of names still help a person."""


def check_id(text: str, path: Path) -> None:
    """Refuses an id that is not lower-case words joined by hyphens."""
    if len(text) > LONGEST_ID or not _ID.fullmatch(text):
        raise Fault(
            path, "an id is lower-case letters, digits and hyphens; for example alum-salt-bath"
        )


def check_names(ids_and_names: Iterable[tuple[str, str, Path]]) -> None:
    """Refuses bad or repeated ids and names that are blank or too long for a screen."""
    seen: set[str] = set()
    for one_id, name, path in ids_and_names:
        check_id(one_id, (*path, "id"))
        if one_id in seen:
            raise Fault((*path, "id"), f"the id “{one_id}” stands twice")
        seen.add(one_id)
        check_said(name, (*path, "name"))
        if len(name) > LONGEST_NAME:
            raise Fault((*path, "name"), f"a name is at most {LONGEST_NAME} characters long")


def check_said(text: str, path: Path) -> None:
    """Refuses blank text where something must be said."""
    if not text:
        raise Fault(path, f"{path[-1]}: something must be said here")


def check_known(name: str, known: Mapping[str, object], kind: str, path: Path) -> None:
    """Refuses a reference to something that is not in the library."""
    if name not in known:
        raise Fault(path, f"no {kind} is called “{shown(name)}”; {_hint(name, sorted(known))}")


def _hint(name: str, known: list[str]) -> str:
    """What may have been meant; else all there is, or the beginning of a long list."""
    near = get_close_matches(name, known, n=1)
    near = near or [one for one in known if len(name) > 2 and name in one][:MOST_NAMED]
    if near:
        return f"perhaps {' or '.join(f'“{one}”' for one in near)}"
    more = f" and {len(known) - MOST_NAMED} more" if len(known) > MOST_NAMED else ""
    return f"there is {', '.join(known[:MOST_NAMED])}{more}"


def check_marks(marked: Iterable[tuple[str, Path]]) -> None:
    """Refuses marks that are none of those a figure may carry."""
    for mark, path in marked:
        if mark not in get_args(Mark):
            raise Fault((*path, "mark"), f"mark: it is one of {', '.join(get_args(Mark))}")


def check_within(value: float | None, low: float, high: float, path: Path) -> None:
    """Refuses a number outside ``low`` to ``high``; None passes."""
    if value is not None and not low <= value <= high:
        raise Fault(path, f"{path[-1]}: it must be from {low:g} to {high:g}")


def check_figure(figure: Figure | None, low: float, high: float, path: Path) -> None:
    """Refuses a figure outside ``low`` to ``high`` or outside its own band; None passes."""
    if figure is None:
        return
    check_said(figure.source, (*path, "source"))
    for key, value in (("value", figure.value), ("low", figure.low), ("high", figure.high)):
        check_within(value, low, high, (*path, key))
    if figure.low is not None and figure.low > figure.value:
        raise Fault((*path, "low"), "low: it must not be above the value")
    if figure.high is not None and figure.high < figure.value:
        raise Fault((*path, "high"), "high: it must not be below the value")


def duration_at(text: str, path: Path, *, zero: bool = False) -> timedelta:
    """The elapsed time written at ``path``."""
    try:
        return _duration(text, str(path[-1]), zero)
    except BadQuantity as error:
        raise quantity_fault(error, path) from None


@lru_cache(maxsize=512)
def _duration(text: str, field: str, zero: bool) -> timedelta:
    """Read once: the shipped routes write the same few times a thousand times over."""
    return read_duration(text, field=field, zero=zero)


def window_at(texts: tuple[str, str, str], path: Path, prefix: str = "") -> tuple[timedelta, ...]:
    """Minimum, target and maximum, refused when they are out of order."""
    keys = [f"{prefix}{key}" for key in ("min", "target", "max")]
    shortest, target, longest = (
        duration_at(text, (*path, key), zero=key == "min")
        for key, text in zip(keys, texts, strict=True)
    )
    if shortest > target:
        raise Fault((*path, keys[0]), f"{keys[0]}: it must not be longer than the target")
    if target > longest:
        raise Fault((*path, keys[2]), f"{keys[2]}: it must not be shorter than the target")
    return shortest, target, longest


def quantity_fault(error: BadQuantity, path: Path) -> Fault:
    """An unreadable quantity as a fault of the file."""
    example = f"; for example {error.example}" if error.example else ""
    return Fault(path, f"{error.field}: {error.fault}{example}")
