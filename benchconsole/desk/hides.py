"""Hides at the desk: taking in, what next, and the taps that move them along their routes."""

from __future__ import annotations

from datetime import datetime

from benchconsole.desk.ids import hide_ids_used, named_id
from benchconsole.desk.landmarks import landmarks
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.ready_liquors import liquor_to_begin, liquors_of
from benchconsole.desk.seen import meant, refuse_old
from benchconsole.desk.story import story_of, told, walked
from benchconsole.desk.typed_lines import NAME_LONGEST, NOTE_LONGEST, checked_line
from benchconsole.desk.views import HideCard, HideRow
from benchconsole.desk.words import tap_words
from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.model.events import (
    Event,
    HideCorrected,
    HideTakenIn,
    LotSplit,
    NoteWritten,
)
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.quantities import read_count, read_mass
from benchconsole.schedule import (
    Action,
    Allowed,
    Hours,
    action_of,
    allowed_acts,
    day_sheet,
    events_for_attended,
    events_for_done,
    events_for_not_yet,
    next_action,
    open_actions,
)


class Hides:
    """The part of the desk that knows hides."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger

    # --- views --------------------------------------------------------------------

    def rows(self) -> tuple[HideRow, ...]:
        """Every hide with its next action: the most pressing first, those out of work last."""
        hides, hours, now = self._ledger.state.hides, self.hours(), self._ledger.now()
        out = (self._action(hide, hours) for hide in hides.values() if hide.out_at is not None)
        return tuple(
            HideRow(
                hide=hides[action.hide],
                action=action,
                allowed=self._allowed(hides[action.hide], action, hours, now),
            )
            for action in (*self.day_sheet(), *out)
        )

    def _allowed(
        self, hide: HideState, action: Action, hours: Hours, now: datetime
    ) -> frozenset[Allowed]:
        route = self._ledger.library.routes.get(hide.route)
        if route is None or action.kind != "attend":
            return allowed_acts(action)
        # The look that ends the hold may be answered while an attention comes first.
        return allowed_acts(action, *open_actions(hide, route, hours=hours, now=now))

    def day_sheet(self) -> tuple[Action, ...]:
        """The next action of every hide in work or finished, the most pressing first."""
        ledger = self._ledger
        return day_sheet(
            tuple(ledger.state.hides.values()),
            ledger.library.routes,
            hours=self.hours(),
            now=ledger.now(),
        )

    def hours(self) -> Hours:
        """The shop's open hours in its zone."""
        return self._ledger.hours

    def ids(self) -> tuple[str, ...]:
        """Every hide there is."""
        return tuple(self._ledger.state.hides)

    def get(self, hide_id: str) -> HideState:
        """A hide by its id; ``NotKnown`` if there is none."""
        hide = self._ledger.state.hides.get(hide_id)
        if hide is None:
            raise NotKnown("hide", hide_id, tuple(self._ledger.state.hides))
        return hide

    def action_of(self, hide_id: str) -> Action:
        """The next action of one hide."""
        return self._action(self.get(hide_id), self.hours())

    def _action(self, hide: HideState, hours: Hours) -> Action:
        ledger = self._ledger
        return action_of(hide, ledger.library.routes, hours=hours, now=ledger.now())

    def card(self, hide_id: str) -> HideCard:
        """Everything about one hide on one page."""
        ledger = self._ledger
        hide = self.get(hide_id)
        route = ledger.library.routes.get(hide.route)
        story = story_of(ledger, hide_id)
        liquors = liquors_of(ledger, hide_id)
        spoiled = ledger.state.spoiled
        return HideCard(
            hide=hide,
            action=self.action_of(hide_id),
            route_name=route.name if route else hide.route,
            stages=landmarks(route, hide.stage, *walked(story)) if route else (),
            liquors=liquors,
            spoiled={each.id: spoiled[each.id] for each in liquors if each.id in spoiled},
            history=told(story, ledger.library.routes, ledger.zone),
        )

    # --- intents ------------------------------------------------------------------

    def take_in(
        self,
        *,
        name: str,
        species: str,
        route: str,
        came: str,
        weight: str = "",
        count: str = "1",
    ) -> HideState:
        """Take a hide, or a lot of like skins, into the shop.

        ``came`` is its condition, a key of the route's ``starts``. Raises ``BadInput`` naming
        the field; nothing is stored then.
        """
        ledger = self._ledger
        name = checked_line("name", name, NAME_LONGEST, "brown goat")
        library = ledger.library
        if species not in library.species:
            raise BadInput("species", f"“{species[:40]}” is not in the library", "goat")
        way = library.routes.get(route)
        if way is None:
            raise BadInput(
                "route", f"“{route[:40]}” is not in the library", next(iter(library.routes))
            )
        stage = way.starts.get(came)
        if stage is None:
            there = ", ".join(way.starts)
            raise BadInput("came in", f"{way.name} does not start from a {came[:20]} hide", there)
        many, grams = self._read_lot(count, weight)
        hide_id = named_id(name, hide_ids_used(ledger.entries))
        ledger.record(
            [
                HideTakenIn(
                    hide=hide_id,
                    name=name,
                    species=species,
                    route=route,
                    stage=stage,
                    came=came,
                    count=many,
                    mass_g=grams,
                )
            ]
        )
        return self.get(hide_id)

    def correct(self, hide_id: str, *, name: str, weight: str, count: str) -> str:
        """Write down a weight, or put name or number right; the sentence to show.

        An empty ``weight`` means that it is not known. ``BadInput`` names the field.
        """
        hide = self.get(hide_id)
        # A name that was taken in by an earlier rule may stay as it is.
        if name != hide.name:
            name = checked_line("name", name, NAME_LONGEST, "brown goat")
        many, grams = self._read_lot(count, weight)
        corrected = HideCorrected(hide=hide.id, name=name, count=many, mass_g=grams)
        if (name, many, grams) == (hide.name, hide.count, hide.mass_g):
            return f"{hide.name}: nothing was changed"
        return self._record(hide, (corrected,))

    def _read_lot(self, count: str, weight: str) -> tuple[int, float | None]:
        """How many skins, and what they weigh together in grams (None: not said)."""
        many = read_count(count, field="count") if count.strip() else 1
        if not weight.strip():
            return many, None
        measures = self._ledger.shop.measures
        return many, read_mass(weight, field="weight", measures=measures)

    def done(self, hide_id: str, *, seen: Action | None = None) -> str:
        """What the next action asks for was done; the sentence to show.

        ``seen`` is the action the person had before them. If another has come up meanwhile
        (a look fell due, or the tap came twice), nothing is stored: ``NotPossibleNow`` says so.
        So it is with :meth:`passed`, :meth:`not_yet` and :meth:`attended`.
        """
        hide, route, action = self._standing(hide_id)
        refuse_old(hide, seen, action, same=seen is None or meant(seen) == meant(action))
        liquor = liquor_to_begin(self._ledger, hide, action)
        return self._record(hide, events_for_done(hide, route, action, liquor=liquor))

    def passed(self, hide_id: str, *, seen: Action | None = None) -> str:
        """The check was made and the hide goes on, due or not: the hide decides."""
        hide, route, look = self._look(hide_id, seen)
        return self._record(hide, events_for_done(hide, route, look))

    def not_yet(self, hide_id: str, *, seen: Action | None = None) -> str:
        """The check was made and the hide is not ready; the sentence to show."""
        hide, route, look = self._look(hide_id, seen)
        return self._record(hide, events_for_not_yet(hide, route, look))

    def attended(self, hide_id: str, *, seen: Action | None = None) -> str:
        """The hide was stirred, turned or whatever its stage asks for; the sentence to show."""
        hide, route, action = self._standing(hide_id)
        refuse_old(hide, seen, action, same=seen is None or seen.attention == action.attention)
        return self._record(hide, events_for_attended(hide, route, action))

    def note(self, hide_id: str, text: str) -> str:
        """Write a remark on the hide's card."""
        hide = self.get(hide_id)
        words = checked_line("note", text, NOTE_LONGEST, "belly thin, watch it", lines=True)
        return self._record(hide, (NoteWritten(hide=hide.id, text=words),))

    def undo(self, hide_id: str, *, taking_in: bool = True) -> str:
        """Take back the last tap about this hide; the sentence to show.

        Without ``taking_in`` the hide itself stays: ``NotPossibleNow`` when only that is left.
        """
        hide = self.get(hide_id)
        history = self._ledger.history(f"hide/{hide_id}")
        if not taking_in and len(history) == 1:
            came = "splitting off" if isinstance(history[0].event, LotSplit) else "taking-in"
            raise NotPossibleNow(
                f"{hide.name}: only its {came} is left; open its card and press u to undo that."
            )
        gone = self._ledger.undo(f"hide/{hide_id}")
        route = self._ledger.library.routes.get(hide.route)
        return f"{hide.name}: taken back: {tap_words(gone, route, self._ledger.zone)}"

    # --- the parts they share -----------------------------------------------------

    def _standing(self, hide_id: str) -> tuple[HideState, Route, Action]:
        ledger = self._ledger
        hide = self.get(hide_id)
        route = ledger.library.routes.get(hide.route)
        if route is None:
            raise NotPossibleNow(
                f"{hide.name}: its route “{hide.route}” is not in the library; bring the file back."
            )
        action = next_action(hide, route, hours=self.hours(), now=ledger.now())
        return hide, route, action

    def look_of(self, hide_id: str) -> Action:
        """The check of the stage a hide is in; ``NotPossibleNow`` where there is none."""
        return self._look(hide_id, None)[2]

    def _look(self, hide_id: str, seen: Action | None) -> tuple[HideState, Route, Action]:
        """The check of the stage the hide is in, also while an attention comes first."""
        hide, route, action = self._standing(hide_id)
        refuse_old(hide, seen, action, same=True)
        asked = open_actions(hide, route, hours=self.hours(), now=self._ledger.now())
        look = next((each for each in asked if each.kind == "check"), None)
        if look is None:
            raise NotPossibleNow(f"{hide.name}: there is nothing to check now; {action.action}")
        return hide, route, look

    def _record(self, hide: HideState, events: tuple[Event, ...]) -> str:
        self._ledger.record(events)
        route = self._ledger.library.routes.get(hide.route)
        return f"{hide.name}: {tap_words(events, route)}"
