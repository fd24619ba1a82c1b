"""The published times of the shipped routes, each beside the source that prints it.

A figure that stands in no source is common practice and is not checked here. Where a source gives
a span, the route's target lies inside it.
"""

from __future__ import annotations

from datetime import timedelta
from typing import NamedTuple

import pytest

from benchconsole.library import shipped_library
from benchconsole.model.routes import Hold, Stage

LIBRARY = shipped_library()

MANUFACTURE = "The Principles of Leather Manufacture (1903)"
LEATHER = "Leather: from the Raw Material to the Finished Product (c. 1915)"
PROTEINS = "Animal Proteins (1921)"
WOODCRAFT = "Camping and Woodcraft"
DEER_PAGES = "Outdoor and hobby how-to pages on tanning deer hides"
LIME_PAGES = "Homestead and forum pages on liming a hide"
BARK_PAGES = "Homestead pages and hide workers’ forum threads"
CITRIC_PAGE = "Tannery instruction page for a citric acid pickle"
TANNERIES = "Tannery instruction page"
GUIDE = "New Mexico State University Guide L-103"
PRESERVING = "Preserving of Hides and Skins, chapter on drying"
FRESH = "Encyclopaedia article “Hides and Skins”"


def hours(count: float) -> timedelta:
    """So many hours."""
    return timedelta(hours=count)


def days(count: float) -> timedelta:
    """So many days."""
    return timedelta(days=count)


def weeks(count: float) -> timedelta:
    """So many weeks."""
    return timedelta(weeks=count)


class Printed(NamedTuple):
    """What a source prints of a hold: one of its figures is from ``low`` to ``high``."""

    route: str
    stage: str
    figure: str
    low: timedelta
    high: timedelta
    source: str
    species: str = "deer"
    came: str = "salted"


def _hold(route: str, stage: str, species: str, came: str) -> Hold:
    hold = LIBRARY.route(route).stage(stage).hold_for(species, came)
    assert hold is not None
    return hold


PRINTED = [
    # The page on the citric pickle [read]: at least 72 hours.
    Printed("hair-on-pickled-pelt", "pickle", "min", hours(72), hours(72), CITRIC_PAGE),
    Printed("hair-on-pickled-pelt", "pickle", "min", hours(72), hours(72), CITRIC_PAGE, "fox"),
    # Guide L-103 [read]: rabbit 2 days to deer 5 days.
    Printed("hair-on-pickled-pelt", "alum", "target", days(2), days(2), GUIDE, "rabbit"),
    Printed("hair-on-pickled-pelt", "alum", "target", days(5), days(5), GUIDE),
    # c. 1915 [read]: wet-salted hides 2 days, market hides a few hours; 1903, ch. XI [read]: 3 to
    # 4 days; a dried calf skin softened in 24 h, 2 days or 5 days by the warmth it dried at.
    Printed("hair-off-bark-leather", "soak", "target", days(2), days(2), LEATHER, "calf"),
    Printed("hair-off-bark-leather", "soak", "max", days(4), days(4), MANUFACTURE, "calf"),
    Printed(
        "hair-off-bark-leather", "soak", "min", hours(24), hours(24), MANUFACTURE, came="dried"
    ),
    Printed("hair-off-bark-leather", "soak", "target", days(1), days(5), MANUFACTURE, came="dried"),
    Printed("rawhide", "soak", "target", hours(2), hours(6), LEATHER, came="green"),
    # Pages on liming [read]: 7 to 10 days where the grain is scraped, 10 to 14 with the grain on.
    Printed("hair-off-bark-leather", "lime", "target", days(10), days(14), LIME_PAGES),
    Printed("hair-off-bark-leather", "lime", "max", days(14), days(14), LIME_PAGES),
    Printed("parchment", "lime", "min", days(7), days(7), LIME_PAGES),
    Printed("parchment", "lime", "max", days(10), days(10), LIME_PAGES),
    # Pages on deer hides [read]: lime and ash 2 to 3 days, then plain water 6 to 10 hours.
    Printed("rawhide", "lime", "min", days(2), days(2), DEER_PAGES),
    Printed("rawhide", "lime", "target", days(2), days(3), DEER_PAGES),
    Printed("rawhide", "rinse", "min", hours(6), hours(6), DEER_PAGES),
    Printed("rawhide", "rinse", "target", hours(6), hours(10), DEER_PAGES),
    # 1921 [read]: 5 to 20 barkometer 1 week, 20 to 45 for 6 weeks; layer of 30 for 2 weeks.
    Printed("hair-off-bark-leather", "second-liquor", "target", weeks(1), weeks(1), PROTEINS),
    Printed("hair-off-bark-leather", "third-liquor", "max", weeks(6), weeks(6), PROTEINS),
    Printed("hair-off-bark-leather", "full-liquor", "min", weeks(2), weeks(2), PROTEINS),
    # Forum threads [read]: the second liquor after 7 to 10 days, so the first at most 7.
    Printed("hair-off-bark-leather", "first-liquor", "max", days(7), days(10), BARK_PAGES),
    # The woodcraft book [read]: deer soaked 3 to 5 days, soaked again overnight; forum threads
    # [read]: smoked about 30 minutes a side.
    Printed("smoked-buckskin", "soak", "target", days(3), days(5), WOODCRAFT),
    Printed("smoked-buckskin", "soak-again", "target", hours(8), hours(16), WOODCRAFT),
    Printed("smoked-buckskin", "smoke", "min", hours(1), hours(1), WOODCRAFT),
    # Pages on deer hides [read]: the brain dressing overnight.
    Printed("smoked-buckskin", "dress", "target", hours(8), hours(16), DEER_PAGES),
    # Tannery pages [read]: salt renewed after 12 to 24 hours; flat 4 to 5 days.
    Printed("salt-and-store", "first-salting", "min", hours(12), hours(12), TANNERIES),
    Printed("salt-and-store", "first-salting", "target", hours(12), hours(24), TANNERIES),
    Printed("salt-and-store", "second-salting", "min", days(4), days(5), TANNERIES),
    # 1903, ch. VI [read]: deteriorates after 12 months; two weeks in pack.
    Printed("salt-and-store", "store", "max", days(365), days(366), MANUFACTURE),
    Printed("salt-and-store", "second-salting", "max", weeks(2), weeks(2), MANUFACTURE),
    # Web chapters on preserving [read]: goat 24 h, sheep 36 h, hide 3 days.
    Printed("dry-and-store", "dry", "min", hours(24), hours(24), PRESERVING, "goat"),
    Printed("dry-and-store", "dry", "min", hours(36), hours(36), PRESERVING, "sheep"),
    Printed("dry-and-store", "dry", "min", days(3), days(3), PRESERVING, "cattle"),
    # An encyclopaedia [read]: 2 hours as the life of a fresh hide.
    Printed("freeze-and-store", "trim", "max", hours(2), hours(2), FRESH),
]


