"""The pieces the weigh-out screen is drawn from: header, list, pages of words, buttons."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from textual.content import Content
from textual.widgets import Button

from benchconsole.console.acts import Act
from benchconsole.console.screens import weigh_out_acts as acts
from benchconsole.console.screens.weigh_out_words import (
    LINE_STATES,
    BatchWords,
    LineWords,
    called,
    into,
    part_of,
    share,
)
from benchconsole.console.widgets.cells import fitted, plain
from benchconsole.desk.views import WeighOutView
from benchconsole.model.weighing import Liquor
from benchconsole.quantities import format_strength, format_temperature, format_volume

BUTTONS: tuple[type[Act[Any]], ...] = (
    acts.ConfirmGivingUp,
    acts.AcceptReading,
    acts.CarryOnAsItIs,
    acts.UndoTap,
    acts.StartBowlAgain,
    acts.SetLeftoverZero,
    acts.ChangeBowlMode,
    acts.ShowCautions,
    acts.GiveUpWeighOut,
    acts.LeaveWeighOut,
    acts.FinishWeighOut,
)
"""From left to right. What ends something stands where no hurried second tap can meet it."""

_ASIDE = (acts.ShowCautions, acts.GiveUpWeighOut, acts.LeaveWeighOut)
PAGE_BUTTONS: dict[str, tuple[type[Act[Any]], ...]] = {
    "cautions": (acts.AcceptReading, acts.LeaveWeighOut),
    "pour": (
        acts.AcceptReading,
        acts.CarryOnAsItIs,
        acts.UndoTap,
        acts.StartBowlAgain,
        acts.SetLeftoverZero,
        acts.ChangeBowlMode,
        *_ASIDE,
    ),
    "over": (acts.UndoTap, *_ASIDE),
    "part": (acts.AcceptReading, acts.UndoTap, *_ASIDE),
    "done": (acts.UndoTap, *_ASIDE, acts.FinishWeighOut),
    "giving up": (acts.ConfirmGivingUp, acts.AcceptReading),
    "record": (acts.AcceptReading,),
}
"""The acts with a button on each page; they keep their places whether or not they can be done."""

_KEYS = {"enter": "↵", "escape": "esc"}
_ENTER = {
    "cautions": "Understood",
    "part": "Go on",
    "giving up": "No, go on weighing",
    "record": "Close",
}
_LESS = (acts.SetLeftoverZero, acts.ShowCautions)
_LEAST = (acts.StartBowlAgain, acts.ChangeBowlMode, acts.GiveUpWeighOut)


class ActButton(Button, can_focus=False):
    """A button for wet fingers that does an act and never takes the focus."""

    def __init__(self, act: type[Act[Any]]) -> None:
        more = "-least" if act in _LEAST else "-less" if act in _LESS else ""
        super().__init__(
            button_label(act, "", False),
            classes=f"bench-act {more}",
            action=f"screen.act('{act.__name__}')",
        )
        self.act = act


def button_label(act: type[Act[Any]], page: str, typing: bool) -> Content:
    """Key and name of an act as its button shows them."""
    label = act.label
    if act is acts.AcceptReading:
        label = "Send" if typing else _ENTER.get(page, label)
    return Content(f"{_KEYS.get(act.keys, act.keys)} {label}")


def head(words: BatchWords, view: WeighOutView, width: int) -> Content:
    """The top line: what is made for what, how the bowl stands, which step."""
    plan, bench = view.weigh_out.plan, view.bench
    tail = [f"all {len(plan.lines)} in"]
    at = view.pour.line if view.pour else view.over.line if view.over else None
    if at is not None:
        tail = [f"step {at + 1} of {len(plan.lines)}"]
        if plan.lines[at].by == "scale":
            tail.insert(0, "bowl stays on" if bench.mode == "cumulative" else "zero each time")
    if bench.zero_g:
        tail.insert(0, f"zero {words.reading(bench.zero_g)}")
    right = " · ".join(tail)
    left = plain(f"{plan.formula_name}: {plan.target}")
    return Content(f"{fitted(left, max(width - len(right) - 2, 8))}  {right}")


def reading_words(words: BatchWords, view: WeighOutView, asks_zero: bool) -> tuple[str, str]:
    """Prompt of the reading line, and what it says while nothing is typed."""
    if asks_zero:
        return "With the empty bowl on, the scale shows:", "type it; escape leaves it"
    if view.over is not None:
        return "Taken some out?", "type the new reading"
    if view.pour is None:
        return "", ""
    if view.pour.planned.by == "jug":
        example = words.amount(view.pour.planned, view.pour.aim_g)
        return "Poured:", f"↵ that much, or type what went in: {example}"
    if view.pour.too_fine:
        return "Reading:", "↵ it is in, or type what the scale shows"
    how = " (2 8.05 is 2 lb 8.05 oz)" if view.weigh_out.plan.scale.shows == "lb oz" else ""
    return "Reading:", f"↵ exactly that, or type what it shows{how}"


def line_list(lines: Sequence[LineWords], width: int) -> Content:
    """The lines of the plan with mark, word, amount and deviation."""
    room = min(max((len(line.name) for line in lines), default=8), max(width // 3, 8))
    rows: list[Content | str | tuple[str, str]] = []
    for line in lines:
        mark, word = LINE_STATES[line.state]
        text = f"{mark} {word:<8} {fitted(line.name, room)}  {line.amount}"
        tail = f"  {line.off}" if line.off else ""
        style = "bold" if line.state in ("now", "over", "top-up") else ""
        rows += ["\n"] if rows else []
        rows.append((fitted(text, max(width - len(tail), 10)).rstrip() + tail, style))
    return Content.assemble(*rows)


def page_text(
    page: str,
    words: BatchWords,
    view: WeighOutView,
    liquor: Liquor | None,
    substance_names: Mapping[str, str],
    width: int,
) -> Content:
    """The words of a page that stands in front of the scale."""
    plan = view.weigh_out.plan
    if page == "cautions":
        told = "\n\n".join(f"⚠ {plain(caution)}" for caution in plan.cautions)
        return _titled("Before you begin", told)
    if page == "giving up":
        return _titled(
            "Give up this weigh-out?",
            "Nothing will be recorded as made; what is in bowl and tub is forgotten.\n\n"
            "Only to stop for now, go back and leave with escape: then it waits at this tap.",
        )
    if page == "record" and liquor is not None:
        return _record(words, liquor, words.coats(view), substance_names, width)
    if page == "part" and view.pour is not None:
        before = part_of(plan, view.pour.line - 1)
        after = into(part_of(plan, view.pour.line))
        told = f"{plain(before.then)}\n\nNext: the {after}."
        return _titled(f"✓ The {called(before.name)} is weighed out", told)
    last = part_of(plan, len(plan.lines) - 1)
    listed = line_list(words.lines(view), width)
    coats = words.coats(view)
    told = "".join(f"{each}\n\n" for each in (plain(last.then), coats) if each)
    return Content.assemble(
        _titled("✓ Everything is in", f"{told}f records what was made.\n\n"), listed
    )


def _titled(title: str, text: str) -> Content:
    return Content.assemble((title.upper(), "bold"), "\n\n", text)


def _record(
    words: BatchWords,
    liquor: Liquor,
    coats: str,
    substance_names: Mapping[str, str],
    width: int,
) -> Content:
    rows = _made(words, liquor, substance_names)
    room = min(max(len(name) for name, _ in rows), max(width // 3, 8))
    told = "\n".join(f"{fitted(name, room)}  {much}" for name, much in rows)
    told += f"\n\n{coats}" if coats else ""
    told += "\n\nIt is kept; u takes that back and goes on weighing."
    return _titled(f"✓ {liquor.id}: {plain(liquor.formula_name)}", told)


def _made(
    words: BatchWords, liquor: Liquor, substance_names: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    """The record in (what, how much) rows."""
    rows = []
    for planned, made in zip(words.plan.lines, liquor.lines, strict=True):
        off = share(made.deviation) if made.target_g else ""
        thrown = words.amount(planned, made.wasted_g)
        waste = f", {thrown} thrown away" if made.wasted_g else ""
        got, asked = (words.amount(planned, g) for g in (made.actual_g, made.target_g))
        rows.append((called(made.name), f"{got}   asked {asked}   {off}{waste}"))
    if liquor.volume_l:
        volume = format_volume(liquor.volume_l, measures=words.measures)
        water = format_temperature(liquor.water_celsius, measures=words.measures)
        rows.append(("volume", f"{volume}, water at {water}"))
    for strength in liquor.strengths:
        name = substance_names.get(strength.substance, strength.substance)
        rows.append((f"strength of {called(name)}", format_strength(strength.g_per_l)))
    return tuple(rows)
