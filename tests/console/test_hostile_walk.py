"""Every screen of the console over a shop whose every word is hostile, read cell by cell."""

from __future__ import annotations

import asyncio
import importlib
import pkgutil
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import msgspec
import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Input

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console import BenchApp, screens
from benchconsole.console.acts import Act, ActScreen, HearAlarm
from benchconsole.console.plan_keeper import PlanKeeper
from benchconsole.console.screens.bench import BenchScreen
from benchconsole.console.screens.bench_acts import (
    ChooseFormula,
    HearTimer,
    Quit,
    ShowDaySheet,
    WeighOut,
)
from benchconsole.console.screens.copies_acts import ShowCopies
from benchconsole.console.screens.finished import FinishedScreen
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.screens.hide_acts import MixForHide, OpenCard
from benchconsole.console.screens.history import HistoryScreen
from benchconsole.console.screens.history_acts import ShowHistory
from benchconsole.console.screens.planning_acts import ShowTimeline, WhenToStart
from benchconsole.console.screens.store_report import StoreReportScreen
from benchconsole.console.screens.worked_out import WorkedOutScreen
from benchconsole.console.widgets.entries import Choice, Field
from benchconsole.console.widgets.paper import Paper
from benchconsole.desk import Desk
from benchconsole.desk.views import HideRow
from benchconsole.letters import cells, shown
from benchconsole.model.events import Entry
from tests.console.reading_the_screen import type_ahead, wait_until
from tests.hostile_shop import ALLOWED, HALVES, HOSTILE, IDS, WORDS, hostile_desk, hostile_store

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)


def all_screens() -> set[type[ActScreen[Any]]]:
    """Every screen class that says its acts and is not only there to be built on."""
    for module in pkgutil.iter_modules(screens.__path__):
        importlib.import_module(f"{screens.__name__}.{module.name}")
    found: set[type[ActScreen[Any]]] = set()
    left = [ActScreen]
    while left:
        kind = left.pop()
        left += kind.__subclasses__()
        found.add(kind)
    return {
        kind
        for kind in found
        if kind.__module__.startswith(screens.__name__) and not kind.__subclasses__()
    }


TYPED = {
    "name": ALLOWED[:50],
    "note": ALLOWED,
    "when or which": "3 Dec 14:00 - 6 Dec 9:00",
    "time": "20 min",
    "why": ALLOWED[:50],
    "weight": "800 g",
    "count": "1",
}
"""What fields take, by the word for them."""

OFTEN = {WeighOut: 4, MixForHide: 4, OpenCard: 99}
"""Acts that open another screen, or the same one of another hide, the next time."""


SETTLE_S = 0.03
PATIENCE = 6
"""So often an act may be refused before it is tried no more."""


def telling_hides(desk: Desk) -> list[str]:
    """One hide of each kind: acts that are refused for one are taken for another."""
    rows = desk.hides.rows()
    kinds: tuple[Callable[[HideRow], bool], ...] = (
        lambda row: row.action.mix == "borax-soak",
        lambda row: bool(row.hide.lies_in_liquor),
        lambda row: row.action.mix not in ("", "borax-soak"),
        lambda row: desk.drying.dries(row.hide.id),
        lambda row: row.hide.count > 1 and row.hide.in_work,
        lambda row: row.action.state == "stored",
        lambda row: row.hide.out_at is not None,
    )
    first = (next((row.hide.id for row in rows if kind(row)), None) for kind in kinds)
    return list(dict.fromkeys(name for name in first if name is not None))


