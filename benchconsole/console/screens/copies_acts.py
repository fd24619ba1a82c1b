"""What a person can do at the bench about the backup copies of the shop."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen


class ShowCopies(Act["BenchScreen"]):
    """The backup copies: what each holds, what putting it back would change, and doing it."""

    keys = "f7"
    label = "Copies"

    def run(self, screen: BenchScreen) -> None:
        """Open the list; a copy that was put back is another shop to look at."""
        from benchconsole.console.screens.copies import CopiesScreen

        def left(sentence: str | None) -> None:
            if sentence and screen.mix.hide not in screen.console.desk.hides.ids():
                screen.mix.hide = ""
            screen.look_again()
            if sentence:
                screen.mix.settings_changed()
                screen.answered("", sentence)

        screen.app.push_screen(CopiesScreen(), left)
