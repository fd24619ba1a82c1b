"""What is ready for the yearly archive: which hides, weigh-outs and timers, and their entries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, tzinfo
from itertools import islice
from typing import NamedTuple

from benchconsole.model.archive_events import ArchivedHide, HidesArchived, HidesBroughtBack
from benchconsole.model.archiving import Subjects, archived_since
from benchconsole.model.events import (
    Entry,
    HideTakenIn,
    LiquorMade,
    LotSplit,
    NoteWritten,
    StageBegun,
)
from benchconsole.model.history import standing
from benchconsole.model.state import HideState, ShopState, fold
from benchconsole.store.parcels import Parcel

QUIET = timedelta(days=30)
"""How long nothing was noted of a thing before it goes. Our own choice, no source: the books of a
month are closed then, and till then a finished piece is looked at, shown, and put right on its
card without being fetched."""

LIQUORS_STAY = timedelta(days=400)
"""How long a liquor stays at hand: a year's round and a month, so that what was mixed for the same
work last year can be made again. Our own choice, no source."""

AT_ONCE = 100
"""Families of hides that go together at most: more would hold up the screen. They go soon after."""


@dataclass(frozen=True, kw_only=True)
class Leaving:
    """What goes to the archive by one tap: the event to record, and what goes into the files."""

    event: HidesArchived
    parcels: tuple[Parcel, ...]
    is_full: bool = False
    """Whether more may be ready than goes at once."""

    @property
    def is_empty(self) -> bool:
        """Whether nothing is ready."""
        return not self.parcels


FindBy = Callable[[ArchivedHide, Iterable[str]], str]
"""What a hide is found by: made of what is known of it and of the notes on its card."""


def leaving(entries: tuple[Entry, ...], now: datetime, zone: tzinfo, find_by: FindBy) -> Leaving:
    """What is ready to go at an instant; the year is that of the zone's calendar."""
    return _Sorting(entries, now, zone, find_by).leaving()


class _Scale(NamedTuple):
    """A weigh-out, what came of it, and the hides it was for or that were begun with that."""

    weigh_out: str
    liquors: tuple[str, ...]
    hides: frozenset[str]

    @property
    def about(self) -> tuple[str, ...]:
        """The subjects."""
        return f"weigh-out/{self.weigh_out}", *(f"liquor/{each}" for each in self.liquors)


