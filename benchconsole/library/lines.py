"""On which line of a TOML text each key and list entry stands.

``tomllib`` keeps no positions, so a fault found in the values (a wrong unit, an unknown
substance) could not be shown to the person who wrote it.  This walks the same text once more,
only when there is a fault, and only after ``tomllib`` has found it well formed.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from functools import lru_cache

Path = tuple[str | int, ...]
"""Keys and list places (from 0) from the top of a file to a value."""

DEEPEST_NOTED = 16
"""No file of ours is deeper; a hostile one must not fill the memory with its paths."""

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY = re.compile(r"""(?P<bare>[A-Za-z0-9_-]+)|"(?P<basic>(?:[^"\\]|\\.)*)"|'(?P<literal>[^']*)'""")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}|' + r"'''.*?'{3,5}|" + r'"(?:[^"\\\n]|\\.)*"|' + r"'[^'\n]*'",
    re.DOTALL,
)
_PLAIN = re.compile(r"[^,\]}\n#]*")


def line_of(text: str, path: Path) -> int:
    """The line, from 1, of the value at ``path``, or of the nearest thing around it."""
    lines = _lines_in(text)
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)


@lru_cache(maxsize=1)
def _lines_in(text: str) -> dict[Path, int]:
    """Kept for the text that was asked about last, as several faults may stand in one."""
    return _Walk(text).lines


class _Walk:
    """One pass over a well-formed text; ``lines`` has the line of every path met."""

    def __init__(self, text: str) -> None:
        self.lines: dict[Path, int] = {}
        self._text = text
        self._at = 0
        self._newlines = [match.start() for match in re.finditer("\n", text)]
        self._lists: dict[Path, int] = {}
        self._table: Path = ()
        self._skip(_BLANK)
        while self._at < len(text):
            self._statement()
            self._skip(_BLANK)

    def _statement(self) -> None:
        start = self._at
        if self._take("[["):
            self._table = self._listed(self._keys())
            self._take("]]")
        elif self._take("["):
            self._table = self._inside(self._keys())
            self._take("]")
        else:
            self._pair(self._table)
        self._note(self._table, start)
        if self._at == start:  # not reached for a well-formed text; never loop on another
            self._at = len(self._text)

    def _pair(self, table: Path) -> None:
        start = self._at
        path = table + self._keys()
        self._note(path, start)
        self._take("=")
        self._skip(_SPACE)
        self._value(path)

    def _value(self, path: Path) -> None:
        self._note(path, self._at)
        if self._skip(_STRING):
            return
        if self._take("["):
            self._several("]", path, keyed=False)
        elif self._take("{"):
            self._several("}", path, keyed=True)
        else:
            self._skip(_PLAIN)

    def _several(self, close: str, path: Path, *, keyed: bool) -> None:
        place = 0
        self._skip(_BLANK)
        while self._at < len(self._text) and not self._take(close):
            before = self._at
            if keyed:
                self._pair(path)
            else:
                self._value((*path, place))
            place += 1
            self._skip(_BLANK)
            self._take(",")
            self._skip(_BLANK)
            if self._at == before:
                return

    def _keys(self) -> Path:
        keys: list[str] = []
        while True:
            self._skip(_SPACE)
            match = _KEY.match(self._text, self._at)
            if match is None:
                return tuple(keys)
            self._at = match.end()
            keys.append(next(part for part in match.groups() if part is not None))
            self._skip(_SPACE)
            if not self._take("."):
                return tuple(keys)

    def _inside(self, keys: Path) -> Path:
        """The full path of a header: a list of tables on the way means its last entry."""
        path: Path = ()
        for key in keys:
            path += (key,)
            if path in self._lists:
                path += (self._lists[path],)
        return path

    def _listed(self, keys: Path) -> Path:
        path = self._inside(keys[:-1]) + keys[-1:]
        self._lists[path] = self._lists.get(path, -1) + 1
        return (*path, self._lists[path])

    def _note(self, path: Path, at: int) -> None:
        line = bisect_right(self._newlines, at - 1) + 1
        for length in range(1, min(len(path), DEEPEST_NOTED) + 1):
            self.lines.setdefault(path[:length], line)

    def _take(self, token: str) -> bool:
        if not self._text.startswith(token, self._at):
            return False
        self._at += len(token)
        return True

    def _skip(self, pattern: re.Pattern[str]) -> bool:
        match = pattern.match(self._text, self._at)
        if match is None:
            return False
        self._at = match.end()
        return True
