"""What of a history is in the archive, as its own entries tell it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from benchconsole.model.archive_events import HidesArchived, HidesBroughtBack, things_of
from benchconsole.model.events import Entry, Redone, TimeCorrected, Undone, subjects_of

_ABOUT_TAPS = (Undone, Redone, TimeCorrected)
_COAT = "timer/coat/"


def thing(subject: str) -> str:
    """What a subject belongs to: the ringing of a wait between coats belongs to its hide."""
    if subject.startswith(_COAT):
        return f"hide/{subject.removeprefix(_COAT).partition('/')[0]}"
    return subject


def with_returned(standing: Sequence[Entry]) -> tuple[Entry, ...]:
    """Standing entries in which nothing was archived that was brought back after."""
    back: set[str] = set()
    told = list(standing)
    for place in range(len(told) - 1, -1, -1):
        event = told[place].event
        if type(event) is HidesBroughtBack:
            back.update(things_of(event))
        elif type(event) is HidesArchived and back:
            told[place] = replace(told[place], event=_without(event, back))
    return tuple(told) if back else tuple(standing)


def _without(event: HidesArchived, back: set[str]) -> HidesArchived:
    def kept(kind: str, names: Iterable[str]) -> tuple[str, ...]:
        return tuple(name for name in names if f"{kind}/{name}" not in back)

    return HidesArchived(
        hides=tuple(hide for hide in event.hides if f"hide/{hide.id}" not in back),
        gone=kept("hide", event.gone),
        weigh_outs=kept("weigh-out", event.weigh_outs),
        liquors=kept("liquor", event.liquors),
        timers=event.timers,
    )


def archived_since(standing: Iterable[Entry]) -> dict[str, int]:
    """All things that are in the archive, each with the ``seq`` of the entry that says so last.

    Of entries as ``standing`` gives them, in which what was brought back is not archived.
    """
    since: dict[str, int] = {}
    for entry in standing:
        if type(entry.event) is HidesArchived:
            since.update(dict.fromkeys(things_of(entry.event), entry.seq))
    return since


class Subjects:
    """What every entry of a history is about, also those that only name another tap."""

    def __init__(self, entries: Sequence[Entry]) -> None:
        self._by_tap: dict[int, list[Entry]] = {}
        for entry in entries:
            self._by_tap.setdefault(entry.tap, []).append(entry)

    def of(self, entry: Entry) -> tuple[str, ...]:
        """The things an entry is about; ``shop`` for what is about none."""
        return tuple(dict.fromkeys(map(thing, self._subjects(entry))))

    def _subjects(self, entry: Entry) -> Iterable[str]:
        event = entry.event
        if not isinstance(event, _ABOUT_TAPS):
            return subjects_of(event)
        if event.about:
            return event.about
        # In old histories the taking back does not say what it is about.
        return [
            subject
            for each in self._by_tap.get(event.tap, ())
            if not isinstance(each.event, _ABOUT_TAPS)
            for subject in subjects_of(each.event)
        ] or ("shop",)


def moved_out(entries: Sequence[Entry], standing: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries of which the archive is the place: about archived things and nothing else.

    What was noted after the move stays, and whatever speaks of the archive itself. A taking back
    stays while anything of the tap it names does, or that would count again; and what was brought
    back stays, also where that was taken back, until it is archived anew.
    """
    since = archived_since(standing)
    if not since:
        return ()
    for entry in entries:
        if isinstance(entry.event, HidesBroughtBack):
            for each in things_of(entry.event):
                if since.get(each, entry.seq) < entry.seq:
                    del since[each]
    subjects = Subjects(entries)
    out: list[Entry] = []
    staying: set[int] = set()
    for entry in entries:
        event = entry.event
        goes = (
            not isinstance(event, HidesArchived | HidesBroughtBack)
            and all(since.get(each, 0) > entry.seq for each in subjects.of(entry))
            and not (isinstance(event, _ABOUT_TAPS) and event.tap in staying)
        )
        if goes:
            out.append(entry)
        else:
            staying.add(entry.tap)
    return tuple(out)
