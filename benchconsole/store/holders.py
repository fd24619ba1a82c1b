"""Who holds a store's lock: the note in its file, and the words for it.

The note is a courtesy and is believed in nothing: the lock itself is the system's.
"""

from __future__ import annotations

import os
import socket
from datetime import UTC, datetime, tzinfo
from typing import Annotated, Self

import msgspec

LONGEST_NOTE_BYTES = 1024
LONGEST_NAME = 40

_KINDS = {
    "console": "Another console has had this shop open",
    "restore": "A restore of this shop has been running",
    "archive": "The archiving of this shop has been running",
    "command": "A command has been writing to this shop",
}
_UNKNOWN = "Another program has had this shop open"


class Holder(msgspec.Struct, frozen=True):
    """Who holds a lock. What is not known is empty, 0 or None.

    ``who`` is the kind of program (``console``, ``restore``, ``archive``, ``command``),
    ``process`` its number, ``computer`` the name of its computer, ``since`` an aware instant.
    """

    who: Annotated[str, msgspec.Meta(max_length=LONGEST_NAME)] = ""
    process: Annotated[int, msgspec.Meta(ge=0, lt=2**53)] = 0
    computer: Annotated[str, msgspec.Meta(max_length=255)] = ""
    since: Annotated[datetime, msgspec.Meta(tz=True)] | None = None

    @classmethod
    def this_process(cls, who: str) -> Self:
        """This very process, from this very second on."""
        now = datetime.now(UTC).replace(microsecond=0)
        return cls(who=who, process=os.getpid(), computer=_this_computer(), since=now)

    @classmethod
    def from_note(cls, note: bytes) -> Self:
        """Who wrote a note; nobody known, if it is none of ours."""
        try:
            return msgspec.json.decode(note[:LONGEST_NOTE_BYTES], type=cls)
        except (msgspec.MsgspecError, ValueError, RecursionError):
            return cls()

    def note(self) -> bytes:
        """What stands in the lock's file: nothing of the shop."""
        return msgspec.json.encode(self) + b"\n"

    @property
    def is_console(self) -> bool:
        """Whether it is a console that a person may close."""
        return self.who == "console"

    def since_words(self, now: datetime, zone: tzinfo) -> str:
        """``14:02`` for today, with the day for earlier; empty if not known or yet to come."""
        if self.since is None or self.since > now:
            return ""
        local, today = self.since.astimezone(zone), now.astimezone(zone)
        return f"{local:%H:%M}" if local.date() == today.date() else f"{local:%a %d %b %H:%M}"

    def place_words(self) -> str:
        """``process 4711 on this computer``; empty if neither is known."""
        here = self.computer == _this_computer()
        place = "this computer" if here else f"the computer “{_printable(self.computer)}”"
        words = [f"process {self.process}"] if self.process else []
        if self.computer:
            words.append(f"on {place}")
        return " ".join(words)

    def short_place_words(self) -> str:
        """The process on this computer, or the name of another: what finds it soonest."""
        elsewhere = self.computer and self.computer != _this_computer()
        return f"on “{_printable(self.computer)}”" if elsewhere else f"process {self.process}"

    def words(self, now: datetime, zone: tzinfo) -> str:
        """The beginning of a sentence: who has had the shop open, since when, where."""
        since, place = self.since_words(now, zone), self.place_words()
        words = _KINDS.get(self.who, _UNKNOWN)
        words += f" since {since}" if since else " for a while"
        return f"{words} ({place})" if place else words


def _this_computer() -> str:
    """This computer's name, as it may stand in a file and on a screen."""
    try:
        return _printable(socket.gethostname())
    except OSError:
        return ""


def _printable(name: str) -> str:
    """A name on one line, and not too long; what cannot be printed becomes ``?``."""
    shown = "".join(letter if letter.isprintable() else "?" for letter in name.strip())
    return shown if len(shown) <= LONGEST_NAME else f"{shown[: LONGEST_NAME - 1]}…"
