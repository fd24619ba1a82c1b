"""Whether what a plan says of a visit is so, checked against the plan's own instants.

Reads the sentence, and looks up in the plan and the shop's plain hours whether it is true.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.quantities import format_duration
from benchconsole.schedule.planning.plans import Plan, Visit
from tests.schedule.planning.plan_faults import QUARTER, PlainShop, stays_of

HANDS = re.compile(r"your hands are at (?P<names>.+)")
VESSEL = re.compile(r"no (?P<kind>\w+) is free(?P<long> long enough)?: (?P<names>.+)")
NONE = re.compile(r"there is no (?P<kind>\w+)")
LONG = re.compile(r"closing at .+ leaves less than the (?P<takes>.+) it takes")
FOR = re.compile(r"else “(?P<stage>.+)” came at a bad time: (?P<words>.+)")
PAST = re.compile(r"that is (?P<over>.+) past its latest")
STAY = re.compile(r"somebody must stay (?P<over>.+) after closing")
CLOSED = ("closed ", "outside hours", "you are away", "the shop closes then")
WHOLE = (
    "so that the shop as a whole is least late",
    "it comes earlier, inside its window, to be done the sooner",
)
EARLIER = "so it comes earlier, inside its window"


@dataclass(frozen=True, kw_only=True)
class Told:
    """A plan with what it was made of; ``seen`` collects the kinds of claims that were checked."""

    plan: Plan
    hides: Sequence[HideState]
    routes: Mapping[str, Route]
    shop: PlainShop
    seen: set[str]

    @property
    def first(self) -> datetime:
        """The first instant at which anything can be planned."""
        made = self.plan.made_at
        over = (made - datetime(2020, 1, 1, tzinfo=UTC)) % QUARTER
        return made if not over else made + QUARTER - over

    def untrue(self) -> list[str]:
        """One sentence for every reason that is missing, idle or not so."""
        found = []
        for hide in self.plan.hides:
            for place, visit in enumerate(hide.visits):
                stored = hide.in_store if not place else hide.visits[place - 1].kind == "check"
                wanted = visit.earliest if stored else visit.due
                due = max(wanted, self.first)
                wrong = self._wrong(visit, due, hide.visits[place + 1 :])
                if wrong:
                    found.append(f"{visit.hide} {visit.stage} {due} {visit.starts}: {wrong}")
        return found

    def _wrong(self, visit: Visit, due: datetime, later: Sequence[Visit]) -> str:
        moved, said = visit.starts != due, []
        for clause in filter(None, visit.why.split("; ")):
            if past := PAST.fullmatch(clause):
                self.seen.add("past its latest")
                over = visit.past_latest
                if not over or past["over"] != format_duration(over):
                    return f"{clause}, in truth {over}"
            elif STAY.fullmatch(clause):
                self.seen.add("must stay")
            elif clause != EARLIER:
                said.append(clause)
            elif visit.starts >= due:
                return "said to be earlier and is not"
        if not moved:
            return f"nothing moved it: {said}" if said else ""
        if len(said) != 1:
            return f"moved and {len(said)} reasons given: {visit.why}"
        return "" if self._holds(said[0], visit, due, later) else f"not so: {said[0]}"

    def _holds(self, said: str, visit: Visit, due: datetime, later: Sequence[Visit]) -> bool:
        work = visit.ends - visit.starts
        until = max(visit.starts, due) + work
        after = later[0].starts if later else until
        if said in WHOLE:
            self.seen.add("the whole")
            return True
        if found := FOR.fullmatch(said):
            self.seen.add("for a later one")
            moved = visit.starts - due
            aims = [each for each in later if each.stage_name == found["stage"]]
            aims = [each for each in aims if each.starts <= each.due]
            return any(self._of_a_later(found["words"], each, each.due - moved) for each in aims)
        return self._directly(said, visit, due, until=max(until, after))

    def _of_a_later(self, said: str, visit: Visit, due: datetime) -> bool:
        plan = self.plan.of(visit.hide)
        assert plan is not None
        after = [each.starts for each in plan.visits if each.starts > visit.starts]
        until = max(min(after, default=visit.ends), due + (visit.ends - visit.starts))
        return self._directly(said, visit, due, until=until)

    def _directly(self, said: str, visit: Visit, due: datetime, *, until: datetime) -> bool:
        """Whether hours, hands or vessels are as said, for a visit wished at ``due``."""
        work = visit.ends - visit.starts
        if said.startswith(CLOSED):
            self.seen.add("closed")
            return not self.shop.is_open(due, due + QUARTER)
        if LONG.fullmatch(said):
            self.seen.add("too long")
            at_all = self.shop.is_open(due, due + QUARTER)
            return at_all and not self.shop.is_open(due, due + work + timedelta(hours=2))
        instants = [due + step * QUARTER for step in range((until - due) // QUARTER)]
        if found := HANDS.fullmatch(said):
            self.seen.add("hands")
            return any(_lists(found, self._at_work(visit.hide, at)) for at in instants)
        if found := VESSEL.fullmatch(said):
            self.seen.add("vessel")
            number = self.shop.vessels[found["kind"]]
            full = [self._lying(visit.hide, found["kind"], at) for at in instants]
            return any(_lists(found, names) and len(names) >= number for names in full)
        if found := NONE.fullmatch(said):
            self.seen.add("no vessel")
            return self.shop.vessels[found["kind"]] == 0
        return False

    def _at_work(self, but: str, at: datetime) -> list[str]:
        busy = [
            f"{each.hide_name} ({each.stage_name})"
            for each in self.plan.visits
            if each.hide != but and each.starts <= at < each.ends
        ]
        return sorted(busy) if len(busy) >= self.shop.hands else []

    def _lying(self, but: str, kind: str, at: datetime) -> list[str]:
        by_id = {hide.id: hide for hide in self.hides}
        return sorted(
            each.hide_name
            for each in self.plan.hides
            if each.hide != but
            and any(
                vessel == kind and begin <= at < end
                for vessel, begin, end in stays_of(
                    each, by_id[each.hide], self.routes[by_id[each.hide].route], self.plan
                )
            )
        )


def _lists(found: re.Match[str], names: Sequence[str]) -> bool:
    """Whether a list in words has just these names; they may hold an "and" themselves."""
    words = found["names"]
    between = len(" and ") + len(", ") * (len(names) - 2) if len(names) > 1 else 0
    return (
        bool(names)
        and len(words) == sum(map(len, names)) + between
        and all(name in words for name in names)
    )
