"""What the shop has, as a line a person types: pairs of hands, and "3 tubs, 4 boards"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from benchconsole.errors import BadInput
from benchconsole.model.routes import Route

HANDS_EXAMPLE = "1"
VESSELS_EXAMPLE = "3 tubs, 4 boards"
MOST_HANDS = 9
MOST_OF_A_KIND = 999

_COUNT = re.compile(r"([0-9]{1,4}) ?(?:x |× ?)?([^0-9]+)")


def vessel_kinds(routes: Iterable[Route]) -> tuple[str, ...]:
    """The kinds of vessel that routes put hides into, in the order of the alphabet."""
    return tuple(sorted({stage.vessel for r in routes for stage in r.stages if stage.vessel}))


def read_hands(text: str) -> int:
    """Pairs of hands, 1 to 9; raises ``BadInput``."""
    word = text.strip()
    if not re.fullmatch("[1-9]", word):
        fault = f"“{word[:40]}” is not a number of pairs of hands from 1 to {MOST_HANDS}"
        raise BadInput("hands", fault, HANDS_EXAMPLE)
    return int(word)


def vessels_text(vessels: Mapping[str, int]) -> str:
    """The numbers of vessels as the person wrote them: ``1 tub, 4 boards``."""
    return ", ".join(
        f"{count} {kind if count == 1 else _plural(kind)}" for kind, count in vessels.items()
    )


def read_vessels(text: str, kinds: Sequence[str]) -> dict[str, int]:
    """The numbers of vessels that a person typed, by kind.

    ``kinds`` are those that routes use; each is read in the singular and the plural. An empty
    line limits none, ``0 tubs`` says that there is none. Raises ``BadInput`` for what cannot be
    read, a kind that no route uses, and a kind said twice.
    """
    names = {name.lower(): kind for kind in kinds for name in (_plural(kind), kind)}
    vessels: dict[str, int] = {}
    for chunk in filter(None, (piece.strip() for piece in re.split("[,;]", text))):
        match = _COUNT.fullmatch(" ".join(chunk.lower().split()))
        if match is None:
            fault = f"“{chunk[:40]}” is not a number and a kind of vessel"
            raise BadInput("vessels", fault, VESSELS_EXAMPLE)
        count, kind = int(match[1]), names.get(match[2].strip())
        if kind is None:
            fault = (
                f"no route uses “{match[2].strip()[:40]}”, they use {', '.join(kinds) or 'none'}"
            )
            raise BadInput("vessels", fault, VESSELS_EXAMPLE)
        if count > MOST_OF_A_KIND:
            fault = f"“{chunk[:40]}” is more than {MOST_OF_A_KIND}"
            raise BadInput("vessels", fault, VESSELS_EXAMPLE)
        if kind in vessels:
            raise BadInput("vessels", f"{_plural(kind)} are said twice", VESSELS_EXAMPLE)
        vessels[kind] = count
    return vessels


def _plural(kind: str) -> str:
    if kind.endswith(("s", "x", "ch", "sh")):
        return f"{kind}es"
    if kind.endswith("y") and kind[-2:-1] not in "aeiou":
        return f"{kind[:-1]}ies"
    return f"{kind}s"
