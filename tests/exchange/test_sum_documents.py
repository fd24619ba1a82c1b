"""The JSON of the sums against its published schemas, and the figures in it against the words."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from benchconsole.desk.sums import SUMS, Sum, answer_to, examples, sum_named
from benchconsole.desk.sums.printed import answer_document, sums_document
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures

SCHEMAS = Path(__file__).parents[2] / "shared" / "schemas"
ALL_MEASURES: tuple[Measures, ...] = ("metric", "us", "imperial")

every_sum = pytest.mark.parametrize("asked", SUMS, ids=lambda one: one.name)


def _validator(name: str) -> Draft202012Validator:
    schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def _document(asked: Sum, measures: Measures = "metric", **texts: str) -> dict[str, Any]:
    """The answer to a sum's examples as it would be read back from a file."""
    shop = Shop(measures=measures, jug_l=5.0)
    typed = {**examples(asked, measures, all_of_them=True), **texts}
    document = answer_document(asked, typed, answer_to(asked, typed, shop))
    read: dict[str, Any] = json.loads(json.dumps(document, allow_nan=False))
    return read


def _figures(document: dict[str, Any]) -> dict[tuple[str, str], float]:
    return {(each["name"], each["unit"]): each["value"] for each in document["figures"]}


@every_sum
@pytest.mark.parametrize("measures", ALL_MEASURES)
def test_every_answer_fits_its_schema(asked: Sum, measures: Measures) -> None:
    """Each sum's examples, all fields filled in; no figure shares name and unit with another."""
    document = _document(asked, measures)
    assert [] == [fault.message for fault in _validator("sum-1").iter_errors(document)]
    assert len(_figures(document)) == len(document["figures"])
    # Only of what may meet nothing is counted.
    assert (asked.name == "neighbours") == (not document["figures"])


@pytest.mark.parametrize("measures", ALL_MEASURES)
def test_the_list_of_sums_fits_its_schema(measures: Measures) -> None:
    """All of them together, and each alone."""
    fits = _validator("sums-1")
    for only in (None, *SUMS):
        document = json.loads(json.dumps(sums_document(only, measures)))
        assert [] == [fault.message for fault in fits.iter_errors(document)]
        assert (len(SUMS) if only is None else 1) == len(document["sums"])


@pytest.mark.parametrize(
    ("name", "figure", "value"),
    [
        # 40 L at 30 g/L.
        ("rinse-salt", ("salt", "g"), 1200.0),
        # 250 g ÷ 0.98.
        ("pour-loss", ("weigh", "g"), 255.102),
        # π × 20² × 4 cm³, and two jugs of 5 L at 60 g/L.
        ("top-up", ("add", "L"), 5.027),
        ("top-up", ("refill salt", "g"), 600.0),
        # 120 g/L × (1 ÷ (1 + 9))².
        ("rinses", ("left", "g/L"), 1.2),
        # (290 − 62 − 5) ÷ 2 g.
        ("coats-by-weight", ("coat", "g"), 111.5),
        # 6 L/kg × 3.2 kg.
        ("cover", ("liquor", "L"), 19.2),
        # 100 g of 85 % in 20 L.
        ("pickle-ph", ("formic acid", "g/L"), 4.25),
    ],
)
def test_a_figure_is_the_one_behind_the_sentence(
    name: str, figure: tuple[str, str], value: float
) -> None:
    """Worked out here by hand from the examples of the form."""
    assert pytest.approx(value, abs=0.001) == _figures(_document(sum_named(name)))[figure]


def test_figures_do_not_follow_the_measures() -> None:
    """The same text typed in a shop of gallons gives the same litres and grams."""
    asked = sum_named("rinse-salt")
    typed = {"rinse-water": "40 L", "salt-strength": "30 g/L"}
    metric, us = (_document(asked, measures, **typed) for measures in ("metric", "us"))
    assert metric["figures"] == us["figures"]
    assert metric["says"] != us["says"]


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("schema",), "benchconsole.sum/2"),
        (("figures", 0, "unit"), "gal"),
        (("figures", 0, "value"), "1200"),
        (("figures", 0, "name"), ""),
        (("workings",), []),
        (("says",), ""),
        (("asked", "rinse-water"), 40),
    ],
)
def test_the_schema_of_an_answer_refuses(path: tuple[Any, ...], value: object) -> None:
    """A document spoilt in one place no longer fits, so that fitting means something."""
    document = _document(sum_named("rinse-salt"))
    at: Any = document
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    assert [list(path)] == [list(each.path) for each in _validator("sum-1").iter_errors(document)]
