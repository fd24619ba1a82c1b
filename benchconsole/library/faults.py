"""What is wrong at which place of a file, in words for the person who wrote it."""

from __future__ import annotations

import re
from difflib import get_close_matches
from typing import get_args

import msgspec

from benchconsole import letters
from benchconsole.library.lines import Path
from benchconsole.model.formulas import By, Kind
from benchconsole.model.record import Mark
from benchconsole.model.routes import DriesTo, Stake
from benchconsole.model.substances import Form
from benchconsole.quantities.words import Measures

LONGEST_SHOWN = 40

_PLACE = re.compile(r" - at `\$(?P<path>[^`]*)`$")
_STEP = re.compile(r"\.(?P<key>[^.\[]+)|\[(?P<place>\d+)\]")
_QUOTED = re.compile(r"`(?P<name>[^`]*)`")
_TYPES = {
    "str": "text in quotes",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "array": "a list",
    "object": "a table of words and values",
    "datetime": "a date",
    "date": "a date",
    "time": "a time of day",
}
_CHOICES = {
    "kind": get_args(Kind),
    "by": get_args(By),
    "mark": get_args(Mark),
    "form": get_args(Form),
    "dries_to": get_args(DriesTo),
    "measures": get_args(Measures),
    "stake": get_args(Stake),
    "signal": ("", "Warning", "Danger"),
}


class Fault(Exception):
    """A fault at ``path``; becomes a ``BadFile`` with a line where the text is at hand."""

    def __init__(self, path: Path, fault: str) -> None:
        self.path = path
        self.fault = fault
        super().__init__(fault)


def fault_of(error: msgspec.ValidationError, words: tuple[str, ...]) -> Fault:
    """The place and plain words of a value of the wrong shape; ``words`` are the keys there are."""
    message = str(error)
    place = _PLACE.search(message)
    path = _path_of(place["path"]) if place else ()
    said = message[: place.start()] if place else message
    names = [match["name"] for match in _QUOTED.finditer(said)]
    if "unknown field" in said:
        near = get_close_matches(names[0], words, n=1)
        hint = f"; perhaps “{near[0]}”" if near else ""
        return Fault((*path, names[0]), f"the word “{shown(names[0])}” is not known here{hint}")
    if "missing required field" in said:
        return Fault(path, f"“{names[0]}” is missing")
    key = next((step for step in reversed(path) if isinstance(step, str)), "file")
    if "enum value" in said:
        allowed = ", ".join(f"“{choice}”" for choice in _CHOICES.get(key, ()))
        return Fault(path, f"{key}: that is not one of {allowed}")
    if said.startswith("Expected") and len(names) == 2:
        wanted, got = (_named(name) for name in names)
        return Fault(path, f"{key}: {wanted} is wanted, not {got}")
    return Fault(path, f"{key}: {said}")


def shown(text: str) -> str:
    """A person's own words, safe to show and short enough for one sentence."""
    text = letters.shown(text[: 2 * LONGEST_SHOWN])
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…"


def _named(types: str) -> str:
    return " or ".join(_TYPES.get(name, name) for name in types.split(" | ") if name != "null")


def _path_of(written: str) -> Path:
    """``.part[0].amount`` as keys and places, as far as the place is told."""
    steps: list[str | int] = []
    at = 0
    while match := _STEP.match(written, at):
        steps.append(match["key"] if match["place"] is None else int(match["place"]))
        at = match.end()
    return tuple(steps)
