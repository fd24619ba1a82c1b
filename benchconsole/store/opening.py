"""What to make of a store's file when it is opened: take it, mend it, or refuse it.

Nothing here writes; what a person is told is put into sentences here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from itertools import tee
from pathlib import PurePath

from benchconsole.store.content import Content
from benchconsole.store.damage_words import in_words, sentences
from benchconsole.store.faults import damaged, too_new
from benchconsole.store.lines import (
    VERSION,
    Parsed,
    in_utf_8,
    is_cut_write,
    parsed,
    version_of,
    whole_log,
)
from benchconsole.store.migrations import first_version, is_damaged_version_1, migrated
from benchconsole.store.recovery import (
    Copy,
    Recovered,
    goes_on,
    is_another,
    is_cut_short,
    recovered,
)
from benchconsole.store.tip import Tip


@dataclass(frozen=True, kw_only=True)
class Opened:
    """A store as it is to be used from now on; ``content`` is None for one that is to begin.

    ``notices`` are sentences for the person. ``keep`` says what the file's present content is
    before it is written anew: ``damaged``, ``version-1``, or nothing worth keeping.
    ``is_unfinished``: all that is told is of a write that was cut off, or is still going on.
    """

    content: Content | None
    notices: tuple[str, ...] = ()
    keep: str = ""
    mended: bool = False
    is_unfinished: bool = False


def opened(body: bytes | None, tip: Tip | None, copies: Iterable[Copy], name: str) -> Opened:
    """Judge a file's content (None: no file) by itself, its tip and its copies, newest first.

    ``name`` is the file's path as it is told to a person. Raises StoreTooNew for a newer version,
    and StoreDamaged for a file in which nothing of ours can be read and of which there is no copy.
    """
    text = in_utf_8(body or b"")
    found = parsed(text)
    first = first_version(text) if not found.lines else None
    _refuse_newer(text, first, name)
    if first is not None:
        return _from_earlier(text, first, name)
    looked_at, copies = tee(copies)
    if text is body and _is_good(found, tip) and not (tip is None and goes_on(found, looked_at)):
        return _taken(text, found, tip)
    rescued = recovered(found, tip, copies)
    if rescued is not None and rescued.taps:
        return _mended(body, found, rescued, tip, name)
    if not text.strip() or (found.is_whole and not found.torn):
        return _begun_anew(body, tip, name)
    if not found.is_ours and is_damaged_version_1(text):
        return _from_earlier(text, 1, name)
    if found.is_ours or tip is not None:
        raise damaged(name, "no tap is left in it and there is no copy of it")
    raise damaged(name, "it was not written by Bench Console")


def _refuse_newer(text: bytes, first: int | None, name: str) -> None:
    """A newer version is known by its first line, however the rest of it is made."""
    version = first or version_of(text)
    if version is not None and version > VERSION:
        raise too_new(name, version)


def _is_good(found: Parsed, tip: Tip | None) -> bool:
    """Whether a log is whole to its confirmed end; behind that may be what is left of one write."""
    if not found.is_whole or not found.lines or is_cut_short(found, tip):
        return False
    return found.in_tail <= 1


def _taken(body: bytes, found: Parsed, tip: Tip | None) -> Opened:
    """A good log, without the write that was cut off at its end."""
    notices: list[str] = []
    if is_another(found, tip):
        notices.append(
            "Something else was confirmed on this computer than the store now says: was the file "
            "replaced by one from elsewhere? What it holds is what you see."
        )
    if not found.torn:
        return Opened(content=Content(body, found), notices=tuple(notices))
    is_cut = not found.in_tail and is_cut_write(found.rest, found.lines[-1])
    if found.rest:
        notices.append(_about_the_rest(found.lines[-1].tap, is_cut, tip))
    # Without a tip nobody knows whether what was cut off had been confirmed.
    is_nothing = not found.rest or (is_cut and tip is not None)
    content = Content.of(whole_log(_began(found), ((line.tap, line.doc) for line in found.lines)))
    keep = "" if is_nothing else "damaged"
    return Opened(
        content=content,
        notices=tuple(notices),
        keep=keep,
        mended=True,
        is_unfinished=is_nothing and len(notices) == 1,
    )


def _about_the_rest(last: int, is_cut: bool, tip: Tip | None) -> str:
    """What stands behind the last line, as a power cut may leave it: cut off, stale, or noise."""
    if tip is None:
        return (
            f"The store breaks off within tap {last + 1}, as when the power fails while it is "
            "saved; of it, and after it, nothing is left: look at what was done last."
        )
    if is_cut:
        return (
            "A tap was being saved when the program was last stopped; it was never confirmed and "
            "is left out: look at what was done last."
        )
    return (
        "Behind the last tap stood something unreadable, as when the power fails while a tap is "
        "saved; it was never confirmed and is left out: look at what was done last."
    )


def _mended(
    body: bytes | None, found: Parsed, rescued: Recovered, tip: Tip | None, name: str
) -> Opened:
    content = Content.of(whole_log(rescued.began, rescued.taps))
    told = tuple(sentences(PurePath(name).name, body, found, rescued, tip))
    return Opened(content=content, notices=told, keep="damaged" if body else "", mended=True)


def _begun_anew(body: bytes | None, tip: Tip | None, name: str) -> Opened:
    """A shop that begins empty; if it was not to, that is told, and what is there is kept."""
    file = PurePath(name).name
    notices: tuple[str, ...] = ()
    if tip is not None:
        gone = in_words([(1, tip.tap)])
        notices = (f"The store {file} is gone and there is no copy of it; found nowhere: {gone}.",)
    elif body is not None:
        notices = (f"The store {file} was empty, and there is no copy of it.",)
    keep = "damaged" if body and body.strip() else ""
    return Opened(content=None, notices=notices, keep=keep, mended=bool(keep))


def _from_earlier(text: bytes, version: int, name: str) -> Opened:
    done = migrated(text, version, name)
    return Opened(
        content=Content.of(done.body) if done.body else None,
        notices=done.notices,
        keep="damaged" if done.damaged else f"version-{version}",
        mended=True,
    )


def _began(found: Parsed) -> datetime:
    assert found.header is not None
    return found.header.began
