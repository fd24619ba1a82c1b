"""Scrolling the picture of a plan of sixty hides over thirty-five days, in every size and step.

``python tests/benchmarks/timeline.py`` prints the processor time of one repaint of all lines: the
layout of every line that is seen and its strip, after a scroll by a quarter of the width.
"""

from __future__ import annotations

import asyncio
import sys
from datetime import UTC, datetime
from pathlib import Path
from statistics import median
from time import process_time

from benchconsole.console.screens.timeline import TimelineScreen
from benchconsole.console.widgets.timeline_ruler import STEP_WORDS, STEPS

sys.path.insert(0, str(Path(__file__).parents[2]))
from tests.console.small_plan import small_plan
from tests.console.small_shop import showing, small_shop

HIDES, DAYS, TURNS = 60, 35, 40
SIZES = ((80, 24), (120, 36), (200, 60))


async def measure(size: tuple[int, int]) -> None:
    """Print a line for every step of the ruler."""
    desk, _ = small_shop()
    plan = small_plan(datetime(2026, 3, 18, 13, 20, tzinfo=UTC), hides=HIDES, days=DAYS, hands=12)
    screen = TimelineScreen(lambda: plan)
    async with showing(screen, desk, size) as (_, pilot):
        await pilot.pause()
        timeline = screen.timeline
        timeline.zoom(-len(STEPS))
        for step in STEP_WORDS:
            spent = []
            for turn in range(TURNS):
                before = process_time()
                timeline.scroll_quarters(-1 if turn % 2 else 1)
                for y in range(timeline.size.height):
                    timeline.render_line(y)
                spent.append(1000 * (process_time() - before))
            lines = timeline.size.height
            print(
                f"{size[0]}x{size[1]}  {step:<7} {lines} lines  {median(spent):5.2f} ms a repaint"
            )
            timeline.zoom(1)


def main() -> int:
    """Print how much there is to draw, then the times."""
    plan = small_plan(datetime(2026, 3, 18, 13, 20, tzinfo=UTC), hides=HIDES, days=DAYS, hands=12)
    print(f"{HIDES} hides, {len(plan.visits)} visits, {len(plan.rounds)} rounds")
    for size in SIZES:
        asyncio.run(measure(size))
    return 0


if __name__ == "__main__":
    sys.exit(main())
