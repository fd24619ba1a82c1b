"""The chosen hide's next action in full: the act, the window, what spoils, what to have ready."""

from __future__ import annotations

from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

from benchconsole.console.widgets.cells import plain
from benchconsole.console.wording import at_the_wall, relative

if TYPE_CHECKING:
    from benchconsole.library import Library
    from benchconsole.schedule import Action


class NextStep(Static):
    """The next action of one hide in words."""

    def show(
        self,
        action: Action | None,
        now: datetime,
        zone: tzinfo,
        library: Library,
        planned: str = "",
    ) -> None:
        """Draw it with what is ``planned`` in words; nothing for no hide."""
        self.display = action is not None and action.kind != "none"
        if action is None or not self.display:
            return
        self.border_title = Content(plain(action.hide_name))
        self.border_subtitle = "enter: all of it"
        content = next_step_content(action, now, zone, library, planned)
        # A second without news must not lay the pane out anew.
        if content != self.content:
            self.update(content)


def next_step_content(
    action: Action, now: datetime, zone: tzinfo, library: Library, planned: str = ""
) -> Content:
    """The action as styled lines, the most needed first."""
    lines = [Content.styled(plain(action.action), "bold")]
    if action.kind == "attend" and action.check:
        lines.append(Content(f"v if passed already: {plain(action.check)}"))
    due = f"due {at_the_wall(action.due, now, zone)} ({relative(action.due, now)})"
    if action.state == "stored":
        due = "in store: start when it suits"
    latest = ""
    if action.latest is not None:
        latest = f" · latest {at_the_wall(action.latest, now, zone)}"
    lines.append(Content(due + latest))
    if planned:
        lines.append(Content.styled(plain(planned), "$text-accent"))
    if action.mix:
        formula = library.formulas.get(action.mix)
        lines.append(Content(f"m: the mix, {plain(formula.name if formula else action.mix)}"))
    if action.state == "overdue" and action.inspect:
        lines.append(Content.styled(f"▲ {plain(action.inspect)}", "$text-error"))
    if action.needs:
        lines.append(Content(f"ready: {plain(', '.join(action.needs))}"))
    if action.spoils:
        lines.append(Content.styled(f"late: {plain(action.spoils)}", "$text-muted"))
    if action.why:
        lines.append(Content.styled(plain(action.why), "$text-muted"))
    return Content("\n").join(lines)
