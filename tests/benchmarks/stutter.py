"""How long the console stands still while the plan of sixty hides is worked out beside it.

``python tests/benchmarks/stutter.py [HIDES]`` runs the console without a terminal over a made-up
shop. A heart beats on its event loop every few milliseconds; a beat that comes late was kept
waiting. It prints the latest beats and how long a key took from press to the screen's answer:
at rest, while a plan is worked out for the first time (numpy is loaded then), and while it is
worked out again. The last line tells how long leaving takes in the midst of it.
"""

from __future__ import annotations

import asyncio
import statistics
import sys
from collections.abc import Sequence
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from textual import events

from benchconsole.console import BenchApp
from benchconsole.console.panes.hide_list import HideList
from tests.benchmarks.rounds import bench_with

BEAT_S = 0.004
REST_S = 2.0
KEY_EVERY_S = 0.06


class Heart:
    """Beats on the loop; how late each beat came, in milliseconds."""

    def __init__(self) -> None:
        self.late_ms: list[float] = []

    async def beat(self) -> None:
        """Beat until cancelled."""
        while True:
            due = perf_counter() + BEAT_S
            await asyncio.sleep(BEAT_S)
            self.late_ms.append(1000 * (perf_counter() - due))

    def told(self) -> str:
        """The worst of them, and how many were late by more than 20 ms."""
        late = sorted(self.late_ms)
        beyond = sum(each > 20 for each in late)
        return (
            f"longest stall {late[-1]:5.1f} ms, 99 in 100 under {late[len(late) * 99 // 100]:4.1f} "
            f"ms, {beyond} of {len(late)} over 20 ms"
        )


async def answered_ms(app: BenchApp, key: str) -> float:
    """How long a key takes until the choice has moved, in milliseconds."""
    hides = app.screen.query_one(HideList)
    chosen, at = hides.chosen, perf_counter()
    app.post_message(events.Key(key, None))
    while hides.chosen == chosen:
        await asyncio.sleep(0)
    return 1000 * (perf_counter() - at)


async def watched(name: str, app: BenchApp, until: str) -> None:
    """Print what the heart and the keys tell, at rest or until the plan is there."""
    heart, keys = Heart(), []
    beating = asyncio.create_task(heart.beat())
    began = perf_counter()
    while True:
        await asyncio.sleep(KEY_EVERY_S)
        keys.append(await answered_ms(app, "up" if len(keys) % 2 else "down"))
        taken = perf_counter() - began
        if taken >= REST_S if until == "rest" else app.desk.planning.current is not None:
            break
    beating.cancel()
    print(f"{name:<12} {taken:5.2f} s  {heart.told()}")
    print(
        f"{'':<12} {len(keys)} keys answered: median {statistics.median(keys):.1f} ms, "
        f"longest {max(keys):.1f} ms"
    )


async def measure(hides: int) -> None:
    """The whole run."""
    desk = bench_with(hides)
    app = BenchApp(lambda: desk, ticking=False, settling=False)
    async with app.run_test(size=(120, 36)) as pilot:
        while not (app.is_open and app.screen.is_mounted):
            await pilot.pause(0.01)
        await watched("first plan", app, "plan")
        await watched("at rest", app, "rest")
        for what in ("a tick", "after a tap"):
            if what != "a tick":
                desk.hides.note(desk.hides.ids()[0], "something happened")
            began = perf_counter()
            app.look_again()
            print(f"{what:<12} {1000 * (perf_counter() - began):5.1f} ms to draw everything")
        for _ in range(2):
            desk.hides.note(desk.hides.ids()[0], "something happened")
            app.keep_plan()
            await watched("plan again", app, "plan")
        desk.hides.note(desk.hides.ids()[0], "something happened again")
        app.keep_plan()
        await asyncio.sleep(0.3)
        left = perf_counter()
    print(f"{'left':<12} {perf_counter() - left:5.2f} s in the midst of planning")


def main(arguments: Sequence[str] = ()) -> int:
    """Print the figures."""
    hides = int(arguments[0]) if arguments else 60
    began = perf_counter()
    asyncio.run(measure(hides))
    print(f"{'whole run':<12} {perf_counter() - began:5.2f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
