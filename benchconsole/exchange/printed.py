"""Worksheets and day sheets as plain text, for a terminal or a printer."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo

from benchconsole.exchange.marks import STATE_MARKS, STATE_WORDS
from benchconsole.exchange.wrapping import wrapped
from benchconsole.letters import cells, padded, shown
from benchconsole.mixing.checks import Check
from benchconsole.mixing.degrees import degrees_words
from benchconsole.mixing.working import plain
from benchconsole.mixing.worksheet import Line, PartSheet, Worksheet
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_strength, format_temperature, format_volume
from benchconsole.schedule import Action, by_due
from benchconsole.schedule.wording import at_the_wall

WIDTH = 78
_MARGIN = " " * 3
_GAP = 2
_UNDER = " " * 12


# --- worksheet ------------------------------------------------------------------------


def worksheet_text(sheet: Worksheet, shop: Shop) -> str:
    """A worksheet to follow on paper."""
    water = f"water at {format_temperature(sheet.water_celsius, measures=shop.measures)}"
    if sheet.factor != 1.0:
        water = f"{plain(sheet.factor)} times the recipe as written; {water}"
    title = _wrapped(f"{sheet.title} — {sheet.target_says}", "", _MARGIN)
    out = [*title, f"{_capital(water)}.", ""]
    for number, part in enumerate(sheet.parts, start=1):
        out += _part_lines(number if len(sheet.parts) > 1 else None, part)
    faults = [f"!!  {check.says}" for check in sheet.checks if not check.ok]
    out += _listed("These ask for your attention", faults)
    out += _liquor_lines(sheet, shop)
    out += [*_wrapped(sheet.coats.says, "", _MARGIN), ""] if sheet.coats else []
    fine = [check for check in sheet.checks if check.ok and check not in ph_checks(sheet)]
    out += _listed("Checks", [f"ok  {check.says}" for check in fine])
    for head, words in (("Hold", sheet.formula.hold), ("Done when", sheet.formula.done_when)):
        out += [*_wrapped(f"{head}: {words}", "", _MARGIN), ""] if words else []
    out += _listed("Cautions", [f"-   {caution}" for caution in sheet.cautions])
    out += _listed("Sources", [f"-   {source}" for source in sheet.sources])
    return "\n".join(out[:-1]) + "\n"


def ph_checks(sheet: Worksheet) -> tuple[Check, ...]:
    """What is told of the pH: it stands with the strengths, not among the checks."""
    return tuple(check for check in sheet.checks if check.code in ("ph", "ph-not-known"))


def _part_lines(number: int | None, part: PartSheet) -> list[str]:
    named = part.name and part.name != part.container
    if number is None:
        out = [shown(_capital(part.container))]
    else:
        name = f"{number}. {_capital(part.name)}"
        out = [shown(f"{name} ({part.container})" if named else name)]
    out += _table(part.lines)
    if _counts_on(part.lines):
        out.append(f"{_MARGIN}The scale counts on: leave the bowl on it.")
    for words in (part.do, part.then):
        out += _wrapped(words, _MARGIN, _MARGIN)
    return [*out, ""]


def _counts_on(lines: Sequence[Line]) -> bool:
    """Whether a reading holds what went into the bowl before its own line."""
    before_g = 0.0
    for line in lines:
        if line.reading_g is not None:
            if 2.0 * (line.reading_g - line.mass_g) > before_g > 0.0:
                return True
            before_g += line.mass_g
    return False


def _table(lines: Sequence[Line]) -> list[str]:
    """Name, amount and reading in columns as wide as what stands in them; nothing is cut."""
    names = {line: shown(line.name) for line in lines}
    under = " " * (len(_MARGIN) + _GAP + max(map(cells, names.values()), default=0))
    readings = {
        line: f"scale reads {line.reading}" if line.reading else "by the jug" for line in lines
    }
    room = WIDTH - len(under) - _GAP - max(map(len, readings.values()), default=0)
    # An amount in many jugs can be too long for its column; its reading then stands below it.
    show_wide = max((len(line.show) for line in lines if len(line.show) <= room), default=0)
    out = []
    for line in lines:
        name = padded(f"{_MARGIN}{names[line]}", len(under))
        if len(line.show) <= room:
            out.append(f"{name}{line.show.ljust(show_wide + _GAP)}{readings[line]}")
        else:
            out += [*_wrapped(line.show, name, under), f"{under}{readings[line]}"]
        out += _wrapped(f"({line.also})" if line.also else "", under, under)
        out += _wrapped(f"from the pack: {line.pack}" if line.pack else "", under, under)
        out += _wrapped(line.note, under, under)
    return out


def _liquor_lines(sheet: Worksheet, shop: Shop) -> list[str]:
    if sheet.liquor is None:
        return []
    litres = "" if shop.measures == "metric" else f" ({plain(sheet.liquor.volume_l)} L)"
    out = [f"Makes {format_volume(sheet.liquor.volume_l, measures=shop.measures)}{litres}."]
    names = {line.substance: line.name for line in sheet.lines}
    strengths = ", ".join(
        f"{names.get(each.substance, each.substance)} {format_strength(each.g_per_l)}"
        for each in sheet.liquor.strengths
    )
    if strengths:
        out += _wrapped(f"Strength: {strengths}.", "", _MARGIN)
    if sheet.liquor.degrees is not None:
        out += _wrapped(degrees_words(sheet.liquor.degrees, shop.measures), "", _MARGIN)
    for check in ph_checks(sheet):
        out += _wrapped(check.says, "", _MARGIN)
    return [*out, ""]


def _listed(head: str, lines: Sequence[str]) -> list[str]:
    if not lines:
        return []
    return [head, *(row for line in lines for row in _wrapped(line, "", " " * 4)), ""]


# --- day sheet ------------------------------------------------------------------------


def day_sheet_text(actions: Sequence[Action], now: datetime, zone: tzinfo) -> str:
    """The next action of every unfinished hide in due order; finished ones in one last line."""
    local = now.astimezone(zone)
    out = [f"Day sheet, {local:%A} {local.day} {local:%B %Y, %H:%M}"]
    ordered = by_due(actions)
    if not actions:
        out += ["", "No hides yet. Open the console with “benchconsole” and take one in."]
    for action in ordered:
        if action.state != "finished":
            out += ["", *_action_lines(action, now, zone)]
    if finished := [action for action in ordered if action.state == "finished"]:
        mark, names = STATE_MARKS["finished"], ", ".join(each.hide_name for each in finished)
        out += ["", *_wrapped(f"{mark} {'FINISHED':<9} {names}", "", _UNDER)]
    return "\n".join(out) + "\n"


def _action_lines(action: Action, now: datetime, zone: tzinfo) -> list[str]:
    pressing = action.state in ("overdue", "due")
    mark, word = STATE_MARKS[action.state], STATE_WORDS[action.state]
    told = [action.action]
    if action.kind != "none":
        told.append(_times(action, now, zone))
    told.append(action.why)
    ready = [f"the mix {action.mix}"] if action.mix else []
    ready += action.needs
    told.append(f"Have ready: {', '.join(ready)}." if ready else "")
    told.append(f"If it is late: {_small(action.spoils)}" if action.spoils and pressing else "")
    told.append(f"Now inspect: {_small(action.inspect)}" if action.inspect else "")
    out = _wrapped(f"{mark} {word:<9} {action.hide_name}: {action.stage_name}", "", _UNDER)
    return out + [row for words in told for row in _wrapped(words, _UNDER, _UNDER)]


def _times(action: Action, now: datetime, zone: tzinfo) -> str:
    due = at_the_wall(action.due, now, zone)
    if action.state == "stored":
        return f"Begin by {due}."
    verb = "Was due" if action.due < now else "Due"
    latest = "" if action.latest is None else at_the_wall(action.latest, now, zone)
    return f"{verb} {due}, at the latest {latest}." if latest else f"{verb} {due}."


# --- the parts they share -------------------------------------------------------------


def _wrapped(text: str, first: str, rest: str) -> list[str]:
    return wrapped(text, WIDTH, first, rest)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]
