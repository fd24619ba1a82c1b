"""The mix pane: what it shows is what the command line prints, at every keystroke."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from textual.widgets import Select

from benchconsole.cli import main
from benchconsole.clock import ManualClock
from benchconsole.console.panes.worksheet_text import worksheet_content
from benchconsole.library import shipped_library
from benchconsole.mixing.targets import AsWritten
from benchconsole.mixing.worksheet import worksheet
from benchconsole.model.shop import Shop
from tests.console.at_the_bench import Person, at_the_bench


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday morning."""
    return ManualClock(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))


async def choose(person: Person, select: str, words: str) -> None:
    """Open a drop-down by key, search it by typing, take what is found."""
    person.app.screen.query_one(select, Select).focus()
    await person.press("enter")
    await person.write(words)
    await person.press("enter")


def printed(capsys: pytest.CaptureFixture[str], path: Path, *arguments: str) -> dict[str, Any]:
    """The JSON that the command line prints."""
    assert main(["--store", str(path), "mix", *arguments, "--json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


async def test_the_pane_and_the_command_line_agree(
    tmp_path: Path, clock: ManualClock, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ten gallons of the alum and salt bath: every amount, reading and strength is the same."""
    path = tmp_path / "shop.json"
    sheet = printed(capsys, path, "alum-salt-bath", "--make", "10 gal")
    async with at_the_bench(path, clock, (200, 60)) as person:
        await choose(person, "#formula", "Alum and salt")
        await choose(person, "#target-kind", "make")
        target = person.app.screen.query_one("#target-text")
        target.focus()
        await person.press(*["backspace"] * 12)
        await person.write("10 gal")
        await person.sees("10 US gal", f"{sheet['factor']:.4g} × the recipe")
        for part in sheet["parts"]:
            for line in part["lines"]:
                await person.sees(f"{line['name']}  {line['show']}")
                if line["reading"]:
                    await person.sees(f"scale {line['reading']}")
        for strength in sheet["liquor"]["strengths"]:
            await person.sees(f"{strength['g_per_l']:.1f} g/L")
        for check in sheet["checks"]:
            await person.sees(check["says"][:24])
        shown = person.app.screen.query_one("#mix").sheet
        assert sheet["factor"] == shown.factor
        assert [line["mass_g"] for part in sheet["parts"] for line in part["lines"]] == [
            line.mass_g for line in shown.lines
        ]


async def test_every_keystroke_recomputes_and_a_fault_is_a_sentence(
    tmp_path: Path, clock: ManualClock
) -> None:
    """While "20 l" is typed the pane says what is missing, then shows the sheet."""
    async with at_the_bench(tmp_path / "shop.json", clock, (120, 36)) as person:
        await choose(person, "#formula", "Alum and salt")
        await choose(person, "#target-kind", "make")
        person.app.screen.query_one("#target-text").focus()
        await person.press(*["backspace"] * 12)
        await person.sees("make: ")
        await person.write("20")
        await person.sees("make: ", "20")
        await person.press("l")
        await person.sees("Makes 5 US gal 1 US qt")


async def test_cold_water_warns_and_the_working_explains(
    tmp_path: Path, clock: ManualClock
) -> None:
    """The temperature field recomputes too, and k shows how the figure came about."""
    async with at_the_bench(tmp_path / "shop.json", clock, (120, 36)) as person:
        await choose(person, "#formula", "Alum and salt")
        person.app.screen.query_one("#water").focus()
        await person.press(*["backspace"] * 12)
        await person.write("30C")
        await person.sees_no_more("▲ 1 warning")
        await person.press(*["backspace"] * 4)
        await person.write("8C")
        await person.sees("▲ 1 warning", "46 °F (8 °C)")
        await person.press("escape", "k")
        await person.sees("Working", "Factor", "Finished volume")


def test_a_sheet_reads_from_lines_to_faults_to_what_it_makes() -> None:
    """Faults under the lines, then degrees and pH, checks, hold, cautions with the gear first."""
    library, shop = shipped_library(), Shop()
    sheet = worksheet(
        library.formula("salt-acetic-pickle"),
        AsWritten(),
        substances=library.substances,
        shop=shop,
        rules=library.incompatible,
    )
    text = worksheet_content(sheet, shop).plain
    heads = ["by the jug", "▲ 39 g/L of salt is too little", "Makes ", "Spindle at ", "pH about "]
    heads += ["✓ ", "Hold: ", "Cautions\n• Wear: goggles", "Sources"]
    places = [text.index(head) for head in heads]
    assert sorted(places) == places
    assert 1 == text.count("pH about")


async def test_m_brings_the_amount_for_the_hide(tmp_path: Path, clock: ManualClock) -> None:
    """A green hide of 3.2 kg asks for 800 g of salt (25 % of its weight)."""
    async with at_the_bench(tmp_path / "shop.json", clock, (120, 36)) as person:
        person.app.desk.settings.set({"measures": "metric"})
        person.app.desk.hides.take_in(
            name="doe", species="deer", route="hair-on-alum-pelt", came="green", weight="3.2 kg"
        )
        person.app.tick()
        await person.press("d")
        await person.sees("Cool and trim")
        await person.press("v")
        await person.sees("First salting")
        await person.press("m")
        await person.sees("for doe", "salt  800 g", "scale 800 g")