class Walk:
    """Somebody who presses everything there is, and looks at each cell after each press."""

    def __init__(self, app: BenchApp, pilot: Pilot[int]) -> None:
        self.app = app
        self.pilot = pilot
        self.been: set[type[Any]] = set()
        self.done: Counter[str] = Counter()
        self.refused: Counter[str] = Counter()
        self.not_yet: set[type[Act[Any]]] = {Quit, ShowCopies, HearTimer, HearAlarm}

    async def look(self, where: str) -> None:
        """Wait until all is drawn, and read it."""
        await self.drawn()
        screen = self.app.screen
        if isinstance(screen, WorkedOutScreen):
            await wait_until(self.pilot, lambda: screen.answer is not None, f"what {where} says")
            await self.drawn()
        self.been.add(type(screen))
        width = screen.size.width
        for strip in screen._compositor.render_strips(screen.size):
            # A field draws one letter for one, so a wide blank stays one.
            line = strip.text.replace("\u3000", "  ")
            assert line == shown(line), (where, ascii(line))
            assert width == cell_len(line) == cells(line), (where, ascii(line))
            assert not any(segment.control for segment in strip), where
            assert not any("quit" in str(s.style.meta) for s in strip if s.style), where
        for paper in screen.query(Paper):
            for row in paper.lines:
                assert row == shown(row), (where, ascii(row))

    async def drawn(self) -> None:
        """Let the screen in front take in its messages, and be laid out and painted."""
        await self.pilot._wait_for_screen()
        await asyncio.sleep(SETTLE_S)

    async def in_the_large(self, bench: BenchScreen) -> None:
        """What is cut off at 80x24: the pages of the bench at 200x60, nothing pressed on them."""
        await self.pilot.resize_terminal(200, 60)
        await self.look("the bench at 200x60")
        for act in (OpenCard, ShowDaySheet, ShowTimeline, ShowHistory, WhenToStart):
            depth = len(self.app.screen_stack)
            await self.press(act, bench)
            await self.back_to(depth)
        await self.pilot.resize_terminal(80, 24)

    async def everything(self) -> None:
        """Press every key of the screen in front that did not do its work often before."""
        screen, depth = self.app.screen, len(self.app.screen_stack)
        if isinstance(screen, HistoryScreen):
            # The oldest tap cannot be taken back without others.
            type_ahead(self.app, "end")
        if isinstance(screen, FinishedScreen):
            # The oldest of them lies in the archive; above the first is the last.
            await wait_until(self.pilot, lambda: screen.row is not None, "finished hides")
            type_ahead(self.app, "up")
        self.app.tick()
        await self.look(f"{type(screen).__name__} with what rings")
        if isinstance(screen, FormScreen):
            await self.fill(screen)
        # The mix first, before a hide is taken on; what leaves the screen last.
        first = {MixForHide: 0, WeighOut: 1}
        acts = type(screen).acts()
        for act in sorted(acts, key=lambda act: first.get(act, 3 if "escape" in act.keys else 2)):
            if self.app.screen is not screen:
                return
            if isinstance(screen, ActScreen) and not self.tired_of(act):
                await self.press(act, screen)
                if len(self.app.screen_stack) > depth:
                    await self.everything()
                    await self.back_to(depth)

    def tired_of(self, act: type[Act[Any]]) -> bool:
        """Whether it did its work before; some do another the next time."""
        done, refused = self.done[act.__name__], self.refused[act.__name__]
        return act in self.not_yet or done >= OFTEN.get(act, 1) or refused >= PATIENCE

    async def press(self, act: type[Act[Any]], screen: ActScreen[Any]) -> None:
        """One act, and a look at what comes of it; a refusal does not count."""
        before = screen._accepted
        screen.action_act(act.__name__)
        accepted = before != screen._accepted
        (self.done if accepted else self.refused)[act.__name__] += 1
        await self.look(f"{type(screen).__name__} {act.__name__}")
        if act is ChooseFormula:
            # The person's own stand last in the list.
            type_ahead(self.app, "end")
            await self.look("the last formula")

    async def back_to(self, depth: int) -> None:
        """Leave what was opened."""
        for _ in range(8):
            if len(self.app.screen_stack) <= depth:
                return
            type_ahead(self.app, "escape")
            await self.drawn()
        raise AssertionError(f"{self.app.screen} cannot be left")

    async def fill(self, form: FormScreen[Any]) -> None:
        """Type hostile words into every field and hand them in, then words that may be."""
        if self.done[name := type(form).__name__]:
            return
        self.done[name] += 1
        for typed in ({}, TYPED):
            for field in form.query(Field):
                if isinstance(field.entry, Choice):
                    field.entry.highlighted = 0 if field.entry.offered else None
                elif isinstance(field.entry, Input):
                    field.entry.value = typed.get(field.field, HOSTILE + HALVES)
                else:
                    field.entry.text = typed.get(field.field, HOSTILE + HALVES)
            await self.look(f"{name} filled")
            form.attempt()
            await self.look(f"{name} handed in")
            if self.app.screen is not form:
                return


async def test_every_screen_shows_a_hostile_shop_safely(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every act of every screen at 80x24: no command, nothing that turns, every line 80 cells."""
    clock = ManualClock(NOW)
    store = hostile_store(tmp_path, clock)
    app = BenchApp(
        lambda: bootstrap.open_desk(store, writing=True, clock=clock),
        ticking=False,
        settling=False,
        planning=True,
    )
    app.animation_level = "none"
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await wait_until(pilot, lambda: type(app.screen) is BenchScreen, "the bench")
        await wait_until(pilot, lambda: app.plan is not None, "the plan")
        # One plan will do: making it anew after every act takes longer than all else.
        monkeypatch.setattr(PlanKeeper, "look", lambda _: None)
        bench, walk = app.screen, Walk(app, pilot)
        await walk.look("the bench")
        for name in telling_hides(app.desk):
            bench.hides.focus()
            bench.hides.chosen = name
            await walk.everything()
        await walk.in_the_large(bench)
        await app.push_screen(StoreReportScreen((HOSTILE,)))
        await walk.look("what was found when the store was opened")
        app.pop_screen()
        # Putting a copy back takes hides away, and what was heard rings no more.
        walk.not_yet.clear()
        walk.not_yet.add(Quit)
        await walk.everything()
        missed = {kind.__name__ for kind in all_screens() - walk.been}
        assert not missed, missed


async def test_halves_of_characters_are_shown_as_dots() -> None:
    """No store takes them in any more; a history that has them opens, and its cards too."""
    clock = ManualClock(NOW)
    app = BenchApp(lambda: hostile_desk(clock, halves=HALVES), ticking=False, planning=False)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await wait_until(pilot, lambda: type(app.screen) is BenchScreen, "the bench")
        bench, walk = app.screen, Walk(app, pilot)
        await walk.look("the bench")
        bench.hides.chosen = "part"
        await walk.press(OpenCard, bench)


def test_every_word_of_the_history_is_turned_hostile() -> None:
    """A field that is new in the history must be said to hold people's words, or not."""
    assert WORDS | IDS >= _text_fields(msgspec.inspect.type_info(Entry), "", set())


def _text_fields(info: Any, name: str, met: set[Any]) -> set[str]:
    kind = type(info).__name__
    if kind == "StrType":
        return {name}
    if kind == "StructType":
        if info.cls in met:
            return set()
        met.add(info.cls)
        return set().union(*(_text_fields(f.type, f.name, met) for f in info.fields))
    if kind == "DictType":
        keys = _text_fields(info.key_type, f"{name} key", met)
        return keys | _text_fields(info.value_type, name, met)
    inner = getattr(info, "types", getattr(info, "item_types", None))
    if inner is None:
        inner = [info.item_type] if hasattr(info, "item_type") else []
    return set().union(*(_text_fields(each, name, met) for each in inner))
