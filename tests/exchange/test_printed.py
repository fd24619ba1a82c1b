"""Printed pages: nothing cut, nothing wider than the page, the words of a person at a bench."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from benchconsole.exchange import STATE_MARKS, STATE_WORDS, day_sheet_text, worksheet_text
from benchconsole.exchange.printed import WIDTH
from benchconsole.library import shipped_library
from benchconsole.mixing.targets import AsWritten, Times
from benchconsole.mixing.worksheet import Worksheet, worksheet
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures
from benchconsole.schedule import STATE_ORDER, Action

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
LIBRARY = shipped_library()


def sheet_of(formula: str, times: float = 1.0, shop: Shop | None = None) -> Worksheet:
    """A formula so many times, for a shop of the usual kind."""
    target = AsWritten() if times == 1.0 else Times(times=times)
    return worksheet(
        LIBRARY.formula(formula), target, substances=LIBRARY.substances, shop=shop or Shop()
    )


def action_of(**given: object) -> Action:
    """A due look at a hide, apart from what is given."""
    plain = Action(
        hide="goat",
        hide_name="Brown goat",
        stage="alum",
        stage_name="Alum bath",
        kind="check",
        action="Cut at the neck edge.",
        earliest=NOW - timedelta(hours=3),
        due=NOW - timedelta(hours=1),
        latest=NOW + timedelta(days=2),
        ideal=NOW - timedelta(hours=1),
        state="due",
        why="Begun Monday 08:00, it wants 5 d.",
        spoils="The hair slips.",
    )
    return msgspec.structs.replace(plain, **given)


@pytest.mark.parametrize("formula", sorted(LIBRARY.formulas))
@pytest.mark.parametrize("measures", ["us", "imperial", "metric"])
@pytest.mark.parametrize("times", [1.0, 37.3])
def test_a_worksheet_fits_the_page_whole(formula: str, measures: Measures, times: float) -> None:
    """Every name, amount, reading, caution and source is there, and no row is too wide."""
    shop = Shop(measures=measures, jug_l=7.5)
    sheet = sheet_of(formula, times, shop)
    text = worksheet_text(sheet, shop)
    assert WIDTH >= max(len(row) for row in text.splitlines())
    flat = " ".join(text.split())
    told = [words for line in sheet.lines for words in (line.name, line.show, line.reading)]
    told += [line.pack for line in sheet.lines]
    told += [sheet.coats.says] if sheet.coats else []
    told += [check.says for check in sheet.checks] + [*sheet.cautions, *sheet.sources]
    for words in told:
        assert " ".join(words.split()) in flat


def test_a_worksheet_reads_from_the_top() -> None:
    """What it is and for how much, the parts, what it makes, the checks, the cautions."""
    text = worksheet_text(sheet_of("alum-salt-bath", 2.0), Shop())
    heads = ["Alum and salt bath — 2 times", "2 times the recipe", "1. Brine (tub)"]
    heads += ["2. Alum jug (bucket)", "Makes 10 US gal", "Strength: ", "Checks", "Cautions"]
    places = [text.index(head) for head in heads]
    assert sorted(places) == places


def test_faults_come_under_the_lines_and_the_ph_with_the_strengths() -> None:
    """Faults, what it makes with degrees and pH, checks, hold, cautions with the gear first."""
    text = worksheet_text(sheet_of("salt-acetic-pickle"), Shop())
    heads = ["2. ", "These ask for your attention", "!!  39 g/L of salt is too little", "Makes "]
    heads += ["Strength: ", "Spindle at ", "pH about ", "Checks", "ok  ", "Hold: ", "Done when: "]
    heads += ["Cautions\n-   Wear: goggles", "Sources"]
    places = [text.index(head) for head in heads]
    assert sorted(places) == places
    assert 1 == text.count("pH about")
    assert "attention" not in worksheet_text(sheet_of("salt-citric-pickle"), Shop())


def test_an_own_formula_is_marked_in_the_title() -> None:
    """What a person wrote down themselves is told from what is shipped."""
    own = msgspec.structs.replace(LIBRARY.formula("salt-cure"), own=True)
    sheet = worksheet(own, AsWritten(), substances=LIBRARY.substances, shop=Shop())
    assert worksheet_text(sheet, Shop()).startswith(f"{own.name} (own) — as written\n")
    assert "(own)" not in worksheet_text(sheet_of("salt-cure"), Shop())


def test_coats_are_told_with_their_waits() -> None:
    """227 g in two coats, 45 min apart: what it takes to put a dressing on."""
    metric = Shop(measures="metric")
    text = worksheet_text(sheet_of("oil-ammonia-dressing", shop=metric), metric)
    told = "2 coats of 113 g each; wait 45 min between them (at least 30 min, at most 1 h)."
    assert told in " ".join(text.split())
    assert "coats of" not in worksheet_text(sheet_of("salt-cure"), metric)


def test_as_written_needs_no_factor() -> None:
    """Nobody wants to read that once is 1.0000 times."""
    assert "times the recipe" not in worksheet_text(sheet_of("alum-salt-bath"), Shop())


def test_metric_litres_are_told_once() -> None:
    """The litres in brackets are for shops that count in gallons."""
    metric = Shop(measures="metric")
    assert "Makes 19.5 L.\n" in worksheet_text(sheet_of("alum-salt-bath", shop=metric), metric)
    assert "Makes 5 US gal 16 US fl oz (19.51 L).\n" in worksheet_text(
        sheet_of("alum-salt-bath"), Shop()
    )


def test_a_note_of_a_line_is_printed() -> None:
    """Which substance stands in for which is told under its line."""
    sheet = worksheet(
        LIBRARY.formula("alum-salt-bath"),
        AsWritten(),
        substances=LIBRARY.substances,
        shop=Shop(),
        use=["potassium-alum"],
    )
    assert "instead of" in worksheet_text(sheet, Shop())


def test_a_counting_scale_is_said_once_more_than_one_thing_is_weighed() -> None:
    """A reading that includes what went in before is no mistake of the page."""
    counts = "The scale counts on"
    assert counts in worksheet_text(sheet_of("salt-citric-pickle"), Shop())
    assert counts not in worksheet_text(sheet_of("borax-rinse"), Shop())


def test_a_number_stays_with_its_sign() -> None:
    """“12” at a row's end with “°C” on the next reads badly from a wall."""
    for formula in LIBRARY.formulas:
        rows = worksheet_text(sheet_of(formula), Shop()).splitlines()
        assert not [row for row in rows if row.strip().startswith(("°", "%"))]


