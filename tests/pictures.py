"""Pictures of every screen, to be looked at: ``python tests/pictures.py FOLDER [80x24 ...]``.

Drives the console over the demo shop at a fixed hour and writes Textual's own SVG export of
each screen in each size, without the web font it would ask for. ``shared/pictures/bench.svg``
in the README is one of them.
"""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from textual.pilot import Pilot

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console import BenchApp
from benchconsole.store.backups import Backups

SIZES = ("80x24", "120x36", "200x60")
HOUR = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)

SCREENS: dict[str, tuple[str, ...]] = {
    "bench": ("down",),
    "bench-mix": ("mix:alum-salt-bath",),
    "bench-mix-typed": ("mix:alum-salt-soda-bath", "target:make=6 gal"),
    "card": ("down", "enter"),
    "drying": ("card:white-kid", "c"),
    "drying-weigh": ("card:white-kid", "c", "s"),
    "drying-working": ("card:white-kid", "c", "k"),
    "card-move": ("down", "enter", "m"),
    "card-split": ("end", "enter", "p"),
    "card-spoiled": ("down", "enter", "x"),
    "card-lost": ("down", "enter", "k"),
    "day-sheet": ("l",),
    "timeline": ("z",),
    "timeline-hours": ("z", *("plus",) * 4, "minus", "h"),
    "timeline-quarters": ("z", *("plus",) * 4, "n"),
    "timeline-days": ("z", *("minus",) * 4, "down", "n"),
    "round": ("h",),
    "round-left-out": ("h", "down", "space"),
    "round-logged": ("h", "enter"),
    "starts": ("HIDE:autumn-buck", "b", "WORKED"),
    "starts-hours": ("HIDE:autumn-buck", "b", "WORKED", "down", "h"),
    "what-if-form": ("j",),
    "what-if": ("j", "tab", *"21-24", "space", *"Mar", "enter", "WORKED"),
    "what-if-way-out": ("j", "tab", *"21-24", "space", *"Mar", "enter", "WORKED", "down"),
    "history": ("f4", *("down",) * 3),
    "history-taken-back": ("f4", *("down",) * 6, "u", "enter", "down"),
    "history-sure": ("f4", *("down",) * 6, "u"),
    "history-time": ("f4", "down", "t"),
    "card-history": ("down", "enter", "h"),
    "finished": ("f6", "FOUND"),
    "finished-card": ("ARCHIVED", "f6", "FOUND", "enter"),
    "take-in": ("i",),
    "note": ("o",),
    "timer": ("t",),
    "help": ("question_mark",),
    "shop": ("g",),
    "working": ("mix:alum-salt-bath", "k"),
    "weigh-cautions": ("mix:alum-salt-bath", "w"),
    "weigh-jug": ("mix:alum-salt-bath", "w", "enter"),
    "weigh-pour": ("mix:alum-salt-bath", "w", "enter", "enter"),
    "weigh-short": ("mix:alum-salt-bath", "w", "enter", "enter", *"900", "enter"),
    "weigh-over": ("mix:alum-salt-bath", "w", "enter", "enter", *"1300", "enter"),
    "weigh-done": ("mix:oil-ammonia-dressing", "w", "enter", "enter", "enter", "enter"),
    "sums": ("x",),
    "sum": ("x", "enter"),
    "weight": ("s",),
    "copies": ("COPIES", "f7", "WORKED"),
    "copy-look": ("COPIES", "f7", "WORKED", "down", "enter", "WORKED"),
    "copy-sure": ("COPIES", "f7", "WORKED", "down", "enter", "WORKED", "p"),
    "empty": ("EMPTY",),
}


async def picture(name: str, width: int, height: int, folder: Path) -> Path:
    """Drive one screen and write its picture."""
    steps = SCREENS[name]
    with tempfile.TemporaryDirectory() as shop:
        path = Path(shop) / bootstrap.STORE_FILE
        clock = ManualClock(HOUR)
        if "EMPTY" not in steps:
            bootstrap.fill_demo(path, clock)
        if "COPIES" in steps:
            make_copies(path)
        app = BenchApp(
            lambda: bootstrap.open_desk(path, writing=True, clock=clock),
            ticking=False,
            settling=False,
        )
        async with app.run_test(size=(width, height)) as pilot:
            while not (app.is_open and app.screen.is_mounted):
                await pilot.pause(0.01)
            while "EMPTY" not in steps and app.plan is None:
                await pilot.pause(0.01)
            await pilot.pause(0.1)
            for step in steps:
                await _take(pilot, app, step)
            await pilot.pause(0.1)
            out = folder / f"{name}-{width}x{height}.svg"
            out.write_text(without_web_font(app.export_screenshot()), encoding="utf-8")
    return out


def make_copies(path: Path) -> None:
    """Copies as a month of work leaves them, one damaged, one from before a restore."""
    backups, lines = Backups(path), path.read_bytes().splitlines(keepends=True)
    for back in range(40, 0, -1):
        backups.keep(b"".join(lines[: len(lines) - back]), HOUR - timedelta(hours=back * 11))
    backups.keep_before("restore", path.read_bytes(), HOUR - timedelta(hours=30))
    backups.all()[3].path.write_bytes(lines[0])


async def _take(pilot: Pilot[int], app: BenchApp, step: str) -> None:
    kind, _, rest = step.partition(":")
    if kind == "mix":
        app.screen.query_one("#formula").value = rest
    elif kind == "target":
        target, _, text = rest.partition("=")
        app.screen.query_one("#target-kind").value = target
        await pilot.pause()
        app.screen.query_one("#target-text").value = text
    elif kind == "HIDE":
        app.screen.choose(rest)
    elif step == "WORKED":
        while app.screen.answer is None:
            await pilot.pause(0.05)
    elif step == "FOUND":
        while app.screen.row is None:
            await pilot.pause(0.05)
    elif step == "ARCHIVED":
        app.desk._ledger.clock.advance(days=40)
        app.desk.moving_out.all()
    elif kind == "card":
        from benchconsole.console.screens.card import CardScreen

        app.push_screen(CardScreen(rest))
    elif step not in ("EMPTY", "COPIES"):
        await pilot.press(step)
    await pilot.pause(0.05)


def without_web_font(svg: str) -> str:
    """The picture with the fonts of the reader's machine instead of one from the web."""
    svg = re.sub(r"@font-face\s*\{.*?\}", "", svg, flags=re.DOTALL)
    svg = re.sub(r"<!--.*?-->", "", svg, flags=re.DOTALL)
    return svg.replace("Fira Code", "DejaVu Sans Mono")


def main(arguments: Sequence[str]) -> int:
    """Write all pictures; print where."""
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    for size in arguments[1:] or SIZES:
        width, height = (int(side) for side in size.split("x"))
        for name in SCREENS:
            print(asyncio.run(picture(name, width, height, folder)))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