class _Sorting:
    """The history by what it is about, and what has been quiet for long enough."""

    def __init__(
        self, entries: tuple[Entry, ...], now: datetime, zone: tzinfo, find_by: FindBy
    ) -> None:
        self._now = now
        self._zone = zone
        self._find_by = find_by
        counted = standing(entries)
        self._state: ShopState = fold(entries)
        self._about: dict[str, list[Entry]] = defaultdict(list)
        subjects = Subjects(entries)
        for entry in entries:
            for each in subjects.of(entry):
                self._about[each].append(entry)
        self._since = archived_since(counted)
        self._came, self._parents = _comings(entries, counted)
        self._notes: dict[str, list[str]] = defaultdict(list)
        self._used: dict[str, set[str]] = defaultdict(set)
        for entry in counted:
            match entry.event:
                case NoteWritten():
                    self._notes[entry.event.hide].append(entry.event.text)
                case StageBegun() if entry.event.liquor:
                    self._used[entry.event.liquor].add(entry.event.hide)
        scales = [subject for subject in self._about if subject.startswith("weigh-out/")]
        self._scales = [self._scale(subject) for subject in scales]

    def leaving(self) -> Leaving:
        """All that goes now."""
        families = list(islice(self._families(), AT_ONCE))
        gone = {name for _, names, _ in families for name in names}
        parcels = [self._of_family(*family) for family in families]
        scales = list(self._scales_leaving(gone))
        parcels += self._of_scales(scales)
        timers, of_timers = self._timers()
        parcels += of_timers
        shelved = tuple(hide for parcel in parcels for hide in parcel.hides)
        event = HidesArchived(
            hides=shelved,
            gone=tuple(sorted(gone - {hide.id for hide in shelved})),
            weigh_outs=tuple(scale.weigh_out for scale in scales),
            liquors=tuple(liquor for scale in scales for liquor in scale.liquors),
            timers=tuple(timers),
        )
        return Leaving(event=event, parcels=tuple(parcels), is_full=len(families) == AT_ONCE)

    # --- hides ----------------------------------------------------------------------------

    def _families(self) -> Iterator[tuple[str, tuple[str, ...], tuple[HideState, ...]]]:
        """The founder, all members and those with a card, of each family that is ready."""
        members: dict[str, list[str]] = defaultdict(list)
        for name in self._parents:
            members[self._founder(name)].append(name)
        for founder, names in members.items():
            hides = [self._state.hides[name] for name in names if name in self._state.hides]
            lie_there = [name for name in names if f"hide/{name}" in self._since]
            if any(not self._is_long_out(hide) for hide in hides):
                continue
            if lie_there and not hides and not any(map(self._is_taken_back, lie_there)):
                continue
            if all(self._is_quiet(f"hide/{name}") for name in names):
                yield founder, tuple(names), tuple(hides)

    def _founder(self, name: str) -> str:
        while parent := self._parents[name]:
            name = parent
        return name

    def _is_taken_back(self, name: str) -> bool:
        """Whether a hide in the archive was brought back, and that was taken back."""
        subject = f"hide/{name}"
        return any(
            isinstance(entry.event, HidesBroughtBack) and entry.seq > self._since[subject]
            for entry in self._about[subject]
        )

    def _is_long_out(self, hide: HideState) -> bool:
        return not hide.in_work and self._now - out_at(hide) >= QUIET

    def _is_quiet(self, subject: str, span: timedelta = QUIET) -> bool:
        return all(self._now - entry.recorded >= span for entry in self._about[subject])

    def _of_family(
        self, founder: str, names: tuple[str, ...], members: tuple[HideState, ...]
    ) -> Parcel:
        entries = {
            entry.seq: entry
            for subject in (*(f"hide/{name}" for name in names), *self._scales_of(set(names)))
            for entry in self._about[subject]
        }
        known = self._state.archived
        again = tuple(known[name] for name in names if name in known)
        last = max((entry.recorded for entry in entries.values()), default=self._now)
        year = self._year(max(map(out_at, members), default=last))
        hides = again + tuple(
            as_archived(hide, self._came.get(hide.id, hide.arrived_at), year, founder)
            for hide in members
        )
        came = (e.event.hide for e in entries.values() if isinstance(e.event, HideTakenIn))
        kin = {hide.id for hide in known.values() if hide.family == founder}
        return Parcel(
            year=hides[0].year if hides else year,
            key=f"hide/{founder}",
            hides=hides,
            words={hide.id: self._find_by(hide, self._notes_of(hide.id)) for hide in hides},
            entries=tuple(entries[seq] for seq in sorted(entries)),
            whole=founder in came and kin <= set(names),
        )

    def _notes_of(self, name: str) -> Iterator[str]:
        """What was written on a hide's card, and on those of the lots it comes from."""
        while name:
            yield from self._notes[name]
            name = self._parents[name]

    def _scales_of(self, names: set[str]) -> Iterator[str]:
        """The weigh-outs and liquors that the cards of these hides tell of."""
        for scale in self._scales:
            if not names.isdisjoint(scale.hides):
                yield from scale.about

    # --- weigh-outs and timers --------------------------------------------------------------

    def _scale(self, subject: str) -> _Scale:
        name = subject.partition("/")[2]
        made = [e.event for e in self._about[subject] if isinstance(e.event, LiquorMade)]
        liquors = tuple(dict.fromkeys(event.liquor.id for event in made))
        weigh_out = self._state.weigh_outs.get(name)
        hides = set(weigh_out.plan.hides) if weigh_out is not None else set()
        for liquor in liquors:
            if liquor in self._state.liquors:
                hides.update(self._state.liquors[liquor].hides, self._used[liquor])
        return _Scale(name, liquors, frozenset(hides))

    def _scales_leaving(self, gone: set[str]) -> Iterator[_Scale]:
        """The weigh-outs that no hide here needs, each with the hides that went before."""
        here = self._state.hides.keys() - gone
        for scale in self._scales:
            weigh_out = self._state.weigh_outs.get(scale.weigh_out)
            is_open = weigh_out is not None and weigh_out.ended_at is None
            if is_open or scale.about[0] in self._since or not here.isdisjoint(scale.hides):
                continue
            stands = any(liquor in self._state.liquors for liquor in scale.liquors)
            span = LIQUORS_STAY if stands else QUIET
            if all(self._is_quiet(each, span) for each in scale.about):
                yield scale._replace(hides=scale.hides - gone)

    def _of_scales(self, scales: Iterable[_Scale]) -> Iterator[Parcel]:
        """What of weigh-outs goes to the hides they were for, or by itself where there are none."""
        to_family: dict[tuple[int, str], list[str]] = defaultdict(list)
        for scale in scales:
            known = (self._state.archived.get(hide) for hide in scale.hides)
            families = {(hide.year, f"hide/{hide.family}") for hide in known if hide}
            for family in families:
                to_family[family] += scale.about
            if not families:
                yield self._parcel(scale.about[0], scale.about)
        for (year, key), subjects in to_family.items():
            yield replace(self._parcel(key, subjects), year=year, whole=False)

    def _timers(self) -> tuple[list[str], list[Parcel]]:
        """The timers that were heard, called off or never counted, a parcel for each year."""
        by_year: dict[int, list[str]] = defaultdict(list)
        for subject in [each for each in self._about if each.startswith("timer/")]:
            timer = self._state.timers.get(subject.partition("/")[2])
            is_over = timer is None or timer.acknowledged_at is not None
            if is_over and subject not in self._since and self._is_quiet(subject):
                by_year[self._year(self._about[subject][-1].recorded)].append(subject)
        names = [each.partition("/")[2] for subjects in by_year.values() for each in subjects]
        return names, [self._parcel(subjects[0], subjects) for subjects in by_year.values()]

    def _parcel(self, key: str, subjects: Iterable[str]) -> Parcel:
        entries = {each.seq: each for subject in subjects for each in self._about[subject]}
        ordered = tuple(entries[seq] for seq in sorted(entries))
        return Parcel(year=self._year(ordered[-1].recorded), key=key, entries=ordered)

    def _year(self, instant: datetime) -> int:
        return instant.astimezone(self._zone).year


