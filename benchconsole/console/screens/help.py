"""Help, made from the acts of the screen it was asked on, so that it is never out of date."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.keynames import key_words
from benchconsole.console.screens import bench_acts, hide_acts, timer_acts
from benchconsole.console.screens.pages import HelpOnPage, LeavePage, PageScreen
from benchconsole.console.screens.round import GoRound
from benchconsole.console.widgets.paper import BLANK, Look, Written
from benchconsole.console.wording import MARKS, WORDS

MEANINGS = {
    "overdue": "past the latest time: look at it before anything else",
    "due": "wants doing now",
    "ready": "may be done now, need not be yet",
    "waiting": "too early; the hide works on its own",
    "stored": "keeps; begin when it suits you",
    "finished": "the piece is done",
    "out": "taken out of work; its card stays",
}
"""What each state asks of a person."""

LOOKS: dict[str, Look] = {"overdue": "overdue", "due": "due", "ready": "ready"}

FIRST_STEPS: tuple[tuple[type[Act[Any]], str], ...] = (
    (bench_acts.SetUpShop, "say what measures, scale and open hours are yours"),
    (bench_acts.TakeIn, "take in a hide: its name, species and route"),
    (hide_acts.MixForHide, "bring up the mix that its next action needs"),
    (bench_acts.WeighOut, "weigh it out, ingredient by ingredient"),
    (hide_acts.Done, "done: the hide is in, and its wait begins"),
    (timer_acts.NewTimer, "set a timer for anything else"),
)


class HelpScreen(PageScreen):
    """Every key of one kind of screen, and what the marks mean."""

    ACTS = (LeavePage,)

    def __init__(self, screen_kind: type[ActScreen[Any]]) -> None:
        super().__init__()
        self._kind = screen_kind

    @classmethod
    def acts(cls) -> tuple[type[Act[Any]], ...]:
        """The way back alone: help has no help of its own."""
        return tuple(act for act in super().acts() if act is not HelpOnPage)

    def heading(self) -> str:
        """What it helps with."""
        words = re.findall("[A-Z][a-z]*", self._kind.__name__.removesuffix("Screen"))
        return f"Help  ·  {' '.join(words).capitalize()}"

    def left(self) -> Sequence[Written]:
        """First steps for an empty shop, then the keys."""
        lines: list[Written] = []
        if self._shop_is_empty():
            lines += [Written("FIRST STEPS, on the bench", "head")]
            lines += [
                Written(f"{key_words(act.keys)}  {step}", hang=3) for act, step in FIRST_STEPS
            ]
            lines += [BLANK]
        lines += [Written("KEYS, or a tap on the button", "head")]
        acts = self._kind.acts()
        width = max((len(key_words(act.keys)) for act in acts), default=0) + 2
        return [*lines, *(_act(act, width) for act in acts)]

    def right(self) -> Sequence[Written]:
        """The marks."""
        heard, go = key_words(bench_acts.HearTimer.keys), key_words(GoRound.keys)
        lines = [Written("MARKS", "head")]
        lines += [
            Written(f"{MARKS[state]} {WORDS[state]:<10} {meaning}", LOOKS.get(state, "text"), 13)
            for state, meaning in MEANINGS.items()
        ]
        return [
            *lines,
            Written(f"◆ ringing    a timer has ended: {heard} says that you heard it", hang=13),
            Written("◷ running    a timer counts down", hang=13),
            Written(f"↻ round      when the next is due: {go} walks it", hang=13),
            BLANK,
            Written("Every mark stands with its word; colour adds nothing to it."),
            Written("Ctrl and p together open a list of everything that can be done here."),
        ]

    def _shop_is_empty(self) -> bool:
        return bool(self.console.is_open) and not self.console.desk.hides.rows()


def _act(act: type[Act[Any]], width: int) -> Written:
    words = " ".join(act.help().split())
    return Written(f"{key_words(act.keys):<{width}}{act.label}: {words}", hang=width)
