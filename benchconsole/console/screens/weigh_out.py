"""The weigh-out: one ingredient at a time in figures for two metres, every tap on disk first.

The screen holds nothing of the weighing itself. After each tap it asks the desk how the
weigh-out stands and draws that, so it resumes after any interruption where it was.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Footer, Static

from benchconsole.console.acts import ActScreen
from benchconsole.console.screens import weigh_out_acts as acts
from benchconsole.console.screens import weigh_out_pages as pages
from benchconsole.console.screens.weigh_out_scale import ScalePane, write
from benchconsole.console.screens.weigh_out_standing import Front, Standing
from benchconsole.console.screens.weigh_out_words import BatchWords, as_reading
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.reading_line import ReadingLine

if TYPE_CHECKING:
    from benchconsole.desk.views import WeighOutView
    from benchconsole.model.weighing import Liquor


class WeighOutScreen(ActScreen[str | None]):
    """Works one weigh-out down; ends with the id of the liquor, or None when it was left.

    No button takes the focus: enter always means the reading, whatever was touched last.
    """

    ACTS = acts.WEIGH_OUT_ACTS
    AUTO_FOCUS: ClassVar[str | None] = ""

    scale = query_one("#scale", ScalePane)
    words_page = query_one("#words-page", VerticalScroll)
    reading = query_one("#reading", ReadingLine)

    def __init__(self, weigh_out_id: str) -> None:
        super().__init__()
        self._weigh_out = weigh_out_id
        self._view: WeighOutView | None = None
        self._version = -1
        self._front: Front = ""
        self._parts_begun: set[str] = set()
        self._cautions_read = False
        self._liquor: Liquor | None = None
        self._said = ("", False)
        self.asks_zero = False

    def compose(self) -> ComposeResult:
        """One frame for every state: nothing is mounted or taken away while weighing."""
        yield Static(id="weigh-head", markup=False)
        yield ScalePane(id="scale")
        with VerticalScroll(id="words-page"):
            yield Static(id="words", markup=False)
        yield Static(id="said", markup=False)
        with Horizontal(id="buttons"):
            for act in pages.BUTTONS:
                yield pages.ActButton(act)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """Show the cautions before the first tap, else the tap it was left at."""
        view = self._look()
        if view.weigh_out.ended_at is not None:
            liquor = view.weigh_out.liquor
            self.call_later(lambda: self.dismiss(liquor or None))
            return
        self._cautions_read = bool(view.weigh_out.taps) or not view.weigh_out.plan.cautions
        self._front = "" if self._cautions_read else "cautions"
        self._draw()

    def look_again(self) -> None:
        """Draw again if anything has changed in the shop."""
        if self._view is None or self._version == self.console.desk.version:
            return
        weigh_out = self._look().weigh_out
        if weigh_out.ended_at is not None and self._front != "record":
            # It was ended at another console, which this one follows.
            self.dismiss(weigh_out.liquor or None)
            return
        self._draw()

    def on_resize(self) -> None:
        """Lines and header are cut to the width."""
        if self._view is not None:
            self._draw()

    def on_key(self, event: events.Key) -> None:
        """Typing a reading begins anywhere; every other key is an act.

        Acts are done here and now, not by way of the app: over a slow line several keys come
        at once, and enter must send what was typed before it, not what comes after.
        """
        if self.stands.at_the_scale and self.reading.take(event):
            if refusal := self.console.desk.refusal:
                self.reading.clear()
                self.tell(refusal, fault=True)
            else:
                self._said = ("", False)
                self._draw()
        elif not self._act_on(event.key):
            return
        event.stop()
        event.prevent_default()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Whether an act fits the page in front: no stray key ends or changes a weigh-out."""
        if action == "act":
            act = next((act for act in self.acts() if act.__name__ == parameters[0]), None)
            return True if act is not None and act().possible(self) else None
        return super().check_action(action, parameters)

    def _act_on(self, key: str) -> bool:
        bound = self.active_bindings.get(key)
        if bound is None or bound.node is not self or not bound.enabled or not bound.binding.id:
            return False
        self.action_act(bound.binding.id)
        return True

    # --- how things stand, as the acts ask it -----------------------------------------------

    @property
    def view(self) -> WeighOutView:
        """The weigh-out at its present tap."""
        assert self._view is not None, "the screen has not looked yet"
        return self._view

    @property
    def words(self) -> BatchWords:
        """The words of this plan in the shop's measures."""
        return BatchWords(self.view.weigh_out.plan, self.console.desk.shop.measures)

    @property
    def stands(self) -> Standing:
        """Which page is in front, and what can be done there."""
        typed = self.reading.typed if self._view is not None else ""
        return Standing(self._view, self._front, frozenset(self._parts_begun), typed)

    # --- what the acts do --------------------------------------------------------------------

    def tap(self, give: Callable[[str], WeighOutView]) -> None:
        """Give the desk a tap, then show how the weigh-out stands; a refusal changes nothing."""
        give(self._weigh_out)
        self._said = ("", False)
        self._front, self._liquor = "", None
        self.asks_zero = False
        self.reading.clear()
        self._look()
        self._draw()

    def enter(self) -> None:
        """Accept the target, send what was typed, or turn the page."""
        if self.stands.page == "record":
            self.dismiss(self._liquor.id if self._liquor else None)
            return
        if self.stands.at_the_scale:
            self._enter_reading()
            return
        if self.stands.page == "part" and self.view.pour is not None:
            self._parts_begun.add(self.view.pour.planned.part)
        self._front, self._cautions_read = "", True
        self._draw()

    def _enter_reading(self) -> None:
        out = self.console.desk.weigh_outs
        typed = as_reading(self.reading.typed, self.view.weigh_out.plan.scale)
        if self.asks_zero and not typed:
            self.asks_zero = False
            self.tell("The zero stays as it was.")
        elif self.asks_zero:
            self.tap(lambda name: out.set_zero(name, typed))
        elif typed:
            self.tap(lambda name: out.read(name, typed))
        else:
            self.tap(out.accept)

    def ask_zero(self) -> None:
        """Let the next number typed be the leftover zero."""
        self.asks_zero = True
        self._draw()

    def put_in_front(self, page: Front) -> None:
        """Bring a page of words before the weighing."""
        self._front = page
        self._draw()

    def give_up(self) -> None:
        """End the weigh-out with nothing made."""
        self.console.desk.weigh_outs.give_up(self._weigh_out)
        self.dismiss(None)

    def finish(self) -> None:
        """Record what was made, and show it."""
        self._liquor = self.console.desk.weigh_outs.finish(self._weigh_out)
        self.put_in_front("record")

    def go_back(self) -> None:
        """Wipe what is typed, turn back a page, or leave the weigh-out at this tap."""
        if self.stands.page == "record":
            self.enter()
        elif self.stands.is_typing or self.asks_zero or self._front == "giving up":
            self._front, self.asks_zero = "", False
            self.reading.clear()
            self._draw()
        elif self._front == "cautions" and self._cautions_read:
            self.enter()
        else:
            self.dismiss(None)

    def tell(self, sentence: str, *, fault: bool = False) -> None:
        """Say it in the screen itself, where the eyes are, until the next tap."""
        self._said = (plain(sentence), fault)
        self._draw()

    # --- drawing -------------------------------------------------------------------------------

    def _look(self) -> WeighOutView:
        desk = self.console.desk
        view: WeighOutView = desk.weigh_outs.view(self._weigh_out)
        self._view = view
        self._version = desk.version
        if view.pour is not None:
            # Undone back to an earlier part: its page is due again when it is turned to.
            lines = view.weigh_out.plan.lines
            self._parts_begun &= {line.part for line in lines[: view.pour.line + 1]}
        return view

    def _draw(self) -> None:
        stands, page = self.stands, self.stands.page
        self.set_class(page == "over", "-over")
        self.set_class(page == "pour" and stands.is_off, "-off")
        self.scale.display = stands.at_the_scale
        self.words_page.display = not stands.at_the_scale
        width = max(self.size.width - 2, 20)
        said, fault = self._said
        said = f"✗ {said}" if fault else said
        write(self, "#weigh-head", pages.head(self.words, self.view, width))
        if stands.at_the_scale:
            self.scale.show(self.words, self.view, asks_zero=self.asks_zero, said=said, width=width)
        else:
            names = {s.id: s.name for s in self.console.desk.library.substances.values()}
            text = pages.page_text(page, self.words, self.view, self._liquor, names, width)
            write(self, "#words", text)
        write(self, "#said", Content(said))
        # While pouring it stands in the band's place, so that the figure keeps its size.
        self.query_one("#said").display = bool(said) and page != "pour"
        self._draw_buttons(stands)
        # Only what scrolls is ever focused.
        scrolls = self.scale.choices if page == "over" else self.words_page
        self.set_focus(None if page == "pour" else scrolls)
        self.refresh_bindings()

    def _draw_buttons(self, stands: Standing) -> None:
        for button in self.query(pages.ActButton):
            button.disabled = not self.can(button.act)
            if button.parent is not None and button.parent.id == "buttons":
                button.set_class(button.act not in pages.PAGE_BUTTONS[stands.page], "-away")
                button.label = pages.button_label(button.act, stands.page, stands.is_typing)
