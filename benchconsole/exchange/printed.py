"""Worksheets and day sheets as plain text, for a terminal or a printer."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from datetime import datetime, tzinfo

from benchconsole.mixing.worksheet import PartSheet, Worksheet
from benchconsole.model.shop import Shop
from benchconsole.quantities import (
    format_number,
    format_strength,
    format_temperature,
    format_volume,
)
from benchconsole.schedule import Action

WIDTH = 78

STATE_MARKS: dict[str, tuple[str, str]] = {
    "overdue": ("▲", "OVERDUE"),
    "due": ("●", "DUE"),
    "ready": ("◐", "READY"),
    "waiting": ("○", "WAITING"),
    "stored": ("□", "IN STORE"),
    "finished": ("■", "FINISHED"),
}
"""A shape and a word for every state, so that nothing is told by colour alone."""


def worksheet_text(sheet: Worksheet, shop: Shop) -> str:
    """A worksheet to follow on paper."""
    water = format_temperature(sheet.water_celsius, measures=shop.measures)
    out = [
        f"{sheet.formula.name} — {sheet.target_says}",
        f"Factor {format_number(sheet.factor, 4)} of the recipe as written; water at {water}.",
        "",
    ]
    for number, part in enumerate(sheet.parts, start=1):
        out += _part_lines(number, part, many=len(sheet.parts) > 1)
    if sheet.liquor is not None:
        volume = format_volume(sheet.liquor.volume_l, measures=shop.measures)
        strengths = ", ".join(
            f"{_name(sheet, strength.substance)} {format_strength(strength.g_per_l)}"
            for strength in sheet.liquor.strengths
        )
        out.append(f"Makes {volume} ({format_number(sheet.liquor.volume_l, 3)} L)")
        if strengths:
            out.append(f"Strength: {strengths}")
        out.append("")
    for check in sheet.checks:
        out += _wrapped(f"{'ok' if check.ok else '!!'}  {check.says}", indent="    ")
    out += ["", "Cautions"]
    for caution in sheet.cautions:
        out += _wrapped(f"-   {caution}", indent="    ")
    out += ["", "Sources"]
    for source in sheet.sources:
        out += _wrapped(f"-   {source}", indent="    ")
    return "\n".join(out) + "\n"


def _part_lines(number: int, part: PartSheet, *, many: bool) -> list[str]:
    out = [f"{number}. {part.name} ({part.container})" if many else f"{part.container}"]
    for line in part.lines:
        reading = f"scale reads {line.reading}" if line.reading else "by the jug"
        out.append(f"   {line.name:<28.28} {line.show:<20} {reading}")
        if line.also:
            out.append(f"   {'':<28} ({line.also})")
    for words in (part.do, part.then):
        if words:
            out += _wrapped(f"   {words}", indent="   ")
    out.append("")
    return out


def _wrapped(text: str, *, indent: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent=indent)


def _name(sheet: Worksheet, substance: str) -> str:
    return next((line.name for line in sheet.lines if line.substance == substance), substance)


def day_sheet_text(actions: Sequence[Action], now: datetime, zone: tzinfo) -> str:
    """The next action of every hide, in the order given."""
    local = now.astimezone(zone)
    out = [f"Day sheet, {local:%A %d %B %Y, %H:%M}", ""]
    if not actions:
        out.append("No hides yet. Open the console with “benchconsole” and press i to take one in.")
    for action in actions:
        mark, word = STATE_MARKS[action.state]
        head = f"{mark} {word:<9} {action.hide_name}: {action.stage_name}"
        out += _wrapped(head, indent="            ")
        if action.kind == "none":
            continue
        out += _wrapped(f"            {action.action}", indent="            ")
        out.append(f"            due {_when(action.due, now, zone)}" + _limit(action, now, zone))
        if action.why:
            out += _wrapped(f"            {action.why}", indent="            ")
        if action.spoils and action.state in ("overdue", "due"):
            out += _wrapped(f"            Late: {action.spoils}", indent="            ")
    return "\n".join(out) + "\n"


def _limit(action: Action, now: datetime, zone: tzinfo) -> str:
    return "" if action.latest is None else f", latest {_when(action.latest, now, zone)}"


def _when(instant: datetime, now: datetime, zone: tzinfo) -> str:
    local, today = instant.astimezone(zone), now.astimezone(zone).date()
    if local.date() == today:
        return f"{local:%H:%M}"
    return f"{local:%a %d %b %H:%M}"
