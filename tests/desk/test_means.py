"""The pairs of hands and the vessels of a shop, as people type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.desk.means import read_vessels, vessel_kinds, vessels_text
from benchconsole.errors import BadInput
from benchconsole.library import shipped_library

KINDS = ("beam", "bench", "board", "frame", "freezer", "rail", "smokehouse", "tub")


def test_the_shipped_routes_name_their_vessels() -> None:
    """What may be said is what the routes put hides into."""
    assert KINDS == vessel_kinds(shipped_library().routes.values())


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("", {}),
        ("3 tubs", {"tub": 3}),
        ("3 tubs, 4 boards, 2 frames", {"tub": 3, "board": 4, "frame": 2}),
        ("1 Tub; 2 BENCHES", {"tub": 1, "bench": 2}),
        ("1 tubs, 2 bench", {"tub": 1, "bench": 2}),
        ("1 smokehouse, 2 freezers", {"smokehouse": 1, "freezer": 2}),
        ("0 tubs", {"tub": 0}),
        ("3tubs,4 x boards", {"tub": 3, "board": 4}),
    ],
)
def test_vessels_as_people_write_them(typed: str, expected: dict[str, int]) -> None:
    """Singular, plural, in any case; none at all is said with a nought."""
    assert expected == read_vessels(typed, KINDS)


@given(vessels=st.dictionaries(st.sampled_from(KINDS), st.integers(0, 999)))
def test_vessels_are_read_as_they_are_printed(vessels: dict[str, int]) -> None:
    """Any numbers survive being printed and typed again."""
    read = read_vessels(vessels_text(vessels), KINDS)
    assert list(vessels.items()) == list(read.items())


def test_a_kind_of_an_own_route_has_its_plural() -> None:
    """Words that do not end in a plain letter are printed as people write them."""
    kinds = ("box", "drying gallery", "tray")
    assert "2 boxes, 1 drying gallery, 3 trays" == vessels_text(
        {"box": 2, "drying gallery": 1, "tray": 3}
    )
    assert {"drying gallery": 2} == read_vessels("2 drying galleries", kinds)


def test_an_unknown_kind_is_told_those_that_routes_use() -> None:
    """The sentence names what could have been meant."""
    with pytest.raises(BadInput, match="no route uses “vats”, they use beam, bench, board, frame"):
        read_vessels("3 vats", KINDS)
