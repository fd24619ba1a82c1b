"""What to make of a store's file when it is opened: take it, mend it, or refuse it.

Nothing here writes; what a person is told is put into sentences here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from benchconsole.store.content import Content
from benchconsole.store.faults import damaged, too_new
from benchconsole.store.lines import VERSION, Parsed, parsed, version_of, whole_log
from benchconsole.store.migrations import first_version, log_from_version_1
from benchconsole.store.recovery import Copy, Recovered, is_another, is_cut_short, recovered
from benchconsole.store.tip import Tip


@dataclass(frozen=True, kw_only=True)
class Opened:
    """A store as it is to be used from now on; ``content`` is None for one that is to begin.

    ``notices`` are sentences for the person. ``keep`` says what the file's present content is
    before it is written anew: ``damaged``, ``version-1``, or nothing worth keeping.
    """

    content: Content | None
    notices: tuple[str, ...] = ()
    keep: str = ""
    mended: bool = False


def opened(body: bytes | None, tip: Tip | None, copies: Iterable[Copy], name: str) -> Opened:
    """Judge a file's content (None: no file) by itself, its tip and its copies, newest first.

    ``name`` is the file as it is told to a person. Raises StoreTooNew for a newer version, and
    StoreDamaged for a file in which nothing of ours can be read and of which there is no copy.
    """
    if body is not None:
        version = version_of(body) or first_version(body)
        if version is not None and version > VERSION:
            raise too_new(name, version)
        if version == 1:
            return _from_version_1(body, name)
    found = parsed(body or b"")
    if found.is_whole and found.lines and not is_cut_short(found, tip):
        return _taken(body or b"", found, tip)
    rescued = recovered(found, tip, copies)
    if rescued is not None and rescued.taps:
        return _mended(body, found, rescued, name)
    if body is None or not body.strip() or found.is_whole:
        return Opened(content=None, notices=_begun_anew(body, tip, name), mended=bool(body))
    if found.is_ours or tip is not None:
        raise damaged(name, "nothing in it can be read and there is no copy of it")
    raise damaged(name, "it was not written by Bench Console")


def _from_version_1(body: bytes, name: str) -> Opened:
    log = log_from_version_1(body, name)
    return Opened(content=Content.of(log) if log else None, keep="version-1", mended=True)


def _taken(body: bytes, found: Parsed, tip: Tip | None) -> Opened:
    """A log that is whole, but for a write that may have been cut off at its end."""
    notices: list[str] = []
    if is_another(found, tip):
        notices.append(
            "The last tap in the store is another one than was confirmed on this computer: was "
            "the file replaced by one from elsewhere? What it holds is what you see."
        )
    if not found.torn:
        return Opened(content=Content(body, found), notices=tuple(notices))
    if not found.in_tail:
        notices.append(
            "A tap was being saved when the program was last stopped; it was never confirmed and "
            "is left out: look at what was done last."
        )
    content = Content.of(whole_log(_began(found), ((line.tap, line.doc) for line in found.lines)))
    # Without a tip nobody knows whether what was cut off had been confirmed.
    keep = "" if tip is not None else "damaged"
    return Opened(content=content, notices=tuple(notices), keep=keep, mended=True)


def _mended(body: bytes | None, found: Parsed, rescued: Recovered, name: str) -> Opened:
    content = Content.of(whole_log(rescued.began, rescued.taps))
    told = " ".join(_told(body, found, rescued, name))
    return Opened(content=content, notices=(told,), keep="damaged" if body else "", mended=True)


def _told(body: bytes | None, found: Parsed, rescued: Recovered, name: str) -> Iterator[str]:
    if body is None:
        yield f"The store {name} was gone, and the newest copy of it was taken."
    elif not found.is_ours:
        yield f"Nothing in the store {name} could be read, and the newest copy of it was taken."
    else:
        lines = found.unreadable + found.torn
        yield f"The store {name} was damaged" + (
            f": {_count(lines, 'stretch', 'stretches')} of it could not be read."
            if lines
            else "."
            if not rescued.lost or found.breaks
            else ": its end was missing."
        )
    for copy, count in rescued.brought_back.items():
        yield f"{_count(count, 'tap was', 'taps were')} brought back from the copy {copy}."
    if rescued.lost:
        spans = ", ".join(f"{a}" if a == b else f"{a} to {b}" for a, b in rescued.lost[:5])
        more = len(rescued.lost) - 5
        spans += f" and {more} more spans" if more > 0 else ""
        yield f"Not found anywhere: what was tapped under the numbers {spans}."
    elif body is not None:
        yield "No tap is known to be lost."
    if rescued.others:
        yield (
            f"{_count(rescued.others, 'line tells', 'lines tell')} something else of a tap than "
            "the one that was taken."
        )
    yield f"{_count(len(rescued.taps), 'tap is', 'taps are')} in it now."


def _begun_anew(body: bytes | None, tip: Tip | None, name: str) -> tuple[str, ...]:
    if tip is not None:
        return (f"The store {name} that was here is gone and there is no copy of it.",)
    return () if body is None else (f"The store {name} was empty; this is an empty shop.",)


def _began(found: Parsed) -> datetime:
    assert found.header is not None
    return found.header.began


def _count(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"
