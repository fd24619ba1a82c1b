"""An act is a class: name, keys, label and help of one thing a person can do, in one place.

Bindings, key line, help page and command palette are all made from these classes. Bench keys
have no modifiers, and ids (the class names) are never renamed once released, since a person's
own key map rests on them.
"""

from __future__ import annotations

import inspect
from collections.abc import Iterable
from time import monotonic
from typing import TYPE_CHECKING, Any, ClassVar, Generic, TypeVar, cast

from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen

from benchconsole.errors import BenchError

if TYPE_CHECKING:
    from benchconsole.console.app import BenchApp
    from benchconsole.console.widgets.lines import PasteRefused

HELD_S = 0.12
"""Presses closer than this come from a held key, which repeats some thirty times a second."""

S = TypeVar("S", bound="ActScreen[Any]")
R = TypeVar("R")


class Act(Generic[S]):
    """One thing a person can do on a screen of kind ``S``.

    The docstring of a subclass is its help. ``footer`` keeps it in the key line of the smallest
    screen. ``settle_s`` is how long the same key does nothing more after it: wet fingers bounce,
    and a held key repeats.
    """

    keys: ClassVar[str]
    label: ClassVar[str]
    footer: ClassVar[bool] = False
    settle_s: ClassVar[float] = 0.0
    has_button: ClassVar[bool] = True
    """Whether a page shows a button for it; the alarm line is the button of its own act."""
    records: ClassVar[bool] = False
    """Whether it writes to the history; refused while this console only looks on."""
    own_line: ClassVar[bool] = False
    """Whether a line of its own says when it can be done; the key line leaves it out."""
    while_typing: ClassVar[bool] = False
    """Whether the key also acts while an input has the focus (then it must type nothing)."""

    def possible(self, screen: S) -> bool:
        """Whether it can be done now; the key line greys it otherwise."""
        return True

    def run(self, screen: S) -> None:
        """Do it; a ``BenchError`` becomes one sentence on the screen."""
        raise AssertionError("an act says what it does")

    @classmethod
    def help(cls) -> str:
        """What the act does, in a sentence."""
        return inspect.getdoc(cls) or cls.label

    @classmethod
    def binding(cls) -> Binding:
        """The key binding that runs it."""
        return Binding(
            cls.keys,
            f"act('{cls.__name__}')",
            cls.label,
            show=cls.footer,
            id=cls.__name__,
            priority=cls.while_typing,
        )


class HearAlarm(Act["ActScreen[Any]"]):
    """Acknowledge what rings, from whatever screen is in front."""

    keys = "f9"
    label = "Heard, anywhere"
    has_button = False
    while_typing = True

    def run(self, screen: ActScreen[Any]) -> None:
        """Acknowledge it."""
        screen.tell(screen.console.alarm.hear()[1])


class TakeWritingOver(Act["ActScreen[Any]"]):
    """Record here from now on, once the console that recorded until now is closed."""

    keys = "f8"
    label = "Record here"
    has_button = False
    own_line = True
    while_typing = True

    def possible(self, screen: ActScreen[Any]) -> bool:
        """While this console only looks on."""
        return bool(screen.console.desk.refusal)

    def run(self, screen: ActScreen[Any]) -> None:
        """Take it over, or say who still has it."""
        screen.console.take_writing_over()


class ActScreen(Screen[R]):
    """A screen whose keys are acts."""

    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (HearAlarm, TakeWritingOver)
    BINDINGS: ClassVar[list[BindingType]] = [HearAlarm.binding(), TakeWritingOver.binding()]

    class Acted(Message):
        """Something was done; the state of the shop may be another."""

    def __init__(self) -> None:
        super().__init__()
        self._accepted = ("", 0.0)
        self._pressed_at = 0.0

    def __init_subclass__(cls, **options: Any) -> None:
        own = cls.__dict__.get("BINDINGS", [])
        cls.BINDINGS = [*own, *(act.binding() for act in cls.__dict__.get("ACTS", ()))]
        super().__init_subclass__(**options)

    @classmethod
    def acts(cls) -> tuple[type[Act[Any]], ...]:
        """All acts of the screen, inherited ones last."""
        found: dict[str, type[Act[Any]]] = {}
        for kind in cls.__mro__:
            for act in kind.__dict__.get("ACTS", ()):
                found.setdefault(act.__name__, act)
        return tuple(found.values())

    def action_act(self, name: str) -> None:
        """Run the act of that name; a person's mistake is told in a sentence."""
        act = next(act for act in self.acts() if act.__name__ == name)
        if act.records and (refusal := self.console.desk.refusal):
            self.refuse_recording(refusal)
            return
        pressed, now = f"{act.__name__} {self.pressed_for}", monotonic()
        if self._bounced(act, pressed, now):
            self.tell(f"“{act.label}” was pressed twice at once: it counts once.", fault=True)
            return
        try:
            act().run(self)
        except BenchError as fault:
            self.tell(str(fault), fault=True)
        else:
            self._accepted = (pressed, now)
            self.post_message(self.Acted())

    def can(self, act: type[Act[Any]]) -> bool:
        """Whether an act can be done now; it is greyed otherwise."""
        return not (act.records and self.console.desk.refusal) and act().possible(self)

    def refuse_recording(self, sentence: str) -> None:
        """Say why nothing is recorded here."""
        self.tell(sentence, fault=True)

    def on_screen_resume(self) -> None:
        """A console that only looks on says so on every screen from its first moment."""
        onlooker = getattr(self.app, "onlooker", None)
        if onlooker is not None:
            onlooker.show(self)

    def _bounced(self, act: type[Act[Any]], pressed: str, now: float) -> bool:
        """Whether this is the press before once more: soon after it, or the key still held."""
        before, self._pressed_at = self._pressed_at, now
        last, accepted_at = self._accepted
        if not getattr(self.app, "settling", False) or not act.settle_s or pressed != last:
            return False
        return now - accepted_at < act.settle_s or now - before < HELD_S

    @property
    def pressed_for(self) -> str:
        """What a press is about: the same key for another thing is another press."""
        return ""

    def act_commands(self) -> Iterable[SystemCommand]:
        """The acts as palette entries."""
        for act in self.acts():
            if self.can(act):
                yield SystemCommand(
                    act.label, act.help().splitlines()[0], lambda n=act.__name__: self.action_act(n)
                )

    def on_paste_refused(self, event: PasteRefused) -> None:
        """More was pasted than a line takes."""
        self.tell(str(event.fault), fault=True)

    def tell(self, sentence: str, *, fault: bool = False) -> None:
        """Show a sentence for a while."""
        self.app.notify(sentence, severity="warning" if fault else "information", timeout=4)

    @property
    def console(self) -> BenchApp:
        """The program, which holds the desk."""
        return cast("BenchApp", self.app)
