"""The commands of the archive: what is ready to go there, moving it, and finding it again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from benchconsole import bootstrap
from benchconsole.cli.output import print_json, print_text, tell
from benchconsole.letters import shown

if TYPE_CHECKING:
    from benchconsole.desk import Desk
    from benchconsole.desk.leaving import Leaving

WAIT_S = 5.0
"""How long the moving waits for a console that is just closing."""

MOST_TOLD = 20
"""So many hides are told one by one."""


def archive(store: Path, *, yes: bool) -> None:
    """Tell what is ready to go to the archive; with ``yes``, move it there."""
    desk = bootstrap.open_desk(store, writing=yes, who="archive", wait_s=WAIT_S)
    try:
        for sentence in desk.notices:
            tell(sentence)
        goes = desk.moving_out.ask().leaving()
        if goes.is_empty:
            print_text("Nothing is ready for the archive.")
            # An earlier move may have been cut off before its end.
            if yes:
                desk.moving_out.all()
            return
        print_text("\n".join(map(shown, _lines(desk, goes))))
        if yes:
            count = desk.moving_out.all()
            print_text(f"Moved to the archive: {_many(count)}, and what is named above.")
        else:
            print_text("Nothing was moved: add --yes, or leave it to the console, which does it.")
    finally:
        desk.close()


def _lines(desk: Desk, goes: Leaving) -> Iterator[str]:
    from benchconsole.exchange.finished import out_words

    event = goes.event
    yield "Ready for the archive, since nothing was noted of them for a month:"
    for hide in event.hides[:MOST_TOLD]:
        yield f"  {hide.name}, {out_words(hide, desk.zone)}, to the archive of {hide.year}"
    if len(event.hides) > MOST_TOLD:
        yield f"  and {_many(len(event.hides) - MOST_TOLD)} more"
    for names, kind in ((event.weigh_outs, "old weigh-out"), (event.timers, "old timer")):
        if names:
            yield f"  {len(names)} {kind}{'' if len(names) == 1 else 's'}"
    if event.gone:
        yield f"  {_many(len(event.gone))} of which the coming was taken back"


def find(desk: Desk, words: str, *, as_json: bool) -> None:
    """Print the hides out of work that all words are found in, the latest first."""
    from benchconsole.exchange.finished import finished_document, finished_text

    found = desk.archive.finished(words)
    for sentence in desk.archive.notices:
        tell(sentence)
    if as_json:
        print_json(finished_document(found, words, desk.zone))
    else:
        print_text(finished_text(found, desk.zone))


def _many(count: int) -> str:
    return "1 hide" if count == 1 else f"{count} hides"