def test_every_state_has_its_own_mark_and_word() -> None:
    """Nothing is told by colour alone, and no two states look alike."""
    assert set(STATE_ORDER) == set(STATE_MARKS) == set(STATE_WORDS)
    assert len(STATE_MARKS) == len(set(STATE_MARKS.values())) == len(set(STATE_WORDS.values()))


def test_a_due_action_in_words() -> None:
    """What, when, why, and what spoils."""
    assert day_sheet_text([action_of()], NOW, UTC) == (
        "Day sheet, Monday 1 June 2026, 12:00\n"
        "\n"
        "● DUE       Brown goat: Alum bath\n"
        "            Cut at the neck edge.\n"
        "            Was due 11:00, at the latest Wed 12:00.\n"
        "            Begun Monday 08:00, it wants 5 d.\n"
        "            If it is late: the hair slips.\n"
    )


def test_what_to_have_ready_is_named() -> None:
    """The mix and the tools of an act that begins a stage."""
    text = day_sheet_text([action_of(mix="alum-salt-bath", needs=("paddle", "gloves"))], NOW, UTC)
    assert "Have ready: the mix alum-salt-bath, paddle, gloves.\n" in text


def test_a_late_hide_says_what_to_inspect() -> None:
    """Late is no error: it says what to look at."""
    late = action_of(state="overdue", latest=NOW - timedelta(minutes=5), inspect="Tug the hair.")
    assert "Now inspect: tug the hair.\n" in day_sheet_text([late], NOW, UTC)


def test_a_stored_hide_says_by_when_with_the_year() -> None:
    """A date of next year without its year would be read as past."""
    far = NOW + timedelta(days=332)
    stored = action_of(state="stored", due=far, latest=far)
    assert "Begin by Thu 29 Apr 2027 12:00.\n" in day_sheet_text([stored], NOW, UTC)


def test_a_hide_without_its_route_says_so() -> None:
    """The sentence that asks for the route's file is printed, without a due time."""
    lost = action_of(kind="none", action="Its route “x” is not in the library: bring it back.")
    text = day_sheet_text([lost], NOW, UTC)
    assert "bring it back." in text
    assert "Was due" not in text


def test_finished_hides_share_the_last_line() -> None:
    """A finished hide asks for nothing; it is named after everything that does."""
    done = [
        action_of(hide=name, hide_name=name, state="finished", kind="none", stage_name="")
        for name in ("one", "two")
    ]
    text = day_sheet_text([*done, action_of()], NOW, UTC)
    assert "■ FINISHED  two, one" == text.splitlines()[-1]


def test_an_empty_shop_says_what_to_do() -> None:
    """The first thing a newcomer sees is the next step."""
    assert "take one in." in day_sheet_text([], NOW, UTC)
