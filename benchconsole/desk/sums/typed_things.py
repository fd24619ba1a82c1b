"""Substances and formulas as people call them: by id, by name, or by words of the name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from benchconsole.desk.sums.typed_lists import listed
from benchconsole.errors import LONGEST_ECHO, BadInput
from benchconsole.library import Library
from benchconsole.model.formulas import Formula
from benchconsole.model.record import Record
from benchconsole.model.substances import Substance

_WORD = re.compile(r"[^\W_]+")
_MOST_LISTED = 20
_LONGEST = 500
_MOST_NAMED = 4
_SHORTEST = 3
"""Letters of a word by which alone a thing may be called."""


class Things(Record, frozen=True, kw_only=True):
    """What was named: ``substances`` by id, those of a formula among them, each once.

    ``formulas`` are ids too. ``unknown`` are the words that nothing in the library answers to.
    """

    substances: tuple[str, ...]
    formulas: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


def read_things(
    text: str, *, field: str, example: str, library: Library, unknown: bool = False
) -> Things:
    """A list such as ``bleach, vinegar`` or ``alum-salt-bath``.

    A name may be short where only one thing is called so: ``lime``. ``unknown`` lets through
    what the library does not know. Raises ``BadInput``.
    """
    names = listed(text[: _LONGEST + 1])
    if len(text) > _LONGEST or not 0 < len(names) <= _MOST_LISTED:
        raise BadInput(field, f"one to {_MOST_LISTED} names are wanted", example)
    substances: dict[str, None] = {}
    formulas: dict[str, None] = {}
    strange: dict[str, None] = {}
    for name in names:
        if not name.isprintable():
            raise BadInput(field, "it holds a control character", example)
        found = _found(name, field, example, library)
        if isinstance(found, Substance):
            substances[found.id] = None
        elif isinstance(found, Formula):
            formulas[found.id] = None
            substances.update(dict.fromkeys(_ids_of(found)))
        elif unknown:
            strange[name] = None
        else:
            raise BadInput(field, f"{_echo(name)} is not known here{_nearest(name, library)}")
    return Things(substances=tuple(substances), formulas=tuple(formulas), unknown=tuple(strange))


def _ids_of(formula: Formula) -> Iterable[str]:
    return (each.substance for part in formula.parts for each in part.ingredients)


def _found(name: str, field: str, example: str, library: Library) -> Substance | Formula | None:
    """The one thing of that name, or whose name holds these words; refuses where several do."""
    words = _words(name)
    if not words:
        return None
    kinds: tuple[Sequence[Substance | Formula], ...] = (
        tuple(library.substances.values()),
        tuple(library.formulas.values()),
    )
    for things in kinds:
        for each in things:
            if words in (_words(each.id), _words(each.name)):
                return each
    for things in kinds if max(map(len, words)) >= _SHORTEST else ():
        near = [each for each in things if set(words) <= set(_words(each.name))]
        if len(near) > 1:
            called = " or ".join(each.name for each in near[:_MOST_NAMED])
            raise BadInput(field, f"{_echo(name)} may be {called}: say which", example)
        if near:
            return near[0]
    return None


def _words(name: str) -> tuple[str, ...]:
    return tuple(_WORD.findall(name.casefold()))


def _echo(name: str) -> str:
    return f"“{name}”" if len(name) <= LONGEST_ECHO else f"“{name[:LONGEST_ECHO]}…”"


def _nearest(name: str, library: Library) -> str:
    # Only a slip of the hand pays for this import.
    from difflib import get_close_matches

    known: dict[str, str] = {}
    for substance in library.substances.values():
        known |= {substance.id: substance.id, substance.name.casefold(): substance.name}
    for formula in library.formulas.values():
        known |= {formula.id: formula.id, formula.name.casefold(): formula.name}
    near = get_close_matches(name[:LONGEST_ECHO].casefold(), known, n=1, cutoff=0.75)
    return f"; the nearest is {known[near[0]]}" if near else ", so nothing can be told of it"