@pytest.mark.parametrize("printed", PRINTED, ids=lambda row: f"{row.route}, {row.stage}")
def test_a_hold_is_what_its_source_prints(printed: Printed) -> None:
    """The figure lies in the printed span, and the stage names that source as read."""
    hold = _hold(printed.route, printed.stage, printed.species, printed.came)
    assert printed.low <= getattr(hold, printed.figure) <= printed.high
    stage = LIBRARY.route(printed.route).stage(printed.stage)
    assert "read" in {cite.mark for cite in stage.sources if cite.source.startswith(printed.source)}


def test_turns_of_the_hide_in_the_first_bark_liquor() -> None:
    """Forum threads [read]: 10 min without a stop, every 10 min for an hour, then daily."""
    stage = LIBRARY.route("hair-off-bark-leather").stage("first-liquor")
    first, later = stage.attend
    assert "first 10 min" in stage.do
    assert (timedelta(minutes=10), hours(1)) == (first.every, first.until)
    assert (days(1), hours(1)) == (later.every, later.since)


def test_the_whole_bark_ladder_takes_the_printed_weeks() -> None:
    """Animal Proteins (1921) [read]: 3 to 30 barkometer over about 7 weeks, then layers."""
    route = LIBRARY.route("hair-off-bark-leather")
    targets = [
        _hold(route.id, stage.id, "calf", "salted").target
        for stage in route.stages
        if stage.mix.startswith("bark-liquor-")
    ]
    assert 4 == len(targets)
    assert weeks(5) <= sum(targets[:3], timedelta(0)) <= weeks(7)
    assert weeks(7) <= sum(targets, timedelta(0)) <= weeks(10)


def test_the_bark_liquors_rise() -> None:
    """Animal Proteins (1921) [read]: from weak to strong; the share of strong liquor rises."""
    route = LIBRARY.route("hair-off-bark-leather")
    shares = []
    for stage in route.stages:
        if stage.mix.startswith("bark-liquor-"):
            (part,) = LIBRARY.formula(stage.mix).parts
            litres = {each.substance: each.volume_l or 0.0 for each in part.ingredients}
            shares.append(30 * litres["strong-bark-liquor"] / sum(litres.values()))
    assert [3, 10, 20, 30] == [round(share) for share in shares]


def _cautions(route: str) -> str:
    return " ".join(LIBRARY.route(route).cautions)


@pytest.mark.parametrize(
    ("route", "degrees"),
    [
        ("hair-off-bark-leather", "75 to 85 °C"),
        ("hair-on-pickled-pelt", "55 to 60 °C"),
        ("rawhide", "53 to 57 °C"),
        ("parchment", "55 to 60 °C"),
    ],
)
def test_shrinking_is_warned_of_at_the_printed_heat(route: str, degrees: str) -> None:
    """Shrinkage tables [read]: vegetable 75-85, tawed 55-60, limed 53-57, parchment 55-60 °C."""
    assert degrees in _cautions(route)


def test_softening_by_the_warmth_of_drying() -> None:
    """1903, ch. XI [read]: dried at 15, 22, 35 °C a calf skin softens in 1, 2, 5 days; 60 never."""
    stage: Stage = LIBRARY.route("dry-and-store").stage("dry")
    (note,) = (cite.note for cite in stage.sources if cite.source.startswith(MANUFACTURE))
    for said in ("15 °C", "24 h", "22 °C in 2 days", "35 °C in 5 days", "60 °C never"):
        assert said in note
    assert "35 °C a skin takes 5 days" in _cautions("dry-and-store")