def _comings(
    entries: tuple[Entry, ...], counted: tuple[Entry, ...]
) -> tuple[dict[str, datetime], dict[str, str]]:
    """When each hide came, the split-off ones with their lot; and the lot each was split from."""
    parents: dict[str, str] = {}
    for entry in entries:
        match entry.event:
            case HideTakenIn():
                parents.setdefault(entry.event.hide, "")
            case LotSplit():
                parents[entry.event.new_hide] = entry.event.hide
                parents.setdefault(entry.event.hide, "")
    came: dict[str, datetime] = {}
    for entry in counted:
        match entry.event:
            case HideTakenIn():
                came[entry.event.hide] = entry.at
            case LotSplit() if entry.event.hide in came:
                came[entry.event.new_hide] = came[entry.event.hide]
    return came, parents


def as_archived(hide: HideState, came_at: datetime, year: int, family: str) -> ArchivedHide:
    """What is known of a hide out of work when it lies in the archive of a year."""
    return ArchivedHide(
        id=hide.id,
        name=hide.name,
        species=hide.species,
        route=hide.route,
        year=year,
        came_at=came_at,
        out_at=out_at(hide),
        family=family,
        count=hide.count,
        lost=hide.out_at is not None,
    )


def out_at(hide: HideState) -> datetime:
    """When a hide out of work was finished or lost, whichever was last."""
    return max((at for at in (hide.finished_at, hide.out_at) if at), default=hide.arrived_at)
