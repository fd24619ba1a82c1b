"""The console as the program starts it, and somebody who presses keys and reads the screen."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path

from textual.pilot import Pilot

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console import BenchApp
from tests.console.reading_the_screen import screen_text, wait_until


class Person:
    """Somebody at the bench: presses keys, waits for the clock, reads the screen."""

    def __init__(self, app: BenchApp, pilot: Pilot[int], clock: ManualClock) -> None:
        self.app = app
        self.pilot = pilot
        self.clock = clock

    async def press(self, *keys: str) -> None:
        """Press keys one after another."""
        for key in keys:
            await self.pilot.press(key)

    async def write(self, text: str) -> None:
        """Type text."""
        await self.press(*("space" if character == " " else character for character in text))

    async def sees(self, *words: str) -> None:
        """Wait until all these words stand on the screen."""
        await wait_until(
            self.pilot,
            lambda: all(word in self.text for word in words),
            " and ".join(repr(word) for word in words),
        )

    async def sees_no_more(self, *words: str) -> None:
        """Wait until none of these words stands on the screen."""
        await wait_until(
            self.pilot,
            lambda: not any(word in self.text for word in words),
            f"a screen without {' or '.join(repr(word) for word in words)}",
        )

    async def later(self, **spans: float) -> None:
        """Let the clock go on, and the console notice."""
        self.clock.advance(**spans)
        self.app.tick()
        await self.pilot.pause()

    async def until(self, condition: Callable[[], bool], what: str, **step: float) -> None:
        """Let time pass in steps until the screen shows something."""
        for _ in range(200):
            if condition():
                return
            await self.later(**step)
        raise AssertionError(f"never came: {what}\n{self.text}")

    @property
    def text(self) -> str:
        """What stands on the screen."""
        return screen_text(self.app)


@asynccontextmanager
async def at_the_bench(
    path: Path,
    clock: ManualClock,
    size: tuple[int, int] = (120, 36),
    *,
    settling: bool = False,
    planning: bool = False,
) -> AsyncIterator[Person]:
    """The console started on a store, as the program starts it; the plan only if asked for."""
    app = BenchApp(
        lambda: bootstrap.open_console(path, clock=clock),
        ticking=False,
        settling=settling,
        planning=planning,
    )
    async with app.run_test(size=size, notifications=True) as pilot:
        person = Person(app, pilot, clock)
        await person.sees("Hides", "Mix", "Timers")
        yield person
