"""The keys of a screen as words to press, click or touch, on as many lines as there is room."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from textual.content import Content
from textual.widgets import Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.keynames import key_words

GAP = "  "


class KeyLine(Static):
    """Every act as "key Label"; what cannot be done now is dim.

    Low screens show the acts that are marked for the footer only.
    """

    def show(
        self, acts: Iterable[type[Act[Any]]], screen: ActScreen[Any], *, all_acts: bool
    ) -> None:
        """Draw these acts as they stand for the screen."""
        lines: list[Content] = []
        room = 0
        for act in acts:
            if act.own_line or not (all_acts or act.footer):
                continue
            words = _words(act, possible=screen.can(act))
            # Key and label stay on one line: split from its key a label names the wrong one.
            if words.cell_length + len(GAP) > room:
                lines.append(words)
                room = self.content_size.width - words.cell_length
            else:
                lines[-1] = Content.assemble(lines[-1], GAP, words)
                room -= words.cell_length + len(GAP)
        drawn = Content("\n").join(lines)
        if drawn != self.content:
            self.update(drawn)


def _words(act: type[Act[Any]], *, possible: bool) -> Content:
    key = key_words(act.keys).split(" or ")[0]
    text = Content.assemble((key, "bold $text-accent"), " ", act.label)
    if not possible:
        text = Content.styled(text.plain, "$text-muted 60%")
    return text.stylize(f"@click=screen.act('{act.__name__}')")
