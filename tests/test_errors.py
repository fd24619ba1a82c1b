"""The errors a person can cause: one sentence each, with what would have worked."""

from __future__ import annotations

import pytest

from benchconsole import errors
from benchconsole.errors import (
    BadFile,
    BadInput,
    BadQuantity,
    BenchError,
    NotKnown,
    NotPossibleNow,
    StoreBusy,
    StoreDamaged,
    StoreError,
    StoreTooNew,
)


def test_bad_input_names_field_fault_and_example() -> None:
    """The three things a person needs, in one sentence."""
    fault = BadInput("weight", "it has no unit", "3.2 kg")
    assert "weight: it has no unit; for example 3.2 kg." == str(fault)
    assert ("weight", "it has no unit", "3.2 kg") == (fault.field, fault.fault, fault.example)


def test_bad_input_does_without_an_example() -> None:
    """Where nothing sensible can be offered nothing is."""
    assert "note: it is empty." == str(BadInput("note", "it is empty"))


@pytest.mark.parametrize(
    ("line", "expected"), [(7, "a.toml, line 7: no name."), (0, "a.toml: no name.")]
)
def test_a_bad_file_is_told_by_name_and_line(line: int, expected: str) -> None:
    """Line 0 means that no line is to blame."""
    fault = BadFile("a.toml", line, "no name")
    assert (expected, "a.toml", line) == (str(fault), fault.name, fault.line)


KNOWN = ("alum-salt-bath", "alum-salt-soda-bath", "borax-rinse", "lime-bath")


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("alum-salt-bat", "the nearest is alum-salt-bath or alum-salt-soda-bath."),
        ("Borax-Rinse", "the nearest is borax-rinse."),
        ("lime", "the nearest is lime-bath."),
        ("alum", "the nearest is alum-salt-bath or alum-salt-soda-bath."),
        ("xyzzy", "there is alum-salt-bath, alum-salt-soda-bath, borax-rinse, lime-bath."),
        ("", "there is alum-salt-bath, alum-salt-soda-bath, borax-rinse, lime-bath."),
    ],
)
def test_a_slip_of_the_hand_is_told_what_is_near(name: str, expected: str) -> None:
    """The nearest names if there are any, else all there are."""
    assert f"No formula is called “{name}”; {expected}" == str(NotKnown("formula", name, KNOWN))


def test_an_unknown_name_is_echoed_short() -> None:
    """A book pasted into a field does not come back whole; the error still holds it."""
    fault = NotKnown("hide", "x" * 5000)
    assert f"No hide is called “{'x' * 40}…”." == str(fault)
    assert 5000 == len(fault.name)


@pytest.mark.parametrize(
    ("kind", "code"),
    [
        (BenchError, 2),
        (BadInput, 2),
        (BadQuantity, 2),
        (BadFile, 2),
        (NotKnown, 2),
        (NotPossibleNow, 2),
        (StoreError, 3),
        (StoreBusy, 3),
        (StoreTooNew, 3),
        (StoreDamaged, 3),
    ],
)
def test_exit_codes(kind: type[BenchError], code: int) -> None:
    """2 for what a person typed, 3 for a store that cannot be used."""
    assert code == kind.exit_code


def test_every_error_stands_in_the_tree() -> None:
    """The tree at the top of the module is whole: each class by name, each a BenchError."""
    kinds = [kind for kind in vars(errors).values() if isinstance(kind, type)]
    assert all(issubclass(kind, BenchError) for kind in kinds)
    drawn = errors.__doc__ or ""
    assert [] == [kind.__name__ for kind in kinds if kind.__name__ not in drawn]


@pytest.mark.parametrize(
    ("many", "expected"),
    [(12, "n10, n11."), (13, "n11, n12."), (14, "n10, n11 and 2 more."), (99, "n11 and 87 more.")],
)
def test_what_there_is_stays_a_sentence(many: int, expected: str) -> None:
    """Of a large library some names are given and the rest is counted."""
    told = str(NotKnown("formula", "xyzzy", tuple(f"n{number}" for number in range(many))))
    assert told.endswith(expected)
    assert len(told) < 200
