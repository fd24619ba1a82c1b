"""A worksheet as styled text for the mix pane."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content

from benchconsole.console.widgets.cells import plain
from benchconsole.exchange.printed import ph_checks
from benchconsole.mixing.degrees import degrees_words
from benchconsole.quantities import (
    format_strength,
    format_temperature,
    format_volume,
)

if TYPE_CHECKING:
    from benchconsole.mixing.worksheet import PartSheet, Worksheet
    from benchconsole.model.shop import Shop


def worksheet_content(sheet: Worksheet, shop: Shop, hide_name: str = "") -> Content:
    """The lines part by part, faults, what it makes, checks, hold, cautions, sources."""
    blocks: list[Content] = []
    faults = [check for check in sheet.checks if not check.ok]
    if sheet.formula.own:
        blocks.append(Content.styled(plain(sheet.title), "$text-muted"))
    if hide_name:
        blocks.append(Content.assemble("for ", (plain(hide_name), "bold")))
    if faults:
        more = "warning" if len(faults) == 1 else "warnings"
        blocks.append(
            Content.styled(f"▲ {len(faults)} {more}, told under the lines", "bold $text-warning")
        )
    blocks += [_part(part, many=len(sheet.parts) > 1) for part in sheet.parts]
    blocks += [Content.styled(f"▲ {plain(check.says)}", "$text-warning") for check in faults]
    blocks += _made(sheet, shop)
    if sheet.coats is not None:
        blocks.append(Content(sheet.coats.says))
    fine = [check for check in sheet.checks if check.ok and check not in ph_checks(sheet)]
    blocks += [Content.styled(f"✓ {plain(check.says)}", "$text-muted") for check in fine]
    formula = sheet.formula
    for title, words in (("Hold", formula.hold), ("Done when", formula.done_when)):
        if words:
            blocks.append(Content.assemble((f"{title}: ", "bold"), plain(words)))
    blocks += [Content(f"· {plain(note)}") for note in formula.notes]
    blocks.append(Content.styled("Cautions", "bold"))
    blocks += [Content(f"• {plain(caution)}") for caution in sheet.cautions]
    blocks.append(Content.styled("Sources", "bold"))
    blocks += [Content.styled(f"· {plain(source)}", "$text-muted") for source in sheet.sources]
    return Content("\n").join(blocks)


def _part(part: PartSheet, *, many: bool) -> Content:
    lines: list[Content] = []
    if many:
        lines.append(Content.styled(f"{plain(part.name)} ({plain(part.container)})", "bold"))
    for line in part.lines:
        lines.append(
            Content.assemble("  ", (plain(line.name), ""), "  ", (line.show, "bold $text-accent"))
        )
        how = f"scale {line.reading}" if line.reading else "by the jug"
        also = f" · {line.also}" if line.also else ""
        lines.append(Content.styled(f"  {how}{also}", "$text-muted"))
        if line.pack:
            lines.append(Content.styled(f"  from the pack: {plain(line.pack)}", "$text-muted"))
    if part.then:
        lines.append(Content.styled(f"  → {plain(part.then)}", "italic"))
    return Content("\n").join(lines)


def _made(sheet: Worksheet, shop: Shop) -> list[Content]:
    factor = f"{sheet.factor:.4g} × the recipe"
    if sheet.liquor is None:
        return [Content.assemble(("Dry mix", "bold"), f" · {factor}")]
    volume = format_volume(sheet.liquor.volume_l, measures=shop.measures)
    at = format_temperature(sheet.liquor.celsius, measures=shop.measures)
    names = {line.substance: line.name for line in sheet.lines}
    strengths = " · ".join(
        f"{plain(names[s.substance])} {format_strength(s.g_per_l)}" for s in sheet.liquor.strengths
    )
    makes = f" at {at} · {factor}\n{strengths}".rstrip()
    degrees = sheet.liquor.degrees
    told = [degrees_words(degrees, shop.measures)] if degrees is not None else []
    told += [check.says for check in ph_checks(sheet)]
    return [
        Content.assemble(("Makes ", ""), (volume, "bold"), makes),
        *(Content(plain(words)) for words in told),
    ]
