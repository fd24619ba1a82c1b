"""What a person is told of a store that was damaged and mended, a sentence each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchconsole.store.faults import count
from benchconsole.store.lines import Parsed
from benchconsole.store.recovery import Recovered, Span
from benchconsole.store.tip import Tip

_MOST_SPANS = 4
"""More spans of lost taps than this are told by the first and the last number."""


def sentences(
    file: str, body: bytes | None, found: Parsed, rescued: Recovered, tip: Tip | None
) -> Iterator[str]:
    """All about a mended store, the worst first; ``file`` is its name, ``body`` what it held."""
    yield f"The store {file} {_what_was_wrong(body, found)}"
    for copy, number in rescued.brought_back.items():
        yield f"{count(number, 'tap was', 'taps were')} brought back from the copy {copy}."
    if rescued.lost:
        yield f"Found nowhere: {in_words(rescued.lost)}."
    if rescued.others:
        yield (
            f"{count(rescued.others, 'tap', 'taps')} of another history stood in it and "
            f"{'was' if rescued.others == 1 else 'were'} left out."
        )
    if tip is None:
        last = rescued.taps[-1][0]
        yield f"Whether anything was tapped after number {last} cannot be told."
    elif not rescued.lost:
        yield "No tap is known to be lost."
    yield f"{count(len(rescued.taps), 'tap is', 'taps are')} in it now."


def in_words(lost: Sequence[Span]) -> str:
    """``up to 3 taps (numbers 7 to 9)``: archiving leaves gaps, so it may have been fewer."""
    most = sum(last - first + 1 for first, last in lost)
    if most == 1:
        return f"tap number {lost[0][0]}"
    spans = ", ".join(f"{a}" if a == b else f"{a} to {b}" for a, b in lost)
    if len(lost) > _MOST_SPANS:
        spans = f"between {lost[0][0]} and {lost[-1][1]}"
    return f"up to {most} taps (numbers {spans})"


def _what_was_wrong(body: bytes | None, found: Parsed) -> str:
    if not (body or b"").strip():
        return f"was {'gone' if body is None else 'empty'}, and the newest copy of it was taken."
    if not found.lines:
        return "was damaged: nothing in it could be read, and the newest copy of it was taken."
    stretches = found.unreadable + bool(found.rest)
    if stretches:
        return f"was damaged: {count(stretches, 'stretch', 'stretches')} of it could not be read."
    if found.breaks or found.header is None:
        return "was damaged: lines of it were missing or in the wrong place."
    if found.is_whole and not found.torn:
        return "ended before the last tap that was confirmed here: was it replaced by an older one?"
    return "was changed by another program, but every line of it could be read."
